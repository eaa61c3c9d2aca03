//! Black alone: greys as the share of black that looks as light on this press, measured on its profile.

use crate::assets::profile::turn::{Icc, Turn, compensating};
use crate::assets::{Model, Separation};
use lcms2::{GlobalContext, PixelFormat};

/// How much light comes back from black ink on this press, 1 as much as from its paper.
pub struct BlackScale {
    /// At each 255th of black, never rising.
    light: Vec<f64>,
}

impl BlackScale {
    /// `lightness`: CIELAB's L of black at each 255th, relative to paper.
    pub fn new(lightness: impl Iterator<Item = f64>) -> BlackScale {
        let mut least = 1.0_f64;
        let light = lightness.map(|lightness| {
            least = least.min(luminance(lightness));
            least
        });
        BlackScale { light: light.collect() }
    }

    /// The light of greys that are written as white less black, from dark to white.
    pub fn lights_of_greys(&self) -> Vec<f64> {
        self.light.iter().rev().copied().collect()
    }

    /// The share of black for a share of light. With black points matched, no light is solid black.
    pub fn ink(&self, light: f64, matched: bool) -> f64 {
        let (white, black) = (self.light.first().copied().unwrap_or(1.0), self.light.last().copied().unwrap_or(0.0));
        let light = light.clamp(0.0, 1.0);
        let wanted = if matched { black + (white - black) * light } else { light };
        // The first step that lets less light back, and how far between it and the one before.
        let after = self.light.partition_point(|step| *step > wanted);
        if after == 0 || after >= self.light.len() {
            return if after == 0 { 0.0 } else { 1.0 };
        }
        let (one, other) = (self.light[after - 1], self.light[after]);
        (after as f64 - 1.0 + (one - wanted) / (one - other)) / (self.light.len() - 1) as f64
    }
}

/// The share of light of every level of a grey, or of an RGB whose channels are equal.
pub fn lights(source: &Icc, model: Model, levels: usize) -> Option<Vec<f64>> {
    let share = |level: usize| level as f64 / (levels - 1) as f64;
    let seen = match model {
        Model::Grey => {
            seen(&(0..levels).map(|level| [share(level)]).collect::<Vec<_>>(), source, PixelFormat::GRAY_DBL)
        }
        Model::Rgb => {
            seen(&(0..levels).map(|level| [share(level); 3]).collect::<Vec<_>>(), source, PixelFormat::RGB_DBL)
        }
        Model::Cmyk => None,
    };
    Some(seen?.into_iter().map(|[_, light, _]| light).collect())
}

fn seen<const FROM: usize>(levels: &[[f64; FROM]], source: &Icc, format: PixelFormat) -> Option<Vec<[f64; 3]>>
where
    [f64; FROM]: lcms2::Pod,
{
    let xyz = Icc::new_xyz_context(GlobalContext::new());
    let turn: Turn<[f64; FROM], [f64; 3]> =
        compensating((source, format), (&xyz, PixelFormat::XYZ_DBL), plain()).ok()?;
    let mut lights = vec![[0.0; 3]; levels.len()];
    turn.transform_pixels(levels, &mut lights);
    Some(lights)
}

/// To measure light, black points stay where they are.
pub fn plain() -> Separation {
    Separation { keeps_black_point: true, ..Separation::default() }
}

/// CIE 15: from L to a share of the light of white.
pub fn luminance(lightness: f64) -> f64 {
    let root = (lightness + 16.0) / 116.0;
    if root > 6.0 / 29.0 { root.powi(3) } else { (root - 4.0 / 29.0) * 108.0 / 841.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn light_finds_its_ink() {
        // A press whose black takes the light away in a straight line, down to a tenth.
        let lightness = |light: f64| if light > 0.008_856 { 116.0 * light.cbrt() - 16.0 } else { 903.3 * light };
        let scale = BlackScale::new((0..256).map(|at| lightness(1.0 - 0.9 * f64::from(at) / 255.0)));
        assert!((scale.ink(0.55, false) - 0.5).abs() < 1e-9);
        assert!((scale.ink(0.5, true) - 0.5).abs() < 1e-9);
        assert_eq!((scale.ink(1.0, true), scale.ink(1.0, false)), (0.0, 0.0));
        assert_eq!((scale.ink(0.0, true), scale.ink(0.0, false)), (1.0, 1.0));
    }
}
