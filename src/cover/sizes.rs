//! Sizes of elements: what is known of a frame before it is found, and what an element takes of it.

/// The size of a frame, as far as it is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Open {
    pub width: Limit,
    pub height: Limit,
}

/// One side of a frame, in millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Limit {
    Fixed(f64),
    /// The element finds its own, and this is the most there is.
    Most(f64),
}

impl Limit {
    pub fn most(self) -> f64 {
        match self {
            Limit::Fixed(side) | Limit::Most(side) => side,
        }
    }

    pub fn fixed(self) -> Option<f64> {
        match self {
            Limit::Fixed(side) => Some(side),
            Limit::Most(_) => None,
        }
    }
}

impl Open {
    pub fn turned(self) -> Open {
        Open { width: self.height, height: self.width }
    }
}

#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Natural {
    pub width: Option<f64>,
    pub height: Option<f64>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FirstLine {
    pub cap_top: f64,
    pub baseline: f64,
}
