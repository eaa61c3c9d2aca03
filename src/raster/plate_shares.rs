//! What an ink does to every plate of the press.
//!
//! A process mark says something on all process plates, a spot mark on its own; unless it overprints, a mark leaves every
//! other plate blank under it. Overprinted process inks leave the plates of which they have none (overprint mode 1 of ISO
//! 32000); that mode does not reach gradients and pictures.

use crate::ground::{ALL_PLATES, Colour, Course, Gradient, Ink, PROCESS_PLATES, Point, Spot};
use crate::raster::layer::Lay;
use std::sync::Arc;

pub const PROCESS: usize = PROCESS_PLATES.len();
/// Steps from end to end of a gradient.
const STEPS: usize = 1023;

/// What a gradient lays on a plate.
enum RampPlane {
    Even(u8),
    /// Step by step.
    Each(Box<[u8; STEPS + 1]>),
}

/// For every plate, the share of ink it gets; `None` leaves it as it was.
pub struct PlateShares(Vec<Option<u8>>);

impl PlateShares {
    pub fn new(ink: &Ink, spots: &[Arc<Spot>]) -> PlateShares {
        let over = ink.overprints();
        let process = matches!(ink.colour, Colour::Process(_));
        let left = |share: &Option<f64>| over && share.is_none_or(|share| process && share == 0.0);
        let lay = |share: Option<f64>| (!left(&share)).then(|| byte(share.unwrap_or(0.0)));
        PlateShares(shares(ink, spots).into_iter().map(lay).collect())
    }

    pub fn lay(&self, plane: usize) -> Lay<'static> {
        self.0[plane].map_or(Lay::Leave, Lay::Even)
    }
}

/// A gradient, its inks worked out step by step.
pub struct Ramp {
    course: Course,
    /// Plate by plate; `None` leaves it as it was.
    planes: Vec<Option<RampPlane>>,
}

impl Ramp {
    /// `None` when it has no stops. Its course is moved to pixels by `to_pixels`.
    pub fn new(gradient: &Gradient, spots: &[Arc<Spot>], course: Course) -> Option<Ramp> {
        let stops: Vec<(f64, Vec<Option<f64>>)> =
            gradient.stops.iter().map(|(at, ink)| (*at, shares(ink, spots))).collect();
        stops.first()?;
        let overprint = gradient.overprints();
        let planes = (0..PROCESS + spots.len())
            .map(|plane| {
                let named = stops.iter().any(|(_, shares)| shares[plane].is_some_and(|share| share > 0.0));
                (named || !overprint).then(|| RampPlane::new(|at| byte(between(&stops, plane, at))))
            })
            .collect();
        Some(Ramp { course, planes })
    }

    /// Which step lies under each pixel of a row that starts at (`x`, `y`), pixels met at their centres.
    pub fn steps(&self, x: usize, y: usize, steps: &mut [u16]) {
        let first = Point::new(x as f64 + 0.5, y as f64 + 0.5);
        let centre = |offset: f64| Point::new(first.x + offset, first.y);
        // One loop a course, so that a processor does several pixels at once.
        match self.course {
            Course::Linear { from, to } => {
                let run = (to - from) / (to - from).hypot2();
                let start = (first - from).dot(run);
                each(steps, |offset| start + offset * run.x);
            }
            Course::Radial { centre: middle, radius } => {
                let share = radius.recip();
                each(steps, |offset| (centre(offset) - middle).hypot2().sqrt() * share);
            }
            Course::Oval { place, focus, inner } => {
                let back = place.inverse();
                each(steps, |offset| oval(back * centre(offset), focus, inner));
            }
        }
    }

    /// What it lays on a plate along these steps, for which there is `room`.
    pub fn lay<'a>(&self, plane: usize, steps: &[u16], room: &'a mut Vec<u8>) -> Lay<'a> {
        match &self.planes[plane] {
            None => Lay::Leave,
            Some(RampPlane::Even(ink)) => Lay::Even(*ink),
            Some(RampPlane::Each(inks)) => {
                room.clear();
                room.extend(steps.iter().map(|step| inks[usize::from(*step) % inks.len()]));
                Lay::Each(room)
            }
        }
    }
}

impl RampPlane {
    fn new(ink: impl Fn(f64) -> u8) -> RampPlane {
        let inks = std::array::from_fn(|step| ink(step as f64 / STEPS as f64));
        if inks.iter().all(|ink| *ink == inks[0]) { RampPlane::Even(inks[0]) } else { RampPlane::Each(Box::new(inks)) }
    }
}

