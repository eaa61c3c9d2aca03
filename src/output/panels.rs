//! A picture a panel, trimmed: `front`, `spine`, `back` and flaps, as they will look in print.
//!
//! A case's joint is cut with its board: closed, the two are one face.

use crate::assets::Darkroom;
use crate::ground::{Digest, MM_PER_INCH};
use crate::output::{Delivery, Made, Output, png};
use crate::raster::screen;
use crate::scene::{Scene, Sheet};
use rayon::prelude::*;

pub const OUTPUT: Output = Output { name: "panels", write };

fn write(scene: &Scene, delivery: &Delivery, darkroom: &Darkroom) -> Vec<Made> {
    let ppi = delivery.panel_ppi;
    let whole = screen(scene, scene.sheet.trim, ppi, darkroom);
    let column = |x: f64| (x - scene.sheet.trim.x0) * ppi / MM_PER_INCH;
    faces(&scene.sheet)
        .into_par_iter()
        .filter_map(|(name, left, right)| {
            // A pixel that a fold runs through shows two panels, and belongs to neither. Rounding must not count as such.
            let (first, end) = ((column(left) - 1e-6).ceil().max(0.0), (column(right) + 1e-6).floor().max(0.0));
            let face = whole.columns(first as usize, if right >= scene.sheet.trim.x1 { whole.width } else { end as usize });
            if face.width == 0 {
                return None;
            }
            let title = png::title(scene, name);
            let mut said = format!("{} {title}", face.width).into_bytes();
            face.names.iter().for_each(|(_, tile)| said.extend(tile.bytes()));
            let key = Digest::of_all(&[b"panel", &said, &ppi.to_le_bytes(), &first.to_le_bytes()]);
            let bytes = darkroom.stream(key, || png::write(&face.rgb, face.width, face.height, ppi, &title));
            Some(Made { suffix: name.to_owned(), extension: "png", bytes: bytes.to_vec() })
        })
        .collect()
}

/// Names and edges of the faces, left to right.
fn faces(sheet: &Sheet) -> Vec<(&'static str, f64, f64)> {
    let joint = |name: &str| sheet.panels.iter().find(|panel| panel.name.strip_suffix("-joint") == Some(name));
    let boards = sheet.panels.iter().filter(|panel| !panel.name.ends_with("-joint"));
    boards
        .map(|panel| {
            let face = joint(panel.name).map_or(panel.rect, |joint| panel.rect.union(joint.rect));
            (panel.name, face.x0, face.x1)
        })
        .collect()
}
