//! Waiver: a rule of the check that the author has decided against, why, and for how long.

use crate::ground::{Rect, Span, Spanned};
use crate::scene::{Sheet, Surface};

#[derive(Clone, Debug, PartialEq)]
pub struct Waiver {
    pub rule: Spanned<String>,
    pub reason: String,
    pub until: Option<Spanned<WaiverEnd>>,
    pub reach: Reach,
}

/// The last version of the book, or the last day as the book states it, for which a waiver holds.
#[derive(Clone, Debug, PartialEq)]
pub enum WaiverEnd {
    Version(u32),
    Date(String),
}

/// Where a waiver or an approval holds.
#[derive(Clone, Debug, PartialEq)]
pub enum Reach {
    Cover,
    Panel(Surface),
    /// A panel that there is not.
    Nowhere,
    /// All that is stated about the element, and its name, which a series may say elsewhere.
    Element {
        whole: Span,
        name: Span,
    },
}

impl Reach {
    /// Whether a finding that points there, and shows in a place, lies within.
    pub fn holds(&self, span: Span, place: Option<Rect>, sheet: &Sheet) -> bool {
        match self {
            Reach::Cover => true,
            Reach::Nowhere => false,
            Reach::Panel(name) => {
                let panel = place.and_then(|place| sheet.panel_at(place.center()));
                *name == Surface::Wrap || panel.is_some_and(|panel| Surface::Panel(panel.name) == *name)
            }
            Reach::Element { whole, name } => {
                let inside = span.file == whole.file && whole.start <= span.start && span.end <= whole.end;
                inside || span == *name
            }
        }
    }
}