/// The nearest step to the share of each pixel.
fn each(steps: &mut [u16], share: impl Fn(f64) -> f64) {
    /// In a number this large the last bits are those of a whole one.
    const WHOLE: f64 = (1_u64 << 52) as f64;
    for (offset, step) in (0_i32..).zip(steps) {
        let share = share(f64::from(offset));
        // Without a length there is no number, which is the far end.
        let share = if share < 1.0 { share } else { 1.0 };
        let share = if share > 0.0 { share } else { 0.0 };
        *step = (share * STEPS as f64 + WHOLE).to_bits() as u16;
    }
}

/// The largest circle through a point, of those between the one about the focus and the unit circle, which lies around it.
fn oval(here: Point, focus: Point, inner: f64) -> f64 {
    let (from, grown) = (here - focus, 1.0 - inner);
    let a = focus.to_vec2().hypot2() - grown * grown;
    let b = from.dot(focus.to_vec2()) - inner * grown;
    let c = from.hypot2() - inner * inner;
    (-b - (b * b - a * c).max(0.0).sqrt()) / a
}

/// What an ink says of each plate; `None` where it says nothing.
fn shares(ink: &Ink, spots: &[Arc<Spot>]) -> Vec<Option<f64>> {
    let mut shares = vec![None; PROCESS + spots.len()];
    match &ink.colour {
        Colour::Process(inks) => shares.iter_mut().zip(inks).for_each(|(share, ink)| *share = Some(*ink)),
        Colour::Spot(spot, tint) => {
            let plates = PROCESS_PLATES.into_iter().chain(spots.iter().map(|spot| spot.name.as_str()));
            for (share, plate) in shares.iter_mut().zip(plates) {
                if plate == spot.name || spot.name == ALL_PLATES {
                    *share = Some(*tint);
                }
            }
        }
    }
    shares
}

fn between(stops: &[(f64, Vec<Option<f64>>)], plane: usize, at: f64) -> f64 {
    let share = |stop: &(f64, Vec<Option<f64>>)| stop.1[plane].unwrap_or(0.0);
    let next = stops.partition_point(|(place, _)| *place < at);
    match next {
        _ if next == stops.len() => stops.last().map_or(0.0, share),
        0 => share(&stops[0]),
        _ => {
            let (before, after) = (&stops[next - 1], &stops[next]);
            let along = (at - before.0) / (after.0 - before.0);
            share(before) + (share(after) - share(before)) * along
        }
    }
}

pub fn byte(share: f64) -> u8 {
    (share.clamp(0.0, 1.0) * 255.0).round() as u8
}

#[cfg(test)]
mod tests {
    use crate::ground::{Course, Gradient, Ink, Paint, Point};
    use crate::raster::trial::{draw, rect, scene, spot};

    fn run(course: Course, stops: Vec<(f64, Ink)>) -> crate::raster::Plates {
        draw(&scene(100.0, 4.0, vec![rect(0.0, 0.0, 100.0, 4.0, Paint::Gradient(Gradient { course, stops }))]))
    }

    #[test]
    fn a_gradient_keeps_its_ends_and_is_even_between() {
        let course = Course::Linear { from: Point::new(20.0, 0.0), to: Point::new(80.0, 0.0) };
        let plates = run(course, vec![(0.0, Ink::black(0.2)), (1.0, Ink::spot(spot("Red", false), 1.0))]);
        assert_eq!(plates.at(5, 1), [0, 0, 0, 51, 0]);
        assert_eq!(plates.at(95, 1), [0, 0, 0, 0, 255]);
        for x in 20..80 {
            let along = (x as f64 + 0.5 - 20.0) / 60.0;
            let wanted = [(51.0 * (1.0 - along), 3), (255.0 * along, 4)];
            assert!(wanted.iter().all(|(ink, plane)| (ink - f64::from(plates.at(x, 1)[*plane])).abs() <= 0.7));
        }
    }

    #[test]
    fn a_gradient_without_length_is_its_far_end() {
        let here = Point::new(3.0, 1.0);
        let stops = vec![(0.0, Ink::black(0.2)), (1.0, Ink::black(0.8))];
        assert_eq!(run(Course::Linear { from: here, to: here }, stops.clone()).at(3, 1)[3], 204);
        assert_eq!(run(Course::Radial { centre: here, radius: 0.0 }, stops).at(3, 1)[3], 204);
        assert_eq!(run(Course::Radial { centre: here, radius: 1.0 }, Vec::new()).at(3, 1)[3], 0);
    }

    #[test]
    fn a_hard_stop_is_hard() {
        let course = Course::Linear { from: Point::ZERO, to: Point::new(100.0, 0.0) };
        let [a, b] = [0.1, 0.9].map(Ink::black);
        let plates = run(course, vec![(0.0, a.clone()), (0.5, a), (0.5, b.clone()), (1.0, b)]);
        assert_eq!((plates.at(49, 1)[3], plates.at(50, 1)[3]), (26, 230));
    }
}
