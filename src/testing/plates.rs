//! Plates: a cover's plates as its pictures are drawn, and those of a press file as its own content has them.

use crate::assets::Darkroom;
use crate::compile::{Workshop, build};
use crate::disk::Disk;
use crate::ground::PROCESS_PLATES;
use crate::raster::plates;
use crate::record::CoverRequest;
use crate::returned::drawn_page;
use crate::scene::Scene;
use std::path::Path;

/// A trimmed sheet ink by ink, 255 is solid, row by row: the process plates by their names, then the spots.
pub struct DrawnPlates {
    pub width: usize,
    pub height: usize,
    pub plates: Vec<(String, Vec<u8>)>,
}

/// Draws the cover of a folder as its pictures are drawn, for a comparison with its press file. `None` when the cover
/// cannot be read.
pub fn draw_plates(folder: &Path, ppi: f64) -> Option<DrawnPlates> {
    let workshop = Workshop::default();
    let scene = build(&workshop, &Disk::new(folder), &CoverRequest::of("cover.kdl")).ok()?.design?.scene;
    Some(drawn(&scene, ppi, &workshop.darkroom))
}

/// Draws the trim of a PDF's first page; `Err` names what of it cannot be drawn.
pub fn draw_pdf(bytes: &[u8], ppi: f64) -> Result<DrawnPlates, Vec<String>> {
    let page = drawn_page(bytes, []).map_err(|why| vec![why])?;
    if !page.undrawn.is_empty() {
        return Err(page.undrawn.into_iter().collect());
    }
    Ok(drawn(&page.scene, ppi, &Darkroom::default()))
}

fn drawn(scene: &Scene, ppi: f64, darkroom: &Darkroom) -> DrawnPlates {
    let drawn = plates(scene, scene.sheet.trim, ppi, darkroom);
    let process = PROCESS_PLATES.map(str::to_owned).into_iter().zip(drawn.process);
    let spots = drawn.spots.into_iter().map(|(spot, plane)| (spot.name.clone(), plane));
    DrawnPlates { width: drawn.width, height: drawn.height, plates: process.chain(spots).collect() }
}
