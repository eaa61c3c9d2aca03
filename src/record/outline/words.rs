//! The words of an element as one text, however its lines are broken.

use crate::scene::GlyphRun;

/// An added hyphen in a run's text.
const SOFT_HYPHEN: char = '\u{AD}';

#[derive(Default)]
pub struct Words {
    text: String,
    /// Where the baseline of the last run lies.
    line: Option<[f64; 2]>,
}

impl Words {
    pub fn add(&mut self, run: &GlyphRun) {
        let line = baseline(run);
        let next = run.text.chars().next();
        if self.line.is_some_and(|last| (0..2).any(|at| (last[at] - line[at]).abs() > run.size / 4.0))
            && let (Some(last), Some(next)) = (self.text.chars().last(), next)
            && parted(last, next)
        {
            self.text.push(' ');
        }
        self.line = Some(line);
        self.text.push_str(&run.text);
    }

    /// Blanks are one space each; hyphens that only a line's end has are gone.
    pub fn whole(&self) -> String {
        let kept: String = self.text.chars().filter(|letter| *letter != SOFT_HYPHEN).collect();
        kept.split_whitespace().collect::<Vec<&str>>().join(" ")
    }
}

/// The run's distance from the sheet's corner across its baseline, and the direction of the baseline.
fn baseline(run: &GlyphRun) -> [f64; 2] {
    let [a, b, _, _, x, y] = run.transform.as_coeffs();
    let length = a.hypot(b).max(f64::MIN_POSITIVE);
    [(y * a - x * b) / length, 0.0]
}

/// Whether a new line begins a new word: lines broken at a blank bring it along, and a hyphen or an ideograph is no end.
fn parted(last: char, next: char) -> bool {
    let joins =
        |letter: char| letter.is_whitespace() || matches!(letter, SOFT_HYPHEN | '-' | '\u{2010}'..='\u{2015}' | '/');
    // CJK radicals to compatibility ideographs, kana and full-width forms (Unicode blocks).
    let ideograph =
        |letter: char| matches!(letter, '\u{2E80}'..='\u{9FFF}' | '\u{F900}'..='\u{FAFF}' | '\u{FF00}'..='\u{FFEF}');
    !(joins(last) || next.is_whitespace() || ideograph(last) && ideograph(next))
}
