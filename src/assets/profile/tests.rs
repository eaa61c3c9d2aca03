//! The bundled profiles, pinned; and the engine against readers of its own.

use super::*;
use crate::assets::Pixels;
use crate::assets::profile::pixels::BAND;
use crate::ground::inflated;

#[test]
fn the_bundled_profiles_are_the_ones_their_readme_speaks_of() {
    use sha2::{Digest as _, Sha256};
    let hash = |bytes: &[u8]| {
        let digest: [u8; 32] = Sha256::digest(bytes).into();
        digest.map(|byte| format!("{byte:02x}")).concat()
    };
    assert_eq!(hash(COATED), "290b86b0788a803dc69b1b287faa27c1919d861c04f010d3217f971dc0c819e3");
    assert_eq!(hash(UNCOATED), "8af887a27fc97f94466c78400edb4fc174b330ecdee86b4f0226fef237acbb7d");
    for (stream, bytes) in [(COATED_STREAM, COATED), (UNCOATED_STREAM, UNCOATED)] {
        assert!(inflated(stream) == bytes, "the profile lies there as Python's zlib compressed it");
    }
    let conditions = Profile::BUNDLED.iter().map(|name| press(name).condition);
    assert_eq!(conditions.collect::<Vec<_>>(), ["FOGRA39", "FOGRA29"]);
    assert_eq!(press("coated").name(), "Coated FOGRA39 300% (open data)");
    assert_eq!(press("coated").ink_limit(), Some(3.0));
    assert!(Profile::bundled("newsprint").is_none());
}

#[test]
fn other_profiles_are_refused_by_what_they_are() {
    let refused = |bytes: &[u8]| Profile::open(Arc::from(bytes)).expect_err("no press profile").0;
    assert!(refused(b"").contains("not an ICC profile"));
    assert!(refused(&COATED[..500]).contains("cut short"));
    let srgb = Icc::new_srgb_context(GlobalContext::new()).icc().expect("writes to memory");
    assert!(refused(&srgb).contains("not a CMYK profile"));
    let mut link = COATED.to_vec();
    link[12..16].copy_from_slice(b"link");
    assert!(refused(&link).contains("`prtr`"));
    let mut next = COATED.to_vec();
    next[8] = 5;
    assert!(refused(&next).contains("version 5; press files take versions up to 4"));
    assert!(refused(&COATED[..COATED.len() - 1]).contains("cut short"));
    let mut connected = COATED.to_vec();
    connected[20..24].copy_from_slice(b"Luv ");
    assert!(refused(&connected).contains("connection space"));
    let mut tag = COATED.to_vec();
    tag[136..140].copy_from_slice(&[0xff; 4]);
    assert!(refused(&tag).contains("a tag reaches beyond its end"));
}

/// Cut short and changed here and there, a profile is refused or used; nothing else happens.
#[test]
fn damaged_profiles_are_refused_or_used() {
    let try_out = |bytes: Vec<u8>| {
        if let Ok(press) = Profile::open(Arc::from(bytes)) {
            press.press_colour([200, 30, 40]);
            press.black_alone(128);
        }
    };
    for end in (0..3000).step_by(61).chain([COATED.len() / 2]) {
        try_out(COATED[..end].to_vec());
    }
    let mut seed = 7_u64;
    for _ in 0..60 {
        let mut bytes = COATED.to_vec();
        for _ in 0..6 {
            // A linear congruential generator (Knuth, The Art of Computer Programming, 3.3.4).
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
            // Half of the changes are in what the engine reads first.
            let within = if seed >> 20 & 1 == 0 { 400 } else { bytes.len() };
            bytes[(seed >> 33) as usize % within] = (seed >> 24) as u8;
        }
        try_out(bytes);
    }
}

#[test]
fn the_name_that_a_profile_brings_is_the_one_it_keeps() {
    let called = |name: &str| press("coated").called(name).condition().to_owned();
    assert_eq!([called("FOGRA51"), called("Fogra 39")], ["FOGRA39", "Fogra 39"]);
}

#[test]
fn a_profile_that_names_no_condition_is_called_by_its_description() {
    let mut nameless = COATED.to_vec();
    let targ = nameless.windows(4).position(|four| four == b"targ").expect("the bundled profile has the tag");
    nameless[targ..targ + 4].copy_from_slice(b"zzzz");
    let press = Profile::open(Arc::from(nameless)).expect("it is still a press profile");
    assert_eq!((press.condition(), press.ink_limit()), ("Coated FOGRA39 300% (open data)", Some(3.0)));
    assert_eq!((press.characterised(), self::press("coated").characterised()), (None, Some("FOGRA39")));
}

