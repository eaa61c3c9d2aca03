//! Ink lights: how much light inks let back, so that pictures in ink can be averaged as an eye does, too.
//!
//! Each ink is taken as a filter, and the light of a mixture as their product. That is not a press, but near enough to
//! compare a mean with what it is a mean of: where all pixels are one colour, nothing changes.

use crate::assets::LightScale;
use crate::assets::profile::black::luminance;

pub struct InkLights {
    /// Of each process ink at each 255th, 1 as much as from paper; never rising.
    lights: [Vec<f32>; 4],
    /// The same as steps of darkness, which add up, and the level of light of each sum: quick, for every pixel of a picture.
    darks: [Vec<u16>; 4],
    levels: Vec<u8>,
    /// Levels of light in even steps for an eye, to keep a mean of it in a byte.
    scale: LightScale,
}

/// Steps of darkness for each unit of the natural logarithm, and the most of one ink: a thousandth of the light.
const STEPS: f32 = 256.0;
const DARKEST: f32 = 7.0;
/// Levels by which a mean of light may be off for being kept in bytes.
const SLACK: u8 = 1;
/// Halvings that find a share of ink to less than a 255th.
const HALVINGS: usize = 9;

impl InkLights {
    /// `light` says how much light comes back from an ink, by its number and share.
    pub fn new(light: impl Fn(usize, f64) -> f64) -> InkLights {
        let lights: [Vec<f32>; 4] = std::array::from_fn(|ink| {
            let mut least = 1.0_f32;
            let steps = (0..=255).map(|step| {
                least = least.min(light(ink, f64::from(step) / 255.0) as f32);
                least
            });
            steps.collect()
        });
        let of_lightness = |level: usize| luminance(level as f64 / 2.55);
        let scale = LightScale::new(&(0..256).map(of_lightness).collect::<Vec<_>>());
        let dark = |light: &f32| (-light.ln()).clamp(0.0, DARKEST) * STEPS;
        let darks = lights.each_ref().map(|lights| lights.iter().map(|light| dark(light).round() as u16).collect());
        let sums = 0..=4 * (DARKEST * STEPS) as u16;
        let levels = sums.map(|sum| scale.level((-f32::from(sum) / STEPS).exp())).collect();
        InkLights { lights, darks, levels, scale }
    }

    pub fn scale(&self) -> &LightScale {
        &self.scale
    }

    /// The level of light that comes back from inks.
    pub fn level(&self, inks: [u8; 4]) -> u8 {
        let dark: u16 = self.darks.iter().zip(inks).map(|(dark, ink)| dark[usize::from(ink)]).sum();
        self.levels[usize::from(dark)]
    }

    /// A mean of inks, thinned until as much light comes back from it as the mean of theirs.
    pub fn thinned(&self, inks: [u8; 4], level: u8) -> [u8; 4] {
        if level <= self.level(inks).saturating_add(SLACK) {
            return inks;
        }
        let (wanted, full) = (self.scale.light(level), inks.map(f32::from));
        let (mut thin, mut thick) = (0.0_f32, 1.0_f32);
        for _ in 0..HALVINGS {
            let middle = f32::midpoint(thin, thick);
            if self.light(full.map(|ink| ink * middle)) > wanted {
                thin = middle;
            } else {
                thick = middle;
            }
        }
        full.map(|ink| (ink * f32::midpoint(thin, thick)).round() as u8)
    }

    fn light(&self, inks: [f32; 4]) -> f32 {
        let of = |(lights, ink): (&Vec<f32>, f32)| {
            let below = ink as usize;
            let above = (below + 1).min(lights.len() - 1);
            lights[below] + (lights[above] - lights[below]) * (ink - below as f32)
        };
        self.lights.iter().zip(inks).map(of).product()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn half_of_the_light_of_paper_is_thin_ink_and_even_ink_stays() {
        // Filters that hold back all light but a tenth, in a straight line.
        let lights = InkLights::new(|_, share| 1.0 - 0.9 * share);
        for inks in [[0, 0, 0, 255], [9, 0, 80, 0], [0; 4], [255; 4]] {
            assert_eq!(lights.thinned(inks, lights.level(inks)), inks);
        }
        // Rich black beside paper, one pixel each: the mean of the inks is 128, and that of their light about a half.
        let half = lights.scale().level(f32::midpoint(1.0, 0.1_f32.powi(4)));
        let [ink, ..] = lights.thinned([128; 4], half);
        let back = (1.0 - 0.9 * f64::from(ink) / 255.0).powi(4);
        assert!((back - 0.5).abs() < 0.01, "{ink}: {back}");
    }
}
