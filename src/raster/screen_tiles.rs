//! Screen tiles: an area as it will look in print, in the pieces it was drawn in.
//!
//! Pictures are written strip by strip: a sheet laid out whole between the two would only be copied once more.

use crate::assets::Darkroom;
use crate::ground::{Digest, Rect};
use crate::raster::plates::place;
use crate::raster::screen::screen_samples;
use crate::raster::spot_proof::SpotProof;
use crate::raster::tiles::{HIGH, Tiles, WIDE};
use crate::raster::window::Window;
use crate::scene::Scene;
use std::ops::Range;
use std::sync::Arc;

/// Pixels for a screen, sRGB, 8 bit, three a pixel.
pub struct Screen {
    pub width: usize,
    pub height: usize,
    pub rgb: Vec<u8>,
}

/// Draws `area` of a scene as it will look in print.
pub fn screen(scene: &Scene, area: Rect, ppi: f64, darkroom: &Darkroom) -> Screen {
    ScreenTiles::draw(scene, area, ppi, darkroom).whole()
}

impl Screen {
    /// Pixels of one row.
    pub fn row(&self, row: usize) -> &[u8] {
        &self.rgb[row * self.width * 3..(row + 1) * self.width * 3]
    }
}

/// sRGB, 8 bit, three a pixel.
pub struct ScreenTiles {
    pub width: usize,
    pub height: usize,
    /// Row by row of tiles, each named by all that shows in it.
    tiles: Vec<(Window, Digest)>,
    drawn: Vec<Arc<Vec<u8>>>,
}

impl ScreenTiles {
    /// Plates and their soft proof in one, tile by tile.
    pub fn draw(scene: &Scene, area: Rect, ppi: f64, darkroom: &Darkroom) -> ScreenTiles {
        let tiles = Tiles::new(scene, area, ppi, darkroom);
        let drawn = tiles.draw("screen", |layer| {
            let planes: Vec<&[u8]> = layer.planes.iter().map(Vec::as_slice).collect();
            let proofs: Vec<SpotProof> =
                tiles.grid.spots.iter().map(|spot| SpotProof::new(spot, layer.window, tiles.grid.scale)).collect();
            screen_samples(&planes, &proofs, &scene.profile)
        });
        ScreenTiles {
            width: tiles.grid.width,
            height: tiles.grid.height,
            tiles: tiles.all.iter().map(|tile| (tile.window, tile.name)).collect(),
            drawn,
        }
    }

    /// All in one piece.
    pub fn whole(&self) -> Screen {
        let mut rgb = vec![0; self.width * self.height * 3];
        for ((window, _), samples) in self.tiles.iter().zip(&self.drawn) {
            place(samples, 3, *window, &mut rgb, self.width);
        }
        Screen { width: self.width, height: self.height, rgb }
    }

    /// Writes pixels of one row, from column `columns.start` on, into `pixels`.
    pub fn copy_row(&self, row: usize, columns: Range<usize>, pixels: &mut [u8]) {
        let across = self.width.div_ceil(WIDE);
        let (mut column, mut rest) = (columns.start, pixels);
        while column < columns.end {
            let tile = row / HIGH * across + column / WIDE;
            let window = self.tiles[tile].0;
            let end = (window.x + window.width).min(columns.end);
            let start = (row - window.y) * window.width + column - window.x;
            let (own, other) = rest.split_at_mut((end - column) * 3);
            own.copy_from_slice(&self.drawn[tile][start * 3..(start + end - column) * 3]);
            (column, rest) = (end, other);
        }
    }

    /// Names all that shows in these rows and columns.
    pub fn name(&self, rows: Range<usize>, columns: Range<usize>) -> Digest {
        let meet = |from: usize, length: usize, range: &Range<usize>| from < range.end && from + length > range.start;
        let shown = self
            .tiles
            .iter()
            .filter(|(window, _)| meet(window.x, window.width, &columns) && meet(window.y, window.height, &rows));
        let place = [rows.start, rows.end, columns.start, columns.end].map(|edge| (edge as u64).to_le_bytes()).concat();
        let names: Vec<&[u8]> = shown.map(|(_, name)| &name.bytes()[..]).collect();
        Digest::of_all(&[&place, &names.concat()])
    }

    /// Names all that shows.
    pub fn whole_name(&self) -> Digest {
        self.name(0..self.height, 0..self.width)
    }

    /// Rows cut into strips, each within one row of tiles.
    pub fn strips(&self) -> Vec<Range<usize>> {
        (0..self.height).step_by(HIGH).map(|row| row..(row + HIGH).min(self.height)).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Ink, Shape};
    use crate::raster::trial::{rect, scene, shape};

    #[test]
    fn rows_are_those_of_the_whole_and_strips_cover_them() {
        let circle = kurbo::Circle::new((290.0, 75.0), 60.0).to_path(1e-3);
        let marks = vec![rect(1.0, 0.0, 500.0, 90.0, Ink::black(0.3)), shape(circle, Ink::process(0.2, 0.9, 0.0, 0.0))];
        let scene = scene(600.0, 150.0, marks);
        let tiles = ScreenTiles::draw(&scene, scene.sheet.trim, 25.4, &Darkroom::default());
        let whole = tiles.whole();
        for columns in [0..600, 0..1, 255..257, 256..512, 30..30, 511..600] {
            for row in 0..150 {
                let mut pixels = vec![0; columns.len() * 3];
                tiles.copy_row(row, columns.clone(), &mut pixels);
                assert_eq!(pixels, whole.row(row)[columns.start * 3..columns.end * 3], "{row} {columns:?}");
            }
        }
        assert_eq!(tiles.strips(), [0..64, 64..128, 128..150]);
        assert_ne!(tiles.name(0..64, 0..3), tiles.name(64..128, 0..3));
    }
}
