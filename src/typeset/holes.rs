//! Holes: what the lines of a text run round, and the stretches of a line that are left beside it.

use crate::ground::{Path, Shape as _};
use crate::typeset::profile::profile;

/// In the space of a block: millimetres from its upper left corner.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Holes(pub Vec<Hole>);

/// The widest reach of a shape, level by level, and what words keep from it.
#[derive(Clone, Debug, PartialEq)]
pub struct Hole {
    top: f64,
    step: f64,
    levels: Vec<Option<(f64, f64)>>,
    gap: f64,
    beside: Beside,
}

/// Where words stand beside it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beside {
    Both,
    Left,
    Right,
}

/// A stretch of a line: from where to where it reaches.
pub type FreeStretch = (f64, f64);

/// A line's place in a paragraph.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct LinePlace {
    /// Its row, from the paragraph's first.
    pub row: usize,
    pub stretch: FreeStretch,
    /// Nothing stands before it in its row.
    pub begins: bool,
}

/// How closely a shape is followed, in millimetres: a quarter of the stem of a small letter.
const STEP: f64 = 0.1;
/// Levels of one shape, and levels that all its parts together are compared with: a shape of very many parts is followed
/// less closely.
const MOST_LEVELS: usize = 4000;
const MOST_WORK: usize = 20_000_000;
const LEAST_LEVELS: usize = 50;
/// Rows of a paragraph that are looked at; further down, lines are whole.
const MOST_ROWS: usize = 250;
/// Beside a shape no line is narrower than so many ems: it would hold a word and holes. Common practice.
const LEAST_STRETCH: f64 = 5.0;

impl Hole {
    /// What a shape takes out of words that keep a gap from it.
    pub fn new(shape: &Path, gap: f64, beside: Beside) -> Option<Hole> {
        let bounds = shape.bounding_box();
        if shape.elements().is_empty() || !bounds.is_finite() || bounds.height() <= 0.0 {
            return None;
        }
        let most = (MOST_WORK / shape.elements().len()).clamp(LEAST_LEVELS, MOST_LEVELS);
        let count = ((bounds.height() / STEP).ceil() as usize).clamp(1, most);
        let levels = profile(shape, (bounds.y0, bounds.y1), count);
        Some(Hole { top: bounds.y0, step: bounds.height() / count as f64, levels, gap, beside })
    }

    /// The same shape elsewhere, and what words keep from it there.
    pub fn moved(&self, (across, down): (f64, f64), gap: f64, beside: Beside) -> Hole {
        let levels = self.levels.iter().map(|reach| reach.map(|(left, right)| (left + across, right + across)));
        Hole { top: self.top + down, step: self.step, levels: levels.collect(), gap, beside }
    }

    fn foot(&self) -> f64 {
        self.top + self.step * self.levels.len() as f64 + self.gap
    }

    /// What it takes out of a line that reaches from one height to another.
    fn takes(&self, (top, foot): (f64, f64)) -> Option<FreeStretch> {
        let level = |at: f64| ((at - self.top) / self.step).clamp(0.0, self.levels.len() as f64);
        let first = level(top - self.gap).floor() as usize;
        let last = level(foot + self.gap).ceil() as usize;
        let reaches = (first..last).filter_map(|at| {
            let (left, right) = self.levels[at]?;
            let upper = self.top + at as f64 * self.step;
            let away = (upper - foot).max(top - upper - self.step).max(0.0);
            let beside = (self.gap * self.gap - away * away).max(0.0).sqrt();
            (away <= self.gap).then_some((left - beside, right + beside))
        });
        let (left, right) = reaches.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))?;
        Some(match self.beside {
            Beside::Both => (left, right),
            Beside::Left => (left, f64::INFINITY),
            Beside::Right => (f64::NEG_INFINITY, right),
        })
    }
}

impl Holes {
    /// How many shapes there are.
    pub fn count(&self) -> usize {
        self.0.len()
    }

