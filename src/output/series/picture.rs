//! Spines on their board and fronts under it, drawn row by row in one light, from above and a little from the left.

use crate::ground::MM_PER_INCH;
use crate::output::light::{Tabletop, grain, lay, lit};
use crate::output::png;
use crate::output::series::plan::{BookSlot, SeriesPlan};
use crate::output::series::shrink::RgbPixels;
use crate::output::series::views::{BookViews, SHOP};
use rayon::prelude::*;
use std::sync::Arc;

/// Rows that are compressed together.
const HIGH: usize = 64;
/// A shadow ends within this many millimetres.
const REACH: f64 = 17.0;
/// A front at shop size casts the shadow of a book of this height.
const BOOK: f64 = 200.0;
/// What light comes between two books that touch.
const CREVICE: f32 = 0.15;

/// Of the board: its upper edge catches the light, its face lies in less of it. Millimetres, and shares of the light.
const EDGE: f64 = 0.3;
const EDGE_LIGHT: f32 = 1.05;
const FACE_LIGHT: f32 = 0.945;
/// Under the board it is dark: how much, and over how many millimetres that fades.
const UNDER: [(f64, f64); 2] = [(0.20, 0.6), (0.10, 6.0)];

/// A thing in the light, and its shadow around it.
struct Cast<'a> {
    spot: BookSlot,
    patch: &'a RgbPixels,
    table: Tabletop,
    reach: usize,
    /// Columns that the form of a back lights or shades.
    light: Vec<(usize, f32)>,
}

struct SeriesPicture<'a> {
    layout: &'a SeriesPlan,
    scale: f64,
    spines: Vec<Cast<'a>>,
    fronts: Vec<Cast<'a>>,
}

pub fn write(books: &[&BookViews], layout: &SeriesPlan, ppi: f64, title: &str) -> Vec<u8> {
    let scale = ppi / MM_PER_INCH;
    let mut picture = SeriesPicture { layout, scale, spines: Vec::new(), fronts: Vec::new() };
    for spot in &layout.spines {
        let patch = books.get(spot.book).and_then(|book| book.spine.as_ref());
        picture.spines.extend(patch.map(|patch| Cast::new(*spot, patch, scale, back_light(spot.width, scale))));
    }
    for spot in &layout.fronts {
        let patch = books.get(spot.book).and_then(|book| book.front.as_ref());
        picture.fronts.extend(patch.map(|patch| Cast::new(*spot, patch, SHOP as f64 / BOOK, Vec::new())));
    }
    let starts: Vec<usize> = (0..layout.height).step_by(HIGH).collect();
    let strips = starts.into_par_iter().map(|start| {
        let rows = start..(start + HIGH).min(layout.height);
        let mut rgb = vec![0; rows.len() * layout.width * 3];
        rgb.chunks_exact_mut(layout.width * 3).zip(rows).for_each(|(pixels, row)| picture.draw(row, pixels));
        Arc::new(png::strip(rgb.chunks_exact(layout.width * 3), 3))
    });
    let strips: Vec<Arc<Vec<u8>>> = strips.collect();
    png::write(&strips, (layout.width, layout.height), ppi, title)
}

impl SeriesPicture<'_> {
    fn draw(&self, row: usize, pixels: &mut [u8]) {
        let board = self.layout.board.as_ref();
        let mut light = vec![1.0_f32; self.layout.width];
        if board.is_some_and(|board| row < board.start) {
            self.spines.iter().for_each(|spine| spine.shade(row, &mut light));
            self.part(row, &mut light);
        } else if let Some(board) = board {
            light.fill(self.board_light(row, board));
        }
        self.fronts.iter().for_each(|front| front.shade(row, &mut light));
        for (column, (pixel, light)) in pixels.chunks_exact_mut(3).zip(&light).enumerate() {
            lay(pixel, *light, grain(column, row));
        }
        self.spines.iter().chain(&self.fronts).for_each(|cast| cast.draw(row, pixels));
    }

    /// Between two books it is dark as high as the lower one reaches.
    fn part(&self, row: usize, light: &mut [f32]) {
        for pair in self.layout.spines.windows(2) {
            let [left, right] = pair else { continue };
            if row >= left.y.max(right.y) {
                light[left.x + left.width..right.x].fill(CREVICE);
            }
        }
    }

    fn board_light(&self, row: usize, board: &std::ops::Range<usize>) -> f32 {
        if row < board.end {
            let below = (row - board.start) as f64 / self.scale;
            return if below < EDGE { EDGE_LIGHT } else { FACE_LIGHT };
        }
        let below = (row - board.end) as f64 / self.scale;
        UNDER.iter().map(|(dark, soft)| 1.0 - dark * (-below / soft).exp()).product::<f64>() as f32
    }
}

impl<'a> Cast<'a> {
    fn new(spot: BookSlot, patch: &'a RgbPixels, scale: f64, light: Vec<(usize, f32)>) -> Cast<'a> {
        let reach = (REACH * scale).ceil() as usize;
        let size = (spot.width, spot.height);
        let table = Tabletop::new((size.0 + 2 * reach, size.1 + 2 * reach), (reach, reach), size, scale);
        Cast { spot, patch, table, reach, light }
    }

    /// Takes its shadow from the light of a row.
    fn shade(&self, row: usize, light: &mut [f32]) {
        let BookSlot { x, y, width, height, .. } = self.spot;
        let reach = self.reach;
        if row + reach < y || row >= y + height + reach {
            return;
        }
        let first = x.saturating_sub(reach);
        for (column, light) in light.iter_mut().enumerate().take(x + width + reach).skip(first) {
            *light *= self.table.light(row + reach - y, column + reach - x);
        }
    }

    fn draw(&self, row: usize, pixels: &mut [u8]) {
        let BookSlot { x, y, width, .. } = self.spot;
        let stride = width * 3;
        let Some(own) = row.checked_sub(y).and_then(|own| self.patch.rgb.chunks_exact(stride).nth(own)) else { return };
        let shown = &mut pixels[x * 3..(x + width) * 3];
        shown.copy_from_slice(own);
        for (column, light) in &self.light {
            let grain = grain(x + column, row);
            shown[column * 3..column * 3 + 3].iter_mut().for_each(|value| *value = lit(*value, *light, grain));
        }
    }
}

/// A back is hardly round: its left edge catches the light, its right edge turns away.
fn back_light(width: usize, scale: f64) -> Vec<(usize, f32)> {
    let fade = |away: f64, wide: f64| (-(away / wide) * (away / wide)).exp();
    let at = |column: usize| {
        let (left, right) = ((column as f64 + 0.5) / scale, (width as f64 - column as f64 - 0.5) / scale);
        0.06 * fade(left, 0.9) - 0.09 * fade(right, 1.3)
    };
    (0..width).map(|column| (column, at(column) as f32)).filter(|(_, light)| light.abs() > 0.5 / 255.0).collect()
}
