//! Text of drawings: outlines of the fonts that a cover may use, and what is said of all others.

use super::*;
use crate::assets::Font;
use crate::assets::drawing::remark::DrawingRemark;
use crate::ground::{Affine, Digest, Path, Rect, Severity, Shape as _};
use std::sync::Arc;

const MM_PER_PX: f64 = 25.4 / 96.0;
pub const OTHER: &str = "<rect width='1' height='1'/>";

fn library() -> Library {
    Library::open(&[]).0
}

pub fn set_in(library: &Library, body: &str) -> Drawing {
    let text = format!("<svg xmlns='http://www.w3.org/2000/svg' width='400' height='200'>{body}</svg>");
    Drawing::open("a.svg", text.as_bytes(), DrawnFrom { library, files: &FilesBeside::new() }).expect("reads")
}

pub fn set(body: &str) -> Drawing {
    set_in(&library(), body)
}

/// All its paths, in pixels of the drawing.
pub fn outlines(drawing: &Drawing) -> Path {
    fn gather(parts: &[DrawingPart], all: &mut Path) {
        for part in parts {
            match part {
                DrawingPart::Fill { path, .. } | DrawingPart::Stroke { path, .. } | DrawingPart::Wash { path, .. } => {
                    all.extend(path.elements().iter().copied());
                }
                DrawingPart::Group { parts, .. } | DrawingPart::Veiled { parts, .. } => gather(parts, all),
                DrawingPart::Picture { .. } | DrawingPart::Pixels(_) => {}
            }
        }
    }
    let mut all = Path::new();
    gather(&drawing.parts, &mut all);
    Affine::scale(1.0 / MM_PER_PX) * all
}

pub fn reach(drawing: &Drawing) -> Rect {
    outlines(drawing).bounding_box()
}

pub fn near(found: Rect, wanted: Rect) {
    let off = [found.x0 - wanted.x0, found.y0 - wanted.y0, found.x1 - wanted.x1, found.y1 - wanted.y1];
    assert!(off.iter().all(|off| off.abs() < 0.02), "{found:?} for {wanted:?}");
}

pub fn said(drawing: &Drawing) -> Vec<(Severity, &'static str, &str)> {
    drawing
        .remarks
        .iter()
        .map(|DrawingRemark { severity, rule, message, .. }| (*severity, *rule, message.as_str()))
        .collect()
}

/// Letters of a word as our own reader of fonts draws them, at a size.
fn drawn(family: &str, weight: u16, word: &str, size: f64) -> (Path, f64) {
    let font = library().find(family, weight, false).expect("bundled");
    let (mut all, mut x) = (Path::new(), 0.0);
    for letter in word.chars() {
        let glyph = font.glyph(letter).expect("has it");
        all.extend(Affine::translate((x * size, 0.0)) * Affine::scale(size) * font.outline(glyph).clone());
        x += font.advance(glyph);
    }
    (all, x * size)
}

#[test]
fn letters_are_outlines_of_the_font() {
    // No pair of H and n is kerned in this font.
    let (word, width) = drawn("League Gothic", 400, "HnH", 80.0);
    let whole = |x: f64, y: f64| (Affine::translate((x, y)) * word.clone()).bounding_box();
    let text = |said: &str| reach(&set(&format!("<text font-family='League Gothic' font-size='80' {said}>HnH</text>")));
    near(text("x='10' y='100'"), whole(10.0, 100.0));
    near(text("x='200' y='100' text-anchor='middle'"), whole(200.0 - width / 2.0, 100.0));
    near(text("x='200' y='100' text-anchor='end' dx='5' dy='-7'"), whole(205.0 - width, 93.0));
    near(text("y='50' style='font:60pt \"League Gothic\"'"), whole(0.0, 50.0));
    near(text("transform='translate(20 90)'"), whole(20.0, 90.0));
    // By CSS (Text 3, 8.2) there is no such space at the end of a line; browsers add it there, and set a line that ends at a
    // place, or is in the middle of it, farther to the left.
    for (anchor, before) in [("start", 0.0), ("middle", 6.0 + width / 2.0), ("end", 12.0 + width)] {
        let spaced = text(&format!("x='200' y='100' letter-spacing='6' text-anchor='{anchor}'"));
        let first = whole(200.0 - before, 100.0);
        near(spaced, Rect { x1: first.x1 + 12.0, ..first });
    }
    let parts = "<text font-family='League Gothic' font-size='80' x='10' y='100'>H<tspan fill='red'>n</tspan><tspan \
        x='150' y='60' fill='blue'>H</tspan></text>";
    let drawing = set(parts);
    let colours: Vec<[u8; 3]> = drawing.colours().into_iter().collect();
    assert_eq!(colours, [[0; 3], [0, 0, 255], [255, 0, 0]]);
    let (one, _) = drawn("League Gothic", 400, "H", 80.0);
    let last = (Affine::translate((150.0, 60.0)) * one).bounding_box();
    assert!((reach(&drawing).x1 - last.x1).abs() < 0.02 && (reach(&drawing).y0 - last.y0).abs() < 0.02);
    assert!(drawing.remarks.is_empty() && drawing.left_out.is_empty(), "{:?} {:?}", drawing.remarks, drawing.left_out);
}

