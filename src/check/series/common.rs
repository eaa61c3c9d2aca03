//! Common: the line or size on which most covers agree.

use crate::check::series::appearance::SeenElement;

/// Millimetres that no eye compares from book to book. Common practice, from memory: a cutting machine is no truer.
pub const TOLERANCE: f64 = 0.2;
/// Points of type that count as the same size. Common practice, from memory.
pub const SIZE_TOLERANCE: f64 = 0.25;
/// Sums of decimals leave crumbs.
const CRUMB: f64 = 1e-6;

pub fn agrees(value: f64, common: f64, tolerance: f64) -> bool {
    (value - common).abs() <= tolerance + CRUMB
}

/// The median, and how many stand by it, when they are more than half; else there is nothing in common.
pub fn common(values: &[f64], tolerance: f64) -> Option<(f64, usize)> {
    let mut sorted = values.to_vec();
    sorted.sort_by(f64::total_cmp);
    let median = *sorted.get(sorted.len().checked_sub(1)? / 2)?;
    let agree = values.iter().filter(|value| agrees(**value, median, tolerance)).count();
    (agree * 2 > values.len()).then_some((median, agree))
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Direction {
    Down,
    Across,
}

/// Nearer the head (or the left), in the middle, nearer the foot (or the right).
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    Near,
    Middle,
    Far,
}

/// Which end of an element is held against which end of its face. Nobody aligns an edge to the middle of a face: such
/// lines would be accidents.
const HELD: [(End, End); 7] = [
    (End::Near, End::Near),
    (End::Near, End::Far),
    (End::Far, End::Near),
    (End::Far, End::Far),
    (End::Middle, End::Near),
    (End::Middle, End::Far),
    (End::Middle, End::Middle),
];

/// A line that most covers share: which end of the element stands how far from which end of its face.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct CommonLine {
    pub axis: Direction,
    pub place: End,
    pub from: End,
    /// Inward from an end, downwards or rightwards from the middle.
    pub value: f64,
    agree: usize,
}

impl CommonLine {
    /// The one that most covers share; of equals a centred one, then the one nearest to its edge.
    pub fn shared(axis: Direction, elements: &[&SeenElement]) -> Option<CommonLine> {
        let lines = HELD.iter().filter_map(|(place, from)| {
            let (place, from) = (*place, *from);
            let values: Vec<f64> = elements.iter().map(|element| element.stands(axis, place, from)).collect();
            let (value, agree) = common(&values, TOLERANCE)?;
            Some(CommonLine { axis, place, from, value, agree })
        });
        lines.min_by(|a, b| {
            let rank = |line: &CommonLine| (std::cmp::Reverse(line.agree), line.manner());
            rank(a).cmp(&rank(b)).then(a.value.abs().total_cmp(&b.value.abs()))
        })
    }

    /// How plainly it can be said.
    fn manner(&self) -> u8 {
        match (self.place, self.from) {
            (End::Middle, End::Middle) if self.value.abs() <= TOLERANCE => 0,
            (End::Near | End::Far, End::Near | End::Far) => 1,
            _ => 2,
        }
    }

    /// How much lower, or further right, an element stands; `None` when it stands on the line.
    pub fn strays(&self, element: &SeenElement) -> Option<f64> {
        let stands = element.stands(self.axis, self.place, self.from);
        let by = if self.from == End::Far { self.value - stands } else { stands - self.value };
        (!agrees(stands, self.value, TOLERANCE)).then_some(by)
    }
}

impl SeenElement {
    pub fn length(&self, axis: Direction) -> f64 {
        if axis == Direction::Down { self.seen.height() } else { self.seen.width() }
    }

    /// How far one end stands from an end of its face.
    pub fn stands(&self, axis: Direction, place: End, from: End) -> f64 {
        let ends = |rect: crate::ground::Rect| match axis {
            Direction::Down => (rect.y0, rect.y1),
            Direction::Across => (rect.x0, rect.x1),
        };
        let at = |(near, far): (f64, f64), end: End| match end {
            End::Near => near,
            End::Middle => f64::midpoint(near, far),
            End::Far => far,
        };
        let (own, edge) = (at(ends(self.seen), place), at(ends(self.face), from));
        if from == End::Far { edge - own } else { own - edge }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_common_value_is_what_more_than_half_agree_on() {
        assert_eq!(common(&[14.0, 11.6, 14.1], TOLERANCE), Some((14.0, 2)));
        assert_eq!(common(&[14.0, 11.6], TOLERANCE), None);
        assert_eq!(common(&[14.0, 14.0, 11.6, 11.6], TOLERANCE), None);
        assert_eq!(common(&[19.0, 17.0, 19.0, 19.0], SIZE_TOLERANCE), Some((19.0, 3)));
        assert_eq!(common(&[], TOLERANCE), None);
        assert!(agrees(10.2, 10.0, TOLERANCE) && !agrees(10.21, 10.0, TOLERANCE));
    }
}
