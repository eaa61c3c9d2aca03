//! Sizes: of type, fixed, found or for each line, and from line to line.

use crate::cover::TypeStyle;
use crate::language::nodes::style::words::{ALIKE, PERCENT_OF_SIZE};
use crate::source::Reader;
use crate::typeset::{Leading, Size};

/// `leading 14.5`, or `leading percent=120` of the size.
pub fn leading(word: &Reader<'_>) -> Option<Leading> {
    let points = word.pt();
    let times = word.percent_property(&PERCENT_OF_SIZE);
    match (points, times) {
        (Some(_), Some(_)) => {
            word.error(word.span(), "`leading` stands here in points and in percent", "keep one of the two");
            None
        }
        (None, None) if word.node.values.is_empty() && word.node.properties.is_empty() => {
            let help = "write points, `leading 14.5`, or percent of the size, `leading percent=120`";
            word.error(word.span(), "`leading` lacks its points", help);
            None
        }
        (points, times) => points.map(Leading::Points).or(times.map(Leading::Times)),
    }
}

pub fn size(word: &Reader<'_>, into: &mut TypeStyle) {
    let style = &mut into.style;
    let alike = word.flag_property(&ALIKE).unwrap_or(false);
    into.alike = None;
    if !word.says_text() {
        style.size = word.pt().map_or(style.size, Size::Fixed);
        return only_between(word, alike);
    }
    let Some(which) = word.choice() else { return word.skip() };
    if let (Some(least), Some(most)) = (word.pt(), word.pt()) {
        if least > most {
            word.error(word.span(), "the least size is larger than the largest", "write `size between 9 20`");
        }
        let of = if which.value == "each-line" { Size::EachLine } else { Size::Between };
        style.size = of(least.min(most), most.max(least));
    }
    if which.value == "between" {
        into.alike = alike.then_some(word.span());
    } else {
        only_between(word, alike);
    }
}

fn only_between(word: &Reader<'_>, alike: bool) {
    if alike {
        let help = "write `size between 24 60 alike=#true`, or take `alike` away";
        word.error(word.span(), "`alike` goes with a size that is found between two", help);
    }
}