#[test]
fn a_variable_font_is_set_in_the_weight_that_is_asked_for() {
    for (said, weight) in [("400", 400), ("bold", 700), ("300", 300), ("900", 900)] {
        let (word, _) = drawn("Inter", weight, "H", 100.0);
        let text = format!("<text y='100' font-family='Inter' font-weight='{said}' font-size='100px'>H</text>");
        // Letters from 32 units up have the wide forms of the font's optical size (CSS Fonts 4, 2.11): measure the height.
        let (found, wanted) = (outlines(&set(&text)), Affine::translate((0.0, 100.0)) * word);
        assert!((found.bounding_box().height() - wanted.bounding_box().height()).abs() < 0.5);
        assert!((found.area().abs() / wanted.area().abs() - 1.0).abs() < 0.08, "{weight}");
    }
}

#[test]
fn text_is_clipped_masked_filled_and_blurred_like_any_shape() {
    let text = "font-family='League Gothic' font-size='80' y='100'";
    let clip = set(&format!(
        "<clipPath id='c'><text {text}>HH</text></clipPath><rect width='400' height='200' clip-path='url(#c)'/>"
    ));
    let (word, _) = drawn("League Gothic", 400, "HH", 80.0);
    let wanted = (Affine::translate((0.0, 100.0)) * word).bounding_box();
    let bounds = clip.parts[0].bounds().expect("it shows");
    near(Affine::scale(1.0 / MM_PER_PX).transform_rect_bbox(bounds), wanted);
    let filled = "<linearGradient id='g'><stop stop-color='red'/><stop offset='1' stop-color='blue'/></linearGradient>";
    let washed = set(&format!("{filled}<text {text} fill='url(#g)'>HH</text>"));
    assert!(matches!(washed.parts[..], [DrawingPart::Wash { .. }]), "{:?}", washed.parts);
    let masked = set(&format!(
        "<mask id='m'><text {text} fill='white'>HH</text></mask><rect width='400' height='200' mask='url(#m)'/>"
    ));
    assert!(matches!(masked.parts[..], [DrawingPart::Veiled { .. }]), "{:?}", masked.parts);
    let blurred = set(&format!("<text id='soft' style='filter:blur(2px)' {text}>HH</text>"));
    let [DrawingPart::Pixels(view)] = &blurred.parts[..] else { panic!("{:?}", blurred.parts) };
    assert_eq!((view.name.as_str(), view.colours().len()), ("`soft`", 1));
    assert!(view.weight() > 1000 && view.effort(view.place, 10.0).work > 0.0);
}

