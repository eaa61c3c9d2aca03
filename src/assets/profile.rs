//! Profile: an ICC profile and the press it stands for. The one door to the colour engine.

use crate::assets::{Model, Picture};
use crate::ground::{Digest, Process};
use std::sync::Arc;

pub struct Profile {
    condition: String,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ProfileFault(pub String);

impl Profile {
    /// Names for `press NAME`.
    pub const BUNDLED: &'static [&'static str] = &["coated", "uncoated"];

    pub fn bundled(name: &str) -> Option<Profile> {
        let _ = name;
        unimplemented!()
    }
    /// A printer's own profile: class `prtr`, CMYK.
    pub fn open(bytes: Arc<[u8]>) -> Result<Profile, ProfileFault> {
        let _ = bytes;
        unimplemented!()
    }
    /// The profile's description.
    pub fn name(&self) -> &str {
        unimplemented!()
    }
    /// The output condition it characterises, for the output intent: `FOGRA39`.
    pub fn condition(&self) -> &str {
        &self.condition
    }
    pub fn bytes(&self) -> &[u8] {
        unimplemented!()
    }
    pub fn digest(&self) -> Digest {
        unimplemented!()
    }
    /// The most ink at one point that its press takes, 1 a solid, where known.
    pub fn ink_limit(&self) -> Option<f64> {
        unimplemented!()
    }
    /// Samples of a picture (8 bit) to this press's CMYK: relative colorimetric, black point compensated, from the
    /// picture's own profile or sRGB. CMYK pictures come back as they are; grey prints in black alone, as one channel.
    pub fn press_pixels(&self, picture: &Picture) -> (Model, Vec<u8>) {
        let _ = picture;
        unimplemented!()
    }
    /// An sRGB colour in ink, and how far off the print is (CIEDE2000).
    pub fn press_colour(&self, rgb: [u8; 3]) -> (Process, f64) {
        let _ = rgb;
        unimplemented!()
    }
    /// How process inks look on a screen: CMYK to sRGB, 8 bit, relative colorimetric without compensation.
    pub fn screen_pixels(&self, cmyk: &[u8]) -> Vec<u8> {
        let _ = cmyk;
        unimplemented!()
    }
    /// CIELAB (D50) of inks on this press, relative to its paper.
    pub fn lab(&self, inks: Process) -> [f64; 3] {
        let _ = inks;
        unimplemented!()
    }
}

impl std::fmt::Debug for Profile {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.condition)
    }
}
