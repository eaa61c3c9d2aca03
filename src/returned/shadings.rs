//! Shadings: runs from colour to colour along a line or out from a point (ISO 32000-1, 8.7.4.5).

use crate::ground::{Affine, Course, Gradient, Ink, Paint, Point, Vec2};
use crate::printed::ColourSpace;
use crate::returned::byte_budget::ByteBudget;
use crate::returned::colours::{Overprint, PageSpots, plate_space};
use crate::returned::functions::{Function, NUMBER, numbers};
use hayro_syntax::object::{Array, Dict, Object};
use hayro_syntax::page::Resources;

pub struct PageShading {
    /// On the sheet.
    course: Course,
    space: ColourSpace,
    /// Where its colours bend.
    stops: Vec<(f64, Vec<f64>)>,
}

/// Stops of a gradient.
const STOPS: usize = 600;

impl PageShading {
    /// `to_sheet` is that of the page, or for a pattern its own on top of it.
    pub fn read(
        dict: &Dict<'_>,
        resources: &Resources<'_>,
        to_sheet: Affine,
        budget: &mut ByteBudget,
    ) -> Result<PageShading, String> {
        let kind = dict.get::<u32>("ShadingType").unwrap_or(0);
        let extended: Vec<bool> =
            dict.get::<Array<'_>>("Extend").map_or_else(Vec::new, |all| all.iter::<bool>().collect());
        let coords = numbers(dict, "Coords").unwrap_or_default();
        let domain = numbers(dict, "Domain").unwrap_or_else(|| vec![0.0, 1.0]);
        let course = match (kind, &coords[..]) {
            (2, [x0, y0, x1, y1]) => line(to_sheet, Point::new(*x0, *y0), Point::new(*x1, *y1)),
            (3, [x0, y0, start, x1, y1, end]) => {
                let (from, to) = (Point::new(*x0, *y0), Point::new(*x1, *y1));
                let round = *start == 0.0 && from.distance(to) < 1e-6;
                circle(to_sheet, to, *end).filter(|_| round).or_else(|| oval(to_sheet, (from, *start), (to, *end)))
            }
            _ => None,
        };
        let Some(course) = course.filter(|_| domain == [0.0, 1.0] && extended == [true, true]) else {
            return Err(format!("a shading of the kind {kind} in a form that is not drawn"));
        };
        let space = dict.get::<Object<'_>>("ColorSpace").map(|space| plate_space(&space, resources));
        let function = dict.get::<Object<'_>>("Function").and_then(|function| Function::read(&function, budget));
        let (Some(space), Some(function)) = (space, function) else {
            return Err("a shading whose colours are not read".to_owned());
        };
        let Some(stops) = function.stops(STOPS) else {
            return Err("a shading of very many colours".to_owned());
        };
        let numbers: usize = stops.iter().map(|(_, values)| values.len()).sum();
        budget.take(NUMBER * numbers as u64)?;
        Ok(PageShading { course, space, stops })
    }

    /// What is laid for it, one gradient a layer of ink.
    pub fn layers(&self, spots: &mut PageSpots, overprint: Overprint) -> Result<Vec<Paint>, String> {
        let mut stops = Vec::new();
        for (at, values) in &self.stops {
            // A blank stop of a run that overprints lays nothing, and neither does it knock out.
            let inks = spots.layers(&self.space, values, Overprint { on: false, ..overprint })?;
            stops.push((*at, inks));
        }
        let layers = stops.iter().map(|(_, inks)| inks.len()).max().unwrap_or(0);
        let of_spots = self.space == ColourSpace::Grey || self.space == ColourSpace::Cmyk && !overprint.by_ink;
        if overprint.on && of_spots {
            return Err("a shading that overprints spot inks alone (grey, or OPM 0)".to_owned());
        }
        let gradient = |layer: usize| {
            let whole = stops.iter().find_map(|(_, inks)| inks.get(layer)).cloned().unwrap_or(Ink::PAPER);
            let stop = |(at, inks): &(f64, Vec<Ink>)| {
                let ink = inks.get(layer).cloned().unwrap_or_else(|| whole.tinted(0.0));
                (*at, Ink { overprint: ink.overprint || overprint.on, ..ink })
            };
            Paint::Gradient(Gradient { course: self.course, stops: stops.iter().map(stop).collect() })
        };
        Ok((0..layers).map(gradient).collect())
    }
}

/// A line whose colours run alike under any transform: what counts is in which direction, and how fast, they change.
fn line(to_sheet: Affine, from: Point, to: Point) -> Option<Course> {
    let run = to - from;
    if run.hypot2() <= 1e-12 || to_sheet.determinant() == 0.0 {
        return None;
    }
    let [a, b, c, d, ..] = to_sheet.inverse().as_coeffs();
    let rise = run / run.hypot2();
    let turned = Vec2::new(a * rise.x + b * rise.y, c * rise.x + d * rise.y);
    let from = to_sheet * from;
    Some(Course::Linear { from, to: from + turned / turned.hypot2() })
}

fn circle(to_sheet: Affine, centre: Point, radius: f64) -> Option<Course> {
    let [a, b, c, d, ..] = to_sheet.as_coeffs();
    let (across, down) = (a.hypot(b), c.hypot(d));
    let even = (across - down).abs() <= 1e-3 * across && (a * c + b * d).abs() <= 1e-3 * across * down;
    even.then(|| Course::Radial { centre: to_sheet * centre, radius: radius * across })
}

/// Circles that grow from one within the last.
fn oval(to_sheet: Affine, (from, start): (Point, f64), (to, end): (Point, f64)) -> Option<Course> {
    let grows = start >= 0.0 && from.distance(to) + start < end * (1.0 - 1e-6);
    let place = to_sheet * Affine::translate(to.to_vec2()) * Affine::scale(end);
    let sound = grows && place.is_finite() && place.determinant() != 0.0;
    sound.then(|| Course::Oval { place, focus: ((from - to) / end).to_point(), inner: start / end })
}
