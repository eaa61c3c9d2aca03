//! Window: a rectangle of whole pixels, counted from the drawn area's top left corner.

use crate::ground::Rect;
use std::ops::Range;

/// A rectangle of pixels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Window {
    pub x: usize,
    pub y: usize,
    pub width: usize,
    pub height: usize,
}

impl Window {
    pub fn area(&self) -> usize {
        self.width * self.height
    }

    pub fn rect(&self) -> Rect {
        let (x, y) = (self.x as f64, self.y as f64);
        Rect::new(x, y, x + self.width as f64, y + self.height as f64)
    }

    /// Where the rows of a window within it lie among its pixels, from top to bottom.
    pub fn rows(&self, part: Window) -> impl Iterator<Item = Range<usize>> + use<> {
        let (first, step) = ((part.y - self.y) * self.width + part.x - self.x, self.width);
        (0..part.height).map(move |row| first + row * step).map(move |start| start..start + part.width)
    }

    /// What of it lies in a rectangle, whole pixels.
    #[must_use]
    pub fn cut(&self, bounds: Rect) -> Window {
        let both = self.rect().intersect(bounds.expand());
        let (width, height) = (both.width().max(0.0), both.height().max(0.0));
        Window { x: both.x0 as usize, y: both.y0 as usize, width: width as usize, height: height as usize }
    }
}
