//! Dot: what a pixel shows of a surface.

use glam::Vec2;

/// Its middle on the surface, and the ways to the middles of the next pixels.
pub struct Dot {
    pub place: Vec2,
    pub across: Vec2,
    pub down: Vec2,
}
