//! Profiles, pictures and drawings damaged at random: each is refused or used, in time and without a panic. Some hundreds in
//! every run, thousands with `JACONET_LONG=1`.
#![expect(clippy::disallowed_methods, reason = "a test looks at the clock and at what it is asked for")]

use crate::assets::{Art, Darkroom, DrawnFrom, FilesBeside, Inking, Library, Picture, Profile, Separation};
use crate::ground::Digest;
use std::sync::Arc;
use std::time::{Duration, Instant};

/// A file that takes longer counts as hanging. This guards against hanging and does not measure speed: a second is what one
/// file may take, and a build without optimisation on a machine with other work is ten times as slow.
const LONGEST: Duration = Duration::from_secs(10);

/// A linear congruential generator (Numerical Recipes, from memory).
struct Spoiler(u32);

impl Spoiler {
    fn below(&mut self, end: usize) -> usize {
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (self.0 >> 8) as usize % end.max(1)
    }

    /// Cut off, bits flipped, numbers at their ends, pieces lost, doubled and put elsewhere; heads are hit most.
    fn spoil(&mut self, file: &[u8]) -> Vec<u8> {
        let mut bytes = file.to_vec();
        for _ in 0..=self.below(3) {
            let reach = if self.below(2) == 0 { bytes.len().min(600) } else { bytes.len() };
            let at = self.below(reach);
            let end = bytes.len().min(at + 1 + self.below(60));
            match self.below(7) {
                0 => bytes.truncate(at),
                1 | 2 if !bytes.is_empty() => bytes[at] ^= 1 << self.below(8),
                3 => bytes[at..end].fill([0, 0xff, 0x7f, 0x80][self.below(4)]),
                4 => drop(bytes.drain(at..end)),
                5 => {
                    let piece = bytes[at..end].to_vec();
                    let to = self.below(bytes.len());
                    drop(bytes.splice(to..to, piece));
                }
                _ => bytes[at..end].reverse(),
            }
        }
        bytes
    }
}

fn times(short: usize) -> usize {
    if std::env::var_os("JACONET_LONG").is_some() { short * 50 } else { short }
}

/// Tries so many damages of each file; returns how many were used all the same.
fn tried(files: &[(&str, Vec<u8>)], count: usize, used: impl Fn(&str, Vec<u8>) -> bool) -> usize {
    let mut spoiler = Spoiler(20_261_127);
    let mut whole = 0;
    for (name, file) in files {
        assert!(used(name, file.clone()), "{name} is sound");
        for turn in 0..count {
            let spoiled = spoiler.spoil(file);
            let begun = Instant::now();
            whole += usize::from(used(name, spoiled));
            assert!(begun.elapsed() < LONGEST, "{name}, damage {turn}: {:?}", begun.elapsed());
        }
    }
    whole
}

fn beside(folder: &str, endings: &[&str]) -> Vec<(String, Vec<u8>)> {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(folder);
    let entries = std::fs::read_dir(folder).expect("it is there").flatten().map(|entry| entry.path());
    let mut files: Vec<(String, Vec<u8>)> = entries
        .filter(|path| path.extension().is_some_and(|end| endings.iter().any(|ending| end == *ending)))
        .map(|path| {
            let name = path.file_name().expect("a file has a name").to_string_lossy().into_owned();
            (name, std::fs::read(&path).expect("it can be read"))
        })
        .collect();
    files.sort();
    files
}

fn press(bytes: Vec<u8>) -> Option<Profile> {
    Profile::open(bytes.into()).ok()
}

/// What a build asks of a profile.
fn prints(profile: &Profile, picture: &Picture) {
    let limited = Separation { limit: Some(240), inking: Inking::FourColour, ..Separation::default() };
    for separation in [Separation::default(), limited] {
        assert!(!profile.press_pixels(picture, separation).is_empty());
    }
    assert_eq!(profile.screen_pixels(&[9; 16]).len(), 12);
    std::hint::black_box((profile.press_colour([200, 30, 40]), profile.lab([0.9, 0.8, 0.7, 0.6]), profile.condition()));
}

#[test]
fn damaged_profiles() {
    let bundled = Profile::bundled("coated").expect("bundled").bytes().to_vec();
    let picture = Picture::open("deep.png", Arc::from(&include_bytes!("../../tests/pictures/deep.png")[..]));
    let picture = picture.expect("a picture");
    let whole = tried(&[("coated", bundled)], times(60), |_, bytes| {
        press(bytes).is_some_and(|profile| {
            prints(&profile, &picture);
            true
        })
    });
    assert!(whole > 0, "every damage was refused: nothing was tried beyond the head");
}

#[test]
fn damaged_pictures() {
    let coated = Profile::bundled("coated").expect("bundled");
    let readable = |name: &str| !["float.tif", "cmyk-planar.tif", "palette.tif", "rgb-other.tif"].contains(&name);
    let files = beside("tests/pictures", &["png", "jpg", "tif"]);
    let files: Vec<(&str, Vec<u8>)> = files
        .iter()
        .filter(|(name, bytes)| readable(name) && Picture::open(name, bytes.clone().into()).is_ok())
        .map(|(name, bytes)| (name.as_str(), bytes.clone()))
        .collect();
    assert!(files.len() > 20, "{}", files.len());
    let whole = tried(&files, times(25), |name, bytes| {
        Picture::open(name, bytes.into()).is_ok_and(|picture| {
            // What damage made gigantic only takes time here: bounds have tests of their own.
            if picture.width() < 2000 && picture.height() < 2000 {
                assert!(!coated.press_pixels(&picture, Separation::default()).is_empty());
                picture.darkness();
            }
            true
        })
    });
    assert!(whole > 0);
}

#[test]
fn damaged_drawings() {
    let mut files = beside("examples/salt-and-lanterns/art", &["svg"]);
    files.extend(beside("examples/the-quiet-instruments/art", &["svg"]));
    files.push(("styled.svg".to_owned(), STYLED.as_bytes().to_vec()));
    let files: Vec<(&str, Vec<u8>)> = files.iter().map(|(name, bytes)| (name.as_str(), bytes.clone())).collect();
    let library = Library::open(&[]).0;
    let whole = tried(&files, times(60), |name, bytes| {
        let sum = Digest::of_file(&bytes);
        Darkroom::default()
            .open(name, (bytes.into(), sum), DrawnFrom { library: &library, files: &FilesBeside::new() })
            .is_ok_and(|art| matches!(art, Art::Drawing(_)))
    });
    assert!(whole > 0);
}

const STYLED: &str = r##"<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" viewBox="0 0 90 60">
<style>.a { fill: #2f6f7e; stroke-width: 2 } #b { opacity: .5 }</style>
<defs><linearGradient id="g" x1="0" x2="1"><stop offset="0" stop-color="#fff"/><stop offset="1" stop-color="#024"/></linearGradient>
<clipPath id="c"><circle cx="30" cy="30" r="20"/></clipPath><symbol id="s" viewBox="0 0 9 9"><path d="M0 0h9v9z"/></symbol></defs>
<g clip-path="url(#c)" transform="rotate(12 30 30)"><rect class="a" width="60" height="60" fill="url(#g)"/></g>
<use xlink:href="#s" x="60" y="9" width="20" height="20"/><path id="b" d="M10 50C20 10 40 10 50 50S70 90 80 20" stroke="#a30" fill="none" stroke-dasharray="3 1"/>
</svg>"##;
