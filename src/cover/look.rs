//! Look: how an element as a whole lies on the sheet: turned, cut, thinned, mixed, above or below others.

use crate::ground::{
    Affine, Blend, Ellipse, Finding, Path, Point, Rect, Severity, Shape, Spanned, TOLERANCE, rect_path,
};
use crate::source::{Datum, Reader};

#[derive(Clone, Debug, PartialEq)]
pub struct Look {
    /// Degrees clockwise.
    pub turn: f64,
    /// What the turn leaves in its place, as shares of the frame.
    pub pivot: (f64, f64),
    /// 0 to 1.
    pub opacity: f64,
    pub blend: Blend,
    pub clip: Option<Clip>,
    pub order: Option<Order>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Clip {
    Frame,
    Oval,
}

/// A place in the order of printing that is not the file's.
#[derive(Clone, Debug, PartialEq)]
pub enum Order {
    Under(Spanned<String>),
    Over(Spanned<String>),
}

impl Default for Look {
    fn default() -> Look {
        Look { turn: 0.0, pivot: (0.5, 0.5), opacity: 1.0, blend: Blend::Normal, clip: None, order: None }
    }
}

const PIVOTS: [(&str, (f64, f64)); 9] = [
    ("centre", (0.5, 0.5)),
    ("top-left", (0.0, 0.0)),
    ("top", (0.5, 0.0)),
    ("top-right", (1.0, 0.0)),
    ("left", (0.0, 0.5)),
    ("right", (1.0, 0.5)),
    ("bottom-left", (0.0, 1.0)),
    ("bottom", (0.5, 1.0)),
    ("bottom-right", (1.0, 1.0)),
];

impl Look {
    /// Takes the words of look off an element.
    pub fn read(reader: &Reader<'_>) -> Look {
        let mut look = Look::default();
        if let Some(word) = reader.child("turn") {
            look.turn = word.number("degrees clockwise").map_or(0.0, |turn| turn.value % 360.0);
            if let Some(pivot) = word.word_property("from", &PIVOTS.map(|(name, _)| name)) {
                look.pivot = PIVOTS.iter().find(|(name, _)| *name == pivot.value).map_or((0.5, 0.5), |(_, at)| *at);
            }
        }
        if let Some(word) = reader.child("opacity") {
            look.opacity = percent(&word).unwrap_or(1.0);
        }
        if let Some(word) = reader.child("blend") {
            let mode = word.word("a way to mix", &["normal", "multiply"]);
            look.blend =
                if mode.is_some_and(|mode| mode.value == "multiply") { Blend::Multiply } else { Blend::Normal };
        }
        if let Some(word) = reader.child("clip") {
            let shape = word.word("a shape to cut to", &["frame", "oval"]);
            look.clip = shape.map(|shape| if shape.value == "oval" { Clip::Oval } else { Clip::Frame });
        }
        let under = reader.child("under").and_then(|word| word.text("an element's name")).map(Order::Under);
        let over = reader.child("over").and_then(|word| word.text("an element's name")).map(Order::Over);
        if let (Some(_), Some(Order::Over(name))) = (&under, &over) {
            reader.error(name.span, "both `under` and `over` are said", "keep one of the two");
        }
        look.order = under.or(over);
        look
    }

    /// A turn by a quarter: the content's width lies along the frame's height.
    pub fn quarter(&self) -> bool {
        (self.turn.abs() - 90.0).abs() < 1e-9 || (self.turn.abs() - 270.0).abs() < 1e-9
    }

    /// The frame that the content sees, and the way from there to the sheet.
    pub fn turned(&self, frame: Rect) -> (Rect, Affine) {
        if self.turn == 0.0 {
            return (frame, Affine::IDENTITY);
        }
        if self.quarter() {
            let local = Rect::from_center_size(frame.center(), (frame.height(), frame.width()));
            return (local, Affine::rotate_about(self.turn.to_radians(), frame.center()));
        }
        let pivot = Point::new(frame.x0 + frame.width() * self.pivot.0, frame.y0 + frame.height() * self.pivot.1);
        (frame, Affine::rotate_about(self.turn.to_radians(), pivot))
    }

    /// The path to cut to, in the content's space.
    pub fn clip_path(&self, frame: Rect) -> Option<Path> {
        Some(match self.clip? {
            Clip::Frame => rect_path(frame),
            Clip::Oval => oval(frame),
        })
    }

    /// Whether marks must be composed apart before they meet the sheet.
    pub fn grouped(&self) -> bool {
        self.opacity < 1.0 || self.blend != Blend::Normal || self.clip.is_some()
    }
}

/// The largest ellipse in a frame.
pub fn oval(frame: Rect) -> Path {
    Ellipse::from_rect(frame).to_path(TOLERANCE)
}

/// A percentage as a share; out of range is an error.
pub fn percent(word: &Reader<'_>) -> Option<f64> {
    let number = word.number("a percentage")?;
    check_percent(word, number)
}

pub fn percent_property(reader: &Reader<'_>, name: &'static str) -> Option<f64> {
    let number = reader.number_property(name)?;
    check_percent(reader, number)
}

fn check_percent(reader: &Reader<'_>, number: Spanned<f64>) -> Option<f64> {
    if (0.0..=100.0).contains(&number.value) {
        if number.value > 0.0 && number.value < 1.0 {
            let shown = crate::ground::number(number.value);
            let message = format!("{shown} is {shown} percent: hardly anything");
            let help = format!("write {} if that is meant", crate::ground::number(number.value * 100.0));
            let finding = Finding::new(Severity::Warning, "language", number.span, message).help(help);
            reader.findings().borrow_mut().push(finding);
        }
        return Some(number.value / 100.0);
    }
    let message = format!("{} is no percentage", crate::ground::number(number.value));
    reader.error(number.span, message, "write a number from 0 to 100");
    None
}

/// Whether an argument is a bare word rather than a number, for words that take either.
pub fn says_word(reader: &Reader<'_>) -> bool {
    matches!(reader.peek().map(|value| &value.datum), Some(Datum::Text(_)))
}
