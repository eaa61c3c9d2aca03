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

/// Pixels per millimetre are whole, so that a sheet of whole millimetres is a picture of whole pixels.
pub const PIXELS_PER_MM: usize = 5;
pub const PPI: f64 = PIXELS_PER_MM as f64 * 25.4;

/// Draws the trimmed sheet at `PPI`, each pixel the mean of `fine` by `fine`.
pub fn separated(built: &Built, fine: u32) -> Separated {
    let folder = built.beside("plates");
    // Plates of an earlier run must not be taken for this one's.
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("makes a folder");
    ask(
        "gs",
        &[
            "-q",
            "-dBATCH",
            "-dNOPAUSE",
            "-dSAFER",
            "-dUseTrimBox",
            "-sDEVICE=tiffsep",
            &format!("-r{}", PPI * f64::from(fine)),
            &format!("-dDownScaleFactor={fine}"),
            &format!("-sOutputFile={folder}/sheet.tif"),
            &shown(&built.press()),
        ],
    );
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

fn plane(path: &Path) -> image::GrayImage {
    image::open(path).unwrap_or_else(|fault| panic!("{}: {fault}", path.display())).into_luma8()
}
