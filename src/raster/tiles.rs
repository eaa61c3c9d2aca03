//! Tiles: an area drawn piece by piece on every core, and pieces remembered until something in them changes.

use crate::assets::Darkroom;
use crate::ground::{Affine, Digest, MM_PER_INCH, Rect, Spot, Vec2};
use crate::raster::compose::compose;
use crate::raster::layer::Layer;
use crate::raster::marks::ReadyItem;
use crate::raster::plate_shares::PROCESS;
use crate::raster::raster_context::RasterContext;
use crate::raster::reach::MarkName;
use crate::raster::window::Window;
use crate::scene::Scene;
use rayon::prelude::*;
use std::sync::Arc;

/// What the memory calls tiles that are kept plate by plate. All others are drawn for the eye.
pub const PLATES: &str = "plates";
pub const WIDE: usize = 256;
pub const HIGH: usize = 64;
/// A larger drawing is cut off at this many pixels a side.
const LONGEST: usize = 1 << 15;

/// A sheet's area at a resolution: its pixels, and what the marks are called that show in it.
pub struct SheetGrid {
    to_pixels: Affine,
    /// Pixels a millimetre.
    pub scale: f64,
    pub width: usize,
    pub height: usize,
    pub spots: Vec<Arc<Spot>>,
    named: Vec<MarkName>,
    /// What else every tile shows by: the press, the place, the spots.
    about: Vec<u8>,
}

impl SheetGrid {
    pub fn new(scene: &Scene, area: Rect, ppi: f64) -> SheetGrid {
        let scale = if ppi.is_finite() { ppi.max(0.0) / MM_PER_INCH } else { 0.0 };
        let pixels = |length: f64| ((length * scale).round().max(1.0) as usize).min(LONGEST);
        let (width, height) = (pixels(area.width()), pixels(area.height()));
        let to_pixels = Affine::scale(scale) * Affine::translate(Vec2::new(-area.x0, -area.y0));
        let mut spots = scene.spots();
        spots.retain(|spot| spot.has_own_plate());
        let named = scene.items.iter().filter_map(|item| MarkName::new(item, to_pixels)).collect();
        let mut about = scene.profile.digest().bytes().to_vec();
        to_pixels.as_coeffs().iter().for_each(|number| about.extend(number.to_le_bytes()));
        about.extend(format!("{spots:?}").bytes());
        SheetGrid { to_pixels, scale, width, height, spots, named, about }
    }

    /// All of it.
    fn whole(&self) -> Window {
        Window { x: 0, y: 0, width: self.width, height: self.height }
    }

    fn tile(&self, window: Window) -> Tile {
        let mut names = Vec::new();
        for named in &self.named {
            named.gather(window.rect(), &mut names);
        }
        let place = format!("{window:?}");
        Tile { window, name: Digest::of_all(&[&self.about, place.as_bytes(), &names]) }
    }
}

pub struct Tiles<'a> {
    scene: &'a Scene,
    darkroom: &'a Darkroom,
    pub grid: Arc<SheetGrid>,
    pub all: Vec<Tile>,
}

pub struct Tile {
    pub window: Window,
    /// Names all that shows in it.
    pub name: Digest,
}

