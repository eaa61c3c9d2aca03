//! Profile: an ICC profile and the press it stands for. The one door to the colour engine.

use crate::assets::{Model, Picture, difference};
use crate::ground::{Digest, Process};
use lcms2::{
    CIExyY, ColorSpaceSignature, DisallowCache, Flags, GlobalContext, InfoType, Intent, Locale, PixelFormat, Pod,
    ProfileClassSignature, Tag, TagSignature, Transform,
};
use rayon::prelude::*;
use std::sync::Arc;

/// Transforms are shared between threads, so none keeps a cache.
type Turn<From, To> = Transform<From, To, GlobalContext, DisallowCache>;
type Icc = lcms2::Profile<GlobalContext>;

pub struct Profile {
    name: String,
    condition: String,
    bytes: Arc<[u8]>,
    digest: Digest,
    ink_limit: Option<f64>,
    from_srgb: Turn<[u8; 3], [u8; 4]>,
    /// Shares 0 to 1 in, per cent of ink out.
    from_srgb_exact: Turn<[f64; 3], [f64; 4]>,
    to_srgb: Turn<[u8; 4], [u8; 3]>,
    to_lab: Turn<[f64; 4], [f64; 3]>,
    srgb_to_lab: Turn<[f64; 3], [f64; 3]>,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ProfileFault(pub String);

const COATED: &[u8] = include_bytes!("profiles/coated-fogra39.icc");
const UNCOATED: &[u8] = include_bytes!("profiles/uncoated-fogra29.icc");
/// Both bundled separations were computed within it; see `profiles/README.md`.
const BUNDLED_INK_LIMIT: f64 = 3.0;
/// What the tables of five transforms take in memory beside the profile: an estimate.
const TABLES: usize = 2 << 20;
/// Pixels a thread converts at a time.
const BAND: usize = 1 << 16;

impl Profile {
    /// Names for `press NAME`.
    pub const BUNDLED: &'static [&'static str] = &["coated", "uncoated"];

    pub fn bundled(name: &str) -> Option<Profile> {
        let bytes = match name {
            "coated" => COATED,
            "uncoated" => UNCOATED,
            _ => return None,
        };
        let mut profile = Profile::open(Arc::from(bytes)).ok()?;
        profile.ink_limit = Some(BUNDLED_INK_LIMIT);
        Some(profile)
    }

    /// A printer's own profile: class `prtr`, CMYK.
    pub fn open(bytes: Arc<[u8]>) -> Result<Profile, ProfileFault> {
        let icc = Icc::new_icc_context(GlobalContext::new(), &bytes)
            .map_err(|_| ProfileFault("it is not an ICC profile, or a damaged one".to_owned()))?;
        if icc.color_space() != ColorSpaceSignature::CmykData {
            return Err(ProfileFault("it is not a CMYK profile; a press needs one".to_owned()));
        }
        if icc.device_class() != ProfileClassSignature::OutputClass {
            return Err(ProfileFault(
                "it is not an output profile (class `prtr`), so it stands for no press".to_owned(),
            ));
        }
        let srgb = Icc::new_srgb_context(GlobalContext::new());
        let lab = Icc::new_lab4_context(GlobalContext::new(), &D50).map_err(incomplete)?;
        let name = icc.info(InfoType::Description, Locale::none()).filter(|name| !name.trim().is_empty());
        let name = name.unwrap_or_else(|| "an unnamed profile".to_owned());
        Ok(Profile {
            condition: condition(&icc).unwrap_or_else(|| name.clone()),
            digest: Digest::of(&bytes),
            ink_limit: None,
            from_srgb: compensated((&srgb, PixelFormat::RGB_8), (&icc, PixelFormat::CMYK_8))?,
            from_srgb_exact: compensated((&srgb, PixelFormat::RGB_DBL), (&icc, PixelFormat::CMYK_DBL))?,
            to_srgb: relative((&icc, PixelFormat::CMYK_8), (&srgb, PixelFormat::RGB_8))?,
            to_lab: relative((&icc, PixelFormat::CMYK_DBL), (&lab, PixelFormat::Lab_DBL))?,
            srgb_to_lab: relative((&srgb, PixelFormat::RGB_DBL), (&lab, PixelFormat::Lab_DBL))?,
            name,
            bytes,
        })
    }

    /// The same profile, called by the output condition that its owner names.
    #[must_use]
    pub fn called(mut self, condition: &str) -> Profile {
        condition.clone_into(&mut self.condition);
        self
    }

    /// The profile's description.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The output condition it characterises, for the output intent: `FOGRA39`. A profile that names none is called
    /// by its description.
    pub fn condition(&self) -> &str {
        &self.condition
    }

    pub fn bytes(&self) -> &[u8] {
        &self.bytes
    }

    /// Bytes in memory: the profile, and the tables of its transforms.
    pub fn weight(&self) -> usize {
        self.bytes.len() + TABLES
    }

    pub fn digest(&self) -> Digest {
        self.digest
    }

    /// The most ink at one point that its press takes, 1 a solid, where known.
    pub fn ink_limit(&self) -> Option<f64> {
        self.ink_limit
    }

    /// What a picture becomes on a press.
    pub fn press_model(model: Model) -> Model {
        match model {
            Model::Grey => Model::Grey,
            Model::Rgb | Model::Cmyk => Model::Cmyk,
        }
    }

