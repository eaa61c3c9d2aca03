//! Geometry: what a flat sheet must measure, worked out here once more from the facts of the book.
//!
//! Leaf and block follow ISO 534 (from memory): a leaf is grammage times bulk. Spine, boards and jacket are the trade's
//! sums (common practice). Millimetres throughout.

#[derive(Clone, Copy)]
pub struct Book {
    pub width: f64,
    pub height: f64,
    pub pages: u32,
    pub grammage: f64,
    pub bulk: f64,
    pub bleed: f64,
    pub binding: Binding,
}

#[derive(Clone, Copy)]
pub enum Binding {
    Stapled,
    /// The caliper of the cover's stock.
    Paperback(f64),
    /// The same, then the flaps' width and what front and back grow by.
    Flapped(f64, f64, f64),
    Case(Board),
    /// And the flaps' width.
    Jacket(Board, f64),
}

#[derive(Clone, Copy)]
pub struct Board {
    pub thickness: f64,
    pub square: f64,
    pub setback: f64,
    pub joint: f64,
    pub turn_in: f64,
}

/// The trimmed flat, the colour around it, and where the spine's two folds lie.
#[derive(Debug, PartialEq)]
pub struct Flat {
    pub width: f64,
    pub height: f64,
    pub bleed: f64,
    pub spine: (f64, f64),
}

/// A jacket goes round its case: a spine wider by a millimetre, panels longer by the board's thickness.
const EASE: f64 = 1.0;

pub fn flat(book: Book) -> Flat {
    let block = f64::from(book.pages) / 2.0 * (book.grammage * book.bulk / 1000.0);
    let page = (book.width, book.height, book.bleed);
    // Flap, panel, spine, height, bleed.
    let (flap, panel, spine, height, bleed) = match book.binding {
        Binding::Stapled => (0.0, page.0, 0.0, page.1, page.2),
        Binding::Paperback(stock) => (0.0, page.0, block + 2.0 * stock, page.1, page.2),
        Binding::Flapped(stock, flap, growth) => (flap, page.0 + growth, block + 2.0 * stock, page.1, page.2),
        Binding::Case(board) => {
            let (panel, height) = board.size(page.0, page.1);
            (0.0, panel + board.joint, block + 2.0 * board.thickness, height, board.turn_in)
        }
        Binding::Jacket(board, flap) => {
            let (panel, height) = board.size(page.0, page.1);
            let panel = panel + board.joint + board.thickness;
            (flap, panel, block + 2.0 * board.thickness + EASE, height, page.2)
        }
    };
    let first = flap + panel;
    Flat { width: 2.0 * first + spine, height, bleed, spine: (first, first + spine) }
}

impl Board {
    fn size(self, width: f64, height: f64) -> (f64, f64) {
        (width - self.setback + self.square, height + 2.0 * self.square)
    }
}

pub const POINTS: f64 = 72.0 / 25.4;

/// The facts of the examples, as their texts state them.
pub fn example(stem: &str) -> Book {
    let board = Board { thickness: 2.5, square: 3.0, setback: 5.0, joint: 8.0, turn_in: 0.0 };
    let paper = Book {
        width: 0.0,
        height: 0.0,
        pages: 0,
        grammage: 80.0,
        bulk: 1.5,
        bleed: 3.0,
        binding: Binding::Paperback(0.3),
    };
    match stem {
        "salt-and-lanterns" => Book { width: 129.0, height: 198.0, pages: 312, ..paper },
        "birzei-hapardes" => Book { width: 140.0, height: 210.0, pages: 248, ..paper },
        "the-quiet-instruments" => {
            Book { width: 153.0, height: 234.0, pages: 352, bleed: 5.0, binding: Binding::Jacket(board, 90.0), ..paper }
        }
        other => panic!("state the facts of the example {other:?} here"),
    }
}

/// A published worked example (royal, block 22: case sheet 379 × 274, jacket 531 × 240), so that this sum is not only
/// ours.
#[test]
fn the_sums_of_the_trade() {
    let board = Board { thickness: 2.5, square: 3.0, setback: 5.0, joint: 8.0, turn_in: 17.0 };
    let case = Book {
        width: 153.0,
        height: 234.0,
        pages: 352,
        grammage: 100.0,
        bulk: 1.25,
        bleed: 5.0,
        binding: Binding::Case(board),
    };
    let sheet = flat(case);
    assert_eq!((sheet.width + 34.0, sheet.height + 34.0, sheet.bleed), (379.0, 274.0, 17.0));
    let jacket = flat(Book { binding: Binding::Jacket(board, 90.0), ..case });
    assert_eq!((jacket.width, jacket.height), (531.0, 240.0));
}
