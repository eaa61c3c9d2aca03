//! The flat: the trimmed wrap as it will look in print, lying on a table, its folds softly shaded.

use crate::assets::Darkroom;
use crate::ground::MM_PER_INCH;
use crate::output::light::{Table, fold_light, lit};
use crate::output::{Delivery, Made, Output, png};
use crate::raster::screen;
use crate::scene::Scene;
use rayon::prelude::*;

pub const OUTPUT: Output = Output { name: "flat", write };

/// Margins as shares of the cover's height; the foot has more, so that the cover does not seem to sink.
const SIDE: f64 = 0.11;
const FOOT: f64 = 0.13;

fn write(scene: &Scene, delivery: &Delivery, darkroom: &Darkroom) -> Vec<Made> {
    let ppi = delivery.flat_ppi;
    let cover = screen(scene, scene.sheet.trim, ppi, darkroom);
    let (side, foot) = ((cover.height as f64 * SIDE).round() as usize, (cover.height as f64 * FOOT).round() as usize);
    let (width, height) = (cover.width + 2 * side, cover.height + side + foot);
    let table = Table::new((width, height), (side, side), (cover.width, cover.height), ppi / MM_PER_INCH);
    let light = fold_light(&scene.sheet, cover.width, ppi / MM_PER_INCH);
    let mut rgb = vec![0_u8; width * height * 3];
    rgb.par_chunks_exact_mut(width * 3).enumerate().for_each(|(row, pixels)| {
        let Some(own) = row.checked_sub(side).filter(|own| *own < cover.height) else {
            return table.draw(row, 0, pixels);
        };
        let (left, rest) = pixels.split_at_mut(side * 3);
        let (middle, right) = rest.split_at_mut(cover.width * 3);
        table.draw(row, 0, left);
        table.draw(row, side + cover.width, right);
        middle.copy_from_slice(&cover.rgb[own * cover.width * 3..(own + 1) * cover.width * 3]);
        for (column, light) in &light {
            middle[column * 3..column * 3 + 3].iter_mut().for_each(|value| *value = lit(*value, *light));
        }
    });
    let bytes = png::write(&rgb, width, height, ppi, &png::title(scene, "flat"));
    vec![Made { suffix: "flat".to_owned(), extension: "png", bytes }]
}
