//! Texture: the printed sheet in linear light, and what the finisher did to it.

use crate::view::dot::Dot;
use crate::view::pyramid::Pyramid;
use crate::view::relief::{HEIGHT, rounded};
use glam::{Vec2, Vec3};

pub struct Texture {
    /// Linear light, 65535 is white.
    print: Pyramid<u16>,
    /// How much is foiled, how much varnished, and how high it stands.
    finishes: Option<Pyramid<u8>>,
    /// Pixels per millimetre, and the sheet's corner.
    scale: f32,
    corner: Vec2,
}

/// What the finisher did to a place of the sheet.
#[derive(Clone, Copy, Debug)]
pub struct FinishedPlace {
    /// How much of it is foiled, and how much is varnished.
    pub foil: f32,
    pub varnish: f32,
    /// How steeply it rises along the sheet and down the sheet.
    pub slope: Vec2,
}

impl Texture {
    /// From bytes of sRGB.
    pub fn new(rgb: &[u8], size: (usize, usize), scale: f32, corner: (f32, f32)) -> Texture {
        let linear: Vec<u16> =
            (0..256).map(|value| (to_linear(value as f32 / 255.0) * 65535.0).round() as u16).collect();
        let print = rgb.chunks_exact(3).map(|p| [linear[p[0] as usize], linear[p[1] as usize], linear[p[2] as usize]]);
        Texture { print: Pyramid::new(print.collect(), size), finishes: None, scale, corner: corner.into() }
    }

    /// Three bytes for every pixel: how much of it is foiled, how much is varnished, and how high it stands, 128 being flat.
    #[must_use]
    pub fn finished(self, finishes: &[u8]) -> Texture {
        let size = self.print.size();
        let rounded = rounded(finishes, size, self.scale);
        Texture { finishes: Some(Pyramid::new(rounded, size)), ..self }
    }

    /// The mean colour of what a pixel shows of the sheet.
    pub fn mean(&self, dot: &Dot) -> Vec3 {
        let at = (dot.place - self.corner) * self.scale;
        self.print.mean(at, (dot.across * self.scale, dot.down * self.scale), 65535.0)
    }

    /// What the finisher did there, if he did anything.
    pub fn finish(&self, dot: &Dot) -> Option<FinishedPlace> {
        let finishes = self.finishes.as_ref()?;
        let sides = (dot.across * self.scale, dot.down * self.scale);
        let mean = |place: Vec2| finishes.mean((place - self.corner) * self.scale, sides, 255.0);
        let here = mean(dot.place);
        // A pixel that is larger than the edge shows it over its own width.
        let step = (dot.across.length().max(dot.down.length()) * 0.5).max(1.0 / self.scale);
        let rise = |way: Vec2| (mean(dot.place + way * step).z - mean(dot.place - way * step).z) / (2.0 * step);
        let slope = Vec2::new(rise(Vec2::X), rise(Vec2::Y)) * HEIGHT;
        let place = FinishedPlace { foil: here.x, varnish: here.y, slope };
        (place.foil > 0.0 || place.varnish > 0.0 || slope != Vec2::ZERO).then_some(place)
    }
}

/// sRGB, IEC 61966-2-1.
pub fn to_linear(value: f32) -> f32 {
    if value <= 0.040_45 { value / 12.92 } else { libm::powf((value + 0.055) / 1.055, 2.4) }
}

pub fn to_srgb(value: f32) -> f32 {
    if value <= 0.003_130_8 { value * 12.92 } else { 1.055 * libm::powf(value, 1.0 / 2.4) - 0.055 }
}
