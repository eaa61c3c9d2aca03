//! Tones: pictures in inks of their own, as ghostscript separates them, as pikepdf reads their colour spaces, and as our own
//! plates have them.

use crate::kit::{Built, cover, shown};
use crate::plates::separated;
use crate::python::python;
use image::{ExtendedColorType, ImageEncoder as _};

/// 12 to the millimetre.
const WIDTH: u32 = 768;
const HEIGHT: u32 = 240;

/// A ramp over the whole width.
fn ramp(colour: ExtendedColorType, sample: impl Fn(u32) -> Vec<u8>) -> Vec<u8> {
    let mut bytes = Vec::new();
    let samples: Vec<u8> = (0..HEIGHT).flat_map(|_| (0..WIDTH).flat_map(&sample)).collect();
    let encoder = image::codecs::png::PngEncoder::new(&mut bytes);
    encoder.write_image(&samples, WIDTH, HEIGHT, colour).expect("samples as many as pixels");
    bytes
}

fn built(name: &str, standard: &str) -> Built {
    let text = format!(
        r#"
book {{ title "Salt"; pages 96 }}
deliver {{ press standard={standard}; plates ppi=127 }}
format paperback {{ trim 100 160; paper caliper=0.1; spine 10 }}
waive facts-disagree reason="whole millimetres"
swatches {{ spot deep ink="Deep blue" c=100 m=60; swatch ochre m=50 y=80; swatch sea c=20 }}
panel front {{
    band sky {{ swatch sea; left 10; width 80; top 5; height 150 }}
    image spot file="grey.png" {{ left 20; width 64; top 10; height 20; fit filling; tone black 30 0 100 90; tone deep 0 5 60 100 }}
    image four file="grey.png" {{ left 20; width 64; top 40; height 20; fit filling; tone black 50 0 100 100; tone ochre }}
    image dark file="grey.png" {{ left 20; width 64; top 70; height 20; fit filling; tone black 0 0 50 20 100 100 }}
    image blue file="grey.png" {{ left 20; width 64; top 100; height 20; fit filling; tone deep 0 0 100 80; mirror across }}
    image fine file="fine.png" {{ left 20; width 64; top 130; height 20; fit filling; tone black 45 0 55 100; tone deep 40 100 60 0; fade right from=50 }}
}}
"#
    );
    let grey = ramp(ExtendedColorType::L8, |x| vec![(x / 3) as u8]);
    let fine = ramp(ExtendedColorType::L16, |x| fine(x).to_ne_bytes().to_vec());
    cover(name, &text, &[("grey.png", &grey), ("fine.png", &fine)], &["--only", "press,plates"])
}

/// The middle fifth of all levels: in 8 bits 51 of them, here 768.
fn fine(x: u32) -> u16 {
    (26_214.0 + f64::from(x) / 767.0 * 13_107.0).round() as u16
}

const PIXELS_PER_MM: u32 = 5;

#[test]
fn tones_are_printed_by_their_curves() {
    for (name, standard, title) in [("tones", "x-4", "PDF/X-4"), ("tones-x1a", "x-1a", "PDF/X-1a:2003")] {
        let built = built(name, standard);
        let sheet = separated(&built, PIXELS_PER_MM, 1);
        let bleed = 3 * PIXELS_PER_MM;
        let own = |plate: &str| -> Vec<u8> {
            let ours = image::open(built.file(&format!("plate-{plate}.png"))).expect("our own plate").into_luma8();
            let ours =
                image::imageops::crop_imm(&ours, bleed, bleed, sheet.width as u32, sheet.height as u32).to_image();
            ours.into_raw().iter().map(|light| 255 - light).collect()
        };
        let plates = [
            ("Cyan", own("cyan")),
            ("Magenta", own("magenta")),
            ("Yellow", own("yellow")),
            ("Black", own("black")),
            ("Deep blue", own("deep-blue")),
        ];
        let mut wrong = Vec::new();
        // Of each plate at a tone of 0 to 1.
        let mut reads = |top: f64, x: f64, wanted: [f64; 5]| {
            let at = |mm: f64| (mm * f64::from(PIXELS_PER_MM)) as usize;
            let pixel = at(top + 10.0) * sheet.width + at(110.0 + 20.0 + x);
            for ((plate, ours), wanted) in plates.iter().zip(wanted) {
                for (whose, found) in [("press", sheet.planes[*plate][pixel]), ("ours", ours[pixel])] {
                    if (f64::from(found) - wanted * 255.0).abs() > SLACK {
                        wrong.push(format!("{standard} {whose} {plate} {top} {x}: {found}, not {:.1}", wanted * 255.0));
                    }
                }
            }
        };
        for step in 0..32 {
            // A level of the ramp is a quarter of a millimetre wide; this is the middle of one.
            let sample = step * 8 + 3;
            let x = (f64::from(sample) + 0.5) / 4.0;
            let tone = 1.0 - f64::from(sample) / 255.0;
            let rises = |from: f64, to: f64, tone: f64| ((tone - from) / (to - from)).clamp(0.0, 1.0);
            reads(10.0, x, [0.0, 0.0, 0.0, 0.9 * rises(0.3, 1.0, tone), 0.05 + 0.95 * rises(0.0, 0.6, tone)]);
            reads(40.0, x, [0.0, 0.5 * tone, 0.8 * tone, rises(0.5, 1.0, tone), 0.0]);
            let dark = if tone < 0.5 { tone * 0.4 } else { 0.2 + (tone - 0.5) * 1.6 };
            reads(70.0, x, [0.0, 0.0, 0.0, dark, 0.0]);
            reads(100.0, 64.0 - x, [0.0, 0.0, 0.0, 0.0, 0.8 * tone]);
            let tone = 1.0 - f64::from(fine(sample * 3 + 1)) / 65_535.0;
            let shown = 1.0 - ((x / 64.0 - 0.5) / 0.5).clamp(0.0, 1.0);
            let ink = [rises(0.45, 0.55, tone), 1.0 - rises(0.4, 0.6, tone)].map(|ink| ink * shown);
            if shown >= 1.0 {
                reads(130.0, x, [0.0, 0.0, 0.0, ink[0], ink[1]]);
            }
        }
        assert!(wrong.is_empty(), "{wrong:#?}");
        python("rules.py", &[&shown(&built.press()), title]);
        if standard == "x-4" {
            let said = python("tones.py", &[&shown(&built.press())]);
            let spaces: Vec<&str> = said.lines().collect();
            // Of the levels of the second some are one mixture; the last has more than a table holds.
            for wanted in [
                "768x240 256 of Black+Deep blue",
                "768x240 244 of DeviceCMYK",
                "768x240 DeviceGray",
                "768x240 Deep blue",
                "768x240 Black+Deep blue",
            ] {
                assert!(spaces.contains(&wanted), "{wanted}: {said}");
            }
        }
    }
}

/// Of 255.
const SLACK: f64 = 2.0;
