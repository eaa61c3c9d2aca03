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
//! - `spine-shape flat|rounded|backed factor=`: rounded and backed spines are wider: 1.17 times the block and two boards,
//!   or 1.45 times the block over the finished back, shoulders included (Welbound II, one block). Both are estimates until
//!   the binder's dummy is measured: then state `spine`.
//! - `round-spine 0.5`: round the computed spine to a multiple.
//! - `section 16`: the page count is rounded up to whole sections.
//! - `bleed`, `safe`: millimetres beyond and within the trim, 3 and 5 without a word. A case has a turn-in instead of a
//!   bleed.
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

use crate::cover::{Binding, Board, Facts, Format, Paper, SpineShape};
use crate::ground::{Finding, Severity, Spanned};
use crate::language::{Desk, Node, Role, ranged, ranged_length, says_word};
use crate::source::{Datum, Reader, Unit, habit};

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
    if let Some(binding) = binding(reader) {
        let found = Binding::WORDS.iter().find(|(word, _)| *word == binding.value);
        format.binding = found.map_or(Binding::Paperback, |(_, binding)| *binding);
    }
    trim(reader, &mut format);
    papers(reader, &mut format, facts.book.pages.value);
    if let Some(word) = reader.child("cover-stock") {
        let caliper = caliper(&word, 3.0);
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
        if let Some(word) = reader.child(name) {
            *slot = ranged_length(&word, word.length("a length", Unit::Mm), Unit::Mm, 0.0, most).unwrap_or(*slot);
        }
    }
    if let Some(word) = reader.child("spine")
        && let Some(width) = word.length("a width", Unit::Mm)
    {
        let stated = ranged_length(&word, Some(width), Unit::Mm, 0.0, 200.0);
        format.stated_spine = stated.map(|mm| Spanned::new(mm, width.span));
    }
    if let Some(word) = reader.child("section")
        && let Some(pages) = word.number("pages a section")
        && ranged(&word, Some(pages), 2.0, 128.0).is_some()
    {
        if pages.value % 2.0 == 0.0 {
            format.section = pages.value as u32;
        } else {
            word.error(pages.span, "a section has an even number of pages", "write `section 16`, or 8, 24, 32");
        }
    }
    shape(reader, &mut format);
    board(reader, &mut format.board);
    idle(reader, format.binding);
    facts.format = format;
}

