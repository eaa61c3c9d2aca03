//! Of one cover, the spine at its true size and the front at shop size.

use crate::assets::Darkroom;
use crate::ground::{MM_PER_INCH, Rect};
use crate::output::panels::faces;
use crate::output::series::shrink::{RgbPixels, shrink};
use crate::raster::{Screen, screen};
use crate::scene::{PanelName, Scene};

/// How high a shop on the web shows a front in its lists. Common practice, from memory.
pub const SHOP: usize = 160;
/// A front is drawn so many times finer before it is made small.
const FINER: usize = 4;
/// No front is shown wider than so many times its height.
const WIDEST: usize = 4;

pub struct BookViews {
    /// `None` for a book without one: it is stapled.
    pub spine: Option<RgbPixels>,
    pub front: Option<RgbPixels>,
    pub leftwards: bool,
}

impl BookViews {
    pub fn spine_size(&self) -> Option<(usize, usize)> {
        self.spine.as_ref().map(|spine| (spine.width, spine.height))
    }
}

pub fn views(scene: &Scene, ppi: f64, darkroom: &Darkroom) -> BookViews {
    let spine = scene.sheet.panel(PanelName::Spine).map(|panel| spine(scene, panel.rect, ppi, darkroom));
    let front = faces(&scene.sheet).into_iter().find(|(name, ..)| *name == PanelName::Front);
    let front = front.and_then(|(_, left, right)| {
        let trim = scene.sheet.trim;
        front_of(scene, Rect::new(left, trim.y0, right, trim.y1), darkroom)
    });
    BookViews { spine, front, leftwards: scene.sheet.bound_right }
}

fn spine(scene: &Scene, rect: Rect, ppi: f64, darkroom: &Darkroom) -> RgbPixels {
    let Screen { width, height, mut rgb } = screen(scene, rect, ppi, darkroom);
    // The last pixel may reach over the fold; it shows the spine none the less.
    if width > 1 && rect.width() * ppi / MM_PER_INCH < width as f64 {
        for row in rgb.chunks_exact_mut(width * 3) {
            row.copy_within((width - 2) * 3..(width - 1) * 3, (width - 1) * 3);
        }
    }
    RgbPixels { width, height, rgb }
}

fn front_of(scene: &Scene, rect: Rect, darkroom: &Darkroom) -> Option<RgbPixels> {
    if rect.width() <= 0.0 || rect.height() <= 0.0 {
        return None;
    }
    let ppi = (SHOP * FINER) as f64 / rect.height() * MM_PER_INCH;
    let width = (rect.width() / rect.height() * SHOP as f64).round().max(1.0) as usize;
    let fine = screen(scene, rect, ppi, darkroom);
    let patch = RgbPixels { width: fine.width, height: fine.height, rgb: fine.rgb };
    Some(shrink(&patch, width.min(SHOP * WIDEST), SHOP))
}
