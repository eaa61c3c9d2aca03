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
            let first = ((column(left) - 1e-6).ceil().max(0.0) as usize).min(whole.width);
            let end = (column(right) + 1e-6).floor().max(0.0) as usize;
            let end = if right >= scene.sheet.trim.x1 { whole.width } else { end.min(whole.width) };
            let columns = first..end;
            if columns.is_empty() {
                return None;
            }
            let strips = whole.strips().into_par_iter().map(|rows| {
                let key = Digest::of_all(&[b"panel strip", whole.name(rows.clone(), columns.clone()).bytes()]);
                darkroom.stream(key, || png::strip(rows.map(|row| whole.row(row, columns.clone()))))
            });
            let strips: Vec<_> = strips.collect();
            let bytes = png::write(&strips, (columns.len(), whole.height), ppi, &png::title(scene, name));
            Some(Made { suffix: name.to_owned(), extension: "png", bytes })
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
