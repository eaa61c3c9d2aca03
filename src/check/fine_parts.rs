//! Fine parts: where a plate that is on or off has lines or gaps narrower than something.

use crate::check::patches::patches;

/// Pixels that hang together, and how narrow the plate is there.
#[derive(Debug, PartialEq)]
pub struct FinePart {
    /// Whether it is left open, with the plate on both sides; else it is on, with nothing on both.
    pub is_gap: bool,
    /// Columns and rows: left, top, and beyond right and foot.
    pub place: [usize; 4],
    /// Pixels across, in the middle of all that were met.
    pub across: f64,
}

/// Along rows, columns and both diagonals, as steps across and down.
const WAYS: [(isize, isize); 4] = [(1, 0), (0, 1), (1, 1), (1, -1)];

/// Pixels across where a part comes to a point. One that does, and is more than twice as broad at its other end, is a corner,
/// however acute: that of an N, say.
const POINTED: f32 = 1.5;

/// Parts narrower than `narrow` pixels that reach `long` pixels or farther. Shorter ones are the tips of corners. What
/// touches the edge of the plane may go on beyond it, and counts only where both of its sides are seen.
pub fn fine_parts(on: &[bool], width: usize, narrow: f64, long: f64) -> Vec<FinePart> {
    let height = on.len() / width.max(1);
    let mut across = vec![f32::INFINITY; on.len()];
    for way in WAYS {
        for start in starts(way, width, height) {
            measure(on, width, start, (way, narrow), &mut across);
        }
    }
    let mut parts = Vec::new();
    for is_gap in [true, false] {
        let wanted = across.iter().zip(on).map(|(across, on)| across.is_finite() && *on != is_gap).collect();
        for patch in patches(wanted, width) {
            let mut place = [usize::MAX, usize::MAX, 0, 0];
            for at in &patch.pixels {
                let (x, y) = (at % width, at / width);
                place = [place[0].min(x), place[1].min(y), place[2].max(x + 1), place[3].max(y + 1)];
            }
            let [left, top, right, foot] = place;
            if ((right - left) as f64).hypot((foot - top) as f64) < long {
                continue;
            }
            let mut all: Vec<f32> = patch.pixels.iter().map(|at| across[*at]).collect();
            all.sort_by(f32::total_cmp);
            let share = |tenths: usize| all[all.len() * tenths / 10];
            if all[0] > POINTED || share(1) * 2.0 > share(9) {
                parts.push(FinePart { is_gap, place, across: f64::from(share(5)) });
            }
        }
    }
    parts
}

/// Where the lines of a way begin.
fn starts((right, down): (isize, isize), width: usize, height: usize) -> Vec<(usize, usize)> {
    let left = (0..height).map(|y| (0, y));
    let head = (0..width).map(|x| (x, 0));
    match (right, down) {
        (1, 0) => left.collect(),
        (0, _) => head.collect(),
        (_, 1) => left.chain(head.skip(1)).collect(),
        _ => left.chain((1..width).map(|x| (x, height - 1))).collect(),
    }
}

/// Runs along one line that have the other kind on both ends.
fn measure(
    on: &[bool],
    width: usize,
    (x, y): (usize, usize),
    (way, narrow): ((isize, isize), f64),
    across: &mut [f32],
) {
    let height = on.len() / width;
    let step = (way.0 as f64).hypot(way.1 as f64);
    let stride = way.1 * width.cast_signed() + way.0;
    let columns = if way.0 == 0 { usize::MAX } else { width - x };
    let rows = match way.1 {
        0 => usize::MAX,
        1 => height - y,
        _ => y + 1,
    };
    let count = columns.min(rows);
    let first = (y * width + x).cast_signed();
    let at = |place: usize| (first + place.cast_signed() * stride).cast_unsigned();
    let mut begin = 0;
    for place in 1..count {
        if on[at(place)] == on[at(place - 1)] {
            continue;
        }
        let length = (place - begin) as f64 * step;
        // The first run has no other kind before it.
        if begin > 0 && length < narrow {
            for one in begin..place {
                let known = &mut across[at(one)];
                *known = known.min(length as f32);
            }
        }
        begin = place;
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn drawn(width: usize, height: usize, on: impl Fn(f64, f64) -> bool) -> Vec<bool> {
        (0..width * height).map(|at| on((at % width) as f64 + 0.5, (at / width) as f64 + 0.5)).collect()
    }

    #[test]
    fn stripes_are_measured_at_any_angle() {
        for angle in [0.0_f64, 0.3, 0.785, 1.1, 1.571, 2.2] {
            let (sin, cos) = angle.sin_cos();
            for (broad, found) in [(4.0, true), (8.5, false)] {
                let stripe = |x: f64, y: f64| ((x - 50.0) * cos + (y - 50.0) * sin).abs() < broad / 2.0;
                let parts = fine_parts(&drawn(100, 100, stripe), 100, 7.0, 20.0);
                assert_eq!(!parts.is_empty(), found, "{angle} {broad}: {parts:?}");
                assert!(parts.iter().all(|part| !part.is_gap && (part.across - broad).abs() < 1.6), "{parts:?}");
                let gap = fine_parts(&drawn(100, 100, |x, y| !stripe(x, y)), 100, 7.0, 20.0);
                assert!(gap.iter().all(|part| part.is_gap) && gap.is_empty() != found, "{angle} {broad}: {gap:?}");
            }
        }
    }

    #[test]
    fn corners_dots_and_large_curves_are_no_fine_parts() {
        let square = |x: f64, y: f64| (30.0..70.0).contains(&x) && (30.0..70.0).contains(&y);
        let circle = |radius: f64| move |x: f64, y: f64| (x - 150.3).hypot(y - 150.7) < radius;
        let wedge = |x: f64, y: f64| y > 40.0 && (x - 50.0).abs() < (y - 40.0) * 0.36 && y < 90.0;
        assert_eq!(fine_parts(&drawn(100, 100, square), 100, 7.0, 20.0), []);
        assert_eq!(fine_parts(&drawn(100, 100, |x, y| !square(x, y)), 100, 7.0, 20.0), []);
        assert_eq!(fine_parts(&drawn(100, 100, wedge), 100, 7.0, 20.0), [], "a tip of 40 degrees");
        let acute = |x: f64, y: f64| y > 10.0 && (x - 50.0).abs() < (y - 10.0) * 0.07 && y < 190.0;
        assert_eq!(fine_parts(&drawn(100, 200, acute), 100, 7.0, 20.0), [], "a tip of 8 degrees");
        assert_eq!(fine_parts(&drawn(100, 200, |x, y| !acute(x, y)), 100, 7.0, 20.0), [], "a crotch of 8 degrees");
        for radius in [6.0, 9.0, 30.0, 140.0] {
            assert_eq!(fine_parts(&drawn(300, 300, circle(radius)), 300, 7.0, 20.0), [], "{radius}");
        }
        // Two discs that nearly touch leave a gap that fills.
        let near = |x: f64, y: f64| (x - 98.0).hypot(y - 150.0) < 50.0 || (x - 201.0).hypot(y - 150.0) < 50.0;
        let found = fine_parts(&drawn(300, 300, near), 300, 7.0, 20.0);
        assert!(matches!(&found[..], [FinePart { is_gap: true, .. }]), "{found:?}");
    }
}
