//! Plates: a press file ink by ink, as ghostscript separates it, overprint and all.

use crate::kit::{Built, ask, shown};
use std::collections::BTreeMap;
use std::path::Path;

/// Planes by the plate's name, 255 is solid, row by row.
pub struct Separated {
    pub width: usize,
    pub height: usize,
    pub planes: BTreeMap<String, Vec<u8>>,
}

/// Draws the trimmed sheet, each pixel the mean of `fine` by `fine`. With whole pixels to the millimetre, a sheet of
/// whole millimetres is a picture of whole pixels, and no reader must round.
pub fn separated(built: &Built, pixels_per_mm: u32, fine: u32) -> Separated {
    separated_by(MIDDLE, built, pixels_per_mm, fine)
}

/// A pixel is filled where a shape lies under its middle, not wherever one touches it; the word for that is kept from strange
/// files, and ours are none.
pub const MIDDLE: &[&str] = &["-c", "0 0 .setfilladjust2"];

/// With words that say which pixels a shape fills.
pub fn separated_by(fill: &[&str], built: &Built, pixels_per_mm: u32, fine: u32) -> Separated {
    let folder = built.beside("plates");
    // Plates of an earlier run must not be taken for this one's.
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("makes a folder");
    let resolution = format!("-r{}", f64::from(pixels_per_mm * fine) * 25.4);
    let scale = format!("-dDownScaleFactor={fine}");
    ghostscript(fill, built, &["-sDEVICE=tiffsep", &resolution, &scale, &format!("-sOutputFile={folder}/sheet.tif")]);
    let entries = std::fs::read_dir(&folder).expect("ghostscript wrote there").flatten();
    let mut all = Separated { width: 0, height: 0, planes: BTreeMap::new() };
    for path in entries.map(|entry| entry.path()) {
        // `sheet(Cyan).tif` is a plate, `sheet.tif` their sum.
        let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default();
        let Some((_, name)) = name.trim_end_matches(").tif").split_once('(') else { continue };
        let picture = plane(&path);
        (all.width, all.height) = (picture.width() as usize, picture.height() as usize);
        all.planes.insert(name.to_owned(), picture.into_raw().iter().map(|light| 255 - light).collect());
    }
    assert!(all.planes.contains_key("Black"), "{folder} holds no plates");
    all
}

pub fn ghostscript(fill: &[&str], built: &Built, words: &[&str]) {
    let press = shown(&built.press());
    let before = ["-q", "-dBATCH", "-dNOPAUSE", "-dNOSAFER", "-dDELAYBINDING", "-dUseTrimBox"];
    ask("gs", &[&before, words, fill, &["-f", &press]].concat());
}

fn plane(path: &Path) -> image::GrayImage {
    image::open(path).unwrap_or_else(|fault| panic!("{}: {fault}", path.display())).into_luma8()
}
