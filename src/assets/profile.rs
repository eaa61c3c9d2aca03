//! Profile: an ICC profile and the press it stands for. With its folder the one door to the colour engine.

pub mod black;
mod colour_memo;
pub mod header;
mod ink_grid;
mod ink_tables;
mod limiter;
mod lut16;
mod nearest;
mod pixels;
mod press_pixels;
mod screen_walk;
mod separate;
mod source;
mod srgb;
mod toned;
mod turn;
mod turns;
mod walk;

pub use srgb::srgb_profile;
pub use turn::ProfileFault;

use crate::assets::profile::black::{BlackScale, lights, luminance};
use crate::assets::profile::header::ProfileHeader;
use crate::assets::profile::ink_tables::most_ink;
use crate::assets::profile::limiter::InkLimiter;
use crate::assets::profile::pixels::turn_all;
use crate::assets::profile::separate::RgbTurn;
use crate::assets::profile::turn::{Icc, opened, srgb};
use crate::assets::profile::turns::Turns;
use crate::assets::shelf::{PROFILE_LIMIT, ShelfFault};
use crate::assets::{InkLights, Model, Separation, difference};
use crate::ground::{Digest, Memo, Process, same_condition};
use lcms2::{GlobalContext, InfoType, Locale, Tag, TagSignature};
use std::sync::{Arc, LazyLock, OnceLock};

pub struct Profile {
    name: String,
    condition: String,
    bytes: Arc<[u8]>,
    stream: Option<&'static [u8]>,
    digest: Digest,
    ink_limit: Option<f64>,
    /// The characterisation data that it names itself.
    characterised: Option<String>,
    turns: Turns,
    /// From sRGB in 8 bits, the usual separation.
    usual: OnceLock<RgbTurn>,
    /// From other RGB and by other separations: those wanted last, since pictures become ink part by part.
    others: Memo<RgbTurn>,
    black: OnceLock<BlackScale>,
    lights: OnceLock<InkLights>,
    limiter: OnceLock<InkLimiter>,
}

const COATED: &[u8] = include_bytes!("profiles/coated-fogra39.icc");
const COATED_STREAM: &[u8] = include_bytes!("profiles/coated-fogra39.zlib");
const UNCOATED: &[u8] = include_bytes!("profiles/uncoated-fogra29.icc");
const UNCOATED_STREAM: &[u8] = include_bytes!("profiles/uncoated-fogra29.zlib");
/// Both bundled separations were computed within it; see `profiles/README.md`.
const BUNDLED_INK_LIMIT: f64 = 3.0;
/// Ways into ink that are remembered beside the usual one; each takes about a megabyte.
const OTHERS: usize = 4;
/// What its transforms take in memory beside the profile, at the least: an estimate.
const TABLES: usize = 2 << 20;
/// And for each of its bytes: tables keep in 16 bytes what it says in 6 or 8.
const SPREAD: usize = 3;

