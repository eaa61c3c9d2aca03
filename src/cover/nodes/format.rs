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
//! Bindings are `paperback`, `flapped-paperback`, `case` (printed paper over boards), `jacket` and `stapled`.
//!
//! - `trim WIDTH HEIGHT`, or a name: `trim b-format`. Houses differ by millimetres, so the resolved size is always in
//!   `jaconet measure`. Names: a-format 111 × 178, b-format 129 × 198, demy 138 × 216, royal 153 × 234, a4, a5, a6,
//!   us-trade 152.4 × 228.6, bunko 105 × 148.
//! - `paper`: leaf thickness as grammage × bulk (ISO 534), caliper, or pages per inch. A second `paper pages=16 …` is a
//!   section inserted on other paper.
//! - `cover-stock caliper=`: the cover's own thickness, counted twice in the spine of a paperback.
//! - `glue`: what the binder adds for adhesive.
//! - `spine N`: stated by the printer; it wins, and is compared with the computed one.
//! - `spine-shape flat|rounded|backed factor=`: rounded and backed spines are wider (1.17 and 1.45 times the block).
//! - `round-spine 0.5`: round the computed spine to a multiple.
//! - `section 16`: the page count is rounded up to whole sections.
//! - `bleed`, `safe`: millimetres beyond and within the trim. A case has a turn-in instead of a bleed.
//! - `flap 90`, `growth 1`: flaps, and what front and back grow by so that flaps do not push the block.
//! - `board thickness=2.5 square=3 setback=5 joint=8 turn-in=17 fore-edge=2.5`: the boards of a case and its jacket.
//! - `hinge 7`: relief scores beside the spine.
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

use crate::cover::{Binding, Board, Desk, Facts, Format, Node, Paper, Role, SpineShape, says_word};
use crate::ground::{Spanned, number};
use crate::source::{Reader, Unit};

pub const NODE: Node = Node { name: "format", source: include_str!("format.rs"), role: Role::Fact(read) };

