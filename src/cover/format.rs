//! Format: the binding, its trim, paper and boards, and the widths that follow from them, each with its sum.

use crate::cover::{Extent, Measure};
use crate::ground::{MM_PER_INCH, Span, Spanned, number};

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Binding {
    #[default]
    Paperback,
    FlappedPaperback,
    Case,
    Jacket,
    Stapled,
}

impl Binding {
    pub const WORDS: [(&'static str, Binding); 5] = [
        ("paperback", Binding::Paperback),
        ("flapped-paperback", Binding::FlappedPaperback),
        ("case", Binding::Case),
        ("jacket", Binding::Jacket),
        ("stapled", Binding::Stapled),
    ];

    pub fn word(self) -> &'static str {
        Binding::WORDS.iter().find(|(_, binding)| *binding == self).map_or("paperback", |(word, _)| word)
    }

    /// Case and jacket go round boards.
    pub fn boarded(self) -> bool {
        matches!(self, Binding::Case | Binding::Jacket)
    }
}

/// Lengths in millimetres.
#[derive(Clone, Debug, PartialEq)]
pub struct Format {
    pub binding: Binding,
    /// Of the page, not of the boards.
    pub trim: (f64, f64),
    pub papers: Vec<Paper>,
    /// Caliper of the cover stock.
    pub cover_stock: f64,
    /// Added by the binder for adhesive.
    pub glue: f64,
    /// As the printer states it; it wins over the computed one.
    pub stated_spine: Option<Spanned<f64>>,
    /// The computed spine is rounded to a multiple of this; 0 leaves it.
    pub round_spine: f64,
    pub spine_shape: SpineShape,
    /// Pages a section; the page count is rounded up to it.
    pub section: u32,
    pub bleed: f64,
    pub safe: f64,
    pub flap: f64,
    /// Added to front and back so that flaps do not push the block.
    pub growth: f64,
    pub board: Board,
    /// Distance of the relief score from the spine's edge; 0 for none.
    pub hinge: f64,
    pub span: Span,
}

/// Paper of the block, or of a section inserted into it.
#[derive(Clone, Debug, PartialEq)]
pub struct Paper {
    /// Pages on this paper; `None` for all that are left.
    pub pages: Option<u32>,
    /// Thickness of a leaf.
    pub caliper: f64,
    /// How the caliper came about, for the measures.
    pub sum: String,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum SpineShape {
    Flat,
    Rounded(f64),
    Backed(f64),
}

impl SpineShape {
    /// Widths of rounded and of rounded and backed spines against a flat one. A published pair for a block of 13/16 in:
    /// 0.95 in rounded, 1.18 in rounded and backed (Welbound II). The second is measured over the finished back, with its
    /// shoulders, which are as high as the boards are thick.
    pub const ROUNDED: f64 = 1.17;
    pub const BACKED: f64 = 1.45;

    pub fn factor(self) -> f64 {
        match self {
            SpineShape::Flat => 1.0,
            SpineShape::Rounded(factor) | SpineShape::Backed(factor) => factor,
        }
    }

    /// Whether the boards lie against the shoulders of the back, so that they add nothing to its width.
    fn holds_the_boards(self) -> bool {
        matches!(self, SpineShape::Backed(_))
    }

    /// ` × 1.45 …`, with the source of the factor.
    fn sum(self) -> String {
        let (factor, usual, what) = match self {
            SpineShape::Flat => return String::new(),
            SpineShape::Rounded(factor) => (factor, SpineShape::ROUNDED, "rounded"),
            SpineShape::Backed(factor) => (factor, SpineShape::BACKED, "rounded and backed, shoulders included"),
        };
        let source = if (factor - usual).abs() < 1e-9 { "Welbound II" } else { "factor as stated" };
        format!(" × {} ({what}: {source})", number(factor))
    }
}

/// The boards of a case. Common practice for the usual values.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Board {
    pub thickness: f64,
    /// How far the board stands over the block.
    pub square: f64,
    /// From the block's spine edge to the board's.
    pub setback: f64,
    /// The gap between board and spine board.
    pub joint: f64,
    pub turn_in: f64,
    /// What a jacket's panel is longer by, to go round the fore edge of the board; `None` for the board's thickness.
    pub fore_edge: Option<f64>,
}

impl Default for Board {
    fn default() -> Board {
        Board { thickness: 2.5, square: 3.0, setback: 5.0, joint: 8.0, turn_in: 17.0, fore_edge: None }
    }
}

impl Default for Format {
    fn default() -> Format {
        Format {
            binding: Binding::Paperback,
            trim: (129.0, 198.0),
            papers: vec![Paper::by_bulk(80.0, 1.5)],
            cover_stock: 0.3,
            glue: 0.0,
            stated_spine: None,
            round_spine: 0.0,
            spine_shape: SpineShape::Flat,
            section: 2,
            bleed: 3.0,
            safe: 5.0,
            flap: 90.0,
            growth: 1.0,
            board: Board::default(),
            hinge: 0.0,
            span: Span::default(),
        }
    }
}

impl Paper {
    /// ISO 534: apparent specific volume is thickness over grammage, so thickness is grammage × bulk.
    pub fn by_bulk(grammage: f64, bulk: f64) -> Paper {
        let caliper = grammage * bulk / 1000.0;
        let sum = format!("{} g/m² × {} cm³/g = {} mm a leaf", number(grammage), number(bulk), number(caliper));
        Paper { pages: None, caliper, sum }
    }

