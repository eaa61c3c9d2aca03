//! The proof's pen: hairlines and words, in two sizes of one face.

use crate::assets::{Library, Sequence, Tally};
use crate::ground::{
    Affine, FillRule, Ink, Line, MM_PER_PT, Path, Rect, RoundedRect, Severity, Shape, Span, TOLERANCE, rect_path,
};
use crate::scene::{GlyphRun, Item, Kind, Mark, Origin, Surface};
use crate::typeset::{Align, Block, Copy, Hyphenation, Leading, Room, Size, Style, Typesetter};
use std::sync::{Arc, LazyLock};

/// The face, and those that lend it letters of other scripts.
const FAMILIES: [&str; 5] = ["Libre Franklin", "Inter", "Frank Ruhl Libre", "Amiri", "Shippori Mincho"];
/// The two sizes, in points.
const HEADING: f64 = 15.0;
const TEXT: f64 = 7.5;
const LEADING: f64 = 1.4;
pub const HAIRLINE: f64 = 0.1;
/// How high figures of the text size stand, in millimetres: 0.74 of an em in Libre Franklin.
pub const FIGURE: f64 = 0.74 * TEXT * MM_PER_PT;

pub const INK: Ink = Ink::black(0.92);
pub const QUIET: Ink = Ink::black(0.58);
pub const FAINT: Ink = Ink::black(0.3);

static TYPESETTER: LazyLock<Typesetter> =
    LazyLock::new(|| Typesetter::new(Arc::new(Library::open(&[]).0), Arc::<Tally>::default()));

/// How words look.
#[derive(Clone)]
pub struct TypeLook {
    size: f64,
    weight: u16,
    ink: Ink,
}

impl TypeLook {
    pub fn heading() -> TypeLook {
        TypeLook { size: HEADING, weight: 600, ink: INK }
    }

    pub fn text() -> TypeLook {
        TypeLook { size: TEXT, weight: 400, ink: INK }
    }

    pub fn strong() -> TypeLook {
        TypeLook { weight: 600, ..TypeLook::text() }
    }

    pub fn quiet() -> TypeLook {
        TypeLook { ink: QUIET, ..TypeLook::text() }
    }

    /// Larger than both, for the word across the wrap alone.
    pub fn across(size: f64, ink: Ink) -> TypeLook {
        TypeLook { size, weight: 700, ink }
    }

    #[must_use]
    pub fn inked(mut self, ink: Ink) -> TypeLook {
        self.ink = ink;
        self
    }
}

#[derive(Default)]
pub struct ProofPen {
    pub items: Vec<Item>,
    runs: u32,
}

impl ProofPen {
    pub fn line(&mut self, from: (f64, f64), to: (f64, f64), line: Line, ink: Ink) {
        let mut path = Path::new();
        path.move_to(from);
        path.line_to(to);
        self.stroke(path, line, ink);
    }

    pub fn hairline(&mut self, from: (f64, f64), to: (f64, f64), ink: Ink) {
        self.line(from, to, Line::new(HAIRLINE), ink);
    }

    pub fn stroke(&mut self, path: Path, line: Line, ink: Ink) {
        self.push(Mark::Stroke { path, line, paint: ink.into() });
    }

    pub fn frame(&mut self, rect: Rect, line: Line, ink: Ink) {
        self.stroke(rect_path(rect), line, ink);
    }

    pub fn fill(&mut self, path: Path, ink: Ink) {
        self.push(Mark::Fill { path, rule: FillRule::EvenOdd, paint: ink.into() });
    }

    /// Words in a column from its upper left corner; how high they stand.
    pub fn column(&mut self, words: &str, look: &TypeLook, (x, y): (f64, f64), width: f64) -> f64 {
        let block = set(words, look, width);
        self.place(&block, look, Affine::translate((x, y)));
        block.height
    }

    /// One line about a point on its baseline: 0 begins there, 0.5 is centred, 1 ends there.
    pub fn label(&mut self, words: &str, look: &TypeLook, at: (f64, f64), share: f64) {
        self.turned(words, look, Affine::translate(at), share);
    }

    /// The same, turned about the origin of `place`.
    pub fn turned(&mut self, words: &str, look: &TypeLook, place: Affine, share: f64) {
        let block = set(words, look, f64::from(u16::MAX));
        let start = edges(&block).0;
        let shift = Affine::translate((-start - share * width(&block), -block.first_baseline));
        self.place(&block, look, place * shift);
    }

