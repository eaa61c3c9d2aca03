//! Transparency: which items mix with what lies under them, so that they cannot be printed mark by mark.

use crate::scene::{Item, Mark, Scene};

impl Scene {
    pub fn is_transparent(&self) -> bool {
        self.items.iter().any(Item::is_transparent)
    }
}

impl Item {
    /// A group that is thinned or multiplied, a picture that fades, or a group that only cuts and holds one of them.
    pub fn is_transparent(&self) -> bool {
        match &self.mark {
            Mark::Fill { .. } | Mark::Stroke { .. } | Mark::Glyphs(_) => false,
            Mark::Picture(placed) if placed.paint.is_some() => !is_stencil(&placed.picture.darkness()),
            Mark::Picture(placed) => placed.picture.alpha().is_some_and(|alpha| !is_stencil(alpha)),
            Mark::Group(group) if group.items.is_empty() || group.opacity <= 0.0 => false,
            Mark::Group(group) => !group.is_plain() || group.items.iter().any(Item::is_transparent),
        }
    }
}

/// Whether every share is all or nothing.
pub fn is_stencil(shares: &[u8]) -> bool {
    shares.iter().all(|share| matches!(share, 0 | 255))
}
