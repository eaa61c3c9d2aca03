//! The profile of screens, sRGB, as a file's bytes.

use lcms2::{GlobalContext, Profile};
use std::sync::LazyLock;

/// Version 2, which every program reads.
const VERSION: f64 = 2.1;
/// Where a profile's head has the date on which it was made (ICC.1), and the one that ours has: 1 January 2000. The engine
/// writes the day on which it runs.
const DATE: std::ops::Range<usize> = 24..36;
const MADE: [u8; 12] = [0x07, 0xD0, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0];

static SRGB: LazyLock<Vec<u8>> = LazyLock::new(|| {
    let mut profile = Profile::new_srgb_context(GlobalContext::new());
    profile.set_version(VERSION);
    let mut bytes = profile.icc().expect("the engine writes its own profile");
    if let Some(date) = bytes.get_mut(DATE) {
        date.copy_from_slice(&MADE);
    }
    bytes
});

pub fn srgb_profile() -> &'static [u8] {
    &SRGB
}
