//! Columns: the lines of a text side by side, as even as they go.

use crate::assets::{Font, RunEnd};
use crate::typeset::{
    block::Overmatter,
    plan::{MeasuredCopy, Plan, lay_one},
    room::Room,
    style::Style,
};

/// The room of one column.
pub fn column<'r>(style: &Style, room: Room<'r>) -> Room<'r> {
    let count = style.columns.count.max(1) as f64;
    let width = ((room.width - style.columns.gap * (count - 1.0)) / count).max(0.0);
    if style.columns.count < 2 { room } else { Room { width, ..room } }
}

/// The best lines at a size, in as many columns as the style asks for.
pub fn lay(copy: &MeasuredCopy, style: &Style, size: f64, base: &Font, room: Room<'_>) -> Plan {
    let column = column(style, room);
    if style.columns.count < 2 {
        return lay_one(copy, style, size, base, room);
    }
    let mut plan = lay_one(copy, style, size, base, Room { height: None, ..column });
    let descent = plan.height - plan.lines.iter().map(|line| line.baseline).fold(0.0, f64::max);
    // Beside an initial no column ends.
    let initial = copy.paragraphs.first().and_then(|paragraph| paragraph.initial.as_ref());
    let whole = initial.map_or(0, |initial| initial.lines);
    let Some(first) = plan.lines.first().map(|line| line.baseline) else { return plan };
    let mut heights: Vec<f64> = plan.lines.iter().map(|line| line.baseline - first).collect();
    heights.sort_by(f64::total_cmp);
    let count = style.columns.count;
    // The tallest column holds its share of the lines.
    let share = (heights.len() / count).saturating_sub(2);
    let even = heights[share..].iter().map(|height| starts(&plan, *height, whole)).find(|starts| starts.len() <= count);
    let mut starts = even.unwrap_or_else(|| vec![0]);
    let limit = room.height.map_or(f64::MAX, |height| height + 1e-6);
    let height = |starts: &[usize]| {
        let ends = starts.iter().skip(1).copied().chain([plan.lines.len()]);
        let tall = |(from, end): (&usize, usize)| plan.lines[end - 1].baseline - plan.lines[*from].baseline;
        starts.iter().zip(ends).map(tall).fold(0.0, f64::max) + plan.first_baseline + descent
    };
    let mut over = None;
    if height(&starts) > limit {
        // As many lines as there is room for; the last column has what stands over.
        let full = self::starts(&plan, limit - plan.first_baseline - descent, whole);
        let lines = full.get(count).map_or(0, |from| plan.lines.len() - from);
        let mm = height(&starts) - limit;
        starts = full.into_iter().take(count).collect();
        over = Some(Overmatter { lines: lines.max(1), mm });
    }
    plan.height = height(&starts);
    let rtl = copy.paragraphs.first().is_some_and(|paragraph| paragraph.passage.rtl);
    for (number, from) in starts.iter().enumerate() {
        let end = starts.get(number + 1).copied().unwrap_or(plan.lines.len());
        let up = plan.lines[*from].baseline - plan.first_baseline;
        let place = if rtl { count - 1 - number } else { number };
        for line in &mut plan.lines[*from..end] {
            line.baseline -= up;
            line.x = place as f64 * (column.width + style.columns.gap);
        }
    }
    plan.overmatter = over.or(plan.overmatter);
    plan
}

/// At which lines columns begin that are not higher than this from first to last baseline. None begins with the end of a
/// paragraph or ends with its beginning, where it has another choice.
fn starts(plan: &Plan, height: f64, whole: usize) -> Vec<usize> {
    let lines = &plan.lines;
    let (mut starts, mut from) = (vec![0], 0);
    loop {
        let fits = |at: &usize| lines[*at].baseline - lines[from].baseline <= height + 1e-9;
        let end = (from..lines.len()).take_while(fits).count().max(1) + from;
        if end >= lines.len() {
            return starts;
        }
        let torn = |at: usize| {
            let of = |at: usize| lines.get(at).map(|line| line.paragraph);
            let same = of(at - 1) == of(at);
            let begins = at < 2 || of(at - 2) != of(at - 1);
            same && (begins || lines[at].end == RunEnd::Paragraph)
        };
        let least = if from == 0 { whole.max(1) } else { from + 1 };
        let better = (least..=end).rev().take(3).find(|at| !torn(*at));
        from = better.unwrap_or(end).max(least);
        if from >= lines.len() {
            return starts;
        }
        starts.push(from);
    }
}

#[cfg(test)]
mod tests {
    use crate::ground::MM_PER_PT;
    use crate::typeset::laws::{BLURB, WIDE, set};
    use crate::typeset::{Align, Columns, Room, Size, Style};

    fn style(count: usize) -> Style {
        let columns = Columns { count, gap: 6.0 };
        Style { columns, align: Align::Justify, hanging: false, ..Style::default() }
    }

    /// Lines stand in their columns, top by top, and no column is much higher than another.
    #[test]
    fn columns_are_even_and_keep_their_widths() {
        for count in [2, 3] {
            let block = set(BLURB, &style(count), WIDE);
            let width = (95.0 - 6.0 * (count as f64 - 1.0)) / count as f64;
            let column = |x: f64| ((x + 0.3) / (width + 6.0)) as usize;
            let mut lines = vec![Vec::new(); count];
            for line in &block.lines {
                let glyphs = || line.runs.iter().flat_map(|run| &run.glyphs).filter(|glyph| glyph.advance > 0.0);
                let left = glyphs().map(|glyph| glyph.x).fold(f64::MAX, f64::min);
                let right = glyphs().map(|glyph| glyph.x + glyph.advance).fold(f64::MIN, f64::max);
                let at = column(left);
                assert!(right <= at as f64 * (width + 6.0) + width + 1e-6, "{count} {right}");
                lines[at].push(line.baseline);
            }
            for column in &lines {
                assert!((column[0] - block.first_baseline).abs() < 1e-9);
            }
            let most = lines.iter().map(Vec::len).max().expect("columns");
            assert!(lines.iter().all(|column| column.len() + 3 >= most), "{lines:?}");
            let words: usize = block.lines.iter().flat_map(|line| &line.runs).map(|run| run.text.len()).sum();
            assert!(words >= BLURB.replace("\n\n", "").len() - 2);
        }
    }

    /// The size that is found fills the columns, and a step more stands over.
    #[test]
    fn a_size_is_found_for_columns() {
        let room = Room { height: Some(50.0), ..WIDE };
        let between = Style { size: Size::Between(6.0, 30.0), ..style(2) };
        let found = set(BLURB, &between, room);
        assert!(found.overmatter.is_none() && found.height <= 50.0 && found.size > 9.0, "{}", found.size);
        let fixed = Style { size: Size::Fixed(found.size + 2.0), ..style(2) };
        let over = set(BLURB, &fixed, room).overmatter.expect("stands over");
        assert!(over.lines >= 1 && over.mm > MM_PER_PT, "{over:?}");
    }
}
