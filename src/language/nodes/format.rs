//! `format`: the binding, its trim, paper and boards. Every width of the sheet follows from it.
//!
//! ```kdl
//! format paperback {
//!     trim 129 198                        // width and height of the page
//!     paper grammage=80 bulk=1.5          // or caliper=0.120, or pages-per-inch=434
//!     cover-stock caliper=0.3
//!     bleed 3
//!     safe 5
//! }
//! ```
//!
//! Bindings are `paperback`, `flapped-paperback`, `case` (printed paper over boards), `jacket` and `stapled`; `screen` is
//! for covers that nobody prints.
//!
//! Sizes of the trim that have a name: a-format 111 × 178, b-format 129 × 198, demy 138 × 216, royal 153 × 234, a4, a5, a6,
//! us-trade 152.4 × 228.6, bunko 105 × 148. Houses differ by millimetres, so the resolved size is always in
//! `jaconet measure`.
//!
//! The thickness of paper is written in one of three ways: grammage × bulk (ISO 534), caliper, or pages per inch. A second
//! `paper pages=16 …` is a section inserted on other paper. A width of the spine that the printer states wins over the
//! computed one, and is compared with it. A case has a turn-in instead of a bleed.
//! Rounded and backed spines are wider: 1.17 times the block and two boards, or 1.45 times the block over the finished back,
//! shoulders included (Welbound II, one block). Both are estimates until the binder's dummy is measured: then state `spine`.
//!
//! ```kdl
//! format jacket {
//!     trim royal
//!     paper caliper=0.11
//!     board thickness=2.5 square=3 setback=5 joint=8
//!     flap 85
//!     bleed 5
//! }
//! ```
//!
//! # Screens
//!
//! `screen` sets the front again for a screen, in as many pixels as it states: an electronic book, the square of an audio
//! book, a banner. It usually stands in an edition, which takes styles, art and facts from the printed cover.
//!
//! ```kdl
//! panel front { text title words="{title}" { left safe; right safe; top safe 20 } }
//! edition ebook { format screen { pixels 1600 2560 } }
//! edition audio { format screen { pixels 3000 3000 } }
//! ```
//!
//! The front is the smallest one of the ratio of its pixels into which the page fits. A higher one is as wide as the page, a
//! wider one as high; so type keeps its size, and what hangs on an edge moves with it. The page is the `trim`, which may be
//! another one for the screen: a smaller page makes everything on it larger. Without a `trim` it is 129 × 198.
//!
//! The front alone is delivered, as the output `screen`: no bleed, no marks, no press PDF. What stands on the wrap shows
//! where it lies on the front; the wrap is back, spine and front, as on a paperback. Other panels are left out. On a screen
//! no edge is cut or folded, so each may be measured as `bleed` and as `fold`. Spots and foils are shown by their look.
//!
//! Each side has 50 to 10,000 pixels, the whole at most 50 million, and no side is more than four times as long as the
//! other.

use crate::cover::{Binding, Board, Facts, Format, Paper, SpineShape};
use crate::ground::Spanned;
use crate::language::context::Desk;
use crate::language::headword::{Headword, Role};
use crate::source::{Datum, Laid, Reader, Tree, Word, habit, meant};
use words::{
    BLEED, BOARD, BULK, CALIPER, COVER_STOCK, FACTOR, FLAP, FORE_EDGE, GLUE, GRAMMAGE, GROWTH, HINGE, JOINT, PAGES,
    PAGES_PER_INCH, ROUND_SPINE, SAFE, SECTION, SETBACK, SHAPES, SIZES, SPINE, SPINE_SHAPE, SQUARE, THICKNESS, TURN_IN,
};

mod idle;
mod pixels;
mod words;

pub use pixels::unfit;
pub use words::{PAPER, PIXELS, TRIM, WAYS};

pub const HEADWORD: Headword = Headword::new(FORMAT, include_str!("format.rs"), Role::Fact(read));

pub const FORMAT: Word = Word::new("format", "the binding, its trim, paper and boards")
    .takes(&[words::BINDING])
    .holds(&[words::FORMAT_WORDS])
    .laid(Laid::Inside);

