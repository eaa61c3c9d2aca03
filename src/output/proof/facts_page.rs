//! The facts of the book and of its sheet, fonts, pictures and inks, and the box to sign.

use crate::ground::{Line, Rect, number};
use crate::output::entry::OutputJob;
use crate::output::proof::flow::{LEFT, ProofFlow, RIGHT};
use crate::output::proof::ink_use::{InkUse, ink_use};
use crate::output::proof::pen::{HAIRLINE, INK, ProofPen, QUIET, TypeLook, label_width};
use crate::scene::{Mark, PlacedPicture, Scene};

/// Left edge and width of what stands behind a label.
const LABEL: f64 = 34.0;
const VALUE: (f64, f64) = (LEFT + 36.0, RIGHT - LEFT - 36.0);
/// Of sums, behind their numbers.
const SUM: (f64, f64) = (LEFT + 58.0, RIGHT - LEFT - 58.0);
const ROW: f64 = 4.5;
/// How high the box to sign stands.
const BOX: f64 = 44.0;
const ANSWERS: [&str; 3] = ["approved", "approved with changes", "not approved"];

pub fn write(job: &OutputJob<'_>, flow: &mut ProofFlow) {
    flow.heading("Facts");
    let particulars = job.particulars;
    flow.part("Book", ROW);
    for (label, value) in &particulars.facts {
        labelled(flow, label, value);
    }
    flow.part("Sheet", ROW);
    // Folds stand on the wrap.
    for measure in particulars.measures.iter().filter(|measure| measure.name != "fold at") {
        let value = format!("{} {}", number(measure.value), measure.unit);
        let quiet = TypeLook::quiet();
        flow.row(&[
            (&capital(&measure.name.replace('-', " ")), quiet.clone(), LEFT, LABEL),
            (&value, TypeLook::text(), VALUE.0, SUM.0 - VALUE.0),
            (&measure.sum, quiet, SUM.0, SUM.1),
        ]);
    }
    flow.part("Fonts", ROW);
    flow.row(&[(&fonts(job.scene).join(", "), TypeLook::text(), LEFT, RIGHT - LEFT)]);
    let pictures = pictures(job.scene);
    if !pictures.is_empty() {
        flow.part("Pictures", ROW);
    }
    for (file, about) in pictures {
        flow.row(&[(&file, TypeLook::text(), LEFT, 70.0), (&about, TypeLook::quiet(), LEFT + 74.0, 96.0)]);
    }
    flow.part("Inks on the trimmed wrap", ROW);
    for ink in ink_use(job.scene, job.darkroom) {
        inked(flow, &ink);
    }
    flow.at_foot(BOX);
    sign(&mut flow.pen, flow.y);
}

fn labelled(flow: &mut ProofFlow, label: &str, value: &str) {
    flow.row(&[(label, TypeLook::quiet(), LEFT, LABEL), (value, TypeLook::text(), VALUE.0, VALUE.1)]);
}

fn inked(flow: &mut ProofFlow, ink: &InkUse) {
    let (share, area) = (format!("{:.1} %", ink.share * 100.0), format!("{:.1} cm²", ink.square_centimetres));
    let blocks = ink.blocks.iter().map(|(panel, width, height)| format!("{panel} {width} × {height} mm"));
    let blocks: Vec<String> = blocks.collect();
    let blocks = if blocks.is_empty() { String::new() } else { format!("block: {}", blocks.join(", ")) };
    flow.row(&[
        (&ink.name, TypeLook::quiet(), LEFT, LABEL),
        (&share, TypeLook::text(), VALUE.0, 18.0),
        (&area, TypeLook::text(), VALUE.0 + 22.0, 24.0),
        (&blocks, TypeLook::text(), VALUE.0 + 48.0, VALUE.1 - 48.0),
    ]);
}

/// Every face in use, by name.
fn fonts(scene: &Scene) -> Vec<String> {
    let mut names: Vec<String> = Vec::new();
    scene.walk(&mut |item| {
        if let Mark::Glyphs(run) = &item.mark
            && !names.iter().any(|known| known == run.font.name())
        {
            names.push(run.font.name().to_owned());
        }
    });
    names.sort();
    names
}

/// Every picture in the order of printing, and what is to be known of it.
fn pictures(scene: &Scene) -> Vec<(String, String)> {
    let about = |placed: &PlacedPicture| {
        let (picture, bounds) = (&placed.picture, placed.bounds());
        let size = format!("{} × {}", tenth(bounds.width()), tenth(bounds.height()));
        let ppi = placed.ppi().round();
        format!("{} × {} pixels on {size} mm: {ppi} pixels per inch", picture.width(), picture.height())
    };
    let mut all: Vec<(String, String)> = Vec::new();
    scene.walk(&mut |item| {
        if let Mark::Picture(placed) = &item.mark {
            let entry = (placed.picture.name().to_owned(), about(placed));
            if !all.contains(&entry) {
                all.push(entry);
            }
        }
    });
    all
}

/// With a capital first letter, as labels have it.
fn capital(words: &str) -> String {
    let mut letters = words.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

fn tenth(millimetres: f64) -> String {
    number((millimetres * 10.0).round() / 10.0)
}

/// Three answers to tick, and lines for a name, a date and a signature.
fn sign(pen: &mut ProofPen, top: f64) {
    pen.frame(Rect::new(LEFT, top, RIGHT, top + BOX), Line::new(0.2), INK);
    let inner = LEFT + 6.0;
    pen.label("Approval", &TypeLook::strong(), (inner, top + 8.0), 0.0);
    let mut x = inner;
    for answer in ANSWERS {
        pen.frame(Rect::new(x, top + 13.4, x + 3.4, top + 16.8), Line::new(0.2), INK);
        pen.label(answer, &TypeLook::text(), (x + 5.4, top + 16.0), 0.0);
        x += 5.4 + label_width(answer, &TypeLook::text()) + 10.0;
    }
    let foot = top + BOX - 9.0;
    let lines = [("Name", inner, 52.0), ("Date", inner + 58.0, 34.0), ("Signature", inner + 98.0, 60.0)];
    for (word, x, width) in lines {
        pen.line((x, foot), (x + width, foot), Line::new(HAIRLINE), QUIET);
        pen.label(word, &TypeLook::quiet(), (x, foot + 4.0), 0.0);
    }
}
