//! Source: what a picture's numbers mean, as a profile that the engine takes.

use crate::assets::profile::turn::{D50, Icc, srgb};
use crate::assets::{Model, Picture, Primaries, StatedColours};
use lcms2::{CIExyY, CIExyYTRIPLE, GlobalContext, PixelFormat, ToneCurve};

/// IEC 61966-2-1, as ICC.1 writes such a curve: exponent, slope and shift of the curve, slope and end of the straight part.
const SRGB_CURVE: [f64; 5] = [2.4, 1.0 / 1.055, 0.055 / 1.055, 1.0 / 12.92, 0.040_45];
/// The kind of curve that has these five numbers (ICC.1, parametricCurveType 3; the engine counts from 1).
const SRGB_KIND: i16 = 4;

/// `None` where the numbers are ink, because the file says nothing else, or nothing that can be used. RGB is always light.
pub fn source(picture: &Picture) -> Option<Icc> {
    let model = picture.model();
    match (picture.space(), model) {
        (StatedColours::Profile(bytes), _) => {
            let own = Icc::new_icc_context(GlobalContext::new(), bytes).ok();
            own.or_else(|| (model == Model::Rgb).then(srgb))
        }
        (StatedColours::Light { gamma, primaries }, Model::Rgb) => {
            Some(light(*gamma, primaries.unwrap_or(Primaries::SRGB)).unwrap_or_else(srgb))
        }
        (StatedColours::Light { gamma, .. }, Model::Grey) => grey(&ToneCurve::new(*gamma)),
        (StatedColours::Srgb, Model::Grey) => grey(&ToneCurve::new_parametric(SRGB_KIND, &SRGB_CURVE).ok()?),
        (_, Model::Rgb) => Some(srgb()),
        _ => None,
    }
}

fn grey(curve: &ToneCurve) -> Option<Icc> {
    Icc::new_gray_context(GlobalContext::new(), &D50, curve).ok()
}

fn light(gamma: f64, primaries: Primaries) -> Option<Icc> {
    let place = |[x, y]: [f64; 2]| CIExyY { x, y, Y: 1.0 };
    let curve = ToneCurve::new(gamma);
    let [red, green, blue] = [primaries.red, primaries.green, primaries.blue].map(place);
    let colours = CIExyYTRIPLE { Red: red, Green: green, Blue: blue };
    Icc::new_rgb_context(GlobalContext::new(), &place(primaries.white), &colours, &[&curve, &curve, &curve]).ok()
}

/// How the engine takes 16 bits of a model.
pub fn format(model: Model) -> PixelFormat {
    match model {
        Model::Grey => PixelFormat::GRAY_16,
        Model::Rgb => PixelFormat::RGB_16,
        Model::Cmyk => PixelFormat::CMYK_16,
    }
}
