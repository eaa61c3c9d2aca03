//! Even capitals: all neighbouring capitals of a text have the same white between them, found from their outlines.
//!
//! White is counted level by level between the feet and the tops of capitals, and no further than the eye sees between
//! letters: a hollow that goes deeper counts as if it ended there. A text is set as open as its hardest pair asks, `LA` or
//! `TO`, whose ink may come near but not meet; without such pairs it has the white of the font's own `HH` and `OO`.

use crate::assets::Font;
use crate::typeset::{
    profile::profile,
    shaped::{Cut, Shaped},
};
use std::collections::{BTreeMap, BTreeSet};

/// Levels at which capitals are looked at.
const LEVELS: usize = 60;
/// How far the eye sees between letters, in whites of the font's own `HH`. Judged by eye.
const DEPTH: f64 = 1.3;
/// Ink stays this share apart of what the ink of `HH` does, in any direction. Judged by eye.
const LEAST: f64 = 0.65;
/// A text is opened by so much at the most, in whites of the font. Judged by eye.
const OPENED: f64 = 1.2;
/// Different pairs of a text that are looked at: those of all capitals of the alphabet.
const MOST_PAIRS: usize = 700;

/// The left or right edge of a capital at each level, in ems from its origin.
type CapitalEdge = Vec<Option<f64>>;

/// The capitals of a text in one font, in its ems.
#[derive(Default)]
pub struct EvenCapitals {
    edges: BTreeMap<u16, (CapitalEdge, CapitalEdge)>,
    looked: bool,
    rhythm: Option<Rhythm>,
    distances: BTreeMap<(u16, u16), Option<f64>>,
}

#[derive(Clone, Copy)]
struct Rhythm {
    white: f64,
    depth: f64,
    /// How near ink may come to ink.
    least: f64,
    cap_height: f64,
}

/// The pairs of capitals in some words, each once.
pub fn capital_pairs<'a>(words: impl Iterator<Item = &'a str>) -> BTreeSet<(char, char)> {
    let mut pairs = BTreeSet::new();
    for words in words {
        for (left, right) in words.chars().zip(words.chars().skip(1)) {
            if left.is_uppercase() && right.is_uppercase() && pairs.len() < MOST_PAIRS {
                pairs.insert((left, right));
            }
        }
    }
    pairs
}

/// Sets capitals beside each other evenly.
pub fn even_out(
    (even, capitals): (&mut EvenCapitals, &BTreeSet<(char, char)>),
    cut: &Cut,
    text: &str,
    glyphs: &mut [Shaped],
) {
    let capital =
        |glyph: &Shaped| text.get(glyph.cluster..).and_then(|rest| rest.chars().next()).is_some_and(char::is_uppercase);
    for at in 1..glyphs.len() {
        let (left, right) = (glyphs[at - 1], glyphs[at]);
        if left.cluster >= right.cluster || !capital(&left) || !capital(&right) {
            continue;
        }
        let stands = (left.advance - left.x + right.x) / cut.scale;
        let by = even.kern(&cut.font, capitals, (left.id, right.id), stands) * cut.scale;
        glyphs[at - 1].advance += by;
        glyphs[at].joined |= by != 0.0;
    }
}

impl EvenCapitals {
    /// By how much two capitals are moved whose origins stand so far apart, in a text of these pairs.
    pub fn kern(&mut self, font: &Font, text: &BTreeSet<(char, char)>, pair: (u16, u16), stands: f64) -> f64 {
        let Some(rhythm) = self.rhythm(font, text) else { return 0.0 };
        let known = self.distances.get(&pair).copied();
        let distance = known.unwrap_or_else(|| {
            let (left, right) = self.between(font, pair);
            rhythm.distance(left, right)
        });
        self.distances.insert(pair, distance);
        distance.map_or(0.0, |distance| distance - stands)
    }

    fn rhythm(&mut self, font: &Font, text: &BTreeSet<(char, char)>) -> Option<Rhythm> {
        if !self.looked {
            self.looked = true;
            self.rhythm = rhythm(font).map(|rhythm| self.opened(rhythm, font, text));
        }
        self.rhythm
    }

    /// The rhythm that the hardest pair of a text leaves.
    fn opened(&mut self, rhythm: Rhythm, font: &Font, text: &BTreeSet<(char, char)>) -> Rhythm {
        let glyphs = text.iter().filter_map(|(left, right)| font.glyph(*left).zip(font.glyph(*right)));
        let whites = glyphs.filter_map(|pair| {
            let (left, right) = self.between(font, pair);
            Some(white(left, right, rhythm.nearest(left, right)?, rhythm.depth))
        });
        let hardest = whites.fold(rhythm.white, f64::max);
        Rhythm { white: hardest.min(rhythm.white * OPENED), ..rhythm }
    }