impl Profile {
    /// Names for `press NAME`.
    pub const BUNDLED: &'static [&'static str] = &["coated", "uncoated"];

    pub fn bundled(name: &str) -> Option<Profile> {
        let (bytes, stream) = match name {
            "coated" => (COATED, COATED_STREAM),
            "uncoated" => (UNCOATED, UNCOATED_STREAM),
            _ => return None,
        };
        let profile = Profile::untried(Arc::from(bytes)).ok()?;
        Some(Profile { ink_limit: Some(BUNDLED_INK_LIMIT), stream: Some(stream), ..profile })
    }

    /// A printer's own profile: class `prtr`, CMYK. Bytes behind its stated end are left out.
    pub fn open(bytes: Arc<[u8]>) -> Result<Profile, ProfileFault> {
        let profile = Profile::untried(bytes)?;
        profile.turns.prove(&profile.bytes)?;
        let ink_limit = most_ink(&profile.bytes);
        Ok(Profile { ink_limit, ..profile })
    }

    fn untried(bytes: Arc<[u8]>) -> Result<Profile, ProfileFault> {
        let length = bytes.len() as u64;
        if length > PROFILE_LIMIT {
            return Err(ProfileFault(ShelfFault::TooLarge { bytes: length, limit: PROFILE_LIMIT }.to_string()));
        }
        let header = ProfileHeader::read(&bytes).map_err(ProfileFault)?;
        let bytes = if header.size < bytes.len() { Arc::from(&bytes[..header.size]) } else { bytes };
        if header.space != *b"CMYK" {
            return Err(ProfileFault("it is not a CMYK profile; a press needs one".to_owned()));
        }
        if header.class != *b"prtr" {
            return Err(ProfileFault(
                "it is not an output profile (class `prtr`), so it stands for no press".to_owned(),
            ));
        }
        if ![*b"Lab ", *b"XYZ "].contains(&header.connection) {
            return Err(ProfileFault("its connection space is neither CIELAB nor XYZ".to_owned()));
        }
        let icc = opened(&bytes).map_err(|_| ProfileFault("it is not an ICC profile, or a damaged one".to_owned()))?;
        let name = description(&icc).unwrap_or_else(|| "an unnamed profile".to_owned());
        Ok(Profile {
            condition: condition(&icc).unwrap_or_else(|| name.clone()),
            characterised: condition(&icc),
            digest: Digest::of(&bytes),
            ink_limit: None,
            stream: None,
            turns: Turns::default(),
            usual: OnceLock::new(),
            others: Memo::bounded(OTHERS, |_| 1),
            black: OnceLock::new(),
            lights: OnceLock::new(),
            limiter: OnceLock::new(),
            name,
            bytes,
        })
    }

    /// What any profile calls itself.
    pub fn described(bytes: &[u8]) -> Option<String> {
        description(&Icc::new_icc_context(GlobalContext::new(), bytes).ok()?)
    }

    /// The same profile, called by the output condition that its owner names, unless it names another itself.
    #[must_use]
    pub fn called(mut self, condition: &str) -> Profile {
        if self.characterised.as_deref().is_none_or(|own| same_condition(own, condition)) {
            condition.clone_into(&mut self.condition);
        }
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

    /// The characterisation data that the profile itself names, whatever its owner calls it.
    pub fn characterised(&self) -> Option<&str> {
        self.characterised.as_deref()
    }

    pub fn bytes(&self) -> &[u8] {
        &self.bytes
    }

    /// Its bytes as a zlib stream, where it lies ready.
    pub fn stream(&self) -> Option<&'static [u8]> {
        self.stream
    }

    /// Bytes in memory: the profile, and the tables of its transforms.
    pub fn weight(&self) -> usize {
        self.bytes.len() + (self.bytes.len() * SPREAD).max(TABLES)
    }

    pub fn digest(&self) -> Digest {
        self.digest
    }

    /// The most ink at one point that its press takes, 1 a solid: by its own tables, where they tell.
    pub fn ink_limit(&self) -> Option<f64> {
        self.ink_limit
    }

    fn usual(&self) -> &RgbTurn {
        const TRIED: &str = "a profile is tried when it is opened, and the bundled ones by the tests";
        self.usual.get_or_init(|| {
            let press = opened(&self.bytes).expect(TRIED);
            RgbTurn::new(&srgb(), &press, &self.bytes, Separation::default(), false).expect(TRIED)
        })
    }

    fn black(&self) -> &BlackScale {
        self.black.get_or_init(|| {
            BlackScale::new((0..=255).map(|step| self.lab([0.0, 0.0, 0.0, f64::from(step) / 255.0])[0]))
        })
    }

    /// How much light its inks let back.
    pub fn ink_lights(&self) -> &InkLights {
        self.lights.get_or_init(|| {
            InkLights::new(|ink, share| {
                let mut inks = [0.0; 4];
                inks[ink] = share;
                luminance(self.lab(inks)[0])
            })
        })
    }

    fn limiter(&self) -> &InkLimiter {
        self.limiter.get_or_init(|| {
            InkLimiter::new(|mixtures| {
                let percents: Vec<[f64; 4]> = mixtures.iter().map(|inks| inks.map(|ink| ink * 100.0)).collect();
                let mut lab = vec![[0.0; 3]; percents.len()];
                self.turns.to_lab(&self.bytes).transform_pixels(&percents, &mut lab);
                lab
            })
        })
    }

    /// The share of black, to a tenth of a per cent, that looks as light as an sRGB grey; screen black is solid.
    pub fn black_alone(&self, grey: u8) -> f64 {
        static LIGHTS: LazyLock<Vec<f64>> =
            LazyLock::new(|| lights(&srgb(), Model::Rgb, 256).expect("the engine knows its own sRGB"));
        let ink = self.black().ink(LIGHTS[usize::from(grey)], true);
        tenths(ink, (ink * 255.0).round() as u8)
    }

    /// An sRGB colour in ink, to a tenth of a per cent, and how far off the print is (CIEDE2000, paper seen as white).
    pub fn press_colour(&self, rgb: [u8; 3]) -> (Process, f64) {
        let shares = rgb.map(|sample| f64::from(sample) / 255.0);
        let mut inks = [[0.0; 4]];
        self.turns.to_inks_exact(&self.bytes).transform_pixels(&[shares], &mut inks);
        let steps = self.usual().turn(rgb.map(|sample| u16::from(sample) * 257));
        let inks = std::array::from_fn(|ink| tenths(inks[0][ink].clamp(0.0, 100.0) / 100.0, steps[ink]));
        let mut wanted = [[0.0; 3]];
        self.turns.screen_to_lab().transform_pixels(&[shares], &mut wanted);
        (inks, difference(wanted[0], self.lab(inks)))
    }

    /// CIELAB (D50) of inks on this press, as measured with its paper.
    pub fn measured_lab(&self, inks: Process) -> [f64; 3] {
        let mut lab = [[0.0; 3]];
        self.turns.to_measured_lab(&self.bytes).transform_pixels(&[inks.map(|ink| ink * 100.0)], &mut lab);
        lab[0]
    }

    /// How process inks look on a screen: CMYK to sRGB, 8 bit, relative colorimetric without compensation.
    pub fn screen_pixels(&self, cmyk: &[u8]) -> Vec<u8> {
        turn_all(self.turns.to_screen(&self.bytes), cmyk)
    }

    /// CIELAB (D50) of inks on this press, relative to its paper.
    pub fn lab(&self, inks: Process) -> [f64; 3] {
        let mut lab = [[0.0; 3]];
        self.turns.to_lab(&self.bytes).transform_pixels(&[inks.map(|ink| ink * 100.0)], &mut lab);
        lab[0]
    }
}

