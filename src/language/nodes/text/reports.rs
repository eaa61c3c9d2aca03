//! Reports: what came out of the setting of a text otherwise than it was asked for.

use crate::cover::{Pen, TypeStyle};
use crate::ground::Severity;
use crate::typeset::{Block, Lack, lacks_patterns};

/// Em of a blank that shows as a hole. Common practice, from memory: a quarter is usual and a half the most.
const HOLE: f64 = 0.4;

pub fn of_setting(style: &TypeStyle, block: &Block, pen: &Pen<'_>) {
    loose(block, pen);
    unhyphenated(style, block, pen);
    for lack in &block.lacks {
        lacking(*lack, &style.style.family, pen);
    }
    for touch in &block.touching {
        let (left, right) = touch.pair;
        let message = format!("the ink of `{left}{right}` meets in {:?}", style.style.family);
        let help = format!("write `kern \"{left}{right}\" {}`", touch.kern);
        pen.report(Severity::Warning, "letters-touch", message, help);
    }
}

/// Justified lines whose word spaces are wider than the style allows, and so wide that they show.
fn loose(block: &Block, pen: &Pen<'_>) {
    for number in &block.loose {
        let Some(line) = number.checked_sub(1).and_then(|at| block.lines.get(at)) else { continue };
        let blanks = line.runs.iter().flat_map(|run| {
            let blank = |glyph: &&crate::assets::Glyph| run.text.get(glyph.text.clone()) == Some(" ");
            run.glyphs.iter().filter(blank).map(|glyph| glyph.advance / run.size).filter(|em| *em > 0.0)
        });
        let widest = blanks.fold(0.0, f64::max);
        if widest < HOLE {
            continue;
        }
        let message = format!("line {number} is set loose: its word spaces are {widest:.2} em wide");
        let help = "hyphenate, `hyphenate #true`; change a word of the paragraph, or the width; or write `align left`";
        pen.report(Severity::Warning, "loose-line", message, help);
    }
}

/// Copy of several lines that should be hyphenated, in a language that we have no patterns for.
fn unhyphenated(style: &TypeStyle, block: &Block, pen: &Pen<'_>) {
    let language = &style.style.language;
    if !style.style.hyphenation.on || block.lines.len() < 2 || !lacks_patterns(language) {
        return;
    }
    let severity = if style.hyphenate == Some(true) { Severity::Warning } else { Severity::Note };
    let message = format!("there are no hyphenation patterns for `{language}`: no word is hyphenated");
    let help = "put soft hyphens (`&shy;` in Markdown) into long words; or write `hyphenate #false`";
    pen.report(severity, "no-hyphenation", message, help);
}

fn lacking(lack: Lack, family: &str, pen: &Pen<'_>) {
    let (message, help) = match lack {
        Lack::Emphasis => (
            format!("{family:?} has no italic: emphasis is set like the words around it"),
            "take another family, or the marks of emphasis out of the copy".to_owned(),
        ),
        Lack::Strong => (
            format!("{family:?} has no bolder weight: strong words are set like those around them"),
            "take another family or a lighter weight, or the marks out of the copy".to_owned(),
        ),
        Lack::SmallCaps => (
            format!("{family:?} has no small capitals: its capitals are scaled"),
            "they look thin beside the others: take another family, or `case upper` at a smaller size".to_owned(),
        ),
        Lack::Feature(tag) => {
            let tag = String::from_utf8_lossy(&tag).into_owned();
            (format!("{family:?} has no feature {tag:?}: it changes nothing"), "leave it out of `features`".to_owned())
        }
    };
    let severity = if lack == Lack::SmallCaps { Severity::Note } else { Severity::Warning };
    pen.report(severity, "face-missing", message, help);
}
