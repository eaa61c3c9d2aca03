//! Spread: gradients that repeat or are reflected, written out as far as the shape reaches that they fill.

use crate::assets::drawing::bounds;
use crate::ground::{Affine, Course, Point, Rect};
use std::ops::Range;

#[derive(Debug)]
pub struct Wash {
    pub course: Course,
    /// Rising from 0 to 1; colour and opacity are mixed each for itself (SVG 2, 14.2.4).
    pub stops: Vec<Stop>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Stop {
    pub at: f64,
    pub rgb: [u8; 3],
    pub opacity: f64,
}

/// Steps in which a stretch between two stops is printed: mixed in sRGB there and in ink on the sheet, the course strays by less
/// than one can see.
pub const WASH_STEPS: u16 = 16;
/// Rounds that are written out.
pub const ROUNDS: i64 = 100;
const OFTEN: &str = "a gradient that repeats too often";

impl Wash {
    pub fn steps(&self) -> usize {
        steps(self.stops.len())
    }
}

fn steps(stops: usize) -> usize {
    stops.saturating_mul(usize::from(WASH_STEPS))
}

/// For what lies within a box.
pub fn spread(
    gradient: &usvg::BaseGradient,
    course: Course,
    stops: Vec<Stop>,
    room: Rect,
) -> Result<Wash, &'static str> {
    let mirrored = match gradient.spread_method() {
        usvg::SpreadMethod::Pad => return Ok(Wash { course, stops }),
        usvg::SpreadMethod::Reflect => true,
        usvg::SpreadMethod::Repeat => false,
    };
    let rounds = rounds(course, room).filter(|rounds| rounds.end - rounds.start <= ROUNDS).ok_or(OFTEN)?;
    let count = (rounds.end - rounds.start) as f64;
    let once = whole(&stops);
    let total = once.len().saturating_mul((rounds.end - rounds.start) as usize);
    if steps(total) > bounds::STEPS {
        return Err(OFTEN);
    }
    let mut all = Vec::with_capacity(total);
    for round in rounds.clone() {
        let place = |at: f64| ((round - rounds.start) as f64 + at) / count;
        if mirrored && round.rem_euclid(2) == 1 {
            all.extend(once.iter().rev().map(|stop| Stop { at: place(1.0 - stop.at), ..*stop }));
        } else {
            all.extend(once.iter().map(|stop| Stop { at: place(stop.at), ..*stop }));
        }
    }
    Ok(Wash { course: longer(course, &rounds), stops: all })
}

/// One round from end to end.
fn whole(stops: &[Stop]) -> Vec<Stop> {
    let ends = |at: f64, stop: Option<&Stop>| stop.map(|stop| Stop { at, ..*stop });
    ends(0.0, stops.first()).into_iter().chain(stops.iter().copied()).chain(ends(1.0, stops.last())).collect()
}

/// The rounds that a box needs; `None` where a course runs inward without end.
fn rounds(course: Course, bounds: Rect) -> Option<Range<i64>> {
    let corners = [(bounds.x0, bounds.y0), (bounds.x1, bounds.y0), (bounds.x0, bounds.y1), (bounds.x1, bounds.y1)];
    let shares = corners.map(|corner| share(course, Point::from(corner)));
    if !shares.iter().all(|share| share.is_finite() && share.abs() < 1e6) {
        return None;
    }
    let most = shares.into_iter().fold(f64::NEG_INFINITY, f64::max).ceil() as i64;
    let least = shares.into_iter().fold(f64::INFINITY, f64::min).floor() as i64;
    match course {
        Course::Linear { .. } => Some(least..most.max(least + 1)),
        Course::Oval { inner, .. } if inner > 0.0 => None,
        Course::Radial { .. } | Course::Oval { .. } => Some(0..most.max(1)),
    }
}

/// How far along its course a point lies. On circles within one another the farthest point of a box is a corner.
fn share(course: Course, at: Point) -> f64 {
    match course {
        Course::Linear { from, to } => (at - from).dot(to - from) / (to - from).hypot2(),
        Course::Radial { centre, radius } => centre.distance(at) / radius,
        Course::Oval { place, focus, .. } => {
            // The circle about focus·(1−t) with radius t that passes through the point.
            let (from, focus) = (place.inverse() * at - focus, focus.to_vec2());
            let (a, b, c) = (focus.hypot2() - 1.0, from.dot(focus), from.hypot2());
            (-b - (b * b - a * c).max(0.0).sqrt()) / a
        }
    }
}

fn longer(course: Course, rounds: &Range<i64>) -> Course {
    let (first, last) = (rounds.start as f64, rounds.end as f64);
    match course {
        Course::Linear { from, to } => {
            let run = to - from;
            Course::Linear { from: from + run * first, to: from + run * last }
        }
        Course::Radial { centre, radius } => Course::Radial { centre, radius: radius * last },
        Course::Oval { place, focus, inner } => {
            let shift = focus.to_vec2() * (1.0 - last);
            let place = place * Affine::translate(shift) * Affine::scale(last);
            Course::Oval { place, focus, inner }
        }
    }
}
