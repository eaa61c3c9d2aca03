//! Lettering: what letters show beside their ink: an outline, a line inside, a shadow, a gradient.

use crate::ground::{GradientInks, Ink, Join};

/// What letters show beside their ink. Millimetres.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Lettering {
    /// Letters without an ink of their own.
    pub hollow: bool,
    pub gradient: Option<GradientInks>,
    pub outline: Option<LetterOutline>,
    pub inline: Option<LetterInline>,
    pub shadow: Option<LetterShadow>,
}

/// A line around letters, outside them.
#[derive(Clone, Debug, PartialEq)]
pub struct LetterOutline {
    pub ink: Ink,
    pub weight: f64,
    pub join: Join,
    /// How far it prints over the letters' edge.
    pub trap: f64,
}

/// A line inside letters, so far from their edge.
#[derive(Clone, Debug, PartialEq)]
pub struct LetterInline {
    pub ink: Ink,
    pub weight: f64,
    pub depth: f64,
}

/// The shape of letters in an ink, moved.
#[derive(Clone, Debug, PartialEq)]
pub struct LetterShadow {
    pub ink: Ink,
    pub right: f64,
    pub down: f64,
    /// It reaches from the letters all the way, as the side of a solid letter does.
    pub block: bool,
    pub trap: f64,
}

impl Lettering {
    /// Nothing but ink.
    pub fn is_plain(&self) -> bool {
        *self == Lettering::default()
    }

    /// Whether anything shows besides the letters.
    pub fn shows_beside(&self) -> bool {
        self.outline.is_some() || self.shadow.is_some()
    }
}
