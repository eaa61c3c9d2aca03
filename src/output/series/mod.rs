//! A series in one picture: spines at true scale on a shelf, and under them the fronts as small as a shop shows them.

mod layout;
mod picture;
mod shrink;
mod views;

use crate::assets::Darkroom;
use crate::output::series::layout::{Layout, pixels};
use crate::output::series::views::{Views, views};
use crate::scene::Scene;

/// Pixels that the picture may have: more than any screen shows, and little enough to be held in memory.
const MOST_PIXELS: usize = 100_000_000;

/// The books that stand so far, each as its spine and its small front alone.
pub struct Range {
    ppi: f64,
    books: Vec<Views>,
}

/// The picture would have more pixels than it may.
#[derive(Debug, PartialEq, Eq)]
pub struct TooLarge {
    pub most: usize,
}

impl Range {
    /// `ppi` is the resolution of the spines.
    pub fn new(ppi: f64) -> Range {
        Range { ppi, books: Vec::new() }
    }

    /// Puts one more book on the right.
    pub fn stand(&mut self, scene: &Scene, darkroom: &Darkroom) -> Result<(), TooLarge> {
        // Asked before it is drawn, so that nothing too large ever is.
        let spine = scene.sheet.panel("spine").map(|spine| pixels(spine.rect, self.ppi));
        let spines = self.books.iter().filter_map(Views::spine_size).chain(spine);
        let (width, height) = spines.fold((0, 0), |(width, height), (own, high)| (width + own, high.max(height)));
        if width.saturating_mul(height) > MOST_PIXELS {
            return Err(TooLarge { most: MOST_PIXELS });
        }
        self.books.push(views(scene, self.ppi, darkroom));
        Ok(())
    }

    /// The bytes of a PNG, the books in the order given; where most read leftwards, from the right.
    pub fn picture(&self, order: &[usize], title: &str) -> Result<Vec<u8>, TooLarge> {
        let books: Vec<&Views> = order.iter().filter_map(|at| self.books.get(*at)).collect();
        let layout = Layout::new(&books, self.ppi);
        if layout.width.saturating_mul(layout.height) > MOST_PIXELS {
            return Err(TooLarge { most: MOST_PIXELS });
        }
        Ok(picture::write(&books, &layout, self.ppi, title))
    }
}
