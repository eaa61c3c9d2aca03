//! The profile of a drawn letter: how far its ink reaches to the left and to the right, level by level.

use crate::ground::{ParamCurve as _, Path, Point};

/// Straight pieces that a curve is taken for.
const PIECES: i32 = 12;

/// The least and greatest x of an outline at so many levels between two heights; none where it has no ink.
pub fn profile(outline: &Path, (top, foot): (f64, f64), levels: usize) -> Vec<Option<(f64, f64)>> {
    let mut reach: Vec<Option<(f64, f64)>> = vec![None; levels];
    let step = (foot - top) / levels.max(1) as f64;
    if step <= 0.0 {
        return reach;
    }
    for part in outline.segments() {
        let mut from = part.start();
        for piece in 1..=PIECES {
            let to = part.eval(f64::from(piece) / f64::from(PIECES));
            mark(&mut reach, (from, to), top, step);
            from = to;
        }
    }
    reach
}

/// Marks the levels (the middles of equal bands) that a straight piece crosses.
fn mark(reach: &mut [Option<(f64, f64)>], (from, to): (Point, Point), top: f64, step: f64) {
    let (upper, lower) = if from.y <= to.y { (from, to) } else { (to, from) };
    let first = ((upper.y - top) / step - 0.5).ceil().max(0.0) as usize;
    for (level, slot) in reach.iter_mut().enumerate().skip(first) {
        let y = top + (level as f64 + 0.5) * step;
        if y > lower.y {
            break;
        }
        let share = (y - upper.y) / (lower.y - upper.y).max(1e-12);
        let x = upper.x + (lower.x - upper.x) * share;
        let (least, most) = slot.unwrap_or((x, x));
        *slot = Some((least.min(x), most.max(x)));
    }
}