    /// A number on a disc.
    pub fn badge(&mut self, number: usize, severity: Severity, centre: (f64, f64)) {
        let half = BADGE / 2.0;
        let words = number.to_string();
        let wide = badge_width(number) / 2.0;
        let disc = Rect::new(centre.0 - wide, centre.1 - half, centre.0 + wide, centre.1 + half);
        let disc = |more: f64| rounded(disc.inflate(more, more));
        self.fill(disc(0.25), Ink::PAPER);
        self.fill(disc(0.0), signal(severity));
        self.label(&words, &TypeLook::strong().inked(Ink::PAPER), (centre.0, centre.1 + FIGURE / 2.0), 0.5);
    }

    fn place(&mut self, block: &Block, look: &TypeLook, place: Affine) {
        for line in &block.lines {
            for run in &line.runs {
                let sequence = Sequence { place: self.runs, ..run.sequence };
                self.runs += 1;
                self.push(Mark::Glyphs(GlyphRun {
                    font: run.font.clone(),
                    size: run.size,
                    stretch: run.stretch,
                    transform: place * Affine::translate((0.0, line.baseline)),
                    glyphs: run.glyphs.clone(),
                    turns: Vec::new(),
                    text: run.text.clone(),
                    sequence,
                    paint: look.ink.clone().into(),
                }));
            }
        }
    }

    pub fn push(&mut self, mark: Mark) {
        self.items.push(Item { origin: ORIGIN.clone(), mark });
    }
}

/// The discs that findings are numbered with.
pub const BADGE: f64 = 4.4;

static ORIGIN: LazyLock<Arc<Origin>> = LazyLock::new(|| {
    Arc::new(Origin {
        span: Span::default(),
        panel: Surface::Wrap,
        element: "proof".to_owned(),
        kind: Kind::Text,
        frame: Rect::ZERO,
    })
});

/// The colour of a severity.
pub fn signal(severity: Severity) -> Ink {
    match severity {
        Severity::Error => Ink::process(0.05, 1.0, 0.75, 0.05),
        Severity::Warning => Ink::process(0.0, 0.55, 1.0, 0.05),
        Severity::Note => Ink::process(0.7, 0.4, 0.1, 0.25),
    }
}

/// A rectangle with round ends.
fn rounded(rect: Rect) -> Path {
    RoundedRect::from_rect(rect, rect.height() / 2.0).to_path(TOLERANCE)
}

/// How wide one line of words is.
pub fn badge_width(number: usize) -> f64 {
    (label_width(&number.to_string(), &TypeLook::strong()) + 1.6).max(BADGE)
}

pub fn label_width(words: &str, look: &TypeLook) -> f64 {
    width(&set(words, look, f64::from(u16::MAX)))
}

/// How high words in a column stand.
pub fn column_height(words: &str, look: &TypeLook, width: f64) -> f64 {
    set(words, look, width).height
}

/// Set in the first family that has all letters, or in the one that lacks fewest.
fn set(words: &str, look: &TypeLook, width: f64) -> Arc<Block> {
    let set = |family: &str| {
        let style = Style {
            family: family.to_owned(),
            weight: look.weight,
            size: Size::Fixed(look.size),
            leading: Leading::Times(LEADING),
            language: "en".to_owned(),
            hyphenation: Hyphenation { on: false, before: 2, after: 2, in_row: 0 },
            align: Align::Left,
            hanging: false,
            ..Style::default()
        };
        TYPESETTER
            .set(&Copy::plain(words), &style, Room { width, close: false, height: None, lines: None, holes: None })
            .ok()
    };
    let mut best: Option<Arc<Block>> = None;
    for block in FAMILIES.iter().filter_map(|family| set(family)) {
        let whole = block.missing.is_empty();
        if best.as_ref().is_none_or(|best| block.missing.len() < best.missing.len()) {
            best = Some(block);
        }
        if whole {
            break;
        }
    }
    best.unwrap_or_default()
}

/// Where the first line's words begin and end.
fn edges(block: &Block) -> (f64, f64) {
    let runs = block.lines.first().map_or(&[][..], |line| &line.runs);
    let glyphs = runs.iter().flat_map(|run| &run.glyphs);
    let edges = glyphs.map(|glyph| (glyph.x, glyph.x + glyph.advance));
    edges.reduce(|one, other| (one.0.min(other.0), one.1.max(other.1))).unwrap_or_default()
}

fn width(block: &Block) -> f64 {
    let (start, end) = edges(block);
    end - start
}