    /// The right edge of one capital, and the left edge of the next.
    fn between(&mut self, font: &Font, (left, right): (u16, u16)) -> (&CapitalEdge, &CapitalEdge) {
        for glyph in [left, right] {
            self.edges.entry(glyph).or_insert_with(|| edges(font, glyph));
        }
        (&self.edges[&left].1, &self.edges[&right].0)
    }
}

impl Rhythm {
    /// The distance at which two edges have the wanted white between them; further, where ink would come too near.
    fn distance(self, left: &CapitalEdge, right: &CapitalEdge) -> Option<f64> {
        let nearest = self.nearest(left, right)?;
        let (mut low, mut high) = (nearest, nearest + 2.0);
        for _ in 0..40 {
            let middle = f64::midpoint(low, high);
            if white(left, right, middle, self.depth) < self.white { low = middle } else { high = middle }
        }
        Some(high)
    }

    /// The distance at which ink comes as near to ink as it may.
    fn nearest(self, left: &CapitalEdge, right: &CapitalEdge) -> Option<f64> {
        let step = self.cap_height / LEVELS as f64;
        let rows = (self.least / step).ceil() as usize;
        let near = left.iter().enumerate().filter_map(|(at, end)| {
            let end = (*end)?;
            let beside = at.saturating_sub(rows)..(at + rows + 1).min(LEVELS);
            let starts = beside.filter_map(|other| {
                let rise = at.abs_diff(other) as f64 * step;
                Some(end - right[other]? + (self.least * self.least - rise * rise).max(0.0).sqrt())
            });
            starts.reduce(f64::max)
        });
        near.reduce(f64::max)
    }
}

/// The mean white between two edges, in ems.
fn white(left: &CapitalEdge, right: &CapitalEdge, distance: f64, depth: f64) -> f64 {
    let levels = left.iter().zip(right).map(|pair| match pair {
        (Some(end), Some(start)) => (start + distance - end).clamp(0.0, depth),
        _ => depth,
    });
    levels.sum::<f64>() / LEVELS as f64
}

/// What the font itself puts between stems and between rounds; `None` for a font without `H` and `O`.
fn rhythm(font: &Font) -> Option<Rhythm> {
    let (stem, round) = (font.glyph('H')?, font.glyph('O')?);
    let between =
        |one: u16, other: u16, depth: f64| white(&edges(font, one).1, &edges(font, other).0, font.advance(one), depth);
    let depth = DEPTH * between(stem, stem, f64::INFINITY);
    let bounds = font.glyph_bounds(stem)?;
    let least = LEAST * (font.advance(stem) - bounds.width()).max(0.0);
    let white = f64::midpoint(between(stem, stem, depth), between(round, round, depth));
    let cap_height = font.metrics().cap_height;
    (depth > 0.0 && depth.is_finite() && cap_height > 0.0).then_some(Rhythm { white, depth, least, cap_height })
}

fn edges(font: &Font, glyph: u16) -> (CapitalEdge, CapitalEdge) {
    let levels = profile(font.outline(glyph), (-font.metrics().cap_height, 0.0), LEVELS);
    levels.into_iter().map(|level| (level.map(|reach| reach.0), level.map(|reach| reach.1))).unzip()
}

#[cfg(test)]
mod tests {
    use crate::ground::{Affine, Path, Point, Shape as _};
    use crate::typeset::laws::{WIDE, set, styled};
    use crate::typeset::{Align, Capitals, Size, Style};

    /// Straight, round and sloping neighbours, and those whose hollows nothing fills.
    const WORDS: &str = "HHOOHAVATOLTALAYRYOVDAH";
    const ROWS: usize = 80;
    /// As far as white is counted between letters, in whites of `HH`.
    const SEEN: f64 = 1.3;

