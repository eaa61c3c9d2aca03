//! Fillings: what shapes are filled and outlined with.

use crate::cover::Pen;
use crate::ground::{Course, FillRule, Gradient, Ink, Line, MM_PER_PT, Paint, Path, Point, Rect};
use crate::language::{Context, percent_property, ranged_length};
use crate::source::{Reader, Unit};

pub struct Fillings {
    fill: Filling,
    stroke: Option<(Ink, f64)>,
}

enum Filling {
    None,
    Ink(Ink),
    Gradient { inks: Vec<Ink>, angle: f64, radial: bool },
}

impl Fillings {
    /// Takes `swatch`, `gradient` and `stroke` off a shape.
    pub fn read(reader: &Reader<'_>, context: &Context<'_>) -> Fillings {
        let ink = read_ink(reader, "swatch", context);
        let gradient = reader.child("gradient").map(|word| {
            let mut inks = Vec::new();
            while word.peek().is_some() {
                let name = word.text("a swatch");
                inks.extend(name.map(|name| context.facts.palette.ink(&mut word.findings().borrow_mut(), &name)));
            }
            if inks.len() < 2 {
                word.error(word.span(), "a gradient runs between two swatches", "write `gradient night lamp`");
            }
            let angle = word.number_property("angle").map_or(90.0, |angle| angle.value);
            let radial = word.flag_property("radial").unwrap_or(false);
            Filling::Gradient { inks, angle, radial }
        });
        if let (Some(_), Some(Filling::Gradient { .. })) = (&ink, &gradient) {
            reader.error(reader.span(), "both `swatch` and `gradient` are said", "keep one of the two");
        }
        let stroke = reader.child("stroke").and_then(|word| {
            let weight = ranged_length(&word, word.length_property("weight", Unit::Pt), Unit::Pt, 0.0, 1000.0);
            Some((swatch(&word, context)?, weight.unwrap_or(1.0) * MM_PER_PT))
        });
        let fill = gradient.or(ink.map(Filling::Ink)).unwrap_or(Filling::None);
        if matches!(fill, Filling::None) && stroke.is_none() && !reader.attempts("swatch") {
            reader.error(reader.span(), "this shape shows nothing", "give it a `swatch`, a `gradient` or a `stroke`");
        }
        Fillings { fill, stroke }
    }

    /// Fills and outlines a shape; `outline` gives it inset by so many millimetres.
    pub fn draw(&self, frame: Rect, outline: &dyn Fn(f64) -> Path, rule: FillRule, pen: &mut Pen<'_>) {
        match &self.fill {
            Filling::None => {}
            Filling::Ink(ink) => pen.fill(&outline(0.0), rule, ink.clone()),
            Filling::Gradient { inks, .. } if inks.len() < 2 => {}
            Filling::Gradient { inks, angle, radial } => {
                let last = (inks.len() - 1) as f64;
                let stops = inks.iter().enumerate().map(|(at, ink)| (at as f64 / last, ink.clone())).collect();
                let course = course(frame, *angle, *radial);
                pen.fill(&outline(0.0), rule, Paint::Gradient(Gradient { course, stops }));
            }
        }
        if let Some((ink, weight)) = &self.stroke
            && *weight > 0.0
        {
            pen.stroke(&outline(weight / 2.0), Line::new(*weight), ink.clone());
        }
    }
}

/// `swatch night percent=40 overprint=#true`.
pub fn read_ink(reader: &Reader<'_>, name: &'static str, context: &Context<'_>) -> Option<Ink> {
    swatch(&reader.child(name)?, context)
}

fn swatch(word: &Reader<'_>, context: &Context<'_>) -> Option<Ink> {
    let name = word.text("a swatch")?;
    let ink = context.facts.palette.ink(&mut word.findings().borrow_mut(), &name);
    let ink = ink.tinted(percent_property(word, "percent").unwrap_or(1.0));
    let overprint = word.flag_property("overprint").unwrap_or(ink.overprint);
    Some(Ink { overprint, ..ink })
}

/// From edge to edge of a frame, so that the corners just reach the end inks.
fn course(frame: Rect, angle: f64, radial: bool) -> Course {
    let centre = frame.center();
    if radial {
        return Course::Radial { centre, radius: frame.width().hypot(frame.height()) / 2.0 };
    }
    let (sin, cos) = angle.to_radians().sin_cos();
    let reach = f64::midpoint(frame.width() * cos.abs(), frame.height() * sin.abs());
    let at = |share: f64| Point::new(centre.x + share * reach * cos, centre.y + share * reach * sin);
    Course::Linear { from: at(-1.0), to: at(1.0) }
}
