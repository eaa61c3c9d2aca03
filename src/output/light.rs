//! How light falls on a cover laid on a table: from above and a little from the left.

use crate::scene::{FoldKind, Sheet};

/// The table, sRGB.
const GROUND: [f32; 3] = [238.0, 237.0, 234.0];
/// The same where the light is full: grain is less than a level.
const GROUND_LEVELS: [u8; 3] = [GROUND[0] as u8, GROUND[1] as u8, GROUND[2] as u8];
/// From here on light counts as full, so that the open table is of one colour.
const FULL: f32 = 0.9995;

/// A shadow: how dark, how soft and how far it is thrown, in millimetres.
struct Shadow {
    dark: f64,
    soft: f64,
    right: f64,
    down: f64,
}

/// Where the paper touches the table, and where its height keeps the light of the room off.
const SHADOWS: [Shadow; 2] = [
    Shadow { dark: 0.30, soft: 0.55, right: 0.1, down: 0.35 },
    Shadow { dark: 0.26, soft: 4.2, right: 0.8, down: 3.0 },
];

/// The table around a cover.
pub struct Tabletop {
    /// Of each shadow, its share by columns and by rows; their product is the shadow of a rectangle.
    shadows: [(Vec<f32>, Vec<f32>); SHADOWS.len()],
}

impl Tabletop {
    /// The cover stands at `place` in the picture; `scale` is pixels per millimetre.
    pub fn new(picture: (usize, usize), place: (usize, usize), cover: (usize, usize), scale: f64) -> Tabletop {
        let profile = |length: usize, from: usize, size: usize, thrown: f64, soft: f64| {
            let (from, soft) = (from as f64 + thrown * scale, soft * scale);
            let at = |x: f64| f64::midpoint(1.0, error_function(x / soft / std::f64::consts::SQRT_2));
            let share = |x: f64| at(x - from) - at(x - from - size as f64);
            (0..length).map(|pixel| share(pixel as f64 + 0.5) as f32).collect::<Vec<f32>>()
        };
        let shadows = SHADOWS.each_ref().map(|shadow| {
            let columns = profile(picture.0, place.0, cover.0, shadow.right, shadow.soft);
            let rows = profile(picture.1, place.1, cover.1, shadow.down, shadow.soft);
            (columns, rows.into_iter().map(|share| share * shadow.dark as f32).collect())
        });
        Tabletop { shadows }
    }

    /// Draws part of a row, from column `first` on.
    pub fn draw(&self, row: usize, first: usize, pixels: &mut [u8]) {
        let grains: [f32; GRAINS] = std::array::from_fn(|column| grain(column, row));
        let [near, far] = self.shadows.each_ref().map(|(columns, rows)| (&columns[first..], rows[row]));
        let shares = near.0.iter().zip(far.0).enumerate();
        for (pixel, (offset, (by_near, by_far))) in pixels.as_chunks_mut::<3>().0.iter_mut().zip(shares) {
            let light = (1.0 - by_near * near.1) * (1.0 - by_far * far.1);
            if light > FULL {
                *pixel = GROUND_LEVELS;
            } else {
                lay(pixel, light, grains[(first + offset) % GRAINS]);
            }
        }
    }

    /// What the shadows leave of the light.
    pub fn light(&self, row: usize, column: usize) -> f32 {
        self.shadows.iter().map(|(columns, rows)| 1.0 - columns[column] * rows[row]).product()
    }
}

/// The open table in this much light.
pub fn lay(pixel: &mut [u8], light: f32, grain: f32) {
    let light = if light > FULL && light < 1.0 { 1.0 } else { light };
    for (value, ground) in pixel.iter_mut().zip(GROUND) {
        *value = (ground * light + grain) as u8;
    }
}

/// Grains of a row, which come again.
const GRAINS: usize = 8;

