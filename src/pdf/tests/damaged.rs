//! JPEGs damaged in every way: whatever a press file carries of them, other programs read without a complaint.

use super::{OnDisk, item, press, scene};
use crate::assets::{Picture, Separation};
use crate::ground::Affine;
use crate::pdf::Surround;
use crate::scene::{Item, Mark, PlacedPicture};
use std::sync::Arc;

const FILES: [&[u8]; 6] = [
    include_bytes!("../../../tests/pictures/grey.jpg"),
    include_bytes!("../../../tests/pictures/grey-busy-progressive.jpg"),
    include_bytes!("../../../tests/pictures/cmyk-app14.jpg"),
    include_bytes!("../../../tests/pictures/cmyk-plain.jpg"),
    include_bytes!("../../../tests/pictures/ycck.jpg"),
    include_bytes!("../../../tests/pictures/cmyk-busy-restarts.jpg"),
];
/// Damages of each file.
const WAYS: u32 = 120;

/// A linear congruential generator (Numerical Recipes, from memory).
struct Damage(u32);

impl Damage {
    fn below(&mut self, end: usize) -> usize {
        self.0 = self.0.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
        (self.0 >> 8) as usize % end
    }
}

fn damaged(file: &[u8], chance: &mut Damage) -> Vec<u8> {
    let mut bytes = file.to_vec();
    let at = 2 + chance.below(bytes.len() - 4);
    match chance.below(5) {
        0 => bytes[at] ^= 1 << chance.below(8),
        1 => bytes[at] = [0, 0xff, 0xd9, 0xd0, 0x7f][chance.below(5)],
        2 => drop(bytes.drain(at..(at + 1 + chance.below(20)).min(file.len() - 2))),
        3 => drop(bytes.splice(at..at, vec![chance.0 as u8; 1 + chance.below(9)])),
        _ => bytes[at..(at + 8).min(file.len() - 2)].reverse(),
    }
    bytes
}

#[test]
fn no_reader_complains_of_what_is_carried() {
    let mut chance = Damage(1);
    let (mut items, mut carried): (Vec<Item>, usize) = (Vec::new(), 0);
    for file in FILES {
        for _ in 0..WAYS {
            let Ok(picture) = Picture::open("a.jpg", damaged(file, &mut chance).into()) else { continue };
            // Gigantic sides come of damage too, and only take time here.
            if picture.width() > 600 || picture.height() > 600 {
                continue;
            }
            carried += usize::from(picture.jpeg_passthrough().is_some());
            assert_eq!(picture.jpeg_passthrough().is_none(), picture.damage().is_some());
            let place = Affine::translate(((items.len() % 40) as f64 * 4.0, (items.len() / 40) as f64 * 4.0));
            let transform = place * Affine::scale(4.0);
            items.push(item(Mark::Picture(PlacedPicture {
                picture: Arc::new(picture),
                transform,
                paint: None,
                separation: Separation::default(),
            })));
        }
    }
    assert!(carried > 100 && items.len() - carried > 50, "{carried} of {}", items.len());
    let disk = OnDisk::new(&press(&scene(80.0, 0.0, 80.0, items), Surround::Trim));
    disk.read("qpdf", &["--check", "sheet.pdf"]);
    disk.read_quietly("mutool", &["draw", "-q", "-r", "150", "-o", "page.png", "sheet.pdf"]);
    let drawn = disk.read(
        "gs",
        &["-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=tiffsep", "-r72", "-sOutputFile=p.tif", "sheet.pdf"],
    );
    assert!(!drawn.contains("rror") && !drawn.contains("arning"), "{drawn}");
    disk.read_quietly("pdfimages", &["-all", "sheet.pdf", "carried"]);
    let script = "import glob, warnings; from PIL import Image; warnings.simplefilter('error'); \
        files = glob.glob('carried*.jpg'); [Image.open(file).load() for file in files]; print(len(files))";
    let read: usize = disk.read("python3", &["-c", script]).trim().parse().expect("a number");
    assert_eq!(read, carried);
}
