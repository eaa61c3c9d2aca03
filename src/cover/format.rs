//! Format: the binding, its trim, paper and boards.

use crate::ground::{MM_PER_INCH, Span, Spanned, number};
use crate::scene::PixelSize;

#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Binding {
    #[default]
    Paperback,
    FlappedPaperback,
    Case,
    Jacket,
    Stapled,
    /// Not printed at all: the front alone, for screens.
    Screen(PixelSize),
}

impl Binding {
    pub const WORDS: [(&'static str, Binding); 6] = [
        ("paperback", Binding::Paperback),
        ("flapped-paperback", Binding::FlappedPaperback),
        ("case", Binding::Case),
        ("jacket", Binding::Jacket),
        ("stapled", Binding::Stapled),
        ("screen", Binding::Screen(Binding::USUAL_PIXELS)),
    ];

    /// Of a screen that does not state its own. Common practice for electronic books.
    const USUAL_PIXELS: PixelSize = PixelSize { width: 1600, height: 2560 };

    pub fn word(self) -> &'static str {
        match self {
            Binding::Paperback => "paperback",
            Binding::FlappedPaperback => "flapped-paperback",
            Binding::Case => "case",
            Binding::Jacket => "jacket",
            Binding::Stapled => "stapled",
            Binding::Screen(_) => "screen",
        }
    }

    pub fn pixels(self) -> Option<PixelSize> {
        match self {
            Binding::Screen(pixels) => Some(pixels),
            _ => None,
        }
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
    pub fn holds_the_boards(self) -> bool {
        matches!(self, SpineShape::Backed(_))
    }

    /// ` × 1.45 …`, with the source of the factor.
    pub fn sum(self) -> String {
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
