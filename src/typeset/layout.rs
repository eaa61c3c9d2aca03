//! Where a text's lines break at a size, and how high they stand; glyphs not yet placed.

use crate::assets::{Font, Library};
use crate::ground::{MM_PER_PT, Rect};
use crate::typeset::{
    Align, Copy, Overmatter, Room, Style,
    drop_cap::{self, Fitted, Initial},
    itemise::{Faces, Passage, itemise},
    lines::{Taste, best_lines},
    measure::{Segment, measure},
    place::Words,
    shape::{Face, Shaper},
};

/// A text ready to be broken at any size.
pub struct Prepared {
    pub faces: Vec<Face>,
    pub paragraphs: Vec<Ready>,
}

pub struct Ready {
    pub passage: Passage,
    pub initial: Option<Initial>,
    pub segments: Vec<Segment>,
    pub gaps: Vec<usize>,
}

/// Where words may go.
#[derive(Clone, Copy)]
pub struct Frame<'a> {
    pub room: Room,
    /// What they go round, in the block's space.
    pub holes: &'a [Rect],
}

#[derive(Debug)]
pub struct Row {
    pub paragraph: usize,
    pub words: Words,
    pub baseline: f64,
    /// How far its beginning and its end stand in, millimetres.
    pub inset: (f64, f64),
    pub initial: Option<Fitted>,
    pub last: bool,
}

/// Millimetres, but for the size in points.
#[derive(Debug)]
pub struct Layout {
    pub size: f64,
    pub leading: f64,
    pub rows: Vec<Row>,
    pub first_baseline: f64,
    pub height: f64,
    pub overmatter: Option<Overmatter>,
    /// A word is too long for the measure.
    pub overwide: bool,
}

/// Faces and passages; `None` when the family is not known.
pub fn itemised(copy: &Copy, style: &Style, library: &Library) -> Option<(Vec<Face>, Vec<Passage>)> {
    let mut faces = Faces::new(library, style);
    let passages: Option<Vec<Passage>> = copy
        .paragraphs
        .iter()
        .filter(|paragraph| paragraph.words.iter().any(|words| !words.text.trim().is_empty()))
        .map(|paragraph| itemise(paragraph, &mut faces))
        .collect();
    Some((faces.list, passages?))
}

/// Measures the passages.
pub fn prepare(passages: Vec<Passage>, style: &Style, faces: &[Face], shaper: &mut Shaper<'_>) -> Prepared {
    let mut paragraphs = Vec::with_capacity(passages.len());
    for passage in passages {
        let first = paragraphs.is_empty();
        let initial = if first { drop_cap::initial(&passage, style, faces, shaper) } else { None };
        let start = initial.as_ref().map_or(0, |initial| initial.rest);
        let (segments, gaps) = measure(&passage, start, style, faces, shaper);
        paragraphs.push(Ready { passage, initial, segments, gaps });
    }
    Prepared { faces: faces.to_vec(), paragraphs }
}