    /// The white between neighbouring capitals of one text, counted dot by dot and no further than `depth`, and the least
    /// distance of their ink in a row, in ems.
    fn whites(words: &str, style: &Style, depth: f64) -> Vec<(f64, f64)> {
        let block = set(words, style, WIDE);
        let glyphs = block.lines[0].runs.iter().flat_map(|run| run.glyphs.iter().map(move |glyph| (run, glyph)));
        let drawn: Vec<Path> = glyphs
            .map(|(run, glyph)| Affine::translate((glyph.x / run.size, 0.0)) * run.font.outline(glyph.id).clone())
            .collect();
        let cap = block.lines[0].runs[0].font.metrics().cap_height;
        let step = 0.004;
        let pairs = drawn.windows(2).map(|pair| {
            let middle = pair[1].bounding_box().x0;
            let (mut sum, mut least) = (0.0, f64::MAX);
            for row in 0..ROWS {
                let y = -cap * (row as f64 + 0.5) / ROWS as f64;
                let inked = |path: &Path, x: f64| path.winding(Point::new(x, y)) != 0;
                let end = (0..300).map(|at| middle + 0.4 - f64::from(at) * step).find(|x| inked(&pair[0], *x));
                let start = (0..300).map(|at| middle - 0.1 + f64::from(at) * step).find(|x| inked(&pair[1], *x));
                let between = end.zip(start).map_or(f64::MAX, |(end, start)| start - end);
                (sum, least) = (sum + between.clamp(0.0, depth), least.min(between));
            }
            (sum / ROWS as f64, least)
        });
        pairs.collect()
    }

    /// Neighbours have as much white as each other, counted on the drawn letters dot by dot, and their ink does not meet.
    /// The fonts' own kerning leaves them at least twice as uneven.
    #[test]
    fn hard_pairs_stand_evenly() {
        let mut wrong = Vec::new();
        for family in ["EB Garamond", "Libre Franklin", "Playfair Display", "Inter", "League Gothic"] {
            let plain = Style { size: Size::Fixed(8.0), ..styled(family, "en", Align::Start) };
            let even = Style { capitals: Capitals::Even, ..plain.clone() };
            let depth = SEEN * whites("HH", &plain, f64::MAX)[0].0;
            let spread = |style: &Style| {
                let all = whites(WORDS, style, depth);
                let count = all.len() as f64;
                let mean = all.iter().map(|found| found.0).sum::<f64>() / count;
                let spread = (all.iter().map(|found| (found.0 - mean).powi(2)).sum::<f64>() / count).sqrt();
                (all, spread / mean)
            };
            let ((_, wide), (after, close)) = (spread(&plain), spread(&even));
            let pairs = WORDS.as_bytes().windows(2).map(|pair| String::from_utf8_lossy(pair));
            for (pair, found) in pairs.zip(&after) {
                if found.1 < 0.01 {
                    wrong.push(format!("{family} {pair}: ink meets"));
                }
            }
            if close > wide / 2.0 {
                wrong.push(format!("{family}: {wide} {close}"));
            }
        }
        assert!(wrong.is_empty(), "{wrong:#?}");
    }

    /// Small letters, and pairs with a blank or a sign, stay as the font has them; a number for a pair is added.
    #[test]
    fn only_capitals_are_moved() {
        let plain = styled("EB Garamond", "en", Align::Start);
        let even = Style { capitals: Capitals::Even, ..plain.clone() };
        let width = |text: &str, style: &Style| set(text, style, WIDE).width;
        for text in ["avatar to late", "A v T o.", "1790"] {
            assert!((width(text, &plain) - width(text, &even)).abs() < 1e-9, "{text}");
        }
        let more = Style { kerns: vec![('A', 'V', 100.0)], ..even.clone() };
        let em = 11.0 * crate::ground::MM_PER_PT;
        assert!((width("AV", &more) - width("AV", &even) - 0.1 * em).abs() < 1e-9);
    }

    /// In Barlow Condensed, semibold, Ø is 130 units of 1000 wider than O, all at its right (467 and 597; ink up to 425 and
    /// 437, as fontTools 4.68 reads the file), and no pair takes that back: `SØ RHOLM`. Here it stands like its neighbours.
    #[test]
    fn a_letter_with_too_much_room_stands_evenly() {
        let plain = Style { weight: 600, size: Size::Fixed(10.0), ..styled("Barlow Condensed", "no", Align::Start) };
        let even = Style { capitals: Capitals::Even, ..plain.clone() };
        let wider = |style: &Style| {
            let [stroked, open] = ["ØR", "OR"].map(|pair| set(pair, style, WIDE).width);
            (stroked - open) / (10.0 * crate::ground::MM_PER_PT)
        };
        assert!((wider(&plain) - 0.13).abs() < 1e-3, "{}", wider(&plain));
        // Its ink is 22 units wider than that of O: the stroke reaches out on both sides.
        assert!(wider(&even).abs() < 0.04, "{}", wider(&even));
    }
}