    /// Samples of a picture (8 bit) to this press's CMYK: relative colorimetric, black point compensated, from the
    /// picture's own profile or sRGB. CMYK pictures come back as they are; grey prints in black alone, as one channel.
    pub fn press_pixels(&self, picture: &Picture) -> Vec<u8> {
        let samples = &picture.pixels().samples;
        match picture.model() {
            Model::Cmyk => samples.clone(),
            // The way a grey picture means black ink in print: white less what is written.
            Model::Grey => samples.iter().map(|grey| 255 - grey).collect(),
            Model::Rgb => {
                let own = picture.profile().and_then(|bytes| self.turn_from(bytes));
                let turn = own.as_ref().unwrap_or(&self.from_srgb);
                turn_all(turn, samples)
            }
        }
    }

    fn turn_from(&self, bytes: &[u8]) -> Option<Turn<[u8; 3], [u8; 4]>> {
        let own = Icc::new_icc_context(GlobalContext::new(), bytes).ok()?;
        let press = Icc::new_icc_context(GlobalContext::new(), &self.bytes).ok()?;
        compensated((&own, PixelFormat::RGB_8), (&press, PixelFormat::CMYK_8)).ok()
    }

    /// An sRGB colour in ink, to a tenth of a per cent, and how far off the print is (CIEDE2000, paper seen as white).
    pub fn press_colour(&self, rgb: [u8; 3]) -> (Process, f64) {
        let shares = rgb.map(|sample| f64::from(sample) / 255.0);
        let mut inks = [[0.0; 4]];
        self.from_srgb_exact.transform_pixels(&[shares], &mut inks);
        // Finer steps than a plate can hold would only turn paper white into four traces of ink.
        let inks = inks[0].map(|per_cent| (per_cent.clamp(0.0, 100.0) * 10.0).round() / 1000.0);
        let mut wanted = [[0.0; 3]];
        self.srgb_to_lab.transform_pixels(&[shares], &mut wanted);
        (inks, difference(wanted[0], self.lab(inks)))
    }

    /// How process inks look on a screen: CMYK to sRGB, 8 bit, relative colorimetric without compensation.
    pub fn screen_pixels(&self, cmyk: &[u8]) -> Vec<u8> {
        turn_all(&self.to_srgb, cmyk)
    }

    /// CIELAB (D50) of inks on this press, relative to its paper.
    pub fn lab(&self, inks: Process) -> [f64; 3] {
        let mut lab = [[0.0; 3]];
        self.to_lab.transform_pixels(&[inks.map(|ink| ink * 100.0)], &mut lab);
        lab[0]
    }
}

impl std::fmt::Debug for Profile {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.condition)
    }
}

/// The white of the profile connection space (ICC.1: X 0.9642, Y 1, Z 0.8249).
const D50: CIExyY = CIExyY { x: 0.345_702_914_9, y: 0.358_538_596_6, Y: 1.0 };

fn relative<From: Pod, To: Pod>(
    from: (&Icc, PixelFormat),
    to: (&Icc, PixelFormat),
) -> Result<Turn<From, To>, ProfileFault> {
    turn(from, to, Flags::NO_CACHE)
}

fn compensated<From: Pod, To: Pod>(
    from: (&Icc, PixelFormat),
    to: (&Icc, PixelFormat),
) -> Result<Turn<From, To>, ProfileFault> {
    turn(from, to, Flags::BLACKPOINT_COMPENSATION | Flags::NO_CACHE)
}

fn turn<From: Pod, To: Pod>(
    (from, from_format): (&Icc, PixelFormat),
    (to, to_format): (&Icc, PixelFormat),
    flags: Flags<DisallowCache>,
) -> Result<Turn<From, To>, ProfileFault> {
    let intent = Intent::RelativeColorimetric;
    Transform::new_flags_context(GlobalContext::new(), from, from_format, to, to_format, intent, flags)
        .map_err(incomplete)
}

fn incomplete(_: lcms2::Error) -> ProfileFault {
    ProfileFault("it lacks the tables to convert with, or they are damaged".to_owned())
}

/// Each pixel is turned by itself, so the bands and their number do not show in the result.
fn turn_all<const FROM: usize, const TO: usize>(turn: &Turn<[u8; FROM], [u8; TO]>, samples: &[u8]) -> Vec<u8>
where
    [u8; FROM]: Pod,
    [u8; TO]: Pod,
{
    let pixels = samples.as_chunks::<FROM>().0;
    let mut turned = vec![0; pixels.len() * TO];
    pixels
        .par_chunks(BAND)
        .zip(turned.as_chunks_mut::<TO>().0.par_chunks_mut(BAND))
        .for_each(|(from, to)| turn.transform_pixels(from, to));
    turned
}

/// The characterisation set a profile names in its `targ` tag: `ICCHDAT FOGRA39`.
fn condition(icc: &Icc) -> Option<String> {
    let Tag::MLU(text) = icc.read_tag(TagSignature::CharTargetTag) else { return None };
    let text = text.text(Locale::none()).ok()?;
    let name = text.trim_end_matches('\0').strip_prefix("ICCHDAT ")?.trim().to_owned();
    (!name.is_empty()).then_some(name)
}

#[cfg(test)]
mod tests;