fn read(reader: &Reader<'_>, facts: &mut Facts, _desk: &Desk<'_>) {
    let mut format = Format { span: reader.span(), ..Format::default() };
    let bound = binding(reader);
    // What follows from a binding that is not known says nothing.
    let known = bound.is_some() || reader.node.values.is_empty();
    format.binding = bound.or_else(|| guessed(reader)).unwrap_or(format.binding);
    format.binding = pixels::read(reader, format.binding);
    trim(reader, &mut format);
    papers(reader, &mut format, facts.book.pages.value);
    if let Some(word) = reader.child(&COVER_STOCK) {
        let caliper = word.mm_property(&CALIPER);
        format.cover_stock = caliper.unwrap_or(format.cover_stock);
        if caliper.is_none() && word.node.properties.is_empty() {
            word.lacks(word.span(), "`cover-stock` lacks its caliper", "write `cover-stock caliper=0.3`");
        }
    }
    for (word, slot) in [
        (&GLUE, &mut format.glue),
        (&ROUND_SPINE, &mut format.round_spine),
        (&BLEED, &mut format.bleed),
        (&SAFE, &mut format.safe),
        (&FLAP, &mut format.flap),
        (&GROWTH, &mut format.growth),
        (&HINGE, &mut format.hinge),
    ] {
        *slot = reader.child(word).and_then(|word| word.mm()).unwrap_or(*slot);
    }
    let stated = reader.child(&SPINE).and_then(|word| word.length());
    format.stated_spine = stated.map(|width| Spanned::new(width.value.mm(), width.span));
    if let Some(word) = reader.child(&SECTION)
        && let Some(pages) = word.number()
    {
        if pages.value % 2.0 == 0.0 {
            format.section = pages.value as u32;
        } else {
            word.error(pages.span, "a section has an even number of pages", "write `section 16`, or 8, 24, 32");
        }
    }
    shape(reader, &mut format);
    board(reader, &mut format.board);
    if known {
        idle::idle(reader, format.binding);
    }
    facts.format = format;
}

/// Whether a cover is for screens, as far as can be told before its format is read.
pub fn expected_binding(tree: &Tree) -> Binding {
    let format = tree.nodes.iter().find(|node| node.name.value == FORMAT.name);
    let said = format.and_then(|node| node.values.first()?.text());
    said.and_then(|said| meant(&Binding::WORDS, said)).unwrap_or_default()
}

fn binding(reader: &Reader<'_>) -> Option<Binding> {
    if reader.peek().is_none()
        && let Some((_, value)) = reader.node.properties.iter().find(|(key, _)| key.value == "binding")
        && let Datum::Text(said) = &value.datum
    {
        reader.free_properties();
        let words = Binding::WORDS.map(|(word, _)| word);
        let meant = words.iter().find(|word| *word == said).copied().or(habit(said).map(|habit| habit.ours));
        let meant = meant.filter(|word| words.contains(word)).unwrap_or("paperback");
        let help = format!("write `format {meant} {{ … }}`; bindings are {}", words.join(", "));
        reader.error(value.span, "the binding is the first word of `format`, without `binding=`", help);
        return None;
    }
    reader.choose(&Binding::WORDS)
}

/// What an unknown word means for a binding; a hardback that has flaps is its jacket.
fn guessed(reader: &Reader<'_>) -> Option<Binding> {
    let habit = habit(reader.node.values.first()?.text()?)?;
    let flaps = reader.node.children.iter().any(|child| child.name.value == FLAP.name);
    let binding = meant(&Binding::WORDS, habit.ours)?;
    Some(if binding == Binding::Case && flaps { Binding::Jacket } else { binding })
}

fn trim(reader: &Reader<'_>, format: &mut Format) {
    let Some(word) = reader.child(&TRIM) else {
        if format.binding.pixels().is_some() {
            return;
        }
        let help = "write `trim 129 198`: width and height in millimetres";
        reader.lacks(reader.span(), "the format lacks its trim", help);
        return;
    };
    if word.says_text() {
        if let Some((width, height)) = word.peek().and_then(|value| two_numbers(value.text()?)) {
            let help = format!("two bare numbers, apart by a space: `trim {width} {height}`");
            word.error(word.span(), "the trim stands in quotes", help);
            return word.skip();
        }
        let size = word.choice();
        if size.is_none() {
            word.skip();
        }
        format.trim = size.and_then(|size| meant(&SIZES, size.value)).unwrap_or(format.trim);
        return;
    }
    if let (Some(width), Some(height)) = (word.mm(), word.mm()) {
        format.trim = (width, height);
    }
}

