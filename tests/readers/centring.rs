//! Centring: words in the middle of a frame, and on a spine, as poppler prints them.

use crate::kit::{ask, cover, shown};
use std::fmt::Write as _;

/// To the inch. Poppler puts letters on whole dots: 600 to the inch would hide 0.02 mm.
const DOTS: u32 = 1200;
/// What no eye sees.
const OFF: f64 = 0.05;

/// Letters without tails and curves, whose ink is as high as all of their kind: family, language, words, what else.
const ROWS: [(&str, &str, &str, &str); 14] = [
    ("EB Garamond", "en-GB", "HE", "tracking 0"),
    ("EB Garamond", "en-GB", "xz", "tracking 0"),
    ("Libre Franklin", "en-GB", "17", "tracking 0"),
    ("Alegreya", "en-GB", "he", "case small-caps"),
    ("Playfair Display", "en-GB", "he", "case upper"),
    ("Zilla Slab", "en-GB", "HE", "tracking 0"),
    ("League Gothic", "en-GB", "HE", "tracking 0"),
    ("Bodoni Moda", "en-GB", "HE", "tracking 0"),
    ("Barlow Condensed", "en-GB", "xz", "tracking 0"),
    ("Inter", "el", "ΗΠ", "tracking 0"),
    ("Alegreya", "ru", "НП", "tracking 0"),
    ("Frank Ruhl Libre", "he", "ה", "tracking 0"),
    ("Amiri", "ar", "ب", "tracking 0"),
    ("Shippori Mincho", "ja", "口", "tracking 0"),
];
/// Rows on the front and parts of the spine, in millimetres: where the first begins, how far apart, how high.
const FIRST: f64 = 5.0;
const STEP: f64 = 13.0;
const HIGH: f64 = 12.0;

/// Where the spine begins.
const SPINE: f64 = 129.0;

/// In all scripts that come with the program: the middle of the ink is the middle of the frame, and lies halfway between the
/// folds of the spine.
#[test]
fn words_stand_in_the_middle() {
    let (mut front, mut spine) = (String::new(), String::new());
    for (at, (family, language, words, more)) in ROWS.iter().enumerate() {
        let style = format!("font {family:?}; language {language}; size 22; {more}");
        let top = FIRST + at as f64 * STEP;
        let place = format!("left 20; width 80; top {top}; height {HIGH}; vertical middle");
        writeln!(front, "text row{at} words={words:?} {{ {style}; {place} }}").expect("a string");
        let foot = 198.0 - top - HIGH;
        writeln!(spine, "text part{at} words={words:?} {{ {style}; head {top}; foot {foot} }}").expect("a string");
    }
    let head = "book { title \"HE\"; pages 400 }\nformat paperback { trim 129 198; paper caliper=0.1; spine 20 }";
    let text = format!("{head}\npanel front {{\n{front}}}\npanel spine {{\n{spine}}}\n");
    let built = cover("centring", &text, &[], &["--only", "press", "--surround", "trim"]);
    let root = built.beside("centring");
    let press = shown(&built.press());
    let dot = |mm: f64| (mm / 25.4 * f64::from(DOTS)).round() as u32;
    let (left, wide) = (dot(SPINE).to_string(), dot(130.0).to_string());
    ask(
        "pdftoppm",
        &["-r", &DOTS.to_string(), "-gray", "-png", "-singlefile", "-x", &left, "-W", &wide, &press, &root],
    );
    let page = image::open(format!("{root}.png")).expect("a page").into_luma8();
    // Rows (or columns) of a part of the page by their darkest dot. The first and the last are inked as far as they are dark:
    // their middle in millimetres.
    let middle = |x: (f64, f64), y: (f64, f64), down: bool| {
        let ((left, right), (top, foot)) = ((dot(x.0 - SPINE), dot(x.1 - SPINE)), (dot(y.0), dot(y.1)));
        let dark = |at: u32, row: u32| 1.0 - f64::from(page.get_pixel(at, row).0[0]) / 255.0;
        let darkest = |at: u32| {
            let (from, to) = if down { (left, right) } else { (top, foot) };
            (from..to).map(|other| if down { dark(other, at) } else { dark(at, other) }).fold(0.0, f64::max)
        };
        let inked: Vec<(u32, f64)> = if down { top..foot } else { left..right }
            .map(|at| (at, darkest(at)))
            .filter(|(_, dark)| *dark > 0.05)
            .collect();
        let (first, last) = (inked[0], inked[inked.len() - 1]);
        let edges = (f64::from(first.0) + 1.0 - first.1, f64::from(last.0) + last.1);
        let before = if down { 0.0 } else { f64::from(dot(SPINE)) };
        (before + f64::midpoint(edges.0, edges.1)) * 25.4 / f64::from(DOTS)
    };
    let mut wrong = Vec::new();
    for (at, (family, _, words, _)) in ROWS.iter().enumerate() {
        let top = FIRST + at as f64 * STEP;
        let in_frame = middle((149.0 + 15.0, 149.0 + 105.0), (top - 0.5, top + HIGH + 0.5), true) - (top + HIGH / 2.0);
        let on_spine = middle((129.5, 148.5), (top - 0.5, top + HIGH + 0.5), false) - 139.0;
        if in_frame.abs() > OFF || on_spine.abs() > OFF {
            wrong.push(format!("{family} {words}: {in_frame:.3} mm in its frame, {on_spine:.3} mm on the spine"));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}
