//! Words of a format that its binding has no use for.

use crate::cover::Binding;
use crate::ground::{Finding, Severity};
use crate::language::nodes::format::words::{
    BLEED, BOARD, FLAP, FORMAT_WORDS, GLUE, GROWTH, HINGE, PIXELS, ROUND_SPINE, SAFE, SPINE, SPINE_SHAPE, TRIM,
};
use crate::source::{Node, Reader, Word};

/// Warns of each that is written in the format itself. What lies under it, a series or the cover of an edition, says them
/// for its other bindings.
pub fn idle(reader: &Reader<'_>, binding: Binding) {
    let whole = reader.node.span;
    let own =
        |child: &&Node| child.span.file == whole.file && whole.start <= child.span.start && child.span.end <= whole.end;
    let mut stated: Vec<&str> = Vec::new();
    for child in &reader.node.children {
        let name = child.name.value.as_str();
        if stated.contains(&name) {
            continue;
        }
        stated.push(name);
        if let Some(why) = no_use(name, binding).filter(|_| own(&child)) {
            let book = if binding == Binding::Stapled { "stapled book" } else { binding.word() };
            let message = format!("a {book} {why}, so `{name}` says nothing");
            let finding = Finding::new(Severity::Warning, "language", child.name.span, message);
            reader.findings().borrow_mut().push(finding.help("take it away, or choose another binding"));
        }
    }
}

/// Why a binding has no use for a word.
fn no_use(word: &str, binding: Binding) -> Option<&'static str> {
    use Binding::{Case, FlappedPaperback, Jacket, Paperback, Screen, Stapled};
    let is = |known: Word| known.name == word;
    let spine = [SPINE, SPINE_SHAPE, ROUND_SPINE, HINGE];
    match binding {
        Screen(_) => {
            let printed = FORMAT_WORDS.iter().any(|known| is(*known)) && ![TRIM, SAFE, PIXELS].into_iter().any(is);
            printed.then_some("is neither printed nor bound")
        }
        _ if is(PIXELS) => Some("is measured in millimetres"),
        Paperback | Case | Stapled if is(FLAP) => Some("has no flaps"),
        Paperback | Case | Jacket | Stapled if is(GROWTH) => Some("does not grow for its flaps"),
        Paperback | FlappedPaperback | Stapled if is(BOARD) => Some("has no boards"),
        Case if is(BLEED) => Some("is turned in: its bleed is the `turn-in=` of its `board`"),
        Stapled if spine.into_iter().any(is) => Some("has no spine"),
        Case | Jacket | Stapled if is(GLUE) => Some("has no glue in its spine's sum"),
        _ => None,
    }
}