    pub fn by_caliper(caliper: f64) -> Paper {
        Paper { pages: None, caliper, sum: format!("{} mm a leaf", number(caliper)) }
    }

    /// A leaf has two pages: 2 × 25.4 mm over the pages of an inch.
    pub fn by_pages_per_inch(ppi: f64) -> Paper {
        let caliper = 2.0 * MM_PER_INCH / ppi;
        let sum = format!("2 × 25.4 mm ÷ {} pages per inch = {} mm a leaf", number(ppi), number(caliper));
        Paper { pages: None, caliper, sum }
    }
}

/// The spine and all it came from.
#[derive(Clone, Debug, PartialEq)]
pub struct Spine {
    /// Pages after rounding up to the section.
    pub pages: u32,
    pub block: f64,
    /// Before rounding and before what the printer states.
    pub computed: f64,
    /// What the sheet is built with.
    pub width: f64,
    pub measures: Vec<Measure>,
}

impl Format {
    /// The spine of a book of so many pages.
    pub fn spine(&self, pages: u32, extent: Extent) -> Spine {
        let section = self.whole_section();
        let rounded = pages.div_ceil(section) * section;
        let mut measures = Vec::new();
        let estimate = if extent == Extent::Estimated { ", estimated" } else { "" };
        measures.push(Measure::count("pages", rounded, format!("{pages} pages{estimate}, in sections of {section}")));

        let (block, sum) = self.block(rounded);
        measures.push(Measure::length("block", block, sum));

        let factor = self.spine_shape.factor();
        let (computed, sum) = match self.binding {
            Binding::Stapled => (0.0, "a stapled book has none".to_owned()),
            Binding::Paperback | Binding::FlappedPaperback => (
                block * factor + 2.0 * self.cover_stock + self.glue,
                format!(
                    "{}{} + 2 × {} cover stock{}",
                    number(block),
                    self.spine_shape.sum(),
                    number(self.cover_stock),
                    if self.glue > 0.0 { format!(" + {} glue", number(self.glue)) } else { String::new() }
                ),
            ),
            Binding::Case | Binding::Jacket => {
                let board = self.board.thickness;
                let back = format!("{}{}", number(block), self.spine_shape.sum());
                let (case, sum) = if self.spine_shape.holds_the_boards() {
                    (block * factor, back)
                } else {
                    (block * factor + 2.0 * board, format!("{back} + 2 × {} board", number(board)))
                };
                if self.binding == Binding::Case {
                    (case, sum)
                } else {
                    (case + JACKET_EASE, format!("{sum} + {} ease of a jacket", number(JACKET_EASE)))
                }
            }
        };
        let sum = if self.spine_shape == SpineShape::Flat { sum } else { format!("{sum}; {ESTIMATE}") };
        measures.push(Measure::length("spine computed", computed, sum));

        let (width, sum) = if let Some(stated) = &self.stated_spine {
            let difference = stated.value - computed;
            (stated.value, format!("stated by the printer; {} mm from the computed", signed(difference)))
        } else if self.round_spine > 0.0 {
            let width = (computed / self.round_spine).round() * self.round_spine;
            (width, format!("rounded to the nearest {} mm", number(self.round_spine)))
        } else {
            (computed, "as computed".to_owned())
        };
        measures.push(Measure::length("spine", width, sum));
        Spine { pages: rounded, block, computed, width, measures }
    }

    /// Pages a section, at the least: a leaf has two, a folded and stapled sheet four.
    pub fn whole_section(&self) -> u32 {
        self.section.max(if self.binding == Binding::Stapled { 4 } else { 2 })
    }

    /// Thickness of all leaves, and the sum it came from. Where every paper states its pages, the blank ones that fill the
    /// last section are on the paper that carries most.
    fn block(&self, pages: u32) -> (f64, String) {
        let inserted: u32 = self.papers.iter().filter_map(|paper| paper.pages).sum();
        let blank = pages.saturating_sub(inserted);
        let most = self.papers.iter().filter_map(|paper| paper.pages).max();
        let carrier = if self.papers.iter().any(|paper| paper.pages.is_none()) {
            None
        } else {
            self.papers.iter().position(|paper| paper.pages == most)
        };
        let mut block = 0.0;
        let mut sums = Vec::new();
        for (at, paper) in self.papers.iter().enumerate() {
            let on_it = match paper.pages {
                None => blank,
                Some(stated) if carrier == Some(at) => stated + blank,
                Some(stated) => stated,
            };
            block += f64::from(on_it) / 2.0 * paper.caliper;
            sums.push(format!("{on_it} pages ÷ 2 × {} mm ({})", number(paper.caliper), paper.sum));
        }
        (block, sums.join(" + "))
    }
}

/// A jacket's spine is wider than the case's by this much, so that it goes round. Common practice.
const JACKET_EASE: f64 = 1.0;

/// A published factor is no measurement of this book.
const ESTIMATE: &str = "an estimate: measure the binder's dummy and state it as `spine`";

fn signed(value: f64) -> String {
    if value >= 0.0 { format!("+{}", number(value)) } else { number(value) }
}