#[test]
fn fonts_that_are_not_there_are_named() {
    let missing = set(&format!("{OTHER}<text y='20' font-family='EB Garamont, sans-serif'>A</text>"));
    let wanted = "has text that is left out: there is no font \"EB Garamont\", and no \"sans-serif\"";
    assert_eq!(said(&missing), [(Severity::Error, "language", wanted)]);
    assert!(missing.remarks[0].help.ends_with("the nearest is \"EB Garamond\""), "{}", missing.remarks[0].help);
    let nameless = set(&format!("{OTHER}<text y='20'>A</text>"));
    assert_eq!(said(&nameless), [(Severity::Error, "language", "has text that is left out: it names no font")]);
    assert!(nameless.remarks[0].help.contains("families are Alegreya"), "{}", nameless.remarks[0].help);
    // What the file itself names next stands in, and is reported.
    let next = set("<text y='20' font-family='Georgia, &quot;EB Garamond&quot;, serif'>A</text>");
    let wanted =
        "has text in \"Georgia\", a font that is not there: it is set in \"EB Garamond\", which the file names next";
    assert_eq!(said(&next), [(Severity::Note, "language", wanted)]);
    let heavy = set("<text y='20' font-family='EB Garamond' font-weight='900' font-style='italic'>A</text>");
    let wanted = "has text in \"EB Garamond\" in weight 900, which the font does not have; 700 is used";
    assert_eq!(said(&heavy), [(Severity::Note, "language", wanted)]);
    let slanted = set("<text y='20' font-family='League Gothic' font-style='oblique'>A</text>");
    assert_eq!(
        said(&slanted),
        [(Severity::Error, "language", "has italic text in \"League Gothic\", which has no italic")]
    );
    // What is not drawn asks for nothing, and neither does what holds no letters.
    for quiet in ["<defs><text>A</text></defs>", "<text display='none'>A</text>", "<text> </text>", "<text/>"] {
        let drawing = set(&format!("{OTHER}{quiet}"));
        assert!(
            drawing.remarks.is_empty() && drawing.left_out.is_empty(),
            "{quiet} {:?} {:?}",
            drawing.remarks,
            drawing.left_out
        );
    }
}

#[test]
fn letters_that_a_font_lacks_are_named() {
    let text = "<text y='20' font-family='League Gothic'>Aम B</text>";
    let wanted = "has text in LeagueGothic-Regular, which has no \u{92e} (U+092E)";
    assert_eq!(said(&set(text)), [(Severity::Error, "missing-glyph", wanted)]);
    // A font that draws nothing for what it lacks, and a text of nothing else.
    let alone = set(&format!("{OTHER}<text y='20' font-family='League Gothic'>\u{92e}</text>"));
    assert_eq!(said(&alone), [(Severity::Error, "missing-glyph", wanted)]);
    let parts =
        "<text y='20' font-family='League Gothic'>A<tspan font-family='Frank Ruhl Libre'>\u{5d0}</tspan></text>";
    assert_eq!(said(&set(parts)), []);
    // A second font of the list has it.
    let both = set("<text y='20' font-family='League Gothic, Frank Ruhl Libre'>A\u{5d0}B</text>");
    assert_eq!(said(&both), []);
    let marks = set("<text y='20' font-family='EB Garamond'>e\u{301}\u{200b}\u{ad} \u{a0}fi</text>");
    assert_eq!(said(&marks), []);
}

#[test]
fn what_comes_out_otherwise_is_named() {
    let path = "<path id='p' d='M0 50H60' fill='none'/>";
    let left_out = |body: &str| set(&format!("{OTHER}{path}{body}")).left_out.join("; ");
    let on = |text: &str| {
        format!("<text font-family='EB Garamond' font-size='20'><textPath href='#p'>{text}</textPath></text>")
    };
    assert_eq!(left_out(&on("Salt")), "");
    // 60 units hold about three ems of this font: a third of the words.
    let lost = left_out(&on("Salt and Lanterns"));
    assert_eq!(lost, "8 letters of the text \"Salt and Lanterns\", that do not fit on the path");
    let far = on("Salt").replace("textPath ", "textPath startOffset='900' ");
    assert_eq!(left_out(&far), "text along a path that it does not fit on");
    let text =
        |said: &str, words: &str| left_out(&format!("<text y='20' font-family='EB Garamond' {said}>{words}</text>"));
    assert_eq!(text("letter-spacing='2'", "fish"), "letter-spaced text in which the font still joins letters (`fi`)");
    assert_eq!(text("", "fish"), "");
    assert_eq!(text("letter-spacing='2'", "e\u{301}bbe"), "");
    assert_eq!(text("text-transform='uppercase'", "a"), "capitals by CSS (`text-transform`)");
    assert_eq!(text("style='shape-inside:url(#p)'", "a"), "text that flows in a shape");
    assert_eq!(text("font-variant='small-caps'", "a"), "");
    let small = left_out("<text y='20' font-family='League Gothic' font-variant='small-caps'>a</text>");
    assert_eq!(small, "small capitals, which LeagueGothic-Regular does not have");
}