/// Rounds up or down by place, in the order of an eight by eight Bayer matrix, so that soft light shows no steps.
pub fn grain(x: usize, y: usize) -> f32 {
    let (mut order, crossed) = (0, x ^ y);
    for bit in 0..3 {
        order = order << 2 | (crossed >> bit & 1) << 1 | (y >> bit & 1);
    }
    (order as f32 + 0.5) / 64.0
}

/// The columns of a cover whose light its folds change, and by how much: +1 is white, −1 black.
pub fn fold_light(sheet: &Sheet, width: usize, scale: f64) -> Vec<(usize, f32)> {
    let joints: Vec<_> = sheet.panels.iter().filter(|panel| panel.name.is_joint()).map(|panel| panel.rect).collect();
    let at_joint = |x: f64| joints.iter().any(|joint| (joint.x0 - x).abs() < 0.01 || (joint.x1 - x).abs() < 0.01);
    let creases: Vec<_> = sheet.folds.iter().filter(|fold| !at_joint(fold.x)).collect();
    let at = |x: f64| {
        let creases = creases.iter().map(|fold| match fold.kind {
            FoldKind::Fold => ridge(x - fold.x),
            FoldKind::Score => valley(x - fold.x, 0.45),
        });
        let joints = joints.iter().map(|joint| valley(x - joint.center().x, joint.width() / 2.4));
        creases.chain(joints).sum::<f64>()
    };
    (0..width)
        .map(|column| (column, at(sheet.trim.x0 + (column as f64 + 0.5) / scale) as f32))
        .filter(|(_, light)| light.abs() > 0.5 / 255.0)
        .collect()
}

/// A fold stands up a little: its left flank catches the light, its right flank loses it. Millimetres from the fold.
fn ridge(x: f64) -> f64 {
    let crest = -0.05 * bell(x, 0.12);
    if x < 0.0 { crest + 0.035 * bell(x, 1.6) } else { crest - 0.075 * bell(x, 1.1) - 0.045 * bell(x, 3.2) }
}

/// A groove: dark where it falls away from the light, bright where it rises again.
fn valley(x: f64, half: f64) -> f64 {
    0.035 * bell(x - half, half) - 0.075 * bell(x + half * 0.3, half)
}

fn bell(x: f64, wide: f64) -> f64 {
    (-(x / wide) * (x / wide)).exp()
}

pub fn lit(value: u8, light: f32, grain: f32) -> u8 {
    let value = f32::from(value);
    let toward = if light > 0.0 { (255.0 - value) * light } else { value * light };
    (value + toward + grain).clamp(0.0, 255.0) as u8
}

/// Abramowitz and Stegun 7.1.26, good to 1.5e-7.
fn error_function(x: f64) -> f64 {
    let t = 1.0 / (1.0 + 0.327_591_1 * x.abs());
    let sum = [1.061_405_429, -1.453_152_027, 1.421_413_741, -0.284_496_736, 0.254_829_592];
    let sum = sum.iter().fold(0.0, |sum, term| (sum + term) * t);
    (1.0 - sum * (-x * x).exp()).copysign(x)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn error_function_agrees_with_the_tables() {
        // Abramowitz and Stegun, table 7.1.
        for (x, wanted) in [(0.0, 0.0), (0.5, 0.520_499_878), (1.0, 0.842_700_793), (-2.0, -0.995_322_265)] {
            assert!((error_function(x) - wanted).abs() < 2e-7);
        }
    }

    #[test]
    fn grain_is_even() {
        let mut seen: Vec<f32> = (0..64).map(|at| grain(at % 8, at / 8)).collect();
        seen.sort_by(f32::total_cmp);
        assert!(seen.iter().enumerate().all(|(at, grain)| (grain * 64.0 - 0.5 - at as f32).abs() < 1e-3));
        assert_eq!((lit(100, 0.0, 0.99), lit(255, 0.5, 0.99), lit(0, -0.5, 0.0)), (100, 255, 0));
    }
}
