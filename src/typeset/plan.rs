//! Where a text's lines break at a size, and how high they stand; glyphs not yet placed.

use crate::assets::{Font, Library, RunEnd};
use crate::ground::MM_PER_PT;
use crate::typeset::{
    Copy, Style,
    block::{Lack, Overmatter},
    drop_cap::{self, Fitted, Initial},
    extra_lines::{LinePart, share_out},
    holes::RowsOfParagraph,
    indents::{Indents, LineRooms},
    itemise::{Cuts, Passage, itemise},
    lines::{Taste, Wanted, best_lines},
    measure::{Segment, measure},
    place::LineWords,
    room::Room,
    shape::{Cut, Shaper},
    spread::LineFit,
    style::Align,
    upright::middle_of,
};

/// A text ready to be broken at any size.
pub struct MeasuredCopy {
    pub cuts: Vec<Cut>,
    pub lacks: Vec<Lack>,
    pub paragraphs: Vec<MeasuredParagraph>,
}

pub struct MeasuredParagraph {
    pub passage: Passage,
    pub initial: Option<Initial>,
    pub segments: Vec<Segment>,
    pub gaps: Vec<usize>,
}

#[derive(Debug)]
pub struct PlannedLine {
    pub paragraph: usize,
    pub words: LineWords,
    /// In points; most lines have the plan's.
    pub size: f64,
    pub baseline: f64,
    /// How far its beginning stands in, millimetres.
    pub inset: f64,
    /// Where its column begins, or its stretch of the measure.
    pub x: f64,
    /// How long a stretch it has, if not all of the measure.
    pub stretch: Option<f64>,
    pub initial: Option<Fitted>,
    pub end: RunEnd,
}

/// Millimetres, but for the size in points.
#[derive(Debug, Default)]
pub struct Plan {
    pub size: f64,
    pub leading: f64,
    pub lines: Vec<PlannedLine>,
    pub first_baseline: f64,
    pub height: f64,
    pub overmatter: Option<Overmatter>,
    /// A word is too long for the measure.
    pub overwide: bool,
    /// Of the lines more (or fewer, below 0) that are asked for, so many cannot be had.
    pub unreached: i32,
}

/// A text and the cuts that it needs, not yet measured.
pub struct ItemisedCopy {
    pub cuts: Vec<Cut>,
    pub lacks: Vec<Lack>,
    pub passages: Vec<Passage>,
    /// The cut of a drop cap, where its size asks for another drawing than the text's.
    initial: Option<usize>,
}

/// With optical sizes for a size in points. `None` when the family is not known.
pub fn itemised(copy: &Copy, style: &Style, library: &Library, points: f64) -> Option<ItemisedCopy> {
    let mut cuts = Cuts::new(library, style, points);
    let passages: Option<Vec<Passage>> = copy
        .paragraphs
        .iter()
        .filter(|paragraph| paragraph.phrases.iter().any(|phrase| !phrase.text.trim().is_empty()))
        .map(|paragraph| itemise(paragraph, &mut cuts))
        .collect();
    let passages = passages?;
    let initial = passages.first().and_then(|passage| drop_cap::own_cut(passage, style, &mut cuts));
    Some(ItemisedCopy { passages, cuts: cuts.list, lacks: cuts.lacks, initial })
}

/// Measures the passages.
pub fn prepare(copy: &ItemisedCopy, style: &Style, shaper: &mut Shaper<'_>) -> MeasuredCopy {
    let cuts = &copy.cuts;
    let mut paragraphs = Vec::with_capacity(copy.passages.len());
    for passage in &copy.passages {
        let first = paragraphs.is_empty();
        let initial = if first { drop_cap::initial(passage, style, (cuts, copy.initial), shaper) } else { None };
        let start = initial.as_ref().map_or(0, |initial| initial.rest);
        let (segments, gaps) = measure(passage, start, style, cuts, shaper);
        paragraphs.push(MeasuredParagraph { passage: passage.clone(), initial, segments, gaps });
    }
    MeasuredCopy { cuts: cuts.clone(), lacks: copy.lacks.clone(), paragraphs }
}

