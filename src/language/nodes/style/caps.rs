//! Drop caps and columns: how a paragraph begins, and how many columns words stand in.

use crate::cover::TypeStyle;
use crate::ground::Length;
use crate::language::nodes::style::words::{COLUMNS, DROP_CAP, GAP, LETTERS, LINES, SMALL_CAPS, SNUG};
use crate::source::Reader;
use crate::typeset::{Columns, DropCap};

pub fn read(reader: &Reader<'_>, into: &mut TypeStyle) {
    let style = &mut into.style;
    if let Some(word) = reader.child(&DROP_CAP) {
        if let Some(value) = word.value() {
            word.error(value.span, "a drop cap names its lines", format!("write `drop-cap lines={}`", value.shown()));
        }
        let whole = |of, usual: usize| word.number_property(of).map_or(usual, |number| number.value as usize);
        let (lines, letters) = (whole(&LINES, 3), whole(&LETTERS, 1));
        style.drop_cap =
            (lines > 1).then_some(DropCap { lines, letters, snug: word.flag_property(&SNUG).unwrap_or(false) });
        into.small_caps_after = word.number_property(&SMALL_CAPS).map_or(0, |count| count.value as usize);
    }
    if let Some(word) = reader.child(&COLUMNS) {
        let gap = word.length_property(&GAP).map_or(5.0, Length::mm);
        style.columns = Columns { count: word.number().map_or(1, |count| count.value as usize), gap };
    }
}
