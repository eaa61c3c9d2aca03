//! Inks: every swatch read back from ghostscript's plates, to one part in 255.

use crate::kit::{self, cover, examples};
use crate::patches::{PATCHES, files, middle, text};
use crate::plates::{Separated, separated};
use crate::python::python;

const PIXELS_PER_MM: u32 = 5;
/// Parts of 255 that a plate may be off.
const SLACK: f64 = 1.0;

#[test]
fn every_patch_reads_back() {
    let more = "
    band ramp { gradient night lemon angle=0; left 6; width 90; top 104; height 10 }
    band spot-ramp { gradient red unprinted angle=0; left 6; width 90; top 118; height 10 }
    band sea { swatch sea; left 6; width 10; top 132; height 10 }
    band clay { swatch clay; left 20; width 10; top 132; height 10 }";
    let files = files();
    let files: Vec<(&str, &[u8])> = files.iter().map(|(name, bytes)| (*name, bytes.as_slice())).collect();
    let built = cover("patches", &text(more), &files, &["--only", "press"]);
    let sheet = separated(&built, PIXELS_PER_MM, 1);
    let mut wrong = Vec::new();
    for (at, patch) in PATCHES.iter().enumerate() {
        wrong.extend(differences(&sheet, patch.name, middle(at), patch.plates));
    }
    // A run from ink to ink is straight in every plate.
    for x in [8, 29, 51, 73, 94] {
        // The middle of a pixel.
        let x = f64::from(x) + 0.5 / f64::from(PIXELS_PER_MM);
        let share = (x - 6.0) / 90.0;
        let mix = |from: f64, to: f64| from + (to - from) * share;
        let night = [
            ("Cyan", mix(92.0, 0.0)),
            ("Magenta", mix(74.0, 0.0)),
            ("Yellow", mix(38.0, 88.0)),
            ("Black", mix(42.0, 0.0)),
        ];
        wrong.extend(differences(&sheet, "gradient", (x, 109.0), &night));
        wrong.extend(differences(&sheet, "gradient of a spot", (x, 123.0), &[("House red", mix(100.0, 0.0))]));
    }
    // Screen colours through the press profile, as Pillow's colour engine takes them.
    for (name, colour, x) in [("sea", "2f6f7e", 11.0), ("clay", "b0623c", 25.0)] {
        let stated = python("convert.py", &["src/assets/profiles/coated-fogra39.icc", colour]);
        let inks: Vec<f64> =
            stated.split_whitespace().map(|byte| byte.parse::<f64>().expect("a byte") / 2.55).collect();
        let names = ["Cyan", "Magenta", "Yellow", "Black"];
        let wanted: Vec<(&str, f64)> = names.into_iter().zip(inks).collect();
        wrong.extend(differences(&sheet, name, (x, 137.0), &wanted));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    let plates: Vec<&str> = sheet.planes.keys().map(String::as_str).collect();
    assert_eq!(plates, ["Black", "Cyan", "House red", "Magenta", "Silver foil", "Yellow"]);
}

/// A grid of screen colours, a photograph, and a grid of the inks of another press: 46,656 colours, 120,000 and 14,641.
#[test]
fn pictures_are_separated_as_another_engine_does_without_shortcuts() {
    let folder = kit::room().join("covers/dense");
    std::fs::create_dir_all(&folder).expect("makes a folder");
    python("dense.py", &["make", &kit::shown(&folder)]);
    let image =
        |name: &str, file: &str, top: u32| format!("image {name} file=\"{file}\" {{ left 10; width 20; top {top} }}\n");
    let images =
        [image("grid", "grid.png", 10), image("photograph", "photograph.png", 50), image("inks", "inks.tif", 90)];
    let cover = format!(
        "book {{ title \"Grid\"; pages 320 }}\nformat paperback {{ trim 129 198 }}\npanel front {{\n{}}}\n",
        images.concat()
    );
    let built = kit::cover("dense", &cover, &[], &["--only", "press"]);
    let said = python("dense.py", &["compare", &kit::shown(&folder), &kit::shown(&built.press())]);
    let lines: Vec<Vec<&str>> = said.lines().map(|line| line.split(' ').collect()).collect();
    assert_eq!(lines.len(), 3, "{said}");
    assert!(lines.iter().all(|line| line[1].parse::<u8>().is_ok_and(|most| most <= 1) && line[2] == "0"), "{said}");
}

/// Millimetres from the trim's upper left corner.
pub type Place = (f64, f64);
/// Percent by the plate's name; a plate not named reads 0.
pub type Plates<'a> = &'a [(&'a str, f64)];

/// Places on the examples where one swatch lies alone, in millimetres from the trim.
#[test]
fn the_swatches_of_the_examples_read_back() {
    let ribbon: Plates<'_> = &[("Cyan", 14.0), ("Magenta", 88.0), ("Yellow", 92.0), ("Black", 6.0)];
    let salt: Plates<'_> = &[("Cyan", 3.0), ("Magenta", 4.0), ("Yellow", 12.0)];
    let deep: Plates<'_> = &[("Cyan", 85.0), ("Magenta", 50.0), ("Yellow", 62.0), ("Black", 69.0)];
    let bone: Plates<'_> = &[("Cyan", 3.0), ("Magenta", 5.0), ("Yellow", 14.0)];
    let night: Plates<'_> = &[("Cyan", 89.0), ("Magenta", 70.0), ("Yellow", 24.0), ("Black", 72.0)];
    let lamp: Plates<'_> = &[("Magenta", 38.0), ("Yellow", 88.0)];
    let vermilion: Plates<'_> = &[("Cyan", 8.0), ("Magenta", 86.0), ("Yellow", 86.0), ("Black", 2.0)];
    let brass: Plates<'_> = &[("Cyan", 16.0), ("Magenta", 34.0), ("Yellow", 68.0), ("Black", 2.0)];
    let moss: Plates<'_> = &[("Cyan", 86.0), ("Magenta", 47.0), ("Yellow", 65.0), ("Black", 50.0)];
    // A foil leaves printed what lies under it.
    let foil_on_moss: Plates<'_> =
        &[("Cyan", 86.0), ("Magenta", 47.0), ("Yellow", 65.0), ("Black", 50.0), ("Gold foil", 100.0)];
    let foil_on_deep: Plates<'_> =
        &[("Cyan", 85.0), ("Magenta", 50.0), ("Yellow", 62.0), ("Black", 69.0), ("Gold foil", 100.0)];
    let leaf: Plates<'_> = &[("Cyan", 86.0), ("Magenta", 48.0), ("Yellow", 69.0), ("Black", 61.0)];
    let brick: Plates<'_> = &[("Cyan", 16.0), ("Magenta", 72.0), ("Yellow", 90.0), ("Black", 8.0)];
    let cream: Plates<'_> = &[("Cyan", 2.0), ("Magenta", 5.0), ("Yellow", 16.0)];
    let grey: Plates<'_> = &[("Black", 85.0)];
    let mut wrong = Vec::new();
    for built in examples() {
        let sheet = separated(built, PIXELS_PER_MM, 1);
        // The ribbon on back, spine and front, the paper at the back's foot, both lanterns; the jacket's cloth, flaps, art
        // and foil; strokes of the Hebrew title, question, author and life, and the ornament.
        let places: &[(Place, Plates<'_>)] = match built.stem.as_str() {
            "salt-and-lanterns" => &[
                ((3.0, 52.0), ribbon),
                ((138.66, 55.5), ribbon),
                ((275.0, 52.0), ribbon),
                ((60.0, 195.0), salt),
                ((240.75, 83.95), night),
                ((137.45, 70.35), lamp),
            ],
            "the-quiet-instruments" => &[
                ((100.0, 5.0), deep),
                ((265.0, 5.0), deep),
                ((425.0, 5.0), deep),
                ((3.0, 120.0), bone),
                ((525.0, 120.0), bone),
                ((429.35, 152.45), moss),
                ((368.75, 162.95), vermilion),
                ((164.35, 72.45), brass),
                ((352.55, 166.95), foil_on_moss),
                ((367.35, 59.35), foil_on_deep),
            ],
            _ => &[
                ((56.25, 53.85), leaf),
                ((231.35, 23.55), brick),
                ((275.15, 105.95), brick),
                ((85.35, 199.85), cream),
                ((278.85, 114.35), grey),
            ],
        };
        for (place, plates) in places {
            wrong.extend(differences(&sheet, &built.stem, *place, plates));
        }
        wrong.extend(letters(&built.stem, &sheet));
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// The text swatch inside letters: within the text's frame, the darkest black of pixels that hold nothing else.
fn letters(stem: &str, sheet: &Separated) -> Option<String> {
    // A paragraph's frame in millimetres, and the black of its swatch; all of them lie on a ground without black.
    let (frame, wanted) = match stem {
        "salt-and-lanterns" => ([10.0, 66.0, 115.0, 130.0], 80.0),
        "the-quiet-instruments" => ([460.0, 60.0, 520.0, 200.0], 85.0),
        _ => return None,
    };
    let [left, top, right, bottom] = frame.map(|mm| (mm * f64::from(PIXELS_PER_MM)) as usize);
    let black = &sheet.planes["Black"];
    let rows = (top..bottom).map(|row| &black[row * sheet.width + left..row * sheet.width + right]);
    let most = rows.flatten().max().copied().unwrap_or_default();
    let found = f64::from(most) / 2.55;
    ((found - wanted).abs() * 2.55 > SLACK).then(|| format!("{stem}: letters of {found:.1} % black, not {wanted} %"))
}

/// What plates show at a place, where it is not what was wanted.
pub fn differences(sheet: &Separated, name: &str, (x, y): Place, wanted: Plates<'_>) -> Vec<String> {
    let pixel = |mm: f64| (mm * f64::from(PIXELS_PER_MM)) as usize;
    let at = pixel(y) * sheet.width + pixel(x);
    let plates = sheet.planes.iter().filter_map(|(plate, plane)| {
        let wanted = wanted.iter().find(|(name, _)| name == plate).map_or(0.0, |(_, percent)| percent * 2.55);
        let off = (f64::from(plane[at]) - wanted).abs();
        (off > SLACK + 1e-6).then(|| format!("{name}: {plate} reads {} of 255, not {wanted:.1}", plane[at]))
    });
    let missing = wanted.iter().filter(|(plate, _)| !sheet.planes.contains_key(*plate));
    plates.chain(missing.map(|(plate, _)| format!("{name}: there is no plate {plate}"))).collect()
}
