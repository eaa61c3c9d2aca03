//! Art budget: what the pictures and drawings of a cover may take together, wherever they are placed. A few bytes place the same
//! large one again and again, and each place is drawn by itself.

use crate::assets::{Drawing, EffectBudget, Picture};
use crate::ground::{Affine, Digest, MM_PER_INCH};
use std::collections::BTreeMap;

/// Pixels of pictures that are placed once more.
const PIXELS: f64 = 100e6;
/// Pixels to an inch of the sheet that pictures are scaled to; and how many times as long a pixel takes that lies askew.
const USUAL: f64 = 300.0;
const TURNED: f64 = 3.0;
/// Corners and curves of drawings. A drawing may have 300,000.
const STEPS: f64 = 400_000.0;
/// Millimetres of their outlines: lines a fifth of a millimetre apart over a whole jacket take half of it.
const LENGTH: f64 = 2.5e6;

#[derive(Default)]
pub struct ArtBudget {
    pub effects: EffectBudget,
    /// Pixels of each picture, as far as they show.
    shown: BTreeMap<Digest, f64>,
    pixels: f64,
    steps: f64,
    length: f64,
    told_of_pictures: bool,
    told_of_drawings: bool,
}

/// Why a picture or drawing is not placed.
pub enum ArtRefused {
    /// As a message says it.
    Over(String),
    /// Like the one before.
    Told,
}

impl ArtBudget {
    /// Takes the share of a picture of which so much shows where it is placed. Each may be shown once for nothing, in parts or
    /// whole.
    pub fn picture(&mut self, picture: &Picture, unit: Affine, shown: f64) -> Result<(), ArtRefused> {
        let [a, b, c, d, ..] = unit.as_coeffs();
        // A few pixels are scaled up to as many as the place has.
        let there = (a * d - b * c).abs() * (USUAL / MM_PER_INCH).powi(2);
        let is_askew = (a * b).abs().max((c * d).abs()) > 1e-9 * (a * a + b * b + c * c + d * d);
        let times = if is_askew { TURNED } else { 1.0 };
        let all = (f64::from(picture.width()) * f64::from(picture.height())).max(there * times);
        let before = self.shown.entry(picture.digest()).or_default();
        let over = |pixels: f64| (pixels - all).max(0.0);
        self.pixels += over(*before + all * shown) - over(*before);
        *before += all * shown;
        let limit = PIXELS / 1e6;
        let message =
            || format!("pictures that are placed several times have more than {limit} million pixels together");
        take(self.pixels <= PIXELS, &mut self.told_of_pictures, message)
    }

    /// Takes the share of a drawing placed so many times as large.
    pub fn drawing(&mut self, drawing: &Drawing, scale: f64) -> Result<(), ArtRefused> {
        self.steps += drawing.steps as f64;
        self.length += drawing.length * scale;
        let message = || {
            let (steps, length) = (STEPS / 1e3, LENGTH / 1e6);
            format!(
                "the drawings of the cover have more than {steps},000 corners and curves, or {length} km of outlines, each counted \
                 wherever it is placed"
            )
        };
        let is_within = self.steps <= STEPS && self.length <= LENGTH;
        take(is_within, &mut self.told_of_drawings, message)
    }
}

fn take(is_within: bool, told: &mut bool, message: impl FnOnce() -> String) -> Result<(), ArtRefused> {
    if is_within {
        Ok(())
    } else if std::mem::replace(told, true) {
        Err(ArtRefused::Told)
    } else {
        Err(ArtRefused::Over(message() + "; the rest is left out"))
    }
}
