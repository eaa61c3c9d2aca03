//! Toned: a picture in inks of its own. Its tone is the share of black that looks as light on this press.

use crate::assets::profile::black::{BlackScale, lights, plain};
use crate::assets::profile::separate::turned;
use crate::assets::profile::source::{format, source};
use crate::assets::profile::turn::{Icc, Turn, compensating, opened, srgb};
use crate::assets::{Model, Picture, Pixels, Profile, Separation, Tones};
use lcms2::{GlobalContext, PixelFormat, Pod};

impl Profile {
    /// The samples of a picture on the plates of its tones, side by side.
    pub(super) fn toned(&self, picture: &Picture, pixels: &Pixels, separation: Separation, tones: &Tones) -> Vec<u8> {
        tones.laid(self.tones_of(picture, pixels, separation).into_iter())
    }

    fn tones_of(&self, picture: &Picture, pixels: &Pixels, separation: Separation) -> Vec<u16> {
        let numbers = self.takes_numbers(picture, separation);
        match picture.model() {
            Model::Grey | Model::Rgb if !numbers && (picture.model() == Model::Grey || picture.is_neutral()) => {
                self.by_level(picture, pixels, separation, word).unwrap_or_else(|| whites_less(pixels))
            }
            Model::Grey => whites_less(pixels),
            model => {
                let own = source(picture).filter(|_| !numbers).or_else(|| opened(&self.bytes).ok());
                let from =
                    if model == Model::Rgb { source(picture).unwrap_or_else(srgb) } else { own.unwrap_or_else(srgb) };
                // The darkest mixture of a press is darker than its black, and no light is not what it means.
                let matched = model == Model::Rgb && separation.compensates();
                let tones = if model == Model::Rgb {
                    dark::<3>(&from, model, pixels, (self.black(), matched))
                } else {
                    dark::<4>(&from, model, pixels, (self.black(), matched))
                };
                tones.unwrap_or_else(|| vec![0; pixels.samples.len() / model.channels()])
            }
        }
    }

    /// Greys by their lightness: what `finish` makes of the share of black that each level stands for. Of RGB one channel
    /// tells all.
    pub(super) fn by_level<T: Copy>(
        &self,
        picture: &Picture,
        pixels: &Pixels,
        separation: Separation,
        finish: fn(f64) -> T,
    ) -> Option<Vec<T>> {
        let channels = picture.model().channels();
        let levels = if pixels.fine.is_some() { 1 << 16 } else { 1 << 8 };
        let own = source(picture).and_then(|source| lights(&source, picture.model(), levels));
        let lights = own.or_else(|| lights(&srgb(), Model::Rgb, levels).filter(|_| picture.model() == Model::Rgb))?;
        let ink = |light: &f64| finish(self.black().ink(*light, separation.compensates()));
        let inks: Vec<T> = lights.iter().map(ink).collect();
        let greys = pixels.samples.iter().step_by(channels);
        Some(match &pixels.fine {
            None => greys.map(|grey| inks[usize::from(*grey)]).collect(),
            Some(_) => pixels
                .words(0..pixels.samples.len())
                .iter()
                .step_by(channels)
                .map(|grey| inks[usize::from(*grey)])
                .collect(),
        })
    }
}

fn word(share: f64) -> u16 {
    (share.clamp(0.0, 1.0) * f64::from(u16::MAX)).round() as u16
}

/// The way a grey picture means black ink in print.
fn whites_less(pixels: &Pixels) -> Vec<u16> {
    pixels.words(0..pixels.samples.len()).into_iter().map(|grey| u16::MAX - grey).collect()
}

/// Colours by the light that comes back from them.
fn dark<const FROM: usize>(
    source: &Icc,
    model: Model,
    pixels: &Pixels,
    (black, matched): (&BlackScale, bool),
) -> Option<Vec<u16>>
where
    [u16; FROM]: Pod,
{
    let xyz = Icc::new_xyz_context(GlobalContext::new());
    let to_light: Turn<[u16; FROM], [f64; 3]> =
        compensating((source, format(model)), (&xyz, PixelFormat::XYZ_DBL), plain()).ok()?;
    Some(turned(pixels, |from: &[[u16; FROM]], to: &mut [u16]| {
        let mut lights = vec![[0.0; 3]; from.len()];
        to_light.transform_pixels(from, &mut lights);
        to.iter_mut().zip(lights).for_each(|(to, [_, light, _])| *to = word(black.ink(light, matched)));
    }))
}
