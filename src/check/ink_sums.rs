//! Ink sums: how much ink lies together at every place of a sheet, averaged as a press takes it. What `ink-over-limit` measures.

use crate::assets::Darkroom;
use crate::ground::{MM_PER_INCH, Point, Rect};
use crate::raster::{Plates, plates};
use crate::scene::Scene;

/// Millimetres of a square to average over. Common practice.
const WINDOW: f64 = 1.0;
/// Three pixels to the millimetre, so that a window of 1 mm is three by three.
pub const WINDOW_PIXELS: usize = 3;
pub const PPI: f64 = WINDOW_PIXELS as f64 * MM_PER_INCH;
/// Samples of 8 bits: each plate is rounded by up to half a step.
pub const ROUNDING: f64 = 0.012;
/// What may lie together over the limit: black words over the shadows of a picture. A published article on ink coverage.
pub const TOLERANCE: f64 = 0.08;

pub struct InkSums {
    /// What of the sheet was measured.
    pub area: Rect,
    /// Millimetres of a pixel.
    pub pixel: f64,
    pub width: usize,
    /// Row by row; 1 is one solid.
    pub total: Vec<f32>,
}

/// The plates of a sheet with its bleed, drawn once for all that measure them.
pub struct MeasuredPlates {
    pub plates: Plates,
    pub sums: InkSums,
}

pub fn measured_plates(scene: &Scene, darkroom: &Darkroom) -> MeasuredPlates {
    let plates = plates(scene, scene.sheet.bleed, PPI, darkroom);
    let (area, pixel) = (scene.sheet.bleed, MM_PER_INCH / PPI);
    let sums = InkSums { area, pixel, width: plates.width, total: plates.total_ink(WINDOW) };
    MeasuredPlates { plates, sums }
}

/// What of a sheet lies over a limit.
#[derive(Clone, Debug, PartialEq)]
pub struct InkOver {
    /// 1 is one solid.
    pub most: f64,
    /// Square millimetres, all places together.
    pub area: f64,
    /// What holds them all.
    pub place: Rect,
}

impl InkSums {
    /// Where more than `limit` lies together, whatever may be tolerated.
    pub fn over(&self, limit: f64) -> Option<InkOver> {
        let over = self.total.iter().enumerate().filter(|(_, ink)| f64::from(**ink) > limit + ROUNDING);
        let all = over.map(|(at, ink)| {
            let corner = Point::new((at % self.width) as f64, (at / self.width) as f64);
            let place = Rect::from_origin_size(corner, (1.0, 1.0));
            InkOver { most: f64::from(*ink), area: 1.0, place }
        });
        let all = all.reduce(|one, other| InkOver {
            most: one.most.max(other.most),
            area: one.area + other.area,
            place: one.place.union(other.place),
        })?;
        let place = all.place.scale_from_origin(self.pixel) + self.area.origin().to_vec2();
        Some(InkOver { area: all.area * self.pixel * self.pixel, place, ..all })
    }

    /// Whether more than `limit` and its tolerance lies together there.
    pub fn is_over(&self, place: Point, limit: f64) -> bool {
        let pixel = |length: f64| (length / self.pixel).floor();
        let (column, row) = (pixel(place.x - self.area.x0), pixel(place.y - self.area.y0));
        if column < 0.0 || row < 0.0 || column >= self.width as f64 {
            return false;
        }
        let total = self.total.get(row as usize * self.width + column as usize);
        total.is_some_and(|total| f64::from(*total) > limit + TOLERANCE + ROUNDING)
    }
}
