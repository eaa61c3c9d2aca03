//! The words of `format`, as data.

use crate::cover::{Binding, SpineShape};
use crate::source::{Slot, Word, choice, mm, number, whole, words_of};

/// Sizes in millimetres: two public trade lists for the British formats, ISO 216 and JIS P 0138 (from memory) for A4 to
/// A6 and bunko, inches by definition for the American one.
pub const SIZES: [(&str, (f64, f64)); 9] = [
    ("a-format", (111.0, 178.0)),
    ("b-format", (129.0, 198.0)),
    ("demy", (138.0, 216.0)),
    ("royal", (153.0, 234.0)),
    ("a4", (210.0, 297.0)),
    ("a5", (148.0, 210.0)),
    ("a6", (105.0, 148.0)),
    ("us-trade", (152.4, 228.6)),
    ("bunko", (105.0, 148.0)),
];
pub const SHAPES: [(&str, SpineShape); 3] = [
    ("flat", SpineShape::Flat),
    ("rounded", SpineShape::Rounded(SpineShape::ROUNDED)),
    ("backed", SpineShape::Backed(SpineShape::BACKED)),
];
/// Thinner than anything there is.
const LEAST: f64 = 1e-6;

pub const BINDING: Slot = choice("a binding", &words_of(&Binding::WORDS));
pub const TRIM: Word = Word::new("trim", "width and height of a page, or the name of a size")
    .takes(&[mm("a width", 20.0, 1000.0), mm("a height", 20.0, 1000.0)])
    .or(&[choice("a size", &words_of(&SIZES))]);

pub const PIXELS: Word = Word::new("pixels", "width and height of a front for screens")
    .takes(&[whole("a width in pixels", 50.0, 10_000.0), whole("a height in pixels", 50.0, 10_000.0)]);

pub const PAPER: Word = Word::new("paper", "the paper of the block, or of a section inserted into it")
    .properties(&[PAGES, GRAMMAGE, BULK, CALIPER, PAGES_PER_INCH])
    .many()
    .default("grammage=80 bulk=1.5");
pub const PAGES: Word = Word::new("pages", "how many pages are on it; by default all that are left").takes(&[whole(
    "a number of pages",
    1.0,
    10_000.0,
)]);
pub const GRAMMAGE: Word = Word::new("grammage", "grams per square metre").takes(&[number("grams", LEAST, 1000.0)]);
pub const BULK: Word = Word::new("bulk", "cubic centimetres per gram").takes(&[number("a bulk", LEAST, 10.0)]);
pub const CALIPER: Word = Word::new("caliper", "the thickness of a leaf").takes(&[mm("a thickness", LEAST, 5.0)]);
pub const PAGES_PER_INCH: Word =
    Word::new("pages-per-inch", "pages to the inch of the block").takes(&[number("a number of pages", LEAST, 5000.0)]);
/// The ways to write how thick a paper is: each takes the place of the others.
pub const WAYS: [&[Word]; 3] = [&[GRAMMAGE, BULK], &[CALIPER], &[PAGES_PER_INCH]];

pub const COVER_STOCK: Word =
    Word::new("cover-stock", "the cover's own thickness, counted twice in the spine of a paperback")
        .properties(&[CALIPER])
        .default("caliper=0.3");
pub const GLUE: Word =
    Word::new("glue", "what the binder adds to the spine for adhesive").takes(&[mm("a length", 0.0, 3.0)]).default("0");
pub const SPINE: Word =
    Word::new("spine", "the width of the spine as the printer states it").takes(&[mm("a width", 0.0, 200.0)]);
pub const SPINE_SHAPE: Word = Word::new("spine-shape", "rounded and backed spines are wider than the block")
    .takes(&[choice("a shape", &words_of(&SHAPES))])
    .properties(&[FACTOR])
    .default("flat");
pub const FACTOR: Word =
    Word::new("factor", "how much wider: by default 1.17 times for rounded ones, 1.45 for backed ones")
        .takes(&[number("a factor", 1.0, 2.0)]);
pub const ROUND_SPINE: Word = Word::new("round-spine", "rounds the computed spine to a multiple of this; 0 leaves it")
    .takes(&[mm("a length", 0.0, 5.0)])
    .default("0");
pub const SECTION: Word =
    Word::new("section", "the page count is rounded up to whole sections of so many pages, an even number")
        .takes(&[whole("a number of pages", 2.0, 128.0)])
        .default("2");
pub const BLEED: Word =
    Word::new("bleed", "how far colour runs beyond the trim").takes(&[mm("a length", 0.0, 50.0)]).default("3");
pub const SAFE: Word =
    Word::new("safe", "how far words keep within trim and folds").takes(&[mm("a length", 0.0, 50.0)]).default("5");
pub const FLAP: Word = Word::new("flap", "how wide flaps are").takes(&[mm("a length", 0.0, 400.0)]).default("90");
pub const GROWTH: Word =
    Word::new("growth", "what front and back of a flapped paperback grow by so that its flaps do not push the block")
        .takes(&[mm("a length", 0.0, 10.0)])
        .default("1");
pub const HINGE: Word = Word::new("hinge", "how far from the spine relief scores run beside it; 0 for none")
    .takes(&[mm("a length", 0.0, 30.0)])
    .default("0");

pub const BOARD: Word = Word::new("board", "the boards of a case, and of the case that a jacket goes round")
    .properties(&[THICKNESS, SQUARE, SETBACK, JOINT, TURN_IN, FORE_EDGE]);
pub const THICKNESS: Word = Word::new("thickness", "of a board").takes(&[mm("a thickness", 0.0, 6.0)]).default("2.5");
pub const SQUARE: Word =
    Word::new("square", "how far a board stands over the block").takes(&[mm("a length", 0.0, 10.0)]).default("3");
pub const SETBACK: Word = Word::new("setback", "from the spine edge of the block to that of the board")
    .takes(&[mm("a length", 0.0, 15.0)])
    .default("5");
pub const JOINT: Word =
    Word::new("joint", "the gap between board and spine board").takes(&[mm("a length", 0.0, 20.0)]).default("8");
pub const TURN_IN: Word =
    Word::new("turn-in", "what is folded over the edges of a board").takes(&[mm("a length", 0.0, 40.0)]).default("17");
pub const FORE_EDGE: Word =
    Word::new("fore-edge", "what a jacket needs to go round the fore edge; by default the thickness of a board")
        .takes(&[mm("a length", 0.0, 15.0)]);

pub const FORMAT_WORDS: &[Word] = &[
    TRIM,
    PIXELS,
    PAPER,
    COVER_STOCK,
    SPINE,
    BLEED,
    SAFE,
    GLUE,
    SECTION,
    FLAP,
    GROWTH,
    HINGE,
    BOARD,
    SPINE_SHAPE,
    ROUND_SPINE,
];