/// `129 x 198`, as people write sizes in text.
fn two_numbers(text: &str) -> Option<(f64, f64)> {
    let (width, height) = text.split_once(['x', '×', '*'])?;
    Some((width.trim().parse().ok()?, height.trim().parse().ok()?))
}

/// One paper carries all pages that no inserted section takes.
fn papers(reader: &Reader<'_>, format: &mut Format, pages: u32) {
    let words = reader.children(&PAPER);
    let said: Vec<(&Reader<'_>, Paper)> = words.iter().filter_map(|word| Some((word, paper(word)?))).collect();
    let Some((first, _)) = said.first() else { return };
    let inserted: u32 = said.iter().filter_map(|(_, paper)| paper.pages).sum();
    let mut rest = said.iter().filter(|(_, paper)| paper.pages.is_none());
    let (one, second) = (rest.next(), rest.next());
    if let Some((word, _)) = second {
        word.error(
            word.span(),
            "two papers carry all the pages",
            "write at one of them how many: `paper pages=16 caliper=0.15`",
        );
    } else if inserted > pages {
        let message = format!("{inserted} pages on inserted papers are more than the {pages} of the book");
        first.error(first.span(), message, "check `pages=` of every paper, and `pages` in `book`");
    } else if one.is_none() && words.len() == said.len() && inserted < pages {
        let message = format!("no paper is stated for the other {} pages", pages - inserted);
        first.error(first.span(), message, "write a `paper` without `pages=`: it carries all that are left");
    }
    format.papers = said.into_iter().map(|(_, paper)| paper).collect();
}

fn paper(word: &Reader<'_>) -> Option<Paper> {
    let number = |of| word.number_property(of).map(|number| number.value);
    let pages = number(&PAGES);
    let (grammage, bulk, ppi) = (number(&GRAMMAGE), number(&BULK), number(&PAGES_PER_INCH));
    let caliper = word.mm_property(&CALIPER);
    let paper = match (grammage, bulk, caliper, ppi) {
        (Some(grammage), Some(bulk), None, None) => Paper::by_bulk(grammage, bulk),
        (None, None, Some(caliper), None) => Paper::by_caliper(caliper),
        (None, None, None, Some(ppi)) => Paper::by_pages_per_inch(ppi),
        _ => {
            let message = "the paper's thickness should be written in one way";
            word.lacks(word.span(), message, "write grammage=80 bulk=1.5, or caliper=0.120, or pages-per-inch=434");
            return None;
        }
    };
    Some(Paper { pages: pages.map(|pages| pages as u32), ..paper })
}

fn shape(reader: &Reader<'_>, format: &mut Format) {
    let Some(word) = reader.child(&SPINE_SHAPE) else { return };
    let shape = word.choose(&SHAPES);
    let factor = word.number_property(&FACTOR).map(|factor| factor.value);
    format.spine_shape = match (shape, factor) {
        (Some(SpineShape::Rounded(_)), Some(factor)) => SpineShape::Rounded(factor),
        (Some(SpineShape::Backed(_)), Some(factor)) => SpineShape::Backed(factor),
        (shape, _) => shape.unwrap_or(SpineShape::Flat),
    };
}

fn board(reader: &Reader<'_>, board: &mut Board) {
    let Some(word) = reader.child(&BOARD) else { return };
    for (of, slot) in [
        (&THICKNESS, &mut board.thickness),
        (&SQUARE, &mut board.square),
        (&SETBACK, &mut board.setback),
        (&JOINT, &mut board.joint),
        (&TURN_IN, &mut board.turn_in),
    ] {
        *slot = word.mm_property(of).unwrap_or(*slot);
    }
    board.fore_edge = word.mm_property(&FORE_EDGE);
}
