//! Syntax, boxes, repeatability.

use super::{OnDisk, block, font, item, press, rule, scene, spot, words};
use crate::assets::Darkroom;
use crate::ground::{Blend, Course, Gradient, Ink, Line, Paint, Point, Rect};
use crate::pdf::{Surround, write};
use crate::scene::{Group, Mark, Scene};

/// A bit of everything but pictures.
fn mixed() -> Scene {
    let foil = spot("Gold foil", [0.0, 0.2, 0.6, 0.2], true);
    let group = Group {
        veil: None,
        clip: None,
        opacity: 0.5,
        blend: Blend::Multiply,
        items: vec![block(square(60.0), Ink::black(0.4))],
    };
    let (from, to) = (Point::new(110.0, 60.0), Point::new(130.0, 60.0));
    let stops = vec![(0.0, Ink::spot(foil.clone(), 1.0)), (1.0, Ink::process(0.0, 1.0, 0.0, 0.0))];
    let blend = Paint::Gradient(Gradient { course: Course::Linear { from, to }, stops });
    let items = vec![
        block(square(110.0), blend),
        block(Rect::new(-3.0, -3.0, 281.0, 201.0), Ink::process(0.1, 0.2, 0.3, 0.0)),
        item(Mark::Glyphs(words(&font("EB Garamond", 400, false), 6.0, Point::new(20.0, 40.0), "The Salt Ladder"))),
        block(square(30.0), Ink::spot(foil, 1.0)),
        item(Mark::Group(group)),
        rule(Point::new(10.0, 150.0), Point::new(90.0, 150.0), Line::new(0.5), Ink::black(1.0)),
    ];
    scene(129.0, 19.8, 198.0, items)
}

fn square(x: f64) -> Rect {
    Rect::new(x, 60.0, x + 20.0, 80.0)
}

#[test]
fn another_reader_finds_no_fault() {
    for surround in [Surround::Marks, Surround::Bleed, Surround::Trim] {
        let disk = OnDisk::new(&press(&mixed(), surround));
        let stated = disk.read("qpdf", &["--check", "sheet.pdf"]);
        assert!(
            stated.contains("PDF Version: 1.6") && stated.contains("No syntax or stream encoding errors"),
            "{stated}"
        );
        assert!(!stated.contains("WARNING"), "{stated}");
    }
}

/// `<MediaBox l="0" b="0" r="…" t="…" />` as mutool says it, in millimetres.
fn boxed(stated: &str, name: &str) -> Option<Rect> {
    let text = stated.split_once(&format!("<{name} "))?.1.split_once("/>")?.0;
    let side = |key: &str| -> Option<f64> {
        let text = text.split_once(&format!("{key}=\""))?.1.split_once('"')?.0;
        Some(text.parse::<f64>().ok()? / 72.0 * 25.4)
    };
    Some(Rect::new(side("l")?, side("b")?, side("r")?, side("t")?))
}

#[test]
fn boxes_are_the_sheet_s() {
    let scene = mixed();
    for surround in [Surround::Marks, Surround::Bleed, Surround::Trim] {
        let stated = OnDisk::new(&press(&scene, surround)).read("mutool", &["pages", "sheet.pdf"]);
        let found = |name| boxed(&stated, name).unwrap_or_else(|| panic!("{name} in {stated}"));
        let (media, trim, bleed) = (found("MediaBox"), found("TrimBox"), found("BleedBox"));
        // 0.01 pt, in millimetres.
        let near = |a: f64, b: f64| (a - b).abs() < 0.0035;
        assert!(near(trim.width(), 277.8) && near(trim.height(), 198.0), "{stated}");
        let around = if surround == Surround::Trim { 0.0 } else { 3.0 };
        assert!(near(bleed.x0, trim.x0 - around) && near(bleed.y1, trim.y1 + around), "{stated}");
        assert!(media.contains_rect(bleed) && bleed.contains_rect(trim) && media.origin() == Point::ZERO, "{stated}");
        assert_eq!(surround == Surround::Marks, media.width() > bleed.width() + 10.0);
        assert!(!stated.contains("CropBox") && !stated.contains("ArtBox"), "{stated}");
    }
}

#[test]
fn same_scene_same_bytes_whatever_the_threads() {
    let scene = mixed();
    let once = press(&scene, Surround::Marks);
    assert!(once == press(&scene, Surround::Marks));
    let darkroom = Darkroom::default();
    assert!([(); 2].iter().all(|()| once == *write(&scene, &Surround::Marks.into(), &darkroom).whole()));
    for threads in [1, 2] {
        let pool = rayon::ThreadPoolBuilder::new().num_threads(threads).build().expect("a pool");
        assert!(once == pool.install(|| press(&scene, Surround::Marks)), "{threads} threads");
    }
}

#[test]
fn the_file_says_what_press_it_is_for() {
    let disk = OnDisk::new(&press(&mixed(), Surround::Marks));
    disk.read("qpdf", &["--qdf", "--object-streams=disable", "sheet.pdf", "open.pdf"]);
    let open = String::from_utf8_lossy(&disk.file("open.pdf")).into_owned();
    let open = open.split_whitespace().collect::<Vec<_>>().join(" ");
    for wanted in [
        "/S /GTS_PDFX",
        "/OutputConditionIdentifier (FOGRA39)",
        "/RegistryName (http://www.color.org)",
        "/DestOutputProfile",
        "/Trapped /False",
        "(D:20261102000000Z)",
        "/Type /OCG",
        "/Name (Gold foil)",
        "<pdfxid:GTS_PDFXVersion>PDF/X-4<",
        "<pdf:Trapped>False<",
        "<xmpMM:RenditionClass>default<",
        "<xmp:CreateDate>2026-11-02T00:00:00Z<",
        "/Separation /All",
        "/Separation /Gold#20foil",
        "/DeviceN [ /Magenta /Gold#20foil ]",
        "/Colorants << /Gold#20foil ",
        "/OPM 1",
    ] {
        assert!(open.contains(wanted), "no {wanted}");
    }
    for unwanted in ["/DeviceRGB", "/ICCBased", "/LZWDecode", "/AS ", "/Annots", "/Encrypt", "/JavaScript", "/CropBox"]
    {
        assert!(!open.contains(unwanted), "{unwanted}");
    }
    let info = disk.read("pdfinfo", &["sheet.pdf"]);
    assert!(
        info.contains("Title:           The Salt Ladder") && info.contains("Author:          Ana Peresal"),
        "{info}"
    );
}