/// How many lines a paragraph may have, since each ends at a chance, and how many breaks in it are chosen.
fn most_lines(paragraph: &MeasuredParagraph) -> (usize, usize) {
    let most = paragraph.segments.iter().map(|segment| segment.chances.len()).sum();
    (most, paragraph.segments.len().saturating_sub(1))
}

/// The best lines at a size, in one column.
pub fn lay_one(copy: &MeasuredCopy, style: &Style, size: f64, base: &Font, room: Room<'_>) -> Plan {
    let em = (size * MM_PER_PT).max(1e-6);
    let leading = style.leading_at(size) * MM_PER_PT;
    let shrunk = size / style.largest().max(1e-6) * MM_PER_PT;
    let (ascent, descent) = if style.upright {
        // Lines as broad as their letters, the middle of which is the line's.
        ((0.5 + middle_of(base)) * em, (0.5 - middle_of(base)) * em)
    } else {
        (base.metrics().ascender * em, base.metrics().descender * em)
    };
    let first_baseline = ascent;
    let mut plan = Plan { size, leading, first_baseline, ..Plan::default() };
    let taste = taste(style, room.width / em);
    let indents: Vec<Indents> = copy
        .paragraphs
        .iter()
        .enumerate()
        .map(|(number, paragraph)| {
            let indent = if number > 0 { style.indent * shrunk } else { 0.0 };
            let fitted = paragraph.initial.as_ref().map(|initial| initial.fit(&copy.cuts, leading / em));
            let beside = paragraph.initial.as_ref().map_or(0, |initial| initial.lines);
            Indents { fitted, beside, indent, em, width: room.width }
        })
        .collect();
    let (wishes, unreached) = wishes(copy, style, &indents, &taste);
    plan.unreached = unreached;
    let mut wishes = wishes.into_iter();
    let mut baseline = first_baseline;
    let mut foot = 0.0_f64;
    for (number, paragraph) in copy.paragraphs.iter().enumerate() {
        if number > 0 {
            baseline += style.space_between * shrunk;
        }
        let top = baseline;
        let indents = &indents[number];
        let (fitted, beside) = (indents.fitted, indents.beside);
        let reach = (base.metrics().ascender.max(base.metrics().cap_height) * em, descent);
        let rows = RowsOfParagraph { first: top, leading, reach };
        let rooms = LineRooms::new(indents, room.holes, &rows, paragraph.passage.rtl, most_lines(paragraph));
        let measure = |line: usize| rooms.measure(line);
        let mut line = 0;
        for (at, segment) in paragraph.segments.iter().enumerate() {
            while !rooms.place(line).begins {
                line += 1;
            }
            let same = rooms.same().saturating_sub(line);
            let wanted = wishes.next().flatten();
            let breaks = best_lines(&segment.chances, &|on| measure(line + on), same, &taste, wanted);
            let mut from = 0;
            for chance in breaks {
                let (found, start) = (segment.places[chance], segment.places[from]);
                let end = match chance + 1 == segment.chances.len() {
                    false => RunEnd::Line,
                    true if at + 1 < paragraph.segments.len() => RunEnd::Chosen,
                    true => RunEnd::Paragraph,
                };
                let measure = measure(line);
                let fit = match end {
                    _ if style.is_ragged() => LineFit::AsDrawn,
                    RunEnd::Line => LineFit::Exact,
                    _ => LineFit::NoWider,
                };
                let sum = segment.chances[chance].end.minus(segment.chances[from].start);
                let least = if fit == LineFit::AsDrawn { sum.width } else { sum.width - sum.shrink };
                plan.overwide |= least > measure + SAME;
                plan.lines.push(PlannedLine {
                    paragraph: number,
                    words: start.words_to(found, measure, fit),
                    size,
                    baseline: top + rooms.place(line).row as f64 * leading,
                    inset: rooms.inset(line),
                    x: rooms.place(line).stretch.0,
                    stretch: room.holes.map(|_| rooms.length(line)),
                    initial: fitted.filter(|_| line == 0),
                    end,
                });
                baseline = top + rooms.place(line).row as f64 * leading;
                foot = foot.max(baseline);
                baseline += leading;
                line += 1;
                from = chance;
            }
        }
        if line > 0 && beside > 0 {
            // Even a short paragraph has room for its initial.
            let rows = rooms.place(0).row + beside;
            baseline = baseline.max(top + rows as f64 * leading);
            foot = foot.max(top + (rows - 1) as f64 * leading);
        }
    }
    if !plan.lines.is_empty() {
        plan.height = foot + descent;
    }
    let most_lines = room.lines.into_iter().chain(style.lines.map(|(_, most)| most)).min();
    plan.overmatter = overmatter(&plan, descent, room, most_lines);
    plan
}

