//! How a line is spread or squeezed to its measure, within the limits of the style.

use crate::typeset::{ruler::GAP, style::Style};

/// How a line keeps to its measure.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum LineFit {
    /// Not at all: it is as wide as its letters are drawn.
    AsDrawn,
    /// Squeezed where it would be too wide; a paragraph's last line.
    NoWider,
    /// Justified.
    Exact,
}

/// How a line is spread: by word spaces (in their own width), letters and ideographs (in ems), and glyph scale.
#[derive(Clone, Copy)]
pub struct Spread {
    pub space: f64,
    pub letter: f64,
    pub gap: f64,
    pub scale: f64,
}

/// What a line has to be spread with, in ems.
#[derive(Default)]
pub struct LineTotals {
    pub letters: f64,
    pub spaces: f64,
    pub space_count: usize,
    pub tracked: usize,
    pub gaps: usize,
}

impl LineTotals {
    /// And whether that is beyond the limits of the style.
    pub fn spread(&self, style: &Style, measure: f64, fit: LineFit) -> (Spread, bool) {
        let [least, ideal, most] = style.word_space;
        let plain = Spread { space: ideal, letter: 0.0, gap: 0.0, scale: 1.0 };
        let natural = self.letters + self.spaces * ideal + self.tracked as f64 * style.tracking / 1000.0;
        let short = measure - natural;
        let justified = fit == LineFit::Exact;
        if fit == LineFit::AsDrawn || short >= 0.0 && !justified {
            return (plain, false);
        }
        let wide = short >= 0.0;
        let (space, letter, scale) = if wide {
            (most - ideal, style.letter_space.1 / 1000.0, style.letter_width.1 - 1.0)
        } else {
            (ideal - least, -style.letter_space.0 / 1000.0, 1.0 - style.letter_width.0)
        };
        let (space, letter, scale) = (space.max(0.0), letter.max(0.0), scale.max(0.0));
        let gap = if wide { GAP } else { 0.0 };
        let by_space = self.spaces * space + self.gaps as f64 * gap;
        let others = self.tracked as f64 * letter + self.letters * scale;
        let wanted = short.abs();
        let sign = if wide { 1.0 } else { -1.0 };
        let ratio = wanted / (by_space + others).max(1e-12);
        let give = |ratio: f64, rest: f64| Spread {
            space: ideal + sign * (space * ratio + rest),
            letter: sign * letter * ratio,
            gap: sign * gap * ratio,
            scale: 1.0 + sign * scale * ratio,
        };
        if ratio <= 1.0 {
            return (give(ratio, 0.0), false);
        }
        // Beyond the limits: letters stay at theirs, word spaces and ideographs take the rest. A line that has
        // neither is left short, or long.
        let rest = wanted - others;
        if wide && self.gaps > 0 {
            let ratio = rest / by_space.max(1e-12);
            return (Spread { space: ideal + space * ratio, gap: gap * ratio, ..give(1.0, 0.0) }, ratio > 3.0);
        }
        if self.space_count == 0 {
            return (if wide { plain } else { give(1.0, 0.0) }, justified && self.letters > 0.0);
        }
        let space = ideal + sign * rest / self.spaces.max(1e-12);
        (Spread { space: space.max(least * 0.75), ..give(1.0, 0.0) }, justified && ratio > 1.0 + 1e-6)
    }
}
