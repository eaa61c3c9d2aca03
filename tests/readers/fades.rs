//! Fades: what is left of a picture on its way to an edge and behind a mask, and where a clip cuts, as ghostscript
//! separates it and as our own plates have it.

use crate::kit::cover;
use crate::plates::separated;
use std::io::Cursor;

fn png(width: u32, height: u32, grey: impl Fn(u32, u32) -> u8) -> Vec<u8> {
    let mut bytes = Cursor::new(Vec::new());
    let picture = image::GrayImage::from_fn(width, height, |x, y| image::Luma([grey(x, y)]));
    picture.write_to(&mut bytes, image::ImageFormat::Png).expect("a picture");
    bytes.into_inner()
}

const PIXELS_PER_MM: u32 = 5;

/// Solid black pictures, 60 mm wide, on the front at 20 mm from its fold: black at a place is how much of them shows.
#[test]
fn fades_and_masks_thin_a_picture_evenly() {
    let text = r#"
book { title "Salt"; pages 96 }
deliver { plates ppi=127 }
format paperback { trim 100 160; paper caliper=0.1; spine 10 }
waive facts-disagree reason="whole millimetres"
panel front {
    image right file="black.png" { left 20; width 60; top 10; height 20; fade right from=25 to=75 }
    image both file="black.png" { left 20; width 60; top 40; height 20; fade top; fade left }
    image turned file="black.png" { left 20; width 60; top 70; height 20; mirror across; fade right from=25 to=75 }
    image masked file="black.png" { left 20; width 60; top 100; height 20; mask file="ramp.png" }
    image cut file="black.png" { left 20; width 60; top 130; height 20; clip path data="M0 0 L30 0 L30 20 L0 20 Z" }
}
"#;
    let (black, ramp) = (png(720, 240, |_, _| 0), png(256, 2, |x, _| x as u8));
    let built = cover("fades", text, &[("black.png", &black), ("ramp.png", &ramp)], &["--only", "press,plates"]);
    let sheet = separated(&built, PIXELS_PER_MM, 1);
    let ours = image::open(built.file("plate-black.png")).expect("our own plate").into_luma8();
    let bleed = 3 * PIXELS_PER_MM;
    let ours = image::imageops::crop_imm(&ours, bleed, bleed, sheet.width as u32, sheet.height as u32).to_image();
    let ours: Vec<u8> = ours.into_raw().iter().map(|light| 255 - light).collect();
    let blacks = [("press", &sheet.planes["Black"]), ("our plate", &ours)];
    let mut wrong = Vec::new();
    // A place from the left and upper edges of the pictures in the first row; a pixel is read in its middle.
    let mut reads = |x: f64, y: f64, share: &dyn Fn(f64, f64) -> f64| {
        let at = |mm: f64| (mm * f64::from(PIXELS_PER_MM)) as usize;
        let middle = |mm: f64| {
            (mm * f64::from(PIXELS_PER_MM)).floor() / f64::from(PIXELS_PER_MM) + 0.5 / f64::from(PIXELS_PER_MM)
        };
        let wanted = share(middle(x) / 60.0, middle(y) % 30.0 / 20.0);
        for (name, black) in blacks {
            let found = f64::from(black[at(y + 10.0) * sheet.width + at(x + LEFT)]) / 255.0;
            if (found - wanted).abs() > SLACK / 255.0 {
                wrong.push(format!("{name} {x} {y}: {found:.4}, not {wanted:.4}"));
            }
        }
    };
    let gone = |at: f64, from: f64, to: f64| 1.0 - ((at - from) / (to - from)).clamp(0.0, 1.0);
    for x in [6.0, 14.0, 20.0, 30.0, 37.4, 44.0, 50.0] {
        // A mirror image fades as it is seen.
        reads(x, 10.0, &|x, _| gone(x, 0.25, 0.75));
        reads(x, 70.0, &|x, _| gone(x, 0.25, 0.75));
        for y in [31.0, 40.0, 48.4] {
            reads(x, y, &|x, y| x * y);
        }
        // Dark at the left: 255 levels.
        reads(x, 100.0, &|x, _| 1.0 - (x * 256.0 - 0.5) / 255.0);
    }
    for x in [2.0, 29.6, 30.2, 50.0] {
        reads(x, 130.0, &|x, _| f64::from(u8::from(x < 0.5)));
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Solid magenta with black that runs to nothing over it, in both standards: ink by ink what is left is a straight run, and
/// magenta shows as far as black is gone.
#[test]
fn gradients_run_to_nothing() {
    for standard in ["x-4", "x-1a"] {
        let text = format!(
            r#"
book {{ title "Salt"; pages 96 }}
deliver {{ plates ppi=127; press standard={standard} }}
format paperback {{ trim 100 160; paper caliper=0.1; spine 10 }}
swatches {{ swatch rose m=100 }}
waive facts-disagree reason="whole millimetres"
panel front {{
    ground rose {{ swatch rose }}
    band night {{ gradient black none angle=0; left 20; width 60; top 10; height 20 }}
    oval dip {{ gradient black none black angle=0; left 20; width 60; top 40; height 20 }}
    group g {{ left 20; width 60; top 70; height 20; clip frame
        band night {{ gradient none black angle=0; left 0; right 0; top 0; bottom 0 }} }}
    text title words="HHHHH" {{ gradient none black angle=0; size 45; left 20; width 70; top 100; outline rose weight=2 }}
}}
"#
        );
        let built = cover(&format!("fades-{standard}"), &text, &[], &["--only", "press,plates"]);
        let sheet = separated(&built, PIXELS_PER_MM, 1);
        let plane = |name: &str| {
            let ours = image::open(built.file(&format!("plate-{name}.png"))).expect("our own plate").into_luma8();
            let bleed = 3 * PIXELS_PER_MM;
            let ours =
                image::imageops::crop_imm(&ours, bleed, bleed, sheet.width as u32, sheet.height as u32).to_image();
            ours.into_raw().iter().map(|light| 255 - light).collect::<Vec<u8>>()
        };
        let (black, magenta) = (plane("black"), plane("magenta"));
        let mut wrong = Vec::new();
        let both = [(&sheet.planes["Black"], &sheet.planes["Magenta"]), (&black, &magenta)];
        for (at, (black, magenta)) in both.into_iter().enumerate() {
            for (y, share) in
                [(20.0, (|x| 1.0 - x) as fn(f64) -> f64), (50.0, |x| (1.0 - 2.0 * x).abs()), (80.0, |x| x)]
            {
                for x in [6.0, 14.0, 20.0, 30.0, 37.4, 44.0, 50.0] {
                    let middle = (x * f64::from(PIXELS_PER_MM)).floor() / f64::from(PIXELS_PER_MM) + 0.1;
                    let wanted = share(middle / 60.0);
                    let pixel = |mm: f64| (mm * f64::from(PIXELS_PER_MM)) as usize;
                    let place = pixel(y) * sheet.width + pixel(x + LEFT);
                    let [k, m] = [black, magenta].map(|plate| f64::from(plate[place]) / 255.0);
                    if (k - wanted).abs() > SLACK / 255.0 || (m - (1.0 - wanted)).abs() > SLACK / 255.0 {
                        wrong.push(format!("{standard} {at} {x} {y}: {k:.4} {m:.4}, not {wanted:.4}"));
                    }
                }
            }
            // Letters are paler at the left than at the right.
            let most = |from: usize| {
                let row = (102 * PIXELS_PER_MM as usize..120 * PIXELS_PER_MM as usize).flat_map(|y| {
                    let left = y * sheet.width + (from + LEFT as usize) * PIXELS_PER_MM as usize;
                    &black[left..left + 8 * PIXELS_PER_MM as usize]
                });
                row.copied().max().unwrap_or(0)
            };
            let (pale, dark) = (most(0), most(40));
            if !(pale < 70 && dark > 150) {
                wrong.push(format!("{standard} {at}: letters {pale} {dark}"));
            }
        }
        assert!(wrong.is_empty(), "{wrong:#?}");
    }
}

/// Of 255.
const SLACK: f64 = 2.0;
/// The front begins at 110 mm.
const LEFT: f64 = 130.0;
