//! Leftovers: when a reader goes, what nobody took off its node is reported, with the nearest word that is known.

use crate::assets::offer;

use crate::ground::Spanned;
use crate::source::{Datum, Node, Reader, Value};

impl Drop for Reader<'_> {
    fn drop(&mut self) {
        let name = &self.node.name.value;
        for value in self.node.values.iter().skip(self.next.get()) {
            let help = format!("take it away, or part it from `{name}` by `;` or a new line");
            self.error(value.span, format!("`{name}` does not know what to do with {}", value.shown()), help);
        }
        let (properties, children) = (self.properties.borrow(), self.children.borrow());
        let strange = |key: &Spanned<String>| !self.free.get() && !properties.contains(&key.value.as_str());
        for (key, value) in self.node.properties.iter().filter(|(key, _)| strange(key)) {
            let how = format!("write it inside the braces: `{} {}`", key.value, value.written());
            let help = misplaced(&key.value, &properties, &children, &how);
            self.error(key.span, format!("`{name}` has no property `{}`", key.value), help);
        }
        let strange = |child: &&Node| !self.open.get() && !children.contains(&child.name.value.as_str());
        for child in self.node.children.iter().filter(strange) {
            let word = &child.name.value;
            let value = child.values.first().map_or_else(|| "…".to_owned(), Value::written);
            let how = format!("write it before the braces: `{name} … {word}={value}`");
            let help = misplaced(word, &children, &properties, &how);
            self.error(child.name.span, format!("`{word}` is unknown inside `{name}`"), help);
        }
    }
}

/// Whether a node of some kind names what was looked for in vain: it stands below the one that needs it.
pub fn stands_below(reader: &Reader<'_>, kind: &str, wanted: &Spanned<String>) -> bool {
    let named = |node: &Node| matches!(node.values.first().map(|value| &value.datum), Some(Datum::Text(name)) if *name == wanted.value);
    reader.node.children.iter().any(|child| child.name.value == kind && named(child))
}

/// Something that stands where the other kind of word belongs.
fn misplaced(key: &str, known: &[&str], others: &[&str], how: &str) -> String {
    if !known.contains(&key) && others.contains(&key) { how.to_owned() } else { offer(key, known) }
}
