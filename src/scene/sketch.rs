//! Sketch: all marks of an element as one digest, measured from the corner of its frame.

use crate::ground::{Affine, Colour, Course, Digest, Ink, Paint, Path, PathEl, Point};
use crate::scene::item::{Group, Item, Mark};
use std::fmt::Write as _;

#[derive(Default)]
pub struct Sketch {
    said: String,
    /// What the plates carry and no more: how a spot is shown on a screen changes none of them.
    of_plates: bool,
}

/// PictureDigests of decimals leave crumbs, and authors love neat numbers: the border between two micrometres lies beside them.
const BESIDE: f64 = 0.000_137;

impl Sketch {
    pub fn of_plates() -> Sketch {
        Sketch { said: String::new(), of_plates: true }
    }

    /// A mark and the groups around it.
    pub fn add(&mut self, item: &Item, around: &[&Item]) {
        for group in around {
            self.group(group);
        }
        let corner = corner(item);
        match &item.mark {
            Mark::Fill { path, rule, paint } => {
                self.say(&format_args!("fill {rule:?}"));
                self.path(path, corner);
                self.paint(paint, corner);
            }
            Mark::Stroke { path, line, paint } => {
                self.say(&format_args!("stroke {line:?}"));
                self.path(path, corner);
                self.paint(paint, corner);
            }
            Mark::Glyphs(run) => {
                self.say(&format_args!("glyphs {} {}", run.font.digest(), run.font.name()));
                self.transform(run.transform, corner);
                self.numbers(&[run.size, run.stretch]);
                for glyph in &run.glyphs {
                    self.say(&glyph.id);
                    self.numbers(&[glyph.x, glyph.y]);
                }
                self.numbers(&run.turns);
                self.paint(&run.paint, corner);
            }
            Mark::Picture(placed) => {
                let picture = &placed.picture;
                let digest = if self.of_plates { picture.digest_of_plates() } else { picture.digest() };
                self.say(&format_args!("picture {digest}"));
                self.transform(placed.transform, corner);
                placed.paint.iter().for_each(|ink| self.ink(ink));
            }
            Mark::Group(_) => {}
        }
    }

    fn group(&mut self, item: &Item) {
        let Mark::Group(Group { clip, opacity, blend, veil, .. }) = &item.mark else { return };
        self.say(&format_args!("group {opacity} {blend:?}"));
        if let Some((path, rule)) = clip {
            self.say(&format_args!("{rule:?}"));
            self.path(path, corner(item));
        }
        if let Some(veil) = veil {
            self.say(&"veil");
            veil.iter().for_each(|item| self.whole(item));
        }
    }

    /// A mark with all that is in it.
    fn whole(&mut self, item: &Item) {
        self.group(item);
        self.add(item, &[]);
        if let Mark::Group(group) = &item.mark {
            group.items.iter().for_each(|item| self.whole(item));
        }
    }

    pub fn digest(&self) -> String {
        let digest = Digest::of(self.said.as_bytes()).to_string();
        digest[..SHORT].to_owned()
    }

    fn say(&mut self, what: &dyn std::fmt::Display) {
        write!(self.said, "{what} ").expect("a string takes every word");
    }

    fn numbers(&mut self, values: &[f64]) {
        for value in values {
            self.say(&((value + BESIDE) * 1000.0).round());
        }
    }

    fn path(&mut self, path: &Path, corner: Point) {
        for element in path.elements() {
            let (letter, points) = match element {
                PathEl::MoveTo(to) => ("M", vec![*to]),
                PathEl::LineTo(to) => ("L", vec![*to]),
                PathEl::QuadTo(by, to) => ("Q", vec![*by, *to]),
                PathEl::CurveTo(one, two, to) => ("C", vec![*one, *two, *to]),
                PathEl::ClosePath => ("Z", Vec::new()),
            };
            self.say(&letter);
            for point in points {
                self.numbers(&[point.x - corner.x, point.y - corner.y]);
            }
        }
    }

    fn transform(&mut self, transform: Affine, corner: Point) {
        let [a, b, c, d, x, y] = transform.as_coeffs();
        self.numbers(&[a, b, c, d, x - corner.x, y - corner.y]);
    }

    /// Where a gradient runs.
    fn course(&mut self, course: &Course, corner: Point) {
        let points = match course {
            Course::Linear { from, to } => [*from, *to],
            Course::Radial { centre, radius } => [*centre, Point::new(centre.x + radius, centre.y)],
            Course::Oval { place, focus, inner } => {
                self.transform(*place, corner);
                self.numbers(&[focus.x, focus.y, *inner]);
                return;
            }
        };
        for point in points {
            self.numbers(&[point.x - corner.x, point.y - corner.y]);
        }
    }

    fn paint(&mut self, paint: &Paint, corner: Point) {
        match paint {
            Paint::None => self.say(&"none"),
            Paint::Ink(ink) => self.ink(ink),
            Paint::Gradient(gradient) => {
                self.course(&gradient.course, corner);
                for (at, ink) in &gradient.stops {
                    self.numbers(&[*at]);
                    self.ink(ink);
                }
            }
        }
    }

    fn ink(&mut self, ink: &Ink) {
        match &ink.colour {
            Colour::Spot(spot, tint) if self.of_plates => self.say(&format_args!("{:?} {tint:?}", spot.name)),
            colour => self.say(&format_args!("{colour:?}")),
        }
    }
}

/// Letters of a digest that tell two drawings apart.
const SHORT: usize = 16;

fn corner(item: &Item) -> Point {
    item.origin.frame.abs().origin()
}
