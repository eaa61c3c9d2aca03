//! Vertical: where words stand in a frame that is higher than they need, and whether their letters stand upright in it.

use crate::source::{Reader, Word, choice, flag, words_of};

pub const VERTICAL: Word = Word::new(
    "vertical",
    "where the words stand in a frame higher than they need; by default at the head, on a spine in the middle",
)
.takes(&[choice("a place", &words_of(&VERTICALS))]);
const VERTICALS: [(&str, Vertical); 3] =
    [("head", Vertical::Head), ("middle", Vertical::Middle), ("foot", Vertical::Foot)];

pub const UPRIGHT: Word = Word::new(
    "upright",
    "letters of East Asia upright, in lines from head to foot; by default on a spine that reads upright",
)
.takes(&[flag()]);

/// Words of place that fix the first line, and so all of them.
const HOOKS: [&str; 2] = ["cap-top", "baseline"];

#[derive(Clone, Copy, PartialEq)]
pub enum Vertical {
    Head,
    Middle,
    Foot,
}

pub fn vertical(reader: &Reader<'_>, usual: Vertical) -> Vertical {
    let stated = reader.child(&VERTICAL);
    let vertical = stated.as_ref().and_then(|word| word.choose(&VERTICALS)).unwrap_or(usual);
    let hooked = |hook: &str| reader.node.children.iter().any(|child| child.name.value == hook);
    let Some(hook) = HOOKS.into_iter().find(|hook| hooked(hook)) else { return vertical };
    if let Some(word) = stated.filter(|_| vertical != Vertical::Head) {
        let message = format!("`{hook}` says already where the words stand");
        word.error(word.span(), message, format!("keep `vertical` or `{hook}`"));
    }
    Vertical::Head
}
