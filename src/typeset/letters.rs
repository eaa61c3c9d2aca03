//! The height at which the eye takes words to be centred, found from their letters as they are drawn.
//!
//! Titles of a series share a line whatever they say: capitals and small letters count by the height that all of their
//! kind have in a font, accents and tails left out, and where both stand in a line by the mean of the two. Letters of
//! scripts without capitals count by their ink, by what most of them have.

use crate::typeset::block::{Block, BlockLine};

/// Halfway between the feet of a block's last line and the tops of its first, in millimetres from its upper edge. `None`
/// without letters.
pub fn letters_middle(block: &Block) -> Option<f64> {
    // Letters that stand upright in turned lines are centred in them already.
    if block.lines.iter().flat_map(|line| &line.runs).any(|run| !run.turns.is_empty()) {
        return None;
    }
    let mut lines = block.lines.iter().filter_map(|line| Some((line.baseline, reach(line)?)));
    let (first, (top, foot)) = lines.next()?;
    let (last, (_, foot)) = lines.next_back().unwrap_or((first, (top, foot)));
    Some(f64::midpoint(first + top, last + foot))
}

/// How far the ink of a block reaches from that middle, in millimetres: tails and accents too. `None` without a middle.
pub fn letters_reach(block: &Block) -> Option<f64> {
    let middle = letters_middle(block)?;
    let glyphs = block.lines.iter().flat_map(|line| line.runs.iter().map(move |run| (line.baseline, run)));
    let reaches = glyphs.flat_map(|(baseline, run)| {
        run.glyphs.iter().filter_map(move |glyph| {
            let bounds = run.font.glyph_bounds(glyph.id)?;
            let from = baseline + glyph.y - middle;
            Some((from + bounds.y1 * run.size).max(-from - bounds.y0 * run.size))
        })
    });
    reaches.reduce(f64::max)
}

/// A letter from its line's baseline, downwards.
struct Letter {
    top: f64,
    foot: f64,
    advance: f64,
    /// What capitals and small letters of its font reach up to, at its size, and what they stand on: some fonts set feet a
    /// little under the line.
    usual: (f64, f64),
    feet: (f64, f64),
    spoken: char,
}

/// Small capitals are so many times as high as their font's x; what is lower is an x, what is higher an ascender.
const SMALL_CAPITAL: std::ops::Range<f64> = 1.05..1.3;

/// A capital drawn lower than this share of the font's own is a small one.
const CAPITAL: f64 = 0.88;

impl Letter {
    fn is_figure(&self) -> bool {
        self.spoken.is_numeric()
    }

    /// Small capitals tell their height by their drawing, and so do figures.
    fn capital_top(&self) -> f64 {
        let drawn = SMALL_CAPITAL.contains(&(self.top / self.usual.1)) && self.top > self.usual.0 * CAPITAL;
        if drawn || self.is_figure() { self.top } else { self.usual.0 }
    }
}

/// Figures that rise and fall like small letters, and are counted among them; others are all of a height.
fn old_style(letters: &[Letter]) -> bool {
    let figures = || letters.iter().filter(|letter| letter.is_figure());
    let reach =
        figures().fold((f64::MAX, f64::MIN), |(least, most), figure| (least.min(figure.top), most.max(figure.top)));
    let uneven = figures().any(|figure| reach.1 - reach.0 > -figure.usual.0 * (1.0 - CAPITAL));
    uneven || figures().any(|figure| figure.foot > -figure.usual.0 * (1.0 - CAPITAL))
}

/// The top and the foot of most letters in a line.
fn reach(line: &BlockLine) -> Option<(f64, f64)> {
    let letters = letters(line);
    let old_style = old_style(&letters);
    let capitals = letters.iter().filter(|letter| letter.spoken.is_uppercase() || letter.is_figure() && !old_style);
    let small = letters.iter().filter(|letter| letter.spoken.is_lowercase() || letter.is_figure() && old_style);
    let capital = capitals.map(|letter| (letter.capital_top(), letter.feet.0)).min_by(|a, b| a.0.total_cmp(&b.0));
    // Small capitals are small letters by their text: the drawing tells.
    let small = small
        .map(|letter| {
            let small_capital = !letter.is_figure() && SMALL_CAPITAL.contains(&(letter.top / letter.usual.1));
            if small_capital { (letter.top, letter.feet.0) } else { (letter.usual.1, letter.feet.1) }
        })
        .max_by(|a, b| a.0.total_cmp(&b.0));
    let reaches: Vec<(f64, f64)> = capital.into_iter().chain(small).collect();
    if !reaches.is_empty() {
        let mean = |of: fn(&(f64, f64)) -> f64| reaches.iter().map(of).sum::<f64>() / reaches.len() as f64;
        return Some((mean(|reach| reach.0), mean(|reach| reach.1)));
    }
    let median = |of: fn(&Letter) -> f64| {
        let mut ordered: Vec<(f64, f64)> = letters.iter().map(|letter| (of(letter), letter.advance)).collect();
        ordered.sort_by(|a, b| a.0.total_cmp(&b.0));
        let half = ordered.iter().map(|(_, advance)| advance).sum::<f64>() / 2.0;
        let mut sum = 0.0;
        ordered.iter().find_map(|(at, advance)| {
            sum += advance;
            (sum >= half).then_some(*at)
        })
    };
    Some((median(|letter| letter.top)?, median(|letter| letter.foot)?))
}

fn letters(line: &BlockLine) -> Vec<Letter> {
    let glyphs = line.runs.iter().flat_map(|run| run.glyphs.iter().map(move |glyph| (run, glyph)));
    let letters = glyphs.filter_map(|(run, glyph)| {
        let spoken = run.text.get(glyph.text.clone())?.chars().find(|letter| letter.is_alphanumeric())?;
        let bounds = run.font.glyph_bounds(glyph.id)?;
        let metrics = run.font.metrics();
        let foot = |letter: char| {
            let drawn = run.font.glyph(letter).and_then(|letter| run.font.glyph_bounds(letter));
            drawn.map_or(0.0, |bounds| bounds.y1 * run.size)
        };
        Some(Letter {
            top: glyph.y + bounds.y0 * run.size,
            foot: glyph.y + bounds.y1 * run.size,
            advance: glyph.advance,
            usual: (-metrics.cap_height * run.size, -metrics.x_height * run.size),
            feet: (foot('H'), foot('x')),
            spoken,
        })
    });
    letters.collect()
}
