//! Brush: what a covered run of pixels is filled with.

use crate::raster::layer::{Layer, Strength, times};
use crate::raster::pictures::Scaled;
use crate::raster::plate_shares::{PlateShares, Ramp};

pub enum Brush {
    Ink(PlateShares),
    Gradient(Ramp),
    Picture(Scaled),
    /// One ink through a picture.
    Veil(Scaled, PlateShares),
}

/// Covered pixels of one tile row.
#[derive(Clone, Copy)]
pub struct PixelRun {
    pub row: usize,
    pub first: usize,
    pub end: usize,
    pub coverage: u8,
}

/// Room to work in, kept from run to run.
#[derive(Default)]
pub struct BrushBuffers {
    shares: Vec<u8>,
    steps: Vec<u16>,
    /// Plate by plate.
    values: Vec<Vec<u8>>,
}

impl Brush {
    /// Lays the run on a layer, thinned by a mask of the whole tile.
    pub fn lay(&self, run: PixelRun, mask: Option<&[u8]>, layer: &mut Layer, buffers: &mut BrushBuffers) {
        let window = layer.window;
        let (x, y) = (window.x, window.y + run.row);
        let (first, end) = match self {
            Brush::Picture(scaled) | Brush::Veil(scaled, _) => {
                let shown = scaled.window;
                let below = y < shown.y || y >= shown.y + shown.height;
                let within = |column: usize| (x + column).clamp(shown.x, shown.x + shown.width).saturating_sub(x);
                if below { (0, 0) } else { (within(run.first), within(run.end)) }
            }
            Brush::Ink(_) | Brush::Gradient(_) => (run.first, run.end),
        };
        if first >= end {
            return;
        }
        let pixels = run.row * window.width + first..run.row * window.width + end;
        let BrushBuffers { shares, steps, values } = buffers;
        let veil = match self {
            Brush::Picture(scaled) | Brush::Veil(scaled, _) => scaled.veil(x + first, y, end - first),
            Brush::Ink(_) | Brush::Gradient(_) => None,
        };
        let share = thin(run.coverage, mask.map(|mask| &mask[pixels.clone()]), veil, shares);
        match self {
            Brush::Ink(stamp) | Brush::Veil(_, stamp) => layer.lay(&pixels, share, |plane| stamp.lay(plane)),
            Brush::Gradient(ramp) => {
                steps.resize(end - first, 0);
                ramp.steps(x + first, y, steps);
                values.resize_with(layer.planes.len(), Vec::new);
                let mut values = values.iter_mut();
                layer.lay(&pixels, share, |plane| ramp.lay(plane, steps, values.next().expect("one for each plate")));
            }
            Brush::Picture(scaled) => layer.lay(&pixels, share, |plane| scaled.lay(plane, x + first, y, end - first)),
        }
    }
}

fn thin<'a>(coverage: u8, mask: Option<&[u8]>, veil: Option<&[u8]>, shares: &'a mut Vec<u8>) -> Strength<'a> {
    let (Some(one), other) = (mask.or(veil), mask.and(veil)) else { return Strength::Even(coverage) };
    shares.clear();
    match other {
        Some(other) => shares.extend(one.iter().zip(other).map(|(a, b)| times(coverage, times(*a, *b)))),
        None if coverage == 255 => shares.extend_from_slice(one),
        None => shares.extend(one.iter().map(|a| times(coverage, *a))),
    }
    Strength::Each(shares)
}