impl std::fmt::Debug for Profile {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.condition)
    }
}

/// A share of ink to a tenth of a per cent, such that it falls on the same step of a plate as the pixels of a picture do.
/// Finer steps than a plate can hold would only turn paper white into four traces of ink.
fn tenths(share: f64, step: u8) -> f64 {
    let tenth = (share * 1000.0).round();
    let on_step = |tenth: &f64| (tenth / 1000.0 * 255.0).round() as u8 == step;
    let near =
        [tenth, tenth - 1.0, tenth + 1.0].into_iter().filter(|tenth| (0.0..=1000.0).contains(tenth)).find(on_step);
    near.unwrap_or_else(|| (f64::from(step) / 0.255).round()) / 1000.0
}

fn description(icc: &Icc) -> Option<String> {
    icc.info(InfoType::Description, Locale::none()).filter(|name| !name.trim().is_empty())
}

/// The characterisation set a profile names in its `targ` tag: `ICCHDAT FOGRA39`.
fn condition(icc: &Icc) -> Option<String> {
    let Tag::MLU(text) = icc.read_tag(TagSignature::CharTargetTag) else { return None };
    let text = text.text(Locale::none()).ok()?;
    let name = text.trim_end_matches('\0').strip_prefix("ICCHDAT ")?.trim().to_owned();
    (!name.is_empty()).then_some(name)
}

#[cfg(test)]
mod limiter_tests;
#[cfg(test)]
mod press_tests;
#[cfg(test)]
mod tests;
