//! Plates: part of a sheet as its press prints it, ink by ink.

use crate::assets::Darkroom;
use crate::ground::{Rect, Spot};
use crate::raster::plate_shares::PROCESS;
use crate::raster::tiles::{PLATES, Tiles};
use crate::raster::window::Window;
use crate::scene::Scene;
use std::sync::Arc;

/// Part of a sheet, plate by plate: 8 bit, 255 is solid, row by row.
pub struct Plates {
    pub width: usize,
    pub height: usize,
    /// Pixels per inch.
    pub ppi: f64,
    /// C, M, Y, K.
    pub process: [Vec<u8>; 4],
    pub spots: Vec<(Arc<Spot>, Vec<u8>)>,
}

/// Draws `area` (sheet millimetres) of a scene at `ppi` pixels per inch.
pub fn plates(scene: &Scene, area: Rect, ppi: f64, darkroom: &Darkroom) -> Plates {
    let tiles = Tiles::new(scene, area, ppi, darkroom);
    let drawn = tiles.draw(PLATES, |layer| layer.planes.concat());
    let plane = |plane: usize| {
        let mut whole = vec![0; tiles.grid.width * tiles.grid.height];
        for (tile, samples) in tiles.all.iter().zip(&drawn) {
            let area = tile.window.area();
            place(&samples[plane * area..(plane + 1) * area], 1, tile.window, &mut whole, tiles.grid.width);
        }
        whole
    };
    Plates {
        width: tiles.grid.width,
        height: tiles.grid.height,
        ppi,
        process: std::array::from_fn(plane),
        spots: tiles.grid.spots.iter().enumerate().map(|(spot, name)| (name.clone(), plane(PROCESS + spot))).collect(),
    }
}

/// Puts a tile into its place in the whole; `bytes` a pixel.
pub fn place(tile: &[u8], bytes: usize, window: Window, whole: &mut [u8], width: usize) {
    for (row, samples) in tile.chunks_exact(window.width * bytes).enumerate() {
        let start = ((window.y + row) * width + window.x) * bytes;
        whole[start..start + samples.len()].copy_from_slice(samples);
    }
}
