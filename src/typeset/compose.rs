//! A plan of lines becomes a block: every line set and aligned.

use crate::assets::{Font, RunEnd, Sequence};
use crate::ground::MM_PER_PT;
use crate::typeset::{
    block::{Block, BlockLine, TextRun},
    place::{SetLine, Stick, place},
    plan::{MeasuredCopy, Plan, PlannedLine},
    room::Room,
    shape::Shaper,
    style::{Size, Style},
};

/// What no eye sees, in millimetres.
const OVERWIDE: f64 = 1e-3;

/// Sets the lines that a plan decided on.
pub fn compose(
    copy: &MeasuredCopy,
    plan: &Plan,
    style: &Style,
    base: &Font,
    room: Room<'_>,
    shaper: &mut Shaper<'_>,
) -> Block {
    let em = plan.size * MM_PER_PT;
    let lines: Vec<SetLine> = plan
        .lines
        .iter()
        .map(|line| {
            let paragraph = &copy.paragraphs[line.paragraph];
            let em = line.size * MM_PER_PT;
            let stick = Stick { passage: &paragraph.passage, gaps: &paragraph.gaps, style, cuts: &copy.cuts, em };
            let set = place(&stick, &line.words, shaper);
            // A font that kerns across blanks sets a line a little otherwise than it was measured.
            let (Size::EachLine(least, most), true) = (style.size, set.width > 0.0) else { return set };
            let size = (line.size * room.width / set.width).clamp(least.min(most), most.max(least));
            place(&Stick { em: size * MM_PER_PT, ..stick }, &line.words, shaper)
        })
        .collect();
    let both = || plan.lines.iter().zip(&lines);
    let over =
        both().map(|(line, set)| line.inset + set.width - line.stretch.unwrap_or(room.width)).fold(0.0, f64::max);
    let before = |line: &PlannedLine| line.stretch.map_or(0.0, |_| line.x);
    let width = both().map(|(line, set)| before(line) + line.inset + set.width).fold(0.0, f64::max);
    let columns = style.columns.count > 1 && !matches!(style.size, Size::EachLine(..));
    let measure = if room.close && !columns { width } else { room.width };
    let whole = room.width * style.columns.count as f64 + style.columns.gap * (style.columns.count.max(1) - 1) as f64;
    let mut block = Block {
        lines: Vec::with_capacity(lines.len()),
        size: plan.size,
        height: plan.height,
        width: if columns { whole } else { width },
        cap_top: plan.first_baseline - base.metrics().cap_height * em,
        first_baseline: plan.first_baseline,
        overmatter: plan.overmatter,
        overwide: if over < OVERWIDE { 0.0 } else { over },
        unreached: plan.unreached,
        missing: Vec::new(),
        loose: Vec::new(),
        lacks: copy.lacks.clone(),
        touching: Vec::new(),
        initial: plan.lines.iter().any(|line| line.initial.is_some()),
    };
    let mut count = 0;
    for (line, mut set) in plan.lines.iter().zip(lines) {
        let paragraph = &copy.paragraphs[line.paragraph];
        let rtl = paragraph.passage.rtl;
        let measure = line.stretch.unwrap_or(measure);
        let (left, right) = if rtl { (0.0, measure - line.inset) } else { (line.inset, measure) };
        set.shift(left + (right - left - set.width) * style.align.share(rtl) - set.hung);
        if set.loose {
            block.loose.push(block.lines.len() + 1);
        }
        for letter in &set.missing {
            if !block.missing.contains(letter) {
                block.missing.push(*letter);
            }
        }
        let mut runs = Vec::new();
        if let (Some(initial), Some(fitted)) = (&paragraph.initial, line.initial) {
            runs = initial.runs(&paragraph.passage, &copy.cuts, fitted, (em, plan.leading, measure));
        }
        runs.append(&mut set.runs);
        runs.iter_mut().flat_map(|run| &mut run.glyphs).for_each(|glyph| glyph.x += line.x);
        number(&mut runs, &mut count, line.end);
        block.lines.push(BlockLine { baseline: line.baseline, runs, hyphenated: line.words.hyphen, end: line.end });
    }
    block
}

/// Numbers the runs of a line, which know where in their paragraph they begin, in the order in which they are read.
fn number(runs: &mut [TextRun], count: &mut u32, end: RunEnd) {
    let mut order: Vec<usize> = (0..runs.len()).collect();
    order.sort_by_key(|at| runs[*at].sequence.place);
    for at in &order {
        runs[*at].sequence = Sequence { place: *count, end: RunEnd::Within };
        *count += 1;
    }
    if let Some(last) = order.last() {
        runs[*last].sequence.end = end;
    }
}