#[test]
fn converts_as_another_program_does() {
    // Pillow 13.0.0 (PyPI; ImageCms with LittleCMS 2.19), sRGB to press, relative with black point compensation; and
    // press to sRGB, relative without. Both without the engine's shortcuts (NOOPTIMIZE), which stray by up to 12.
    for (name, inks, lights) in [("coated", COATED_INK, COATED_LIGHT), ("uncoated", UNCOATED_INK, UNCOATED_LIGHT)] {
        let press = press(name);
        let rgb: Vec<u8> = inks.iter().flat_map(|(rgb, _)| *rgb).collect();
        let expected: Vec<u8> = inks.iter().flat_map(|(_, cmyk)| *cmyk).collect();
        near(&turned(&press, &rgb), &expected);
        let cmyk: Vec<u8> = lights.iter().flat_map(|(cmyk, _)| *cmyk).collect();
        let expected: Vec<u8> = lights.iter().flat_map(|(_, rgb)| *rgb).collect();
        near(&press.screen_pixels(&cmyk), &expected);
    }
}

#[test]
fn the_bands_do_not_show() {
    let press = press("coated");
    let rgb: Vec<u8> = (0..3 * (2 * BAND + 77)).map(|at| (at * 7919 % 251) as u8).collect();
    let alone = rayon::ThreadPoolBuilder::new().num_threads(1).build().expect("one thread");
    let one = alone.install(|| turned(&press, &rgb));
    assert!(turned(&press, &rgb) == one);
    for at in [0, BAND - 1, BAND, 2 * BAND, 2 * BAND + 76] {
        assert_eq!(turned(&press, &rgb[at * 3..at * 3 + 3]), one[at * 4..at * 4 + 4]);
    }
}

fn turned(press: &Profile, rgb: &[u8]) -> Vec<u8> {
    press.usual().separate(&Pixels::opaque(rgb.to_vec()))
}

#[test]
fn solids_measure_as_published() {
    // Solids of the FOGRA39L characterisation data (as in Debian's icc-profiles-free), absolute CIELAB to a whole unit.
    // The profile speaks relative to paper, so the paper's white goes back in.
    let press = press("coated");
    let published = [
        ([0.0, 0.0, 0.0, 0.0], [95.0, 0.0, -2.0]),
        ([1.0, 0.0, 0.0, 0.0], [55.0, -37.0, -50.0]),
        ([0.0, 1.0, 0.0, 0.0], [48.0, 74.0, -3.0]),
        ([0.0, 0.0, 1.0, 0.0], [89.0, -5.0, 93.0]),
        ([0.0, 0.0, 0.0, 1.0], [16.0, 0.0, 0.0]),
    ];
    for (inks, expected) in published {
        let found = on_paper(press.lab(inks), [95.0, 0.0, -2.0]);
        assert!(difference(found, expected) < 1.0, "{inks:?}: {found:?}, published {expected:?}");
    }
}

#[test]
fn colours_find_their_inks_and_own_up_to_what_is_lost() {
    // The figures of profiles/README.md, made with transicc in double precision.
    let press = press("coated");
    let (black, off) = press.press_colour([0, 0, 0]);
    for (ink, stated) in black.iter().zip([0.774, 0.678, 0.586, 0.958]) {
        assert!((ink - stated).abs() < 0.0015, "{black:?}");
    }
    assert!((5.0..12.0).contains(&off), "screen black is far below the darkest print: {off}");
    let (grey, off) = press.press_colour([128; 3]);
    for (ink, stated) in grey.iter().zip([0.502, 0.402, 0.399, 0.176]) {
        assert!((ink - stated).abs() < 0.0015, "{grey:?}");
    }
    assert!(off < 5.0, "{off}");
    assert_eq!(press.press_colour([255; 3]), ([0.0; 4], press.press_colour([255; 3]).1));
    assert!(press.press_colour([255; 3]).1 < 0.05);
    assert!(press.press_colour([0, 255, 0]).1 > 10.0, "no press prints screen green");
}

fn press(name: &str) -> Profile {
    Profile::bundled(name).expect("bundled")
}

fn near(found: &[u8], expected: &[u8]) {
    assert_eq!(found.len(), expected.len());
    for (at, (found, expected)) in found.iter().zip(expected).enumerate() {
        assert!(found.abs_diff(*expected) <= 1, "sample {at}: {found}, not {expected}");
    }
}

/// CIELAB relative to paper, seen beside a perfect white: XYZ scaled by the paper's (ICC.1, media-relative colorimetry).
fn on_paper(lab: [f64; 3], paper: [f64; 3]) -> [f64; 3] {
    let cubed = |t: f64| if t > 6.0 / 29.0 { t.powi(3) } else { (t - 4.0 / 29.0) * 108.0 / 841.0 };
    let rooted = |t: f64| if t > (6.0_f64 / 29.0).powi(3) { t.cbrt() } else { t * 841.0 / 108.0 + 4.0 / 29.0 };
    let shares = |[l, a, b]: [f64; 3]| {
        let y = (l + 16.0) / 116.0;
        [y + a / 500.0, y, y - b / 200.0].map(cubed)
    };
    let (ink, paper) = (shares(lab), shares(paper));
    let [x, y, z] = std::array::from_fn(|at| rooted(ink[at] * paper[at]));
    [116.0 * y - 16.0, 500.0 * (x - y), 200.0 * (y - z)]
}

