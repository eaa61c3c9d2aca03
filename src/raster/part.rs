//! Part: a window of a sheet's grid, for whoever looks at one place closely: named by what shows in it, in plates, on a screen.

use crate::assets::Darkroom;
use crate::ground::Digest;
use crate::raster::plate_shares::PROCESS;
use crate::raster::plates::place;
use crate::raster::screen::screen_samples;
use crate::raster::spot_proof::SpotProof;
use crate::raster::tiles::{PLATES, SheetGrid, Tiles};
use crate::raster::window::Window;
use crate::scene::Scene;
use std::sync::Arc;

pub struct SheetPart<'a> {
    scene: &'a Scene,
    tiles: Tiles<'a>,
    /// What of the window lies on the sheet.
    pub window: Window,
}

impl<'a> SheetPart<'a> {
    /// `None` where nothing of the window lies on the sheet.
    pub fn new(
        scene: &'a Scene,
        grid: &Arc<SheetGrid>,
        window: Window,
        darkroom: &'a Darkroom,
    ) -> Option<SheetPart<'a>> {
        let width = window.width.min(grid.width.checked_sub(window.x)?);
        let height = window.height.min(grid.height.checked_sub(window.y)?);
        let window = Window { width, height, ..window };
        let tiles = Tiles::touching(scene, grid.clone(), window, darkroom);
        (window.area() > 0).then_some(SheetPart { scene, tiles, window })
    }

    /// Names all that shows in it.
    pub fn name(&self) -> Digest {
        let names: Vec<&[u8]> = self.tiles.all.iter().map(|tile| &tile.name.bytes()[..]).collect();
        Digest::of_all(&[format!("{:?}", self.window).as_bytes(), &names.concat()])
    }

    /// Plate after plate, row by row, 255 a solid: the process inks, then the spots; as `plates` has them.
    pub fn planes(&self) -> Vec<Vec<u8>> {
        let drawn = self.drawn();
        let count = PROCESS + self.tiles.grid.spots.len();
        let plane = |plane: usize| {
            self.laid(1, |number| {
                let area = self.tiles.all[number].window.area();
                drawn[number][plane * area..(plane + 1) * area].to_vec()
            })
        };
        (0..count).map(plane).collect()
    }

    /// sRGB, three bytes a pixel, as these plates look when they are printed together; `None` for all of them.
    pub fn rgb(&self, wanted: Option<&[usize]>) -> Vec<u8> {
        let drawn = self.drawn();
        self.laid(3, |number| {
            let (window, samples) = (self.tiles.all[number].window, &drawn[number]);
            let spots = &self.tiles.grid.spots;
            let none = vec![0; window.area()];
            let planes = samples.chunks_exact(window.area()).enumerate();
            let planes = planes.map(
                |(plane, samples)| {
                    if wanted.is_none_or(|wanted| wanted.contains(&plane)) { samples } else { &none }
                },
            );
            let planes: Vec<&[u8]> = planes.collect();
            let proofs = spots.iter().map(|spot| SpotProof::new(spot, window, self.tiles.grid.scale));
            screen_samples(&planes, &proofs.collect::<Vec<SpotProof>>(), &self.scene.profile)
        })
    }

    fn drawn(&self) -> Vec<Arc<Vec<u8>>> {
        self.tiles.draw(PLATES, |layer| layer.planes.concat())
    }

    /// The tiles laid side by side and cut to the window; `bytes` a pixel.
    fn laid(&self, bytes: usize, samples: impl Fn(usize) -> Vec<u8>) -> Vec<u8> {
        let corner = self.tiles.all.first().map_or(self.window, |tile| tile.window);
        let far = self.tiles.all.last().map_or(self.window, |tile| tile.window);
        let width = far.x + far.width - corner.x;
        let mut whole = vec![0; width * (far.y + far.height - corner.y) * bytes];
        for (number, tile) in self.tiles.all.iter().enumerate() {
            let window = Window { x: tile.window.x - corner.x, y: tile.window.y - corner.y, ..tile.window };
            place(&samples(number), bytes, window, &mut whole, width);
        }
        let rows = whole.chunks_exact(width * bytes).skip(self.window.y - corner.y).take(self.window.height);
        let columns = (self.window.x - corner.x) * bytes..(self.window.x - corner.x + self.window.width) * bytes;
        rows.flat_map(|row| &row[columns.clone()]).copied().collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Ink, Shape as _};
    use crate::raster::trial::{rect, scene, shape, spot};
    use crate::raster::{plates, screen};

    fn cover() -> Scene {
        let circle = kurbo::Circle::new((61.7, 30.2), 25.0).to_path(1e-3);
        let ground = rect(0.0, 0.0, 200.0, 90.0, Ink::process(0.1, 0.2, 0.3, 0.0));
        let foil = rect(40.0, 20.0, 60.0, 9.0, Ink::spot(spot("Foil", true), 1.0));
        scene(200.0, 90.0, vec![ground, shape(circle, Ink::black(0.7)), foil])
    }

    #[test]
    fn a_part_is_cut_out_of_the_whole() {
        let (scene, darkroom) = (cover(), Darkroom::default());
        let grid = Arc::new(SheetGrid::new(&scene, scene.sheet.trim, 150.0));
        let whole = plates(&scene, scene.sheet.trim, 150.0, &Darkroom::default());
        let seen = screen(&scene, scene.sheet.trim, 150.0, &Darkroom::default());
        for window in
            [(0, 0, 512, 512), (512, 0, 512, 512), (250, 60, 30, 20), (1180, 530, 1, 1), (1024, 512, 512, 512)]
        {
            let (x, y, width, height) = window;
            let part = SheetPart::new(&scene, &grid, Window { x, y, width, height }, &darkroom).expect("it is there");
            let Window { width, height, .. } = part.window;
            let cut = |plane: &[u8], bytes: usize| -> Vec<u8> {
                let rows = (y..y + height).map(|row| (row * whole.width + x) * bytes);
                rows.flat_map(|start| plane[start..start + width * bytes].to_vec()).collect()
            };
            let planes = part.planes();
            for (plane, wanted) in whole.process.iter().chain(whole.spots.iter().map(|(_, plane)| plane)).enumerate() {
                assert!(planes[plane] == cut(wanted, 1), "plate {plane} of {window:?}");
            }
            assert!(part.rgb(None) == cut(&seen.rgb, 3), "{window:?}");
        }
        assert!(SheetPart::new(&scene, &grid, Window { x: 1200, y: 0, width: 9, height: 9 }, &darkroom).is_none());
    }

    #[test]
    fn some_plates_are_what_would_print_without_the_others() {
        let (scene, darkroom) = (cover(), Darkroom::default());
        let grid = Arc::new(SheetGrid::new(&scene, scene.sheet.trim, 50.0));
        let part = SheetPart::new(&scene, &grid, Window { x: 0, y: 0, width: 90, height: 90 }, &darkroom);
        let rgb = part.expect("it is there").rgb(Some(&[3]));
        // The black circle alone: bare paper in the corner, dark in its middle.
        let at = |x: usize, y: usize| rgb[(y * 90 + x) * 3];
        assert!(at(2, 2) == 255 && at(85, 59) < 140, "{} {}", at(2, 2), at(85, 59));
    }
}
