//! Place: where an element says it stands, axis by axis, before anything is solved.

use crate::cover::{Axis, Guide, Side};
use crate::ground::Span;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Place {
    pub x: Stretch,
    pub y: Stretch,
}

/// Where an element stands along one axis. Lengths in millimetres.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Stretch {
    /// Nothing is stated.
    #[default]
    Open,
    /// What was written could not be understood and has been reported: nothing more is asked. A size may be left of it.
    Slipped(Option<f64>),
    Size(f64),
    /// One of its lines lies on an edge.
    At(Anchor, Edge, ElementSize),
    Between {
        start: Edge,
        end: Edge,
    },
    /// One side lies on an edge, and the other as far from the middle.
    Mirrored {
        side: Side,
        edge: Edge,
        centre: Edge,
    },
    /// It hangs by its first line.
    Hung {
        by: Hang,
        at: Edge,
        far: FarEnd,
    },
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Anchor {
    Start,
    End,
    Centre,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum ElementSize {
    /// The element finds its own.
    Own,
    Stated(f64),
    /// It was stated in a way that could not be understood and has been reported.
    Slipped,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hang {
    /// The capitals of the first line reach up to the edge.
    CapTop,
    /// The first line stands on the edge.
    Baseline,
}

/// Where an element that hangs ends.
#[derive(Clone, Debug, PartialEq)]
pub enum FarEnd {
    Own,
    Size(f64),
    Edge(Edge),
}

#[derive(Clone, Debug, PartialEq)]
pub struct Edge {
    pub from: From,
    /// Inwards from a guide, away from a neighbour, millimetres.
    pub offset: f64,
    /// Another panel to measure from.
    pub of: Option<String>,
    pub span: Span,
}

#[derive(Clone, Debug, PartialEq)]
pub enum From {
    Guide(Guide),
    Level(String),
    /// The far side of a neighbour.
    Neighbour(String),
    /// A line of a neighbour.
    Mate(String, MateLine),
}

/// A line that an element has and another measures from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum MateLine {
    /// Left or top.
    Start,
    /// Right or bottom.
    End,
    Centre,
    /// Where the capitals of its first line reach up to.
    CapTop,
    /// Where its first line stands.
    Baseline,
}

impl Stretch {
    /// Fixed without asking the element for its own size.
    pub fn is_closed(&self) -> bool {
        matches!(self, Stretch::Between { .. } | Stretch::Mirrored { .. } | Stretch::At(.., ElementSize::Stated(_)))
    }

    /// Whether anything but a size is stated.
    pub fn is_placed(&self) -> bool {
        !matches!(self, Stretch::Open | Stretch::Slipped(_) | Stretch::Size(_))
    }

    pub fn size(&self) -> Option<f64> {
        match *self {
            Stretch::Slipped(size) => size,
            Stretch::Size(size)
            | Stretch::At(.., ElementSize::Stated(size))
            | Stretch::Hung { far: FarEnd::Size(size), .. } => Some(size),
            _ => None,
        }
    }
}

impl Anchor {
    /// The side of a panel from which the line is measured.
    pub fn side(self) -> Side {
        if self == Anchor::End { Side::End } else { Side::Start }
    }

    /// From where to where an element reaches, whose line lies there.
    pub fn reach(self, at: f64, size: f64) -> (f64, f64) {
        match self {
            Anchor::Start => (at, at + size),
            Anchor::End => (at - size, at),
            Anchor::Centre => (at - size / 2.0, at + size / 2.0),
        }
    }
}

impl Place {
    pub fn axis(&self, axis: Axis) -> &Stretch {
        match axis {
            Axis::X => &self.x,
            Axis::Y => &self.y,
        }
    }
}