pub const FONT: &[u8] = include_bytes!("../../../fonts-open/LeagueGothic/LeagueGothic-Regular.ttf");

pub fn record(tag: [u8; 4]) -> usize {
    (0..40).map(|at| 12 + 16 * at).find(|at| FONT[*at..*at + 4] == tag).expect("it has the table")
}

pub fn own(bytes: Vec<u8>) -> Library {
    let (library, faults) = Library::open(&[("fonts/own.ttf".to_owned(), bytes.into())]);
    assert!(faults.is_empty(), "{faults:?}");
    library
}

/// OpenType, OS/2: `fsType` is 8 bytes in.
#[test]
fn a_font_that_may_not_be_embedded_is_refused() {
    let mut bytes = FONT.to_vec();
    let place = record(*b"OS/2") + 8;
    let offset = u32::from_be_bytes(FONT[place..place + 4].try_into().expect("four bytes")) as usize;
    bytes[offset + 8..offset + 10].copy_from_slice(&2_u16.to_be_bytes());
    let library = own(bytes);
    let drawing = set_in(&library, "<text y='20' font-family='League Gothic'>A</text>");
    let wanted = "has text in LeagueGothic-Regular, a font that may not be embedded (OS/2 fsType)";
    assert_eq!(said(&drawing), [(Severity::Error, "font-embedding", wanted)]);
}

/// A table of drawings in a font is not read: such a drawing may name files.
#[test]
fn coloured_glyphs_of_a_font_are_not_looked_at() {
    let mut bytes = FONT.to_vec();
    // Tags are sorted; one that stands in the place of another goes unread by whoever looks for it, and here it is found.
    let place = record(*b"GDEF");
    bytes[place..place + 4].copy_from_slice(b"COLR");
    let font = Font::open(&crate::assets::shared(Arc::from(bytes))).expect("opens").remove(0);
    let plain = font.without_colours().into_owned();
    assert_eq!(plain[place..place + 4], *b"COLR");
    assert_eq!(plain[place + 12..place + 16], [0; 4]);
    let whole = library().find("League Gothic", 400, false).expect("bundled");
    assert!(matches!(whole.without_colours(), std::borrow::Cow::Borrowed(_)));
}

/// The same file is another drawing with other fonts.
#[test]
fn another_font_is_another_drawing() {
    let darkroom = crate::assets::Darkroom::default();
    let text: Arc<[u8]> = Arc::from(
        &b"<svg xmlns='http://www.w3.org/2000/svg' width='99' height='99'><text y='50' font-family='League Gothic'>H</text></svg>"[..],
    );
    let mut other = FONT.to_vec();
    // OpenType, head: `unitsPerEm` is 18 bytes in; twice as many make letters half as large.
    let place = record(*b"head") + 8;
    let offset = u32::from_be_bytes(FONT[place..place + 4].try_into().expect("four bytes")) as usize;
    let units = u16::from_be_bytes([FONT[offset + 18], FONT[offset + 19]]);
    other[offset + 18..offset + 20].copy_from_slice(&(units * 2).to_be_bytes());
    let size = |library: &Library| match darkroom.open(
        "a.svg",
        (text.clone(), Digest::of_file(&text)),
        DrawnFrom { library, files: &FilesBeside::new() },
    ) {
        Ok(crate::assets::Art::Drawing(drawing)) => reach(&drawing).height(),
        other => panic!("{other:?}"),
    };
    let (first, second) = (size(&library()), size(&own(other)));
    assert!((first / second - 2.0).abs() < 0.01, "{first} {second}");
}
