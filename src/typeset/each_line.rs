//! Lines that each find their own size: all as wide as the room, with even gaps between capitals and the line above.

use crate::assets::{Font, RunEnd};
use crate::ground::MM_PER_PT;
use crate::typeset::{
    lines::{Sum, Taste, best_lines},
    measure::Segment,
    plan::{MeasuredCopy, Plan, PlannedLine, overmatter},
    room::Room,
    spread::LineFit,
    style::Style,
    upright::middle_of,
};

/// What one line says: paragraph, segment, and the chances at which it begins and ends.
type Cutting = (usize, usize, usize, usize);

/// Lines as the author breaks them, or as many as the style asks for: the number that fills the room best.
pub fn lay_each(copy: &MeasuredCopy, style: &Style, (least, most): (f64, f64), base: &Font, room: Room<'_>) -> Plan {
    let (low, high) = style.lines.unwrap_or((1, 1));
    let fits = |plan: &Plan| plan.overmatter.is_none() && !plan.overwide;
    let mut best: Option<Plan> = None;
    for count in low..=high.max(low) {
        let plan = plan(copy, style, &cuttings(copy, count), (least, most), base, room);
        if best.as_ref().is_none_or(|known| fits(&plan) && (!fits(known) || plan.height > known.height)) {
            best = Some(plan);
        }
    }
    best.unwrap_or_else(|| plan(copy, style, &cuttings(copy, 1), (least, most), base, room))
}

/// A text of one part in so many even lines; one of several parts as its author broke it.
fn cuttings(copy: &MeasuredCopy, count: usize) -> Vec<Cutting> {
    let parts: usize = copy.paragraphs.iter().map(|paragraph| paragraph.segments.len()).sum();
    let mut cuttings = Vec::new();
    for (number, paragraph) in copy.paragraphs.iter().enumerate() {
        for (at, segment) in paragraph.segments.iter().enumerate() {
            let mut from = 0;
            let count = if parts == 1 { count } else { 1 };
            for chance in even_lines(segment, count) {
                cuttings.push((number, at, from, chance));
                from = chance;
            }
        }
    }
    cuttings
}

fn even_lines(segment: &Segment, count: usize) -> Vec<usize> {
    let end = segment.chances.len().saturating_sub(1);
    if count < 2 {
        return vec![end];
    }
    let whole = segment.chances[end].end.minus(segment.chances[0].start).width;
    let taste = Taste {
        zone: Some((whole / count as f64).max(1e-6)),
        even_last: true,
        line: 10.0,
        uneven: 0.0,
        hyphen_pair: 0.0,
        last_hyphen: 0.0,
        lonely: 0.0,
        least_last: 0.0,
        short_last: 0.0,
        in_row: 1,
        fault: 0.0,
    };
    best_lines(&segment.chances, &|_| whole, 0, &taste, Some((count, count)))
}

fn plan(
    copy: &MeasuredCopy,
    style: &Style,
    cuttings: &[Cutting],
    (least, most): (f64, f64),
    base: &Font,
    room: Room<'_>,
) -> Plan {
    // How far a line reaches up from its baseline to where the next one before it ends, how far the first one does, and how
    // far one reaches down, in ems. Upright lines are as broad as their letters.
    let metrics = base.metrics();
    let [rise, first_rise, fall, foot] = if style.upright {
        let middle = middle_of(base);
        [0.5 + middle, 0.5 + middle, 0.5 - middle, 0.5 - middle]
    } else {
        [metrics.cap_height, metrics.ascender, 0.0, metrics.descender]
    };
    let width = |(paragraph, segment, from, to): Cutting| -> Sum {
        let chances = &copy.paragraphs[paragraph].segments[segment].chances;
        chances[to].end.minus(chances[from].start)
    };
    let sizes: Vec<f64> = cuttings
        .iter()
        .map(|cutting| (room.width / MM_PER_PT / width(*cutting).width.max(1e-6)).clamp(least, most.max(least)))
        .collect();
    let mean = sizes.iter().sum::<f64>() / sizes.len().max(1) as f64;
    let gap = (style.leading_at(most) / most.max(f64::MIN_POSITIVE) - 1.0) * mean * MM_PER_PT;
    let first = sizes.first().copied().unwrap_or(least);
    let mut plan = Plan {
        size: first,
        leading: gap + (rise + fall) * mean * MM_PER_PT,
        first_baseline: first_rise * first * MM_PER_PT,
        // Every line is as wide as the room: none gives words to another.
        unreached: style.more_lines,
        ..Plan::default()
    };
    let mut baseline = plan.first_baseline;
    for (cutting, size) in cuttings.iter().zip(&sizes) {
        let (paragraph, at, from, to) = *cutting;
        let em = size * MM_PER_PT;
        if let Some(before) = plan.lines.last() {
            baseline += fall * before.size * MM_PER_PT + gap + rise * em;
        }
        let segment = &copy.paragraphs[paragraph].segments[at];
        let (place, start) = (segment.places[to], segment.places[from]);
        let end = match to + 1 == segment.places.len() {
            false => RunEnd::Line,
            true if at + 1 < copy.paragraphs[paragraph].segments.len() => RunEnd::Chosen,
            true => RunEnd::Paragraph,
        };
        plan.overwide |= width(*cutting).width * em > room.width + 1e-4 * em;
        plan.lines.push(PlannedLine {
            paragraph,
            words: start.words_to(place, room.width / em.max(1e-9), LineFit::AsDrawn),
            size: *size,
            baseline,
            inset: 0.0,
            x: 0.0,
            stretch: None,
            initial: None,
            end,
        });
        plan.height = baseline + foot * em;
    }
    plan.overmatter = overmatter(&plan, foot * first * MM_PER_PT, room, room.lines);
    plan
}