    /// What is left of a line, from left to right.
    fn leave(&self, reach: (f64, f64), width: f64, least: f64) -> Vec<FreeStretch> {
        let mut taken: Vec<FreeStretch> = self.0.iter().filter_map(|hole| hole.takes(reach)).collect();
        taken.sort_by(|a, b| a.0.total_cmp(&b.0));
        let mut left = Vec::new();
        let mut from = 0.0_f64;
        for (start, end) in taken.into_iter().chain([(width, width)]) {
            if start.min(width) - from >= least.min(width) {
                left.push((from, start.min(width)));
            }
            from = from.max(end);
        }
        left
    }

    /// The places of a paragraph's lines, as long as they are not whole, and `most` of them, which it has words for.
    /// The first `tied` rows stand under each other beside an initial.
    pub fn places(
        &self,
        paragraph: &RowsOfParagraph,
        (width, em): (f64, f64),
        rtl: bool,
        (tied, most): (usize, usize),
    ) -> Vec<LinePlace> {
        let deepest = self.0.iter().map(Hole::foot).fold(f64::MIN, f64::max);
        let least = LEAST_STRETCH * em;
        let RowsOfParagraph { first, leading, reach } = *paragraph;
        let baseline = |row: usize| first + row as f64 * leading;
        let mut places = Vec::new();
        let mut row = 0;
        let open = |row: usize| row < MOST_ROWS && baseline(row) - reach.0 < deepest;
        while tied > 0 && open(row) {
            let whole = (baseline(row) - reach.0, baseline(row + tied - 1) + reach.1);
            let left = self.leave(whole, width, least);
            if let Some(stretch) = if rtl { left.last() } else { left.first() } {
                places.extend((row..row + tied).map(|row| LinePlace { row, stretch: *stretch, begins: true }));
                row += tied;
                break;
            }
            row += 1;
        }
        while open(row) && places.len() < most {
            let mut left = self.leave((baseline(row) - reach.0, baseline(row) + reach.1), width, least);
            if rtl {
                left.reverse();
            }
            let place = |(at, stretch)| LinePlace { row, stretch, begins: at == 0 };
            places.extend(left.into_iter().enumerate().map(place));
            row += 1;
        }
        if row > places.last().map_or(0, |last| last.row + 1) {
            places.push(LinePlace { row, stretch: (0.0, width), begins: true });
        }
        places
    }
}

/// Where the rows of a paragraph stand.
#[derive(Clone, Copy, Debug)]
pub struct RowsOfParagraph {
    /// The first one's baseline.
    pub first: f64,
    pub leading: f64,
    /// How far a line reaches over its baseline and under it.
    pub reach: (f64, f64),
}

