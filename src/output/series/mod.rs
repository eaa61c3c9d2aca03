//! A series in one picture: spines at true scale on a shelf, and under them the fronts as small as a shop shows them.

mod picture;
mod plan;
mod shrink;
mod views;

use crate::assets::Darkroom;
use crate::output::series::plan::{SeriesPlan, pixels};
use crate::output::series::views::{BookViews, views};
use crate::scene::{PanelName, Scene};

/// Pixels that the picture may have: more than any screen shows, and little enough to be held in memory.
const MOST_PIXELS: usize = 100_000_000;

/// The books that stand so far, each as its spine and its small front alone.
pub struct BookRow {
    ppi: f64,
    books: Vec<BookViews>,
}

/// The picture would have more pixels than it may.
#[derive(Debug, PartialEq, Eq)]
pub struct TooLarge {
    pub most: usize,
}

impl BookRow {
    /// `ppi` is the resolution of the spines.
    pub fn new(ppi: f64) -> BookRow {
        BookRow { ppi, books: Vec::new() }
    }

    /// Puts one more book on the right.
    pub fn stand(&mut self, scene: &Scene, darkroom: &Darkroom) -> Result<(), TooLarge> {
        // Asked before it is drawn, so that nothing too large ever is.
        let spine = scene.sheet.panel(PanelName::Spine).map(|spine| pixels(spine.rect, self.ppi));
        let spines = self.books.iter().filter_map(BookViews::spine_size).chain(spine);
        let (width, height) = spines.fold((0, 0), |(width, height), (own, high)| (width + own, high.max(height)));
        if width.saturating_mul(height) > MOST_PIXELS {
            return Err(TooLarge { most: MOST_PIXELS });
        }
        self.books.push(views(scene, self.ppi, darkroom));
        Ok(())
    }

    /// The bytes of a PNG, the books in the order given; where most read leftwards, from the right.
    pub fn picture(&self, order: &[usize], title: &str) -> Result<Vec<u8>, TooLarge> {
        let books: Vec<&BookViews> = order.iter().filter_map(|at| self.books.get(*at)).collect();
        let layout = SeriesPlan::new(&books, self.ppi);
        if layout.width.saturating_mul(layout.height) > MOST_PIXELS {
            return Err(TooLarge { most: MOST_PIXELS });
        }
        Ok(picture::write(&books, &layout, self.ppi, title))
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Ink, Rect};
    use crate::raster::trial::{rect, scene};
    use crate::scene::Panel;

    /// Back, spine and front side by side, the spine in black.
    fn book(spine: f64, height: f64) -> Scene {
        let mut scene = scene(100.0 + spine, height, vec![rect(50.0, 0.0, spine, height, Ink::black(1.0))]);
        let (back, front) = ((PanelName::Back, 0.0, 50.0), (PanelName::Front, 50.0 + spine, 100.0 + spine));
        let edges = [back, (PanelName::Spine, 50.0, 50.0 + spine), front];
        let panel = |(name, x0, x1)| Panel { name, rect: Rect::new(x0, 0.0, x1, height) };
        scene.sheet.panels = edges.map(panel).to_vec();
        scene
    }

    #[test]
    fn a_spine_shows_itself_to_its_last_pixel() {
        // 10.32 mm at 127 pixels an inch are 51.6: the last of 52 is nearly half a front.
        let views = views(&book(10.32, 60.0), 127.0, &Darkroom::default());
        let spine = views.spine.expect("it has one");
        assert_eq!((spine.width, spine.height), (52, 300));
        assert!(spine.rgb.chunks_exact(3).all(|pixel| pixel == &spine.rgb[..3]) && spine.rgb[0] < 60);
        // 50 by 60 mm at 160 pixels high.
        let front = views.front.expect("it has one");
        assert_eq!((front.width, front.height), (133, 160));
        assert!(front.rgb[(80 * 133 + 2) * 3..][..3] == [255; 3]);
    }

    #[test]
    fn what_is_too_large_is_refused_before_it_is_drawn() {
        let mut range = BookRow::new(600.0);
        let darkroom = Darkroom::default();
        assert_eq!(range.stand(&book(1.0, 10.0), &darkroom), Ok(()));
        // 500 by 500 mm at 600 pixels an inch are 140 million.
        assert_eq!(range.stand(&book(500.0, 500.0), &darkroom), Err(TooLarge { most: MOST_PIXELS }));
        assert_eq!(range.books.len(), 1);
        assert!(range.picture(&[0, 7], "1 cover").is_ok(), "an unknown book is none");
    }
}
