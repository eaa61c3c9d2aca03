//! Whatever stands in a scene, a whole file comes out.

use super::{OnDisk, block, font, item, press, rule, scene, spot, words};
use crate::assets::{Font, Library};
use crate::ground::{Affine, Blend, Course, FillRule, Gradient, Ink, Line, Paint, Path, Point, Rect};
use crate::pdf::Surround;
use crate::scene::{GlyphRun, Group, Item, Mark, Scene};
use std::sync::Arc;

fn whole(scene: &Scene) -> OnDisk {
    let disk = OnDisk::new(&press(scene, Surround::Marks));
    let stated = disk.read("qpdf", &["--check", "sheet.pdf"]);
    assert!(stated.contains("No syntax or stream encoding errors"), "{stated}");
    let drawn =
        disk.read("gs", &["-dNOPAUSE", "-dBATCH", "-dSAFER", "-sDEVICE=nullpage", "-dPDFSTOPONERROR", "sheet.pdf"]);
    assert!(!drawn.contains("rror") && !drawn.contains("arning"), "{drawn}");
    disk
}

fn run(course: Course, stops: Vec<(f64, Ink)>) -> Paint {
    Paint::Gradient(Gradient { course, stops })
}

fn oddities() -> Vec<Item> {
    let square = Rect::new(0.0, 0.0, 10.0, 10.0);
    let (zero, far) = (Point::ZERO, Point::new(10.0, 0.0));
    let linear = Course::Linear { from: zero, to: far };
    let two = vec![(0.0, Ink::black(1.0)), (1.0, Ink::black(0.1))];
    let garamond = font("EB Garamond", 400, false);
    let text = words(&garamond, 5.0, Point::new(5.0, 5.0), "odd");
    let glyphs = |change: &dyn Fn(&mut GlyphRun)| {
        let mut text = text.clone();
        change(&mut text);
        item(Mark::Glyphs(text))
    };
    let group =
        |clip, opacity, items| item(Mark::Group(Group { veil: None, clip, opacity, blend: Blend::Multiply, items }));
    let mut broken = Path::new();
    broken.move_to((f64::NAN, 1e300));
    broken.line_to((f64::INFINITY, 5.0));
    let nothing = (Path::new(), FillRule::NonZero);
    vec![
        block(square, run(linear, Vec::new())),
        block(square, run(linear, two[..1].to_vec())),
        block(square, run(Course::Linear { from: far, to: far }, two.clone())),
        block(square, run(Course::Radial { centre: zero, radius: 0.0 }, two.clone())),
        block(square, run(Course::Radial { centre: zero, radius: f64::NAN }, two.clone())),
        block(
            square,
            run(linear, vec![(0.7, Ink::black(1.0)), (0.7, Ink::PAPER), (0.2, Ink::black(0.5)), (9.0, Ink::PAPER)]),
        ),
        block(square, Ink::spot(spot("Näme (odd) #1/2", [0.0, 0.5, 0.9, 0.0], true), 0.5)),
        item(Mark::Fill { path: broken.clone(), rule: FillRule::EvenOdd, paint: Ink::black(1.0).into() }),
        item(Mark::Stroke { path: broken, line: Line::new(1.0), paint: run(linear, two) }),
        rule(zero, far, Line::new(f64::NAN), Ink::black(1.0)),
        rule(zero, far, Line { dashes: vec![0.0, 0.0], miter_limit: 0.0, ..Line::new(1.0) }, Ink::black(1.0)),
        glyphs(&|text| text.size = 0.0),
        glyphs(&|text| text.glyphs[1].text = 1..99),
        glyphs(&|text| text.glyphs[2].id = 65_000),
        glyphs(&|text| text.transform = Affine::scale(0.0)),
        glyphs(&|text| text.glyphs.clear()),
        group(None, 0.5, Vec::new()),
        group(Some(nothing), 1.0, vec![block(square, Ink::black(1.0))]),
        group(None, f64::NAN, vec![block(square, Ink::black(1.0))]),
    ]
}

#[test]
fn odd_marks_leave_a_sound_file() {
    let mut scene = scene(90.0, 10.0, 100.0, oddities());
    scene.job.title = "Salt & <Ladder> (a \u{7}novel)\\".to_owned();
    scene.job.notes = vec!["w".repeat(4000), "日本".to_owned()];
    scene.job.date = Some("soon".to_owned());
    let disk = whole(&scene);
    assert!(disk.read("pdfinfo", &["sheet.pdf"]).contains("Salt & <Ladder> (a novel)\\"));
    assert!(String::from_utf8_lossy(&disk.file("sheet.pdf")).contains("Salt &amp; &lt;Ladder&gt; (a novel)"));
    scene.sheet.trim = Rect::ZERO;
    scene.sheet.bleed = Rect::ZERO;
    whole(&scene);
}

/// EB Garamond under another licence: bits of `OS/2.fsType` (OpenType specification).
fn licensed(bits: u16) -> Arc<Font> {
    let free = font("EB Garamond", 400, false);
    let mut bytes = free.bytes().to_vec();
    let record = (0..64).map(|index| 12 + 16 * index).find(|at| &bytes[*at..at + 4] == b"OS/2").expect("a table");
    let start = u32::from_be_bytes(bytes[record + 8..record + 12].try_into().expect("four bytes")) as usize;
    bytes[start + 8..start + 10].copy_from_slice(&bits.to_be_bytes());
    Library::open(&[("licensed.ttf".to_owned(), bytes.into())])
        .0
        .find("EB Garamond", 400, false)
        .expect("it goes first")
}

#[test]
fn a_licence_is_kept() {
    let fonts = |bits| {
        let text = words(&licensed(bits), 10.0, Point::new(10.0, 50.0), "Salt Ladder");
        let disk = whole(&scene(90.0, 10.0, 100.0, vec![item(Mark::Glyphs(text))]));
        let (listed, stated) = (disk.read("pdffonts", &["sheet.pdf"]), disk.read("pdftotext", &["sheet.pdf", "-"]));
        let size = disk.file("sheet.pdf").len();
        let quiet =
            ["-q", "-dNOPAUSE", "-dBATCH", "-dSAFER", "-r300", "-sDEVICE=ink_cov", "-sOutputFile=-", "sheet.pdf"];
        let ink = disk.read("gs", &quiet).split_whitespace().nth(3).and_then(|black| black.parse::<f64>().ok());
        let ink = ink.expect("a share of black");
        (listed.lines().nth(2).map(str::to_owned), stated.trim().to_owned(), size, ink)
    };
    let (free, whole, outlined) = (fonts(0), fonts(0x100), fonts(2));
    assert!(free.0.as_ref().is_some_and(|row| row.contains("+EBGaramond") && row.contains("yes yes yes")), "{free:?}");
    assert!(
        whole.0.as_ref().is_some_and(|row| row.starts_with("EBGaramond") && row.contains("yes no  yes")),
        "{whole:?}"
    );
    assert!(whole.2 > free.2 + 100_000);
    assert_eq!((free.1.as_str(), whole.1.as_str()), ("Salt Ladder", "Salt Ladder"));
    assert_eq!((outlined.0, outlined.1.as_str()), (None, ""));
    // Per cent of the page; a reader that fills whatever it touches makes outlines a little fatter than letters.
    assert!(free.3 > 0.5 && (free.3 - whole.3).abs() < 1e-9, "{} {}", free.3, whole.3);
    assert!((free.3 - outlined.3).abs() < 0.1, "{} {}", free.3, outlined.3);
}
