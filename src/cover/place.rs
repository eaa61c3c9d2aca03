//! Place: where an element says it stands, axis by axis, before anything is solved.

use crate::cover::{Axis, Guide};
use crate::ground::{Span, Spanned};

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Place {
    pub x: Stretch,
    pub y: Stretch,
    /// Where the capitals of the first line reach up to, instead of a top edge.
    pub cap_top: Option<Edge>,
    /// Where the first line stands, instead of a top edge.
    pub baseline: Option<Edge>,
}

/// One axis: any two of start, end, centre and size fix it; an element with a size of its own needs one.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Stretch {
    pub start: Option<Edge>,
    pub end: Option<Edge>,
    pub centre: Option<Edge>,
    pub size: Option<Spanned<f64>>,
    /// Something was written that could not be understood and has been reported: nothing more is asked of this axis.
    pub slipped: bool,
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
    /// How many words fix it.
    pub fn said(&self) -> usize {
        usize::from(self.start.is_some())
            + usize::from(self.end.is_some())
            + usize::from(self.centre.is_some())
            + usize::from(self.size.is_some())
    }

    /// Fixed without asking the element for its own size.
    pub fn closed(&self) -> bool {
        self.said() >= 2
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
