//! The same simple page from another writer, drawn by the same reader: the same plates.

use super::{OnDisk, block, font, item, press, scene, words};
use crate::ground::{Colour, Ink, Point, Rect};
use crate::pdf::Surround;
use crate::scene::Mark;
use printpdf as other;

const TEXT: &str = "The Salt Ladder";
const SIZE: f64 = 8.0;

fn swatches() -> Vec<(Rect, Ink)> {
    (0..6)
        .map(|at| {
            let share = f64::from(at) / 6.0;
            let left = 10.0 + 30.0 * f64::from(at);
            (Rect::new(left, 10.0, left + 25.0, 45.0), Ink::process(share, 1.0 - share, 0.3, share / 2.0))
        })
        .collect()
}

fn ours() -> Vec<u8> {
    let mut items: Vec<_> = swatches().into_iter().map(|(rect, ink)| block(rect, ink)).collect();
    let font = font("EB Garamond", 400, false);
    items.push(item(Mark::Glyphs(words(&font, SIZE, Point::new(20.0, 70.0), TEXT))));
    press(&scene(90.0, 20.0, 100.0, items), Surround::Trim)
}

fn theirs() -> Vec<u8> {
    let cmyk = |ink: &Ink| {
        let Colour::Process(inks) = &ink.colour else { unreachable!("swatches are process inks") };
        let [c, m, y, k] = inks.map(|ink| ink as f32);
        other::Op::SetFillColor { col: other::Color::Cmyk(other::Cmyk { c, m, y, k, icc_profile: None }) }
    };
    let point =
        |x: f64, y: f64| other::Point { x: other::Mm(x as f32).into(), y: other::Mm((100.0 - y) as f32).into() };
    let mut document = other::PdfDocument::new("page");
    let mut ops = Vec::new();
    for (rect, ink) in swatches() {
        let corners = [(rect.x0, rect.y0), (rect.x1, rect.y0), (rect.x1, rect.y1), (rect.x0, rect.y1)];
        let points = corners.map(|(x, y)| other::LinePoint { p: point(x, y), bezier: false }).to_vec();
        let rings = vec![other::PolygonRing { points }];
        let (mode, winding_order) = (other::PaintMode::Fill, other::WindingOrder::NonZero);
        ops.push(cmyk(&ink));
        ops.push(other::Op::DrawPolygon { polygon: other::Polygon { rings, mode, winding_order } });
    }
    let font = font("EB Garamond", 400, false);
    let parsed = other::ParsedFont::from_bytes(font.bytes(), 0, &mut Vec::new()).expect("a font");
    let handle = other::PdfFontHandle::External(document.add_font(&parsed));
    let run = words(&font, SIZE, Point::new(20.0, 70.0), TEXT);
    ops.push(cmyk(&Ink::black(1.0)));
    ops.push(other::Op::StartTextSection);
    ops.push(other::Op::SetFont { font: handle, size: other::Pt((SIZE / 25.4 * 72.0) as f32) });
    // Letter by letter, so that no rounding of widths comes between.
    for (glyph, letter) in run.glyphs.iter().zip(TEXT.chars()) {
        let at = point(20.0 + glyph.x, 70.0);
        ops.push(other::Op::SetTextMatrix { matrix: other::TextMatrix::Translate(at.x, at.y) });
        ops.push(other::Op::ShowText { items: vec![other::TextItem::Text(letter.to_string())] });
    }
    ops.push(other::Op::EndTextSection);
    document.pages.push(other::PdfPage::new(other::Mm(200.0), other::Mm(100.0), ops));
    document.save(&other::PdfSaveOptions::default(), &mut Vec::new())
}

#[test]
fn two_writers_one_set_of_plates() {
    let (ours, theirs) = (OnDisk::new(&ours()).plates(150), OnDisk::new(&theirs()).plates(150));
    for plate in ["Cyan", "Magenta", "Yellow", "Black"] {
        let [one, two] = [&ours, &theirs].map(|plates| {
            image::load_from_memory(&plates.disk.file(&format!("plate({plate}).tif"))).expect("a plate").into_luma8()
        });
        assert_eq!(one.dimensions(), two.dimensions());
        let differing = one.iter().zip(two.iter()).filter(|(a, b)| a.abs_diff(**b) > 1).count();
        let inked = one.iter().filter(|sample| **sample < 255).count();
        assert!(inked > 10_000, "{plate}: {inked}");
        // Letters are placed to 1e-4 pt by one, in 32-bit numbers by the other: a pixel at an edge may fall either way.
        assert!(differing <= 12, "{plate}: {differing} of {} pixels differ", one.len());
    }
}
