//! Gradients as courses from colour to colour.

use crate::assets::drawing::spread::{Stop, Wash, spread};
use crate::assets::drawing::trace;
use crate::ground::{Affine, Course, Point, Rect};

/// A focus so near the edge of its circle that no course leads outward.
const EDGE: f64 = 1e-3;
const SHORT: &str = "a gradient of no length";

/// For what lies within `bounds`.
pub fn linear(gradient: &usvg::LinearGradient, here: Affine, bounds: Rect) -> Result<Wash, &'static str> {
    let (from, to) = (point(gradient.x1(), gradient.y1()), point(gradient.x2(), gradient.y2()));
    let here = here * trace::affine(gradient.transform());
    let course = course(from, to, here).ok_or(SHORT)?;
    spread(gradient, course, stops(gradient), bounds)
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

pub fn radial(gradient: &usvg::RadialGradient, here: Affine, bounds: Rect) -> Result<Wash, &'static str> {
    let here = here * trace::affine(gradient.transform());
    let (centre, radius) = (point(gradient.cx(), gradient.cy()), f64::from(gradient.r().get()));
    let (focus, inner) = (point(gradient.fx(), gradient.fy()), f64::from(gradient.fr().get()) / radius);
    let focus = ((focus - centre) / radius).to_point();
    if here.determinant() == 0.0 || radius <= 0.0 {
        return Err(SHORT);
    }
    if focus.to_vec2().hypot() + inner > 1.0 - EDGE {
        return Err("a gradient whose focus is outside its circle");
    }
    let course = match trace::even_scale(here) {
        Some(scale) if focus == Point::ZERO && inner == 0.0 => {
            Course::Radial { centre: here * centre, radius: radius * scale }
        }
        _ => Course::Oval { place: here * Affine::translate(centre.to_vec2()) * Affine::scale(radius), focus, inner },
    };
    spread(gradient, course, stops(gradient), bounds)
}

fn stops(gradient: &usvg::BaseGradient) -> Vec<Stop> {
    let stop = |stop: &usvg::Stop| Stop {
        at: f64::from(stop.offset().get()),
        rgb: [stop.color().red, stop.color().green, stop.color().blue],
        opacity: f64::from(stop.opacity().get()),
    };
    gradient.stops().iter().map(stop).collect()
}

fn point(x: f32, y: f32) -> Point {
    Point::new(f64::from(x), f64::from(y))
}