fn binding(reader: &Reader<'_>) -> Option<Spanned<&'static str>> {
    let words = Binding::WORDS.map(|(word, _)| word);
    if reader.peek().is_none()
        && let Some(value) = reader.property("binding")
        && let Datum::Text(said) = &value.datum
    {
        let meant = words.iter().find(|word| *word == said).copied().or(habit(said).map(|habit| habit.ours));
        let meant = meant.filter(|word| words.contains(word)).unwrap_or("paperback");
        let help = format!("write `format {meant} {{ … }}`; bindings are {}", words.join(", "));
        reader.error(value.span, "the binding is the first word of `format`, without `binding=`", help);
        return None;
    }
    reader.word("a binding", &words)
}

/// Words that a binding has no use for. What lies under this one, a series or the cover of an edition, says them for its
/// other bindings.
fn idle(reader: &Reader<'_>, binding: Binding) {
    use Binding::{Case, FlappedPaperback, Jacket, Paperback, Stapled};
    const IDLE: [(&str, &[Binding], &str); 9] = [
        ("flap", &[Paperback, Case, Stapled], "has no flaps"),
        ("growth", &[Paperback, Case, Jacket, Stapled], "does not grow for its flaps"),
        ("board", &[Paperback, FlappedPaperback, Stapled], "has no boards"),
        ("bleed", &[Case], "is turned in: its bleed is the `turn-in=` of its `board`"),
        ("spine", &[Stapled], "has no spine"),
        ("spine-shape", &[Stapled], "has no spine"),
        ("round-spine", &[Stapled], "has no spine"),
        ("hinge", &[Stapled], "has no spine"),
        ("glue", &[Case, Jacket, Stapled], "has no glue in its spine's sum"),
    ];
    for (name, bindings, why) in IDLE {
        let said = reader.node.children.iter().find(|child| child.name.value == name);
        let own = |child: &&crate::source::Node| {
            let whole = reader.node.span;
            child.span.file == whole.file && whole.start <= child.span.start && child.span.end <= whole.end
        };
        if let Some(child) = said.filter(own).filter(|_| bindings.contains(&binding)) {
            let book = if binding == Stapled { "stapled book" } else { binding.word() };
            let message = format!("a {book} {why}, so `{name}` says nothing");
            let finding = Finding::new(Severity::Warning, "language", child.name.span, message);
            reader.findings().borrow_mut().push(finding.help("take it away, or choose another binding"));
        }
    }
}

fn trim(reader: &Reader<'_>, format: &mut Format) {
    let Some(word) = reader.child("trim") else {
        if !reader.attempts("trim") {
            let help = "write `trim 129 198`: width and height in millimetres";
            reader.error(reader.span(), "the format lacks its trim", help);
        }
        return;
    };
    if says_word(&word) {
        let size = word.word("a size", &SIZES.map(|(name, _)| name));
        if size.is_none() {
            word.skip();
        }
        let found = size.and_then(|size| SIZES.iter().find(|(name, _)| *name == size.value));
        format.trim = found.map_or(format.trim, |(_, size)| *size);
        return;
    }
    let (Some(width), Some(height)) = (word.length("a width", Unit::Mm), word.length("a height", Unit::Mm)) else {
        return;
    };
    let width = ranged_length(&word, Some(width), Unit::Mm, 20.0, 1000.0);
    let height = ranged_length(&word, Some(height), Unit::Mm, 20.0, 1000.0);
    if let (Some(width), Some(height)) = (width, height) {
        format.trim = (width, height);
    }
}

/// One paper carries all pages that no inserted section takes.
fn papers(reader: &Reader<'_>, format: &mut Format, pages: u32) {
    let words = reader.children("paper");
    let said: Vec<(&Reader<'_>, Paper)> = words.iter().filter_map(|word| Some((word, paper(word)?))).collect();
    let Some((first, _)) = said.first() else { return };
    let inserted: u32 = said.iter().filter_map(|(_, paper)| paper.pages).sum();
    let mut rest = said.iter().filter(|(_, paper)| paper.pages.is_none());
    let (one, second) = (rest.next(), rest.next());
    if let Some((word, _)) = second {
        word.error(word.span(), "two papers carry all the pages", "say of one how many: `paper pages=16 caliper=0.15`");
    } else if inserted > pages {
        let message = format!("{inserted} pages on inserted papers are more than the {pages} of the book");
        first.error(first.span(), message, "check `pages=` of every paper, and `pages` in `book`");
    } else if one.is_none() && words.len() == said.len() && inserted < pages {
        let message = format!("no paper is said for the other {} pages", pages - inserted);
        first.error(first.span(), message, "write a `paper` without `pages=`: it carries all that are left");
    }
    format.papers = said.into_iter().map(|(_, paper)| paper).collect();
}

fn paper(word: &Reader<'_>) -> Option<Paper> {
    let pages = ranged(word, word.number_property("pages"), 1.0, 10_000.0);
    let grammage = positive(word, word.number_property("grammage"), 1000.0);
    let bulk = positive(word, word.number_property("bulk"), 10.0);
    let caliper = caliper(word, 5.0);
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
    let factor = ranged(&word, word.number_property("factor"), 1.0, 2.0);
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
        let said = ranged_length(&word, word.length_property(name, Unit::Mm), Unit::Mm, 0.0, most);
        *slot = said.unwrap_or(*slot);
    }
    board.fore_edge = ranged_length(&word, word.length_property("fore-edge", Unit::Mm), Unit::Mm, 0.0, 15.0);
}

fn positive(word: &Reader<'_>, value: Option<Spanned<f64>>, most: f64) -> Option<f64> {
    ranged(word, value, LEAST, most)
}

fn caliper(word: &Reader<'_>, most: f64) -> Option<f64> {
    ranged_length(word, word.length_property("caliper", Unit::Mm), Unit::Mm, LEAST, most)
}

/// Thinner than anything there is.
const LEAST: f64 = 1e-6;