#[rustfmt::skip]
const COATED_INK: [([u8; 3], [u8; 4]); 20] = [
    ([255, 255, 255], [0, 0, 0, 0]),
    ([0, 0, 0], [197, 173, 149, 244]),
    ([128, 128, 128], [128, 103, 102, 45]),
    ([255, 0, 0], [0, 242, 255, 0]),
    ([0, 255, 0], [172, 0, 255, 0]),
    ([0, 0, 255], [255, 215, 0, 0]),
    ([255, 255, 0], [29, 0, 243, 0]),
    ([0, 255, 255], [143, 0, 65, 0]),
    ([255, 0, 255], [111, 206, 0, 0]),
    ([47, 111, 126], [198, 91, 92, 61]),
    ([230, 180, 40], [26, 74, 228, 4]),
    ([12, 30, 60], [232, 176, 48, 182]),
    ([200, 190, 170], [66, 59, 89, 0]),
    ([90, 20, 30], [99, 243, 175, 151]),
    ([165, 77, 202], [148, 204, 0, 0]),
    ([24, 37, 48], [206, 153, 110, 188]),
    ([187, 29, 109], [39, 242, 35, 34]),
    ([19, 44, 222], [255, 215, 0, 0]),
    ([214, 35, 123], [16, 237, 21, 13]),
    ([46, 217, 30], [179, 0, 255, 0]),
];

#[rustfmt::skip]
const UNCOATED_INK: [([u8; 3], [u8; 4]); 20] = [
    ([255, 255, 255], [0, 0, 0, 0]),
    ([0, 0, 0], [249, 115, 86, 244]),
    ([128, 128, 128], [111, 90, 81, 54]),
    ([255, 0, 0], [0, 239, 255, 0]),
    ([0, 255, 0], [139, 0, 224, 0]),
    ([0, 0, 255], [255, 226, 0, 0]),
    ([255, 255, 0], [22, 0, 241, 0]),
    ([0, 255, 255], [124, 0, 48, 0]),
    ([255, 0, 255], [90, 206, 0, 0]),
    ([47, 111, 126], [200, 57, 60, 81]),
    ([230, 180, 40], [15, 55, 235, 9]),
    ([12, 30, 60], [246, 151, 2, 188]),
    ([200, 190, 170], [57, 52, 77, 0]),
    ([90, 20, 30], [16, 255, 111, 177]),
    ([165, 77, 202], [142, 213, 0, 0]),
    ([24, 37, 48], [212, 109, 54, 205]),
    ([187, 29, 109], [12, 255, 16, 39]),
    ([19, 44, 222], [255, 231, 0, 0]),
    ([214, 35, 123], [7, 255, 15, 11]),
    ([46, 217, 30], [161, 0, 252, 0]),
];

#[rustfmt::skip]
const COATED_LIGHT: [([u8; 4], [u8; 3]); 18] = [
    ([0, 0, 0, 0], [255, 255, 255]),
    ([255, 0, 0, 0], [0, 160, 228]),
    ([0, 255, 0, 0], [230, 12, 128]),
    ([0, 0, 255, 0], [255, 238, 0]),
    ([0, 0, 0, 255], [43, 43, 42]),
    ([255, 255, 0, 0], [58, 50, 134]),
    ([0, 255, 255, 0], [228, 31, 37]),
    ([255, 0, 255, 0], [0, 152, 71]),
    ([128, 0, 0, 0], [132, 208, 245]),
    ([0, 0, 0, 128], [158, 158, 158]),
    ([102, 77, 77, 255], [34, 35, 35]),
    ([160, 130, 120, 200], [52, 54, 55]),
    ([63, 114, 31, 203], [77, 62, 71]),
    ([25, 113, 23, 68], [183, 137, 157]),
    ([148, 214, 73, 60], [115, 64, 104]),
    ([157, 92, 52, 96], [87, 110, 132]),
    ([190, 49, 32, 30], [46, 149, 186]),
    ([105, 254, 218, 160], [89, 37, 36]),
];

#[rustfmt::skip]
const UNCOATED_LIGHT: [([u8; 4], [u8; 3]); 18] = [
    ([0, 0, 0, 0], [255, 255, 255]),
    ([255, 0, 0, 0], [0, 166, 224]),
    ([0, 255, 0, 0], [230, 84, 146]),
    ([0, 0, 255, 0], [255, 234, 50]),
    ([0, 0, 0, 255], [84, 78, 74]),
    ([255, 255, 0, 0], [84, 93, 148]),
    ([0, 255, 255, 0], [225, 80, 80]),
    ([255, 0, 255, 0], [18, 150, 93]),
    ([128, 0, 0, 0], [134, 207, 241]),
    ([0, 0, 0, 128], [157, 156, 154]),
    ([102, 77, 77, 255], [78, 74, 71]),
    ([160, 130, 120, 200], [82, 81, 79]),
    ([63, 114, 31, 203], [99, 88, 90]),
    ([25, 113, 23, 68], [180, 140, 155]),
    ([148, 214, 73, 60], [121, 96, 118]),
    ([157, 92, 52, 96], [106, 119, 131]),
    ([190, 49, 32, 30], [88, 151, 179]),
    ([105, 254, 218, 160], [99, 76, 71]),
];
