//! A line more or fewer than a text takes by itself: which of its paragraphs gives or takes it at the least cost.

use crate::typeset::lines::{LineEnd, Taste, Wanted, weighed};

/// What lies between two breaks that the author chose, and to which paragraph it belongs.
pub struct LinePart<'a> {
    pub paragraph: usize,
    pub chances: &'a [LineEnd],
    /// The width of the paragraph's lines by their number, and from which line on it does not change.
    pub measure: &'a dyn Fn(usize) -> f64,
    pub same: usize,
}

/// For each part how many lines it is to have, so that all together have so many more (or fewer, below 0), and how many
/// of them cannot be had.
pub fn share_out(parts: &[LinePart<'_>], more: i32, taste: &Taste) -> (Vec<Wanted>, i32) {
    let steps = usize::try_from(more.unsigned_abs()).unwrap_or(0);
    let mut natural = Vec::with_capacity(parts.len());
    let mut costs: Vec<Vec<f64>> = Vec::with_capacity(parts.len());
    let (mut paragraph, mut line) = (usize::MAX, 0);
    for part in parts {
        if paragraph != part.paragraph {
            (paragraph, line) = (part.paragraph, 0);
        }
        let measure = |on: usize| (part.measure)(line + on);
        let same = part.same.saturating_sub(line);
        let own = weighed(part.chances, &measure, same, taste, None);
        let count = own.breaks.len();
        let of = |step: usize| {
            let wanted = if more < 0 { count.checked_sub(step).filter(|count| *count > 0)? } else { count + step };
            let lines = weighed(part.chances, &measure, same, taste, Some((wanted, wanted)));
            lines.asked.then_some(lines.demerits)
        };
        let others = (1..=steps).map(|step| if count == 0 { f64::INFINITY } else { of(step).unwrap_or(f64::INFINITY) });
        costs.push(std::iter::once(own.demerits).chain(others).collect());
        natural.push(count);
        line += count;
    }
    let (taken, reached) = cheapest(&costs, steps);
    let lines = natural.iter().zip(taken).map(|(count, step)| {
        let count = if more < 0 { count - step } else { count + step };
        (step > 0).then_some((count, count))
    });
    (lines.collect(), i32::try_from(steps - reached).unwrap_or(i32::MAX) * more.signum())
}

/// How many steps each part takes, so that they cost least together: as many as are asked, or the most there are.
fn cheapest(costs: &[Vec<f64>], steps: usize) -> (Vec<usize>, usize) {
    // What so many steps cost in the parts so far, and how many of them the last of these takes.
    let mut rows: Vec<Vec<(f64, usize)>> = Vec::with_capacity(costs.len());
    for own in costs {
        let before = |all: usize| rows.last().map_or(if all == 0 { 0.0 } else { f64::INFINITY }, |row| row[all].0);
        let least = |all: usize| {
            let ways = (0..=all).map(|step| (before(all - step) + own[step], step));
            ways.min_by(|one, other| one.0.total_cmp(&other.0)).unwrap_or((f64::INFINITY, 0))
        };
        let row = (0..=steps).map(least).collect();
        rows.push(row);
    }
    let reached = (0..=steps).rev().find(|all| rows.last().is_some_and(|row| row[*all].0.is_finite())).unwrap_or(0);
    let mut left = reached;
    let mut taken = Vec::with_capacity(rows.len());
    for row in rows.iter().rev() {
        let step = row[left].1;
        taken.push(step);
        left -= step;
    }
    taken.reverse();
    (taken, reached)
}

#[cfg(test)]
#[expect(clippy::cast_possible_wrap, reason = "a few lines")]
mod tests {
    use super::*;
    use crate::typeset::frog_king::{EVERY_DEMERIT, chances, demerits, dice, paragraph};
    use crate::typeset::laws::{BLURB, WIDE, set, styled};
    use crate::typeset::{Align, Style};

    /// All sets of breaks of two or three small paragraphs, with every demerit there is and lines of differing widths:
    /// none with so many lines more or fewer costs less.
    #[test]
    fn no_other_share_is_better() {
        let mut seed = 3;
        let mut compared = [0; 4];
        for round in 0..1200 {
            let ragged = round % 3 == 0;
            let taste = Taste { zone: ragged.then_some(30.0), ..EVERY_DEMERIT };
            let paragraphs = 2 + dice(&mut seed, 2) as usize;
            let mut all = Vec::new();
            for _ in 0..paragraphs {
                let words = 2 + dice(&mut seed, 4) as usize;
                all.push(chances(&paragraph(&mut seed, words)));
            }
            let widths: Vec<f64> = (0..3).map(|_| f64::from(80 + dice(&mut seed, 60))).collect();
            let measure = |line: usize| widths[line.min(2)];
            let more = [-2, -1, 1, 2][dice(&mut seed, 4) as usize];
            // The least cost of every paragraph by its number of lines, and how many it has by itself.
            let least: Vec<(Vec<f64>, usize)> = all.iter().map(|chances| by_lines(chances, &measure, &taste)).collect();
            if least.iter().any(|(_, own)| *own == 0) {
                continue;
            }
            let natural: usize = least.iter().map(|(_, own)| own).sum();
            let wanted = natural as i32 + more;
            let mut best = f64::INFINITY;
            let most = least.iter().map(|(costs, _)| costs.len()).max().unwrap_or(1);
            for counts in 0..most.pow(paragraphs as u32) {
                let of = |number: usize| counts / most.pow(number as u32) % most;
                // None gives what another takes.
                let towards = |number: usize| (of(number) as i32 - least[number].1 as i32) * more.signum() >= 0;
                let sum: usize = (0..paragraphs).map(of).sum();
                if sum as i32 == wanted && (0..paragraphs).all(towards) {
                    let cost = (0..paragraphs).map(|number| least[number].0.get(of(number)).unwrap_or(&f64::INFINITY));
                    best = best.min(cost.sum());
                }
            }
            let parts: Vec<LinePart<'_>> = all
                .iter()
                .enumerate()
                .map(|(number, chances)| LinePart { paragraph: number, chances, measure: &measure, same: 2 })
                .collect();
            let (lines, unreached) = share_out(&parts, more, &taste);
            assert_eq!(unreached == 0, best.is_finite(), "{round} {more} {lines:?} {least:?}");
            if unreached != 0 {
                compared[3] += 1;
                continue;
            }
            let ours: f64 =
                least.iter().zip(&lines).map(|((costs, own), lines)| costs[lines.map_or(*own, |of| of.0)]).sum();
            assert!((ours - best).abs() <= best * 1e-9, "{round} {more} {ours} {best}");
            compared[more.unsigned_abs() as usize] += 1;
        }
        assert!(compared[1] > 150 && compared[2] > 100 && compared[3] > 50, "{compared:?}");
    }

    fn by_lines(chances: &[LineEnd], measure: &dyn Fn(usize) -> f64, taste: &Taste) -> (Vec<f64>, usize) {
        let end = chances.len() - 1;
        let mut costs = vec![f64::INFINITY; end + 1];
        for set in 0..1_u32 << (end - 1) {
            let breaks: Vec<usize> = (1..end).filter(|at| set & (1 << (at - 1)) != 0).chain([end]).collect();
            let cost = demerits(chances, &breaks, measure, taste);
            costs[breaks.len()] = costs[breaks.len()].min(cost);
        }
        let fits = chances[end].end.minus(chances[0].start).width <= measure(0);
        let best = (1..=end).filter(|count| costs[*count].is_finite()).min_by(|a, b| costs[*a].total_cmp(&costs[*b]));
        (costs, if fits { 1 } else { best.unwrap_or(0) })
    }

    #[test]
    fn a_text_takes_a_line_more_or_fewer() {
        for (align, width) in [(Align::Justify, 95.0), (Align::Justify, 70.0), (Align::Start, 80.0)] {
            let lines = |more: i32| {
                let style = Style { more_lines: more, ..styled("EB Garamond", "en-GB", align) };
                let block = set(BLURB, &style, crate::typeset::Room { width, ..WIDE });
                (block.lines.len() as i32, block.unreached)
            };
            let (plain, unreached) = lines(0);
            assert_eq!(unreached, 0);
            assert_eq!(lines(1), (plain + 1, 0));
            assert_eq!(lines(2), (plain + 2, 0));
            let (fewer, unreached) = lines(-5);
            assert!(unreached < 0 && fewer == plain - 5 - unreached, "{plain} {fewer} {unreached}");
        }
    }
}
