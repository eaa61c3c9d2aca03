//! Media: paper and screens, and what is for which.

use crate::scene::Sheet;

/// Which covers something is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Media {
    /// Those that are printed, folded and cut.
    Print,
    /// Fronts for screens.
    Screens,
    Both,
}

impl Media {
    pub fn holds(self, sheet: &Sheet) -> bool {
        match self {
            Media::Print => sheet.pixels.is_none(),
            Media::Screens => sheet.pixels.is_some(),
            Media::Both => true,
        }
    }
}
