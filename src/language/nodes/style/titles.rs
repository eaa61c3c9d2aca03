//! Titles: where they break, in how many lines, and which of their words stay together.

use crate::cover::TypeStyle;
use crate::language::nodes::style::words::{BREAKS, FEWER, HOLD, MORE, TITLE_LINES};
use crate::source::Reader;
use crate::typeset::Style;

pub fn breaks(reader: &Reader<'_>, into: &mut TypeStyle) {
    if let Some(breaks) = reader.child(&BREAKS).and_then(|word| word.choice()) {
        into.chosen_breaks = breaks.value != "free";
        into.style.even = breaks.value == "good";
    }
    if let Some(word) = reader.child(&TITLE_LINES) {
        lines(&word, &mut into.style);
    }
    if let Some(word) = reader.child(&HOLD) {
        while word.peek().is_some() {
            into.style.hold.extend(word.text().map(|phrase| phrase.value));
        }
    }
}

/// `lines 2 4`, or `lines more=1`: each takes the other's place.
fn lines(word: &Reader<'_>, style: &mut Style) {
    let (least, most) = (word.number(), word.number());
    let [more, fewer] = [&MORE, &FEWER].map(|of| word.number_property(of).map(|count| count.value as i32));
    match (least, more, fewer) {
        (Some(least), None, None) => {
            let most = most.map_or(least.value, |most| most.value);
            if least.value > most {
                word.error(word.span(), "the least lines are more than the most", "write `lines 2 4`");
            }
            style.lines = Some((least.value.min(most) as usize, least.value.max(most) as usize));
            style.more_lines = 0;
        }
        (None, Some(more), None) => (style.lines, style.more_lines) = (None, more),
        (None, None, Some(fewer)) => (style.lines, style.more_lines) = (None, -fewer),
        (None, None, None) if word.node.values.is_empty() && word.node.properties.is_empty() => {
            let help = "write how many, `lines 3` or `lines 2 4`, or `lines more=1` or `lines fewer=1`";
            word.error(word.span(), "`lines` lacks its number", help);
        }
        (None, None, None) => {}
        _ => word.error(word.span(), "`lines` asks for two things at once", "keep a number, `more=` or `fewer=`"),
    }
}