/// Ems that make no difference.
const SAME: f64 = 1e-4;

pub fn overmatter(plan: &Plan, descent: f64, room: Room<'_>, most_lines: Option<usize>) -> Option<Overmatter> {
    let limit = room.height.map_or(f64::MAX, |height| height + 1e-6);
    let too_low = plan.lines.iter().filter(|line| line.baseline + descent > limit).count();
    let too_many = most_lines.map_or(0, |lines| plan.lines.len().saturating_sub(lines));
    let mm = room.height.map_or(0.0, |height| (plan.height - height).max(0.0));
    let lines = too_low.max(too_many);
    let mm = if mm > 1e-6 { mm } else { too_many as f64 * plan.leading };
    (lines > 0 || mm > 1e-6).then_some(Overmatter { lines, mm })
}

/// Demerits, beside which a line at the limit of its stretch has 12,100 and one stretched twice as far 656,000. A hyphen
/// into the last line, or a last line shorter than a fifth of the measure, is worth a line with a hole, and no more: common
/// practice, tried on many paragraphs.
const UNEVEN: f64 = 60_000.0;
const LAST_HYPHEN: f64 = 1e6;
/// Ragged lines have no holes: a short line is better than a hyphen into the last one.
const RAGGED_LAST_HYPHEN: f64 = 1e9;
const LEAST_LAST: f64 = 0.2;
const SHORT_LAST: f64 = 1e6;
/// Beyond the loosest line there is.
const FAULT: f64 = 1e13;

/// How many lines are asked for of every part between chosen breaks, where that is ours to decide: the author's own line
/// breaks win. And how many cannot be had.
fn wishes(copy: &MeasuredCopy, style: &Style, indents: &[Indents], taste: &Taste) -> (Vec<Wanted>, i32) {
    let measures: Vec<_> = indents.iter().map(|indents| |line: usize| indents.measure(line)).collect();
    if style.more_lines != 0 {
        let parts = copy.paragraphs.iter().enumerate().flat_map(|(number, paragraph)| {
            let (measure, same) = (&measures[number], indents[number].same());
            paragraph.segments.iter().map(move |segment| LinePart {
                paragraph: number,
                chances: &segment.chances,
                measure,
                same,
            })
        });
        return share_out(&parts.collect::<Vec<LinePart<'_>>>(), style.more_lines, taste);
    }
    match &copy.paragraphs[..] {
        [only] if only.segments.len() == 1 => (vec![style.lines], 0),
        _ => (Vec::new(), 0),
    }
}

/// What makes lines good, in this style. A ragged edge may play over a seventh of the measure.
fn taste(style: &Style, width: f64) -> Taste {
    let ragged = style.is_ragged();
    Taste {
        zone: ragged.then_some((width * 0.15).max(1e-6)),
        even_last: style.align == Align::Centre || style.even && ragged,
        line: 10.0,
        uneven: UNEVEN,
        hyphen_pair: 10_000.0,
        last_hyphen: if ragged { RAGGED_LAST_HYPHEN } else { LAST_HYPHEN },
        lonely: if ragged { 1e8 } else { 2e6 },
        least_last: LEAST_LAST,
        short_last: SHORT_LAST,
        in_row: style.hyphenation.in_row,
        fault: FAULT,
    }
}