impl<'a> Tiles<'a> {
    pub fn new(scene: &'a Scene, area: Rect, ppi: f64, darkroom: &'a Darkroom) -> Tiles<'a> {
        let grid = Arc::new(SheetGrid::new(scene, area, ppi));
        let whole = grid.whole();
        Tiles::touching(scene, grid, whole, darkroom)
    }

    /// The tiles of a scene's own grid that share pixels with a window.
    pub fn touching(scene: &'a Scene, grid: Arc<SheetGrid>, window: Window, darkroom: &'a Darkroom) -> Tiles<'a> {
        // An edge that both share is no pixel of both.
        let touches = |tile: &Window| tile.cut(window.rect()).area() > 0;
        let windows: Vec<Window> = windows(grid.width, grid.height).filter(touches).collect();
        let all = windows.into_par_iter().map(|window| grid.tile(window)).collect();
        Tiles { scene, darkroom, grid, all }
    }

    /// The tiles in order, each as `finish` leaves it; `kind` tells such memories apart.
    pub fn draw(&self, kind: &str, finish: impl Fn(Layer) -> Vec<u8> + Sync) -> Vec<Arc<Vec<u8>>> {
        let key = |tile: &Tile| Digest::of_all(&[kind.as_bytes(), tile.name.bytes()]);
        let known: Vec<Option<Arc<Vec<u8>>>> = self.all.iter().map(|tile| self.darkroom.recall(key(tile))).collect();
        let wanted = self.all.iter().zip(&known).filter(|(_, known)| known.is_none());
        let bench = RasterContext {
            to_pixels: self.grid.to_pixels,
            spots: &self.grid.spots,
            profile: &self.scene.profile,
            darkroom: self.darkroom,
            for_the_eye: kind != PLATES,
            tiles: wanted.map(|(tile, _)| tile.window.rect()).collect(),
        };
        let view = self.view();
        let marks: Vec<Option<ReadyItem>> = self.scene.items.par_iter().map(|item| bench.ready(item, view)).collect();
        let planes = PROCESS + self.grid.spots.len();
        self.all
            .par_iter()
            .zip(known)
            .map(|(tile, known)| {
                known
                    .unwrap_or_else(|| self.darkroom.stream(key(tile), || finish(compose(&marks, tile.window, planes))))
            })
            .collect()
    }

    /// The window that all of them fill.
    fn view(&self) -> Window {
        let all = self.all.iter().map(|tile| tile.window.rect()).reduce(|one, other| one.union(other));
        self.grid.whole().cut(all.unwrap_or_default())
    }
}

fn windows(width: usize, height: usize) -> impl Iterator<Item = Window> {
    (0..height).step_by(HIGH).flat_map(move |y| {
        (0..width).step_by(WIDE).map(move |x| {
            let (width, height) = (WIDE.min(width - x), HIGH.min(height - y));
            Window { x, y, width, height }
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Ink, Rect, Shape};
    use crate::raster::screen;
    use crate::raster::trial::{rect, scene, shape};
    use crate::scene::Mark;

    fn marks(tint: f64) -> Vec<Mark> {
        let circle = kurbo::Circle::new((31.7, 30.2), 25.0).to_path(1e-3);
        vec![rect(0.0, 0.0, 100.0, 60.0, Ink::process(0.1, 0.2, 0.3, 0.0)), shape(circle, Ink::black(tint))]
    }

    #[test]
    fn threads_do_not_show() {
        let scene = scene(100.0, 60.0, marks(0.7));
        let on = |threads: usize| {
            let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("a pool");
            pool.install(|| screen(&scene, scene.sheet.trim, 150.0, &Darkroom::default()).rgb)
        };
        assert!(on(1) == on(4));
    }

    #[test]
    fn memory_does_not_show() {
        let darkroom = Darkroom::default();
        let area = Rect::new(0.0, 0.0, 100.0, 60.0);
        for tint in [0.7, 0.3, 0.7] {
            let scene = scene(100.0, 60.0, marks(tint));
            let fresh = screen(&scene, area, 150.0, &Darkroom::default());
            assert!(screen(&scene, area, 150.0, &darkroom).rgb == fresh.rgb);
        }
    }

    #[test]
    fn a_change_renews_only_its_tiles() {
        let [before, after] = [0.7, 0.3].map(|tint| {
            let scene = scene(100.0, 60.0, marks(tint));
            let darkroom = Darkroom::default();
            Tiles::new(&scene, scene.sheet.trim, 150.0, &darkroom)
                .all
                .into_iter()
                .map(|tile| tile.name)
                .collect::<Vec<_>>()
        });
        let changed = before.iter().zip(&after).filter(|(a, b)| a != b).count();
        assert!(changed > 0 && changed < before.len(), "{changed} of {}", before.len());
    }
}
