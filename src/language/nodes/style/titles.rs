//! Titles: where they break, in how many lines, and which of their words stay together.

use crate::cover::TypeStyle;
use crate::language::nodes::style::words::{BREAKS, HOLD, TITLE_LINES};
use crate::source::Reader;

pub fn breaks(reader: &Reader<'_>, into: &mut TypeStyle) {
    if let Some(breaks) = reader.child(&BREAKS).and_then(|word| word.choice()) {
        into.chosen_breaks = breaks.value != "free";
        into.style.even = breaks.value == "good";
    }
    if let Some(word) = reader.child(&TITLE_LINES)
        && let Some(least) = word.number()
    {
        let most = word.number().map_or(least.value, |most| most.value);
        if least.value > most {
            word.error(word.span(), "the least lines are more than the most", "write `lines 2 4`");
        }
        into.style.lines = Some((least.value.min(most) as usize, least.value.max(most) as usize));
    }
    if let Some(word) = reader.child(&HOLD) {
        while word.peek().is_some() {
            into.style.hold.extend(word.text().map(|phrase| phrase.value));
        }
    }
}