/// The place of a line by its number: those that are known, then whole lines.
pub fn place_of(places: &[LinePlace], line: usize, width: f64) -> LinePlace {
    places.get(line).copied().unwrap_or_else(|| {
        let row = places.last().map_or(line, |last| last.row + 1 + line - places.len());
        LinePlace { row, stretch: (0.0, width), begins: true }
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Affine, Ellipse, MM_PER_PT, ParamCurve as _, Point};
    use crate::typeset::laws::{BLURB, HEBREW, WIDE, set, spoken, styled};
    use crate::typeset::{Align, Block, DropCap, Room, Size, Style};

    /// How far the ink of a block stays from a point, millimetres.
    fn nearest_ink(block: &Block, middle: Point) -> f64 {
        let mut nearest = f64::MAX;
        for line in &block.lines {
            for (run, glyph) in line.runs.iter().flat_map(|run| run.glyphs.iter().map(move |glyph| (run, glyph))) {
                let place = Affine::translate((glyph.x, line.baseline + glyph.y)) * Affine::scale(run.size);
                for part in run.font.outline(glyph.id).segments() {
                    let points = (0..=8).map(|step| place * part.eval(f64::from(step) / 8.0));
                    nearest = points.map(|point| point.distance(middle)).fold(nearest, f64::min);
                }
            }
        }
        nearest
    }

    fn words(block: &Block, rtl: bool) -> String {
        block.lines.iter().map(|line| spoken(line, rtl)).collect::<String>().replace(['\u{ad}', ' ', '\n'], "")
    }

    /// Measured on the letters themselves: they keep their distance from a circle, come as near as the measure lets them,
    /// and none is lost.
    #[test]
    fn lines_run_round_a_circle() {
        let long = format!("{BLURB}\n\n{BLURB}");
        let (radius, gap) = (16.0, 3.0);
        for (beside, x, text, style) in [
            (Beside::Both, 47.5, long.as_str(), Style { align: Align::Justify, ..Style::default() }),
            (Beside::Right, 8.0, &long, Style { align: Align::Justify, ..Style::default() }),
            (Beside::Left, 80.0, &long, Style::default()),
            (Beside::Left, 92.0, HEBREW, styled("Frank Ruhl Libre", "he", Align::Justify)),
            (Beside::Both, 47.5, &long, Style { size: Size::Between(7.0, 20.0), ..Style::default() }),
            (
                Beside::Right,
                6.0,
                &long,
                Style { drop_cap: Some(DropCap { lines: 3, letters: 1, snug: true }), ..Style::default() },
            ),
        ] {
            // Signs hang into the gap as they hang into a margin; letters do not.
            let style = Style { hanging: false, ..style };
            let middle = Point::new(x, 20.0);
            let shape = Ellipse::new(middle, (radius, radius), 0.0).to_path(1e-3);
            let holes = Holes(Hole::new(&shape, gap, beside).into_iter().collect());
            let height = matches!(style.size, Size::Between(..)).then_some(90.0);
            let block = set(text, &style, Room { holes: Some(&holes), height, ..WIDE });
            let plain = set(text, &style, WIDE);
            let rtl = style.language == "he";
            assert_eq!(words(&block, rtl), words(&plain, rtl));
            assert!(block.overwide == 0.0 && block.overmatter.is_none(), "{beside:?}");
            let nearest = nearest_ink(&block, middle) - radius;
            // Brackets and quotation marks may reach a hair over the letters that a line is measured by.
            assert!((gap - 0.25..gap + 1.0).contains(&nearest), "{beside:?} {x}: {nearest}");
            let reach = |line: &crate::typeset::BlockLine| {
                let glyphs = line.runs.iter().flat_map(|run| &run.glyphs).filter(|glyph| glyph.advance > 0.0);
                glyphs.fold((f64::MAX, f64::MIN), |(a, b), g| (a.min(g.x), b.max(g.x + g.advance)))
            };
            let em = block.size * MM_PER_PT;
            let narrow = |line: &&crate::typeset::BlockLine| reach(line).1 - reach(line).0 > 100.0 * em;
            assert_eq!(block.lines.iter().filter(narrow).count(), 0);
        }
    }

    /// A paragraph of a word asks for a row or two beside a shape as high as a page, and not for all rows of it.
    #[test]
    fn short_paragraphs_ask_for_few_rows() {
        let shape = crate::ground::rect_path(crate::ground::Rect::new(40.0, 0.0, 60.0, 400.0));
        let holes = Holes(Hole::new(&shape, 2.0, Beside::Both).into_iter().collect());
        let rows = RowsOfParagraph { first: 4.0, leading: 4.0, reach: (3.0, 1.0) };
        assert_eq!(holes.places(&rows, (95.0, 3.5), false, (0, 2)).len(), 2);
        // To the shape's foot at 402: rows of which the top, 1 to 401, lies over it, two places each; then a whole line.
        assert_eq!(holes.places(&rows, (95.0, 3.5), false, (0, 9999)).len(), 2 * 101);
    }

    /// Beside a drawing that leaves no room for a line, words go on below it.
    #[test]
    fn no_line_stands_where_there_is_no_room() {
        let shape = crate::ground::rect_path(crate::ground::Rect::new(4.0, 0.0, 90.0, 30.0));
        let holes = Holes(Hole::new(&shape, 2.0, Beside::Both).into_iter().collect());
        let block = set(BLURB, &Style::default(), Room { holes: Some(&holes), ..WIDE });
        let em = block.size * MM_PER_PT;
        let top = block.lines[0].baseline - block.lines[0].runs[0].font.metrics().ascender * em;
        assert!(top >= 32.0 && top < 32.0 + 1.2 * em, "{top}");
    }
}