/// Sizes in millimetres: two public trade lists for the British formats, ISO 216 and JIS P 0138 (from memory) for A4 to
/// A6 and bunko, inches by definition for the American one.
const SIZES: [(&str, (f64, f64)); 9] = [
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

fn read(reader: &Reader<'_>, facts: &mut Facts, _desk: &Desk<'_>) {
    let mut format = Format { span: reader.span(), ..Format::default() };
    if let Some(binding) = reader.word("a binding", &Binding::WORDS.map(|(word, _)| word)) {
        let found = Binding::WORDS.iter().find(|(word, _)| *word == binding.value);
        format.binding = found.map_or(Binding::Paperback, |(_, binding)| *binding);
    }
    trim(reader, &mut format);
    let papers: Vec<Paper> = reader.children("paper").iter().filter_map(paper).collect();
    if !papers.is_empty() {
        format.papers = papers;
    }
    if let Some(word) = reader.child("cover-stock") {
        let caliper = positive(&word, word.number_property("caliper"), 3.0);
        format.cover_stock = caliper.unwrap_or(format.cover_stock);
        if caliper.is_none() && word.node.properties.is_empty() {
            word.error(word.span(), "`cover-stock` lacks its caliper", "write `cover-stock caliper=0.3`");
        }
    }
    for (name, slot, most) in [
        ("glue", &mut format.glue, 3.0),
        ("round-spine", &mut format.round_spine, 5.0),
        ("bleed", &mut format.bleed, 50.0),
        ("safe", &mut format.safe, 50.0),
        ("flap", &mut format.flap, 400.0),
        ("growth", &mut format.growth, 10.0),
        ("hinge", &mut format.hinge, 30.0),
    ] {
        if let Some(word) = reader.child(name)
            && let Some(length) = word.length("a length", Unit::Mm)
        {
            *slot = within(&word, Spanned::new(length.value.mm(), length.span), 0.0, most).unwrap_or(*slot);
        }
    }
    if let Some(word) = reader.child("spine")
        && let Some(width) = word.length("a width", Unit::Mm)
    {
        let width = Spanned::new(width.value.mm(), width.span);
        format.stated_spine = within(&word, width, 0.0, 200.0).map(|mm| Spanned::new(mm, width.span));
    }
    if let Some(word) = reader.child("section")
        && let Some(pages) = word.number("pages a section")
        && within(&word, pages, 2.0, 128.0).is_some()
    {
        if pages.value % 2.0 == 0.0 {
            format.section = pages.value as u32;
        } else {
            word.error(pages.span, "a section has an even number of pages", "write `section 16`, or 8, 24, 32");
        }
    }
    shape(reader, &mut format);
    board(reader, &mut format.board);
    facts.format = format;
}

fn trim(reader: &Reader<'_>, format: &mut Format) {
    let Some(word) = reader.child("trim") else {
        reader.error(
            reader.span(),
            "the format lacks its trim",
            "write `trim 129 198`: width and height in millimetres",
        );
        return;
    };
    if says_word(&word) {
        let size = word.word("a size", &SIZES.map(|(name, _)| name));
        let found = size.and_then(|size| SIZES.iter().find(|(name, _)| *name == size.value));
        format.trim = found.map_or(format.trim, |(_, size)| *size);
        return;
    }
    let (Some(width), Some(height)) = (word.length("a width", Unit::Mm), word.length("a height", Unit::Mm)) else {
        return;
    };
    let width = within(&word, Spanned::new(width.value.mm(), width.span), 20.0, 1000.0);
    let height = within(&word, Spanned::new(height.value.mm(), height.span), 20.0, 1000.0);
    if let (Some(width), Some(height)) = (width, height) {
        format.trim = (width, height);
    }
}

fn paper(word: &Reader<'_>) -> Option<Paper> {
    let pages = word.number_property("pages").and_then(|pages| within(word, pages, 1.0, 10_000.0));
    let grammage = positive(word, word.number_property("grammage"), 1000.0);
    let bulk = positive(word, word.number_property("bulk"), 10.0);
    let caliper = positive(word, word.number_property("caliper"), 5.0);
    let ppi = positive(word, word.number_property("pages-per-inch"), 5000.0);
    let paper = match (grammage, bulk, caliper, ppi) {
        (Some(grammage), Some(bulk), None, None) => Paper::by_bulk(grammage, bulk),
        (None, None, Some(caliper), None) => Paper::by_caliper(caliper),
        (None, None, None, Some(ppi)) => Paper::by_pages_per_inch(ppi),
        _ => {
            let message = "the paper's thickness should be said in one way";
            word.error(word.span(), message, "write grammage=80 bulk=1.5, or caliper=0.120, or pages-per-inch=434");
            return None;
        }
    };
    Some(Paper { pages: pages.map(|pages| pages as u32), ..paper })
}

fn shape(reader: &Reader<'_>, format: &mut Format) {
    let Some(word) = reader.child("spine-shape") else { return };
    let shape = word.word("a shape", &["flat", "rounded", "backed"]);
    let factor = word.number_property("factor").and_then(|factor| within(&word, factor, 1.0, 2.0));
    format.spine_shape = match shape.map(|shape| shape.value) {
        Some("rounded") => SpineShape::Rounded(factor.unwrap_or(SpineShape::ROUNDED)),
        Some("backed") => SpineShape::Backed(factor.unwrap_or(SpineShape::BACKED)),
        _ => SpineShape::Flat,
    };
}

fn board(reader: &Reader<'_>, board: &mut Board) {
    let Some(word) = reader.child("board") else { return };
    for (name, slot, most) in [
        ("thickness", &mut board.thickness, 6.0),
        ("square", &mut board.square, 10.0),
        ("setback", &mut board.setback, 15.0),
        ("joint", &mut board.joint, 20.0),
        ("turn-in", &mut board.turn_in, 40.0),
    ] {
        let said = word.number_property(name).and_then(|length| within(&word, length, 0.0, most));
        *slot = said.unwrap_or(*slot);
    }
    board.fore_edge = word.number_property("fore-edge").and_then(|length| within(&word, length, 0.0, 15.0));
}

fn positive(word: &Reader<'_>, value: Option<Spanned<f64>>, most: f64) -> Option<f64> {
    value.and_then(|value| within(word, value, 1e-6, most))
}

fn within(word: &Reader<'_>, value: Spanned<f64>, least: f64, most: f64) -> Option<f64> {
    if (least..=most).contains(&value.value) {
        return Some(value.value);
    }
    let message = format!("{} is out of range here", number(value.value));
    word.error(value.span, message, format!("write a number from {} to {}", number(least), number(most)));
    None
}
