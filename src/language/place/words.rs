//! The words of place, as data.

use crate::cover::MateLine;
use crate::source::{KnownBy, Slot, Word, choice, mm, name, words_of};

/// Nothing on a cover lies further off.
const FAR: f64 = 10_000.0;

/// Whoever writes one of the words that fix an axis replaces that axis.
pub const X: KnownBy = KnownBy::Fixing("x");
pub const Y: KnownBy = KnownBy::Fixing("y");
/// Along the lines of a page, along the spine on a spine.
pub const ALONG: KnownBy = KnownBy::Fixing("along");

pub const OF: Word = Word::new("of", "another panel to measure from, or a neighbour: `bottom of=badge`")
    .takes(&[name("a panel's or a neighbour's name")]);
const GUIDE: &[Slot] = &[name("a guide or an offset in millimetres"), mm("an offset", -FAR, FAR).perhaps()];
const OFFSET: &[Slot] = &[mm("an offset", -FAR, FAR)];
const NEIGHBOUR: &[Slot] = &[name("a neighbour's name"), mm("a gap", -FAR, FAR).perhaps()];
const SIZE: &[Slot] = &[mm("a length", 0.001, FAR)];

const fn edge(name: &'static str, says: &'static str, axis: KnownBy) -> Word {
    Word::new(name, says).takes(GUIDE).or(OFFSET).properties(&[OF]).known_by(axis)
}

const fn neighbour(name: &'static str, says: &'static str, axis: KnownBy) -> Word {
    Word::new(name, says).takes(NEIGHBOUR).known_by(axis)
}

pub const LEFT: Word = edge("left", "its left edge, inwards from a guide, or from the trim", X);
pub const RIGHT: Word = edge("right", "its right edge, inwards from a guide, or from the trim", X);
pub const TOP: Word = edge("top", "its upper edge, inwards from a guide, or from the trim", Y);
pub const BOTTOM: Word = edge("bottom", "its lower edge, inwards from a guide, or from the trim", Y);
pub const CENTRE_X: Word = edge("centre-x", "its middle from side to side: `centre-x centre`", X);
pub const CENTRE_Y: Word = edge("centre-y", "its middle from top to bottom: `centre-y centre`", Y);
pub const WIDTH: Word = Word::new("width", "how wide it is").takes(SIZE).known_by(X);
pub const HEIGHT: Word = Word::new("height", "how high it is").takes(SIZE).known_by(Y);
pub const BELOW: Word = neighbour("below", "under a neighbour of the same panel, a gap between them", Y);
pub const ABOVE: Word = neighbour("above", "over a neighbour, a gap between them", Y);
pub const AFTER: Word = neighbour("after", "beside a neighbour, on the side where a line goes on", ALONG);
pub const BEFORE: Word = neighbour("before", "beside a neighbour, on the side where a line begins", ALONG);
pub const CAP_TOP: Word = edge("cap-top", "where the capitals of its first line reach up to", Y);
pub const BASELINE: Word = edge("baseline", "where its first line stands", Y);
pub const HEAD: Word = edge("head", "on a spine: where it begins, towards the head of the book", Y);
pub const FOOT: Word = edge("foot", "on a spine: where it ends, towards the foot of the book", Y);
pub const ACROSS: Word =
    Word::new("across", "on a spine: its place between the folds; a bare number is a width, centred")
        .takes(&[choice("a guide", &words_of(&ACROSS_GUIDES)), mm("an inset", -FAR, FAR).perhaps()])
        .or(&[mm("a width", 0.001, FAR)])
        .known_by(X);

/// Lines of a neighbour that have a word, besides the edge that has the same one.
pub const MATE_LINES: [(&str, MateLine); 3] =
    [("centre", MateLine::Centre), ("baseline", MateLine::Baseline), ("cap-top", MateLine::CapTop)];

#[derive(Clone, Copy, PartialEq)]
pub enum Across {
    Safe,
    Fold,
    Centre,
}

pub const ACROSS_GUIDES: [(&str, Across); 3] =
    [("safe", Across::Safe), ("fold", Across::Fold), ("centre", Across::Centre)];

/// Every word of place.
pub const PLACE: &[Word] = &[
    LEFT, RIGHT, TOP, BOTTOM, CENTRE_X, CENTRE_Y, WIDTH, HEIGHT, BELOW, ABOVE, AFTER, BEFORE, CAP_TOP, BASELINE, HEAD,
    FOOT, ACROSS,
];

/// Words of the spine, and what to write elsewhere.
pub const OF_SPINE: [(&Word, &str); 3] = [(&HEAD, "top"), (&FOOT, "bottom"), (&ACROSS, "left and right, or width")];
