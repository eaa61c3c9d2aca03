//! Gradients, where a course from ink to ink can follow them exactly; the rest by name.

use crate::assets::drawing::trace;
use crate::ground::{Affine, Course, Point};

type Stops = Vec<(f64, [u8; 3])>;
/// The course, its stops, and the one opacity they share.
type Wash = (Course, Stops, f64);

/// Steps between two stops: mixed in sRGB here and in ink on the sheet, the course strays by less than one can see.
const STEPS: u16 = 16;

pub fn linear(gradient: &usvg::LinearGradient, here: Affine) -> Result<Wash, &'static str> {
    let (from, to) = (point(gradient.x1(), gradient.y1()), point(gradient.x2(), gradient.y2()));
    let here = here * trace::affine(gradient.transform());
    let course = course(from, to, here).ok_or("a gradient without a course")?;
    let (stops, opacity) = stops(gradient)?;
    Ok((course, stops, opacity))
}

/// A transform may set the lines of equal colour askew to the course: they stay straight, so the course is turned to
/// stand upright on them.
fn course(from: Point, to: Point, here: Affine) -> Option<Course> {
    if (to - from).hypot() == 0.0 || here.determinant() == 0.0 {
        return None;
    }
    let across = (to - from).turn_90();
    let (start, end) = (here * from, here * to);
    let level = here * (from + across) - start;
    let upright = level.turn_90() / level.hypot();
    Some(Course::Linear { from: start, to: start + upright * (end - start).dot(upright) })
}

pub fn radial(gradient: &usvg::RadialGradient, here: Affine) -> Result<Wash, &'static str> {
    let here = here * trace::affine(gradient.transform());
    let scale = trace::even_scale(here).ok_or("a gradient of ovals")?;
    if (gradient.fx(), gradient.fy(), gradient.fr().get()) != (gradient.cx(), gradient.cy(), 0.0) {
        return Err("a gradient with its light to one side");
    }
    let centre = here * point(gradient.cx(), gradient.cy());
    let (stops, opacity) = stops(gradient)?;
    Ok((Course::Radial { centre, radius: f64::from(gradient.r().get()) * scale }, stops, opacity))
}

/// The stops, with steps between them, and the one opacity they share.
fn stops(gradient: &usvg::BaseGradient) -> Result<(Stops, f64), &'static str> {
    if gradient.spread_method() != usvg::SpreadMethod::Pad {
        return Err("a gradient that repeats");
    }
    let stated: Stops = gradient
        .stops()
        .iter()
        .map(|stop| (f64::from(stop.offset().get()), [stop.color().red, stop.color().green, stop.color().blue]))
        .collect();
    let opacity = gradient.stops().first().map_or(usvg::Opacity::ONE, usvg::Stop::opacity);
    if gradient.stops().iter().any(|stop| stop.opacity() != opacity) {
        return Err("a gradient that fades away");
    }
    let mut stops = Vec::new();
    for pair in stated.windows(2) {
        let [(start, first), (end, last)] = [pair[0], pair[1]];
        stops.extend((0..STEPS).map(|step| {
            let share = f64::from(step) / f64::from(STEPS);
            let mixed = |at: usize| f64::from(first[at]) * (1.0 - share) + f64::from(last[at]) * share;
            (start + (end - start) * share, std::array::from_fn(|at| mixed(at).round() as u8))
        }));
    }
    stops.extend(stated.last());
    Ok((stops, f64::from(opacity.get())))
}

fn point(x: f32, y: f32) -> Point {
    Point::new(f64::from(x), f64::from(y))
}