/// The best lines at a size.
pub fn lay(prepared: &Prepared, style: &Style, size: f64, base: &Font, frame: Frame<'_>) -> Layout {
    let room = frame.room;
    let em = (size * MM_PER_PT).max(1e-6);
    let leading = style.leading_at(size) * MM_PER_PT;
    let shrunk = size / style.largest().max(1e-6) * MM_PER_PT;
    let band = (base.metrics().ascender * em, base.metrics().descender * em);
    let first_baseline = band.0;
    let mut layout =
        Layout { size, leading, rows: Vec::new(), first_baseline, height: 0.0, overmatter: None, overwide: false };
    let taste = taste(style, room.width / em);
    let mut baseline = first_baseline;
    let mut foot = 0.0_f64;
    for (number, paragraph) in prepared.paragraphs.iter().enumerate() {
        let fitted = paragraph.initial.as_ref().map(|initial| initial.fit(style, &prepared.faces, leading / em));
        let beside = paragraph.initial.as_ref().map_or(0, |initial| initial.lines);
        let indent = if number > 0 { style.indent * shrunk } else { 0.0 };
        if number > 0 {
            baseline += style.space_between * shrunk;
        }
        let top = baseline;
        let inset = |line: usize| {
            let own = match (line, fitted) {
                (0, Some(fitted)) => fitted.first * em,
                (line, Some(fitted)) if line < beside => fitted.others * em,
                (line, Some(fitted)) if line == beside => fitted.below * em,
                (0, None) => indent,
                _ => 0.0,
            };
            let (left, right) = frame.free(top + line as f64 * leading, band);
            if paragraph.passage.rtl { (right + own, left) } else { (left + own, right) }
        };
        let measure = |line: usize| {
            let (start, end) = inset(line);
            ((room.width - start - end) / em).max(0.0)
        };
        // From here on, lines have neither initial nor hole beside them.
        let same = (beside + 1).max(frame.lines_beside(top - band.0, leading));
        let mut line = 0;
        for (at, segment) in paragraph.segments.iter().enumerate() {
            let breaks = best_lines(&segment.chances, &|on| measure(line + on), same.saturating_sub(line), &taste);
            let mut from = 0;
            for chance in breaks {
                let (place, start) = (segment.places[chance], segment.places[from]);
                let ends = chance + 1 == segment.chances.len();
                let measure = measure(line);
                let sum = segment.chances[chance].end.minus(segment.chances[from].start);
                layout.overwide |= sum.width - sum.shrink > measure + 1e-4;
                layout.rows.push(Row {
                    paragraph: number,
                    words: Words {
                        kept: start.next..place.at.max(start.next),
                        next: place.next,
                        hyphen: place.hyphen,
                        measure,
                        justified: !style.is_ragged() && !ends,
                    },
                    baseline,
                    inset: inset(line),
                    initial: fitted.filter(|_| line == 0),
                    last: ends && at + 1 == paragraph.segments.len(),
                });
                foot = foot.max(baseline);
                baseline += leading;
                line += 1;
                from = chance;
            }
        }
        if line > 0 && beside > 0 {
            // Even a short paragraph has room for its initial.
            baseline = baseline.max(top + beside as f64 * leading);
            foot = foot.max(top + (beside - 1) as f64 * leading);
        }
    }
    if !layout.rows.is_empty() {
        layout.height = foot + band.1;
    }
    layout.overmatter = overmatter(&layout, band.1, room);
    layout
}

impl Frame<'_> {
    /// What holes take at the left and right of a line: words keep to the widest free stretch.
    fn free(&self, baseline: f64, band: (f64, f64)) -> (f64, f64) {
        let (top, foot) = (baseline - band.0, baseline + band.1);
        let mut beside: Vec<(f64, f64)> =
            self.holes.iter().filter(|hole| hole.y0 < foot && hole.y1 > top).map(|hole| (hole.x0, hole.x1)).collect();
        if beside.is_empty() {
            return (0.0, 0.0);
        }
        beside.sort_by(|a, b| a.0.total_cmp(&b.0));
        let width = self.room.width;
        let mut best = (0.0, 0.0);
        let mut left = 0.0_f64;
        for (from, to) in beside.into_iter().chain([(width, width)]) {
            if from.min(width) - left > best.1 - best.0 {
                best = (left, from.min(width));
            }
            left = left.max(to);
        }
        (best.0, width - best.1)
    }

    /// How many lines from `top` stand beside a hole, at most.
    fn lines_beside(&self, top: f64, leading: f64) -> usize {
        let foot = self.holes.iter().map(|hole| hole.y1).fold(f64::MIN, f64::max);
        if foot > top && leading > 0.0 { (((foot - top) / leading).ceil() as usize + 1).min(MOST_BESIDE) } else { 0 }
    }
}

/// More lines than any panel holds.
const MOST_BESIDE: usize = 2000;

fn overmatter(layout: &Layout, descent: f64, room: Room) -> Option<Overmatter> {
    let limit = room.height.map_or(f64::MAX, |height| height + 1e-6);
    let too_low = layout.rows.iter().filter(|row| row.baseline + descent > limit).count();
    let too_many = room.lines.map_or(0, |lines| layout.rows.len().saturating_sub(lines));
    let mm = room.height.map_or(0.0, |height| (layout.height - height).max(0.0));
    let lines = too_low.max(too_many);
    let mm = if mm > 1e-6 { mm } else { too_many as f64 * layout.leading };
    (lines > 0 || mm > 1e-6).then_some(Overmatter { lines, mm })
}

/// What makes lines good, in this style. A ragged edge may play over a seventh of the measure.
fn taste(style: &Style, width: f64) -> Taste {
    let ragged = style.is_ragged();
    Taste {
        zone: ragged.then_some((width * 0.15).max(1e-6)),
        even_last: style.align == Align::Centre,
        line: 10.0,
        uneven: 10_000.0,
        hyphen_pair: 10_000.0,
        lonely: if ragged { 1e8 } else { 2e6 },
        in_row: style.hyphenation.in_row,
        fault: 1e10,
    }
}
