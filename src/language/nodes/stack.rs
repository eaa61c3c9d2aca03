//! `stack`: elements in a row, one under or beside the other.
//!
//! ```kdl
//! stack credits down gap=3 {
//!     left safe; right safe; bottom safe
//!     text author words="{author}" { size 12 }
//!     text title words="{title}" { size 18 }
//! }
//! ```
//!
//! `down` sets them from top to bottom, `across` from side to side as the script runs. Each takes the whole breadth of the
//! stack, unless its own `width` (in a stack `down`) or `height` (in one `across`) is less; along the stack it takes the
//! size it needs, or the one that it states. The stack is as long as all of them. In a longer frame they start at its
//! beginning; running out of a shorter one, or off the panel, is an error.

use crate::cover::{Absent, Bench, Draw, Element, Limit, Natural, Open, Pen, Place, draw_inner};
use crate::ground::{Affine, Rect, Severity};
use crate::language::context::Context;
use crate::language::headword::{Headword, Role, UNLESS, WHEN, element};
use crate::language::look::LOOK;
use crate::language::nodes::group::inner;
use crate::language::place::PLACE;
use crate::scene::Kind;
use crate::source::{Besides, Reader, Word, choice, mm, name, words_of};
use std::sync::Arc;

pub const HEADWORD: Headword = Headword::new(
    element("stack", "elements in a row")
        .takes(&[name("a name"), choice("a direction", &words_of(&DIRECTIONS))])
        .properties(&[GAP, WHEN, UNLESS])
        .holds(&[PLACE, LOOK])
        .besides(Besides::Elements),
    include_str!("stack.rs"),
    Role::Element(Kind::Shape, read),
);

/// Whether it runs down.
const DIRECTIONS: [(&str, bool); 2] = [("down", true), ("across", false)];
pub const GAP: Word = Word::new("gap", "the space between them").takes(&[mm("a gap", -1000.0, 1000.0)]).default("0");

/// Millimetres that no eye sees.
const UNSEEN: f64 = 0.01;

/// Elements in a row.
pub struct Stack {
    elements: Vec<Element>,
    down: bool,
    gap: f64,
    right_to_left: bool,
}

fn read(reader: &Reader<'_>, context: &Context<'_>) -> Option<Arc<dyn Draw>> {
    let down = reader.choose(&DIRECTIONS).unwrap_or(true);
    let gap = reader.mm_property(&GAP).unwrap_or(0.0);
    let elements = row(reader, inner(reader, context));
    Some(Stack::of(elements, down, gap, context))
}

/// The elements of a row: none has a place of its own, and none that this book does without takes part.
pub fn row(reader: &Reader<'_>, mut elements: Vec<Element>) -> Vec<Element> {
    elements.retain(|element| !element.body.absent());
    for element in elements.iter().filter(|element| says_where(&element.place)) {
        let message = format!("`{}` stands where its stack puts it", element.name.value);
        reader.error(
            element.name.span,
            message,
            "give it a `width` or `height` at most, and the whole stack its place",
        );
    }
    elements
}

fn says_where(place: &Place) -> bool {
    place.x.is_placed() || place.y.is_placed()
}

impl Stack {
    /// Elements in a row; without any it is absent itself.
    pub fn of(elements: Vec<Element>, down: bool, gap: f64, context: &Context<'_>) -> Arc<dyn Draw> {
        if elements.is_empty() {
            return Arc::new(Absent);
        }
        Arc::new(Stack { elements, down, gap, right_to_left: context.facts.book.right_to_left() })
    }

    /// How broad an element is in a stack so broad.
    fn breadth(&self, element: &Element, whole: f64) -> f64 {
        let across = if self.down { &element.place.x } else { &element.place.y };
        across.size().unwrap_or(whole)
    }

    /// The room of an element so broad: as long as it says, or as it needs.
    fn open(&self, element: &Element, breadth: f64) -> Open {
        let along = if self.down { &element.place.y } else { &element.place.x };
        let length = along.size().map_or(Limit::Most(f64::INFINITY), Limit::Fixed);
        let broad = Limit::Fixed(breadth);
        if self.down { Open { width: broad, height: length } } else { Open { width: length, height: broad } }
    }

    /// How long each element is along the stack, in a stack so broad.
    fn lengths(&self, breadth: f64, bench: &Bench<'_>) -> Vec<f64> {
        let length = |element: &Element| {
            let along = if self.down { &element.place.y } else { &element.place.x };
            if let Some(size) = along.size() {
                return size;
            }
            let open = self.open(element, self.breadth(element, breadth));
            let open = if element.look.quarter() { open.turned() } else { open };
            let natural = element.body.natural(open, bench);
            let size = if self.down == element.look.quarter() { natural.width } else { natural.height };
            size.unwrap_or_else(|| {
                let message = "nothing says how long this is in its stack";
                let help = if self.down { "give it a `height`" } else { "give it a `width`" };
                bench.findings.borrow_mut().error(element.name.span, message, help);
                1.0
            })
        };
        self.elements.iter().map(length).collect()
    }

    /// More than the frame holds, or, at the length that it takes itself, more than the panel prints.
    fn too_long(&self, frame: Rect, total: f64, pen: &Pen<'_>) {
        let over = total - if self.down { frame.height() } else { frame.width() };
        let name = &pen.origin().element;
        let help = "take something out, give it room, or make it smaller";
        if over > UNSEEN {
            let message = format!("what stands in `{name}` is {over:.1} mm longer than its frame");
            pen.report(Severity::Error, "overmatter", message, help);
        }
        let off = frame.y1 - pen.region.bleed.y1;
        if self.down && off > UNSEEN && !pen.region.inner && pen.transform() == Affine::IDENTITY {
            let message = format!("what stands in `{name}` runs off the foot of `{}` by {off:.1} mm", pen.region.name);
            pen.report(Severity::Error, "overmatter", message, help);
        }
    }

    fn total(&self, lengths: &[f64]) -> f64 {
        lengths.iter().sum::<f64>() + self.gap * lengths.len().saturating_sub(1) as f64
    }
}

impl Draw for Stack {
    fn kind(&self) -> Kind {
        Kind::Shape
    }

    fn natural(&self, room: Open, bench: &Bench<'_>) -> Natural {
        match (self.down, room.width, room.height) {
            (true, Limit::Fixed(width), _) => {
                Natural { width: Some(width), height: Some(self.total(&self.lengths(width, bench))) }
            }
            (false, _, Limit::Fixed(height)) => {
                Natural { width: Some(self.total(&self.lengths(height, bench))), height: Some(height) }
            }
            _ => Natural::default(),
        }
    }

    fn draw(&self, frame: Rect, pen: &mut Pen<'_>) {
        let region = pen.region.inside(frame);
        let breadth = if self.down { frame.width() } else { frame.height() };
        let lengths = self.lengths(breadth, &pen.bench);
        self.too_long(frame, self.total(&lengths), pen);
        let mut at = 0.0;
        for (element, length) in self.elements.iter().zip(&lengths) {
            let broad = self.breadth(element, breadth);
            let (width, height) = if self.down { (broad, *length) } else { (*length, broad) };
            let along = if self.down { 0.0 } else { at };
            let x = if self.right_to_left { frame.x1 - along - width } else { frame.x0 + along };
            let y = if self.down { frame.y0 + at } else { frame.y0 };
            let place = Rect::new(x, y, x + width, y + height);
            draw_inner(pen, &region, element, place, self.open(element, broad));
            at += length + self.gap;
        }
    }

    fn inner(&self) -> &[Element] {
        &self.elements
    }
}
