//! A bar code that was placed as a picture.
//!
//! A picture of bars is scaled, resampled and converted with everything else, so its bars get soft or uneven edges. And
//! nobody sees which number it holds: it may be that of another book.
//!
//! - a picture in which the bars of an EAN-13 are read: warning; with a number that is not the book's ISBN, nor one that
//!   `book` states by `other-isbn`: error. Common practice.
//!
//! Read are rows and columns at five heights; a code that is turned askew, or blurred, is not found.
//!
//! ```kdl
//! panel back { image code file="art/bars.png" { left 20; width 37; top 150 } }
//! ```
//!
//! Way out: `barcode barcode { right safe; bottom safe; scale 100 }`, which draws it from the ISBN.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::cover::read_bars;
use crate::ground::Severity;
use crate::scene::{Media, PlacedPicture};

pub const RULE: CheckRule = CheckRule {
    name: "bar-code-picture",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[],
    source: include_str!("bar_code_picture.rs"),
    run,
};

/// Lines across and down that are read.
const LINES: usize = 5;
/// The bars and gaps of an EAN-13, and its modules (ISO/IEC 15420).
const RUNS: usize = 59;
const MODULES: usize = 95;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let words = &exam.facts().book.words;
    let stated = words.iter().filter(|(fact, _)| *fact == "isbn" || fact.starts_with("isbn."));
    let stated: Vec<String> =
        stated.map(|(_, isbn)| isbn.value.chars().filter(char::is_ascii_digit).collect()).collect();
    for element in &exam.elements {
        for (placed, _) in element.pictures() {
            let Some(code) = lines(placed).iter().find_map(|line| code(line)) else { continue };
            let name = placed.picture.name();
            let help = "draw it from the ISBN: `barcode barcode { right safe; bottom safe; scale 100 }`";
            let (severity, message) = match exam.facts().book.word("isbn") {
                Some(isbn) if !stated.contains(&code) => {
                    (Severity::Error, format!("{name:?} holds the bar code {code}; the book's ISBN is {isbn}"))
                }
                _ => (
                    Severity::Warning,
                    format!("{name:?} is a picture of the bar code {code}, whose bars lose their edges"),
                ),
            };
            findings.element(severity, element, message, help);
        }
    }
}

/// Rows and columns of a picture, light or dark.
fn lines(placed: &PlacedPicture) -> Vec<Vec<bool>> {
    let picture = &placed.picture;
    let (width, height, channels) = (picture.width() as usize, picture.height() as usize, picture.model().channels());
    let pixels = picture.pixels();
    let is_ink = picture.model() == crate::assets::Model::Cmyk;
    let dark = |x: usize, y: usize| {
        let at = (y * width + x) * channels;
        let samples = &pixels.samples[at..at + channels];
        let mean = samples.iter().map(|sample| u32::from(*sample)).sum::<u32>() / channels as u32;
        if is_ink { mean > 32 } else { mean < 128 }
    };
    let at = |step: usize, length: usize| (2 * step + 1) * length / (2 * LINES);
    let rows = (0..LINES).map(|step| (0..width).map(|x| dark(x, at(step, height))).collect());
    let columns = (0..LINES).map(|step| (0..height).map(|y| dark(at(step, width), y)).collect());
    rows.chain(columns).collect()
}

/// The number in a line, read either way.
fn code(line: &[bool]) -> Option<String> {
    let runs: Vec<(bool, usize)> = line.chunk_by(|a, b| a == b).map(|run| (run[0], run.len())).collect();
    runs.windows(RUNS).filter(|runs| runs[0].0).find_map(|runs| {
        let whole: usize = runs.iter().map(|(_, width)| width).sum();
        if whole < MODULES {
            return None;
        }
        let module = whole as f64 / MODULES as f64;
        let times = |width: usize| (width as f64 / module).round().clamp(1.0, 4.0) as usize;
        let mut modules: Vec<bool> =
            runs.iter().flat_map(|(dark, width)| std::iter::repeat_n(*dark, times(*width))).collect();
        read_bars(&modules).or_else(|| {
            modules.reverse();
            read_bars(&modules)
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    // tests/pictures/bars.png holds 978-1-83651-284-4, bars-own.png 978-1-83742-615-7, both drawn by python-barcode.
    #[test]
    fn the_bars_of_another_book() {
        let said = example(&RULE);
        assert!(said.len() == 1 && said[0].message.contains("holds the bar code 9781836512844"), "{said:?}");
        let own = "panel back { image code file=\"art/bars-own.png\" { left 20; width 37; top 150 } }";
        let said = reported(&RULE, own);
        assert!(said.len() == 1 && said[0].severity == Severity::Warning, "{said:?}");
        let other = "panel back { image code file=\"art/small.jpg\" { left 20; width 37; top 150 } }";
        assert_eq!(reported(&RULE, other), []);
    }
}
