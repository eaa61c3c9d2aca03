//! Ink: what a press lays down. Process or spot, tint, overprint; no screen colour.

use crate::ground::{Affine, Point, Rect};
use std::sync::Arc;

/// Shares of cyan, magenta, yellow and black, each 0 to 1.
pub type Process = [f64; 4];

/// The names of the process plates, in the order of [`Process`]; a spot of such a name has no plate to itself.
pub const PROCESS_PLATES: [&str; 4] = ["Cyan", "Magenta", "Yellow", "Black"];
/// The name that means every plate at once (ISO 32000, Separation).
pub const ALL_PLATES: &str = "All";

/// A named ink of its own, one plate on the press: a mixed colour, a foil, a varnish.
#[derive(Clone, Debug, PartialEq)]
pub struct Spot {
    /// The plate's name, as the printer reads it.
    pub name: String,
    /// How it looks in process inks, for pictures and for a reader without the plate.
    pub look: Process,
    /// What the finisher makes of it; nothing where it is an ink that is printed.
    pub finish: Option<Finish>,
}

/// What a finisher does to a printed sheet: it lies on top and leaves what is under it printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Finish {
    Foil,
    Varnish,
    Emboss,
    Deboss,
    /// Where the sheet is cut, other than along its trim.
    DieLine,
    /// An underprint: the press lays it first, and everything else over it.
    White,
}

impl Finish {
    pub const WORDS: [(&'static str, Finish); 6] = [
        ("foil", Finish::Foil),
        ("varnish", Finish::Varnish),
        ("emboss", Finish::Emboss),
        ("deboss", Finish::Deboss),
        ("die-line", Finish::DieLine),
        ("white", Finish::White),
    ];
}

impl Spot {
    /// Whether it prints on a plate of its own, and not on those of the process inks.
    pub fn has_own_plate(&self) -> bool {
        self.name != ALL_PLATES && !PROCESS_PLATES.contains(&self.name.as_str())
    }

    /// Hides what lies under it from the eye, though that is printed: a foil does, a varnish does not.
    pub fn is_opaque(&self) -> bool {
        self.finish == Some(Finish::Foil)
    }
}

#[derive(Clone, Debug, PartialEq)]
pub enum Colour {
    Process(Process),
    /// A spot ink at a tint, 0 to 1.
    Spot(Arc<Spot>, f64),
}

#[derive(Clone, Debug, PartialEq)]
pub struct Ink {
    pub colour: Colour,
    /// What lies under it stays printed, in the plates this ink leaves alone.
    pub overprint: bool,
}

impl Ink {
    pub const fn process(c: f64, m: f64, y: f64, k: f64) -> Ink {
        Ink { colour: Colour::Process([c, m, y, k]), overprint: false }
    }

    pub const fn black(k: f64) -> Ink {
        Ink::process(0.0, 0.0, 0.0, k)
    }

    pub const PAPER: Ink = Ink::black(0.0);

    pub fn spot(spot: Arc<Spot>, tint: f64) -> Ink {
        let overprint = spot.finish.is_some();
        Ink { colour: Colour::Spot(spot, tint), overprint }
    }

    #[cfg(any(test, feature = "testing"))]
    #[must_use]
    pub fn overprinting(mut self) -> Ink {
        self.overprint = true;
        self
    }

    /// The same ink, thinned: 1 leaves it, 0 is paper.
    #[must_use]
    pub fn tinted(&self, share: f64) -> Ink {
        let colour = match &self.colour {
            Colour::Process(inks) => Colour::Process(inks.map(|ink| ink * share)),
            Colour::Spot(spot, tint) => Colour::Spot(spot.clone(), tint * share),
        };
        Ink { colour, overprint: self.overprint }
    }

    /// Whether it prints over what lies under it. White never does, it would vanish; a finishing ink always does.
    pub fn overprints(&self) -> bool {
        (self.overprint || self.is_finishing()) && self.total() > 0.0
    }

    /// Foil, varnish and their kin.
    pub fn is_finishing(&self) -> bool {
        matches!(&self.colour, Colour::Spot(spot, _) if spot.finish.is_some())
    }

    /// A finishing that lets through what lies under it: varnish, not foil.
    pub fn is_clear(&self) -> bool {
        matches!(&self.colour, Colour::Spot(spot, _) if spot.finish.is_some() && !spot.is_opaque())
    }

    /// The sum of all inks, 1 for one solid.
    pub fn total(&self) -> f64 {
        match &self.colour {
            Colour::Process(inks) => inks.iter().sum(),
            Colour::Spot(_, tint) => *tint,
        }
    }

    /// How it looks in process inks.
    pub fn look(&self) -> Process {
        match &self.colour {
            Colour::Process(inks) => *inks,
            Colour::Spot(spot, tint) => spot.look.map(|ink| ink * tint),
        }
    }

    /// How many plates carry it.
    pub fn plates(&self) -> usize {
        match &self.colour {
            Colour::Process(inks) => inks.iter().filter(|ink| **ink > 0.0).count(),
            Colour::Spot(_, tint) => usize::from(*tint > 0.0),
        }
    }

    /// Black alone, at any strength.
    pub fn is_black(&self) -> bool {
        matches!(self.colour, Colour::Process([c, m, y, k]) if c == 0.0 && m == 0.0 && y == 0.0 && k > 0.0)
    }
}

/// What fills a shape.
#[derive(Clone, Debug, PartialEq)]
pub enum Paint {
    /// Nothing: words that other marks show, and that can be read all the same.
    None,
    Ink(Ink),
    Gradient(Gradient),
}

impl From<Ink> for Paint {
    fn from(ink: Ink) -> Paint {
        Paint::Ink(ink)
    }
}

impl Paint {
    /// Whether it prints over what lies under it.
    pub fn overprints(&self) -> bool {
        match self {
            Paint::None => false,
            Paint::Ink(ink) => ink.overprints(),
            Paint::Gradient(gradient) => gradient.overprints(),
        }
    }
}

/// A run from ink to ink, in sheet millimetres. Stops rise from 0 to 1; beyond the ends the end ink goes on.
#[derive(Clone, Debug, PartialEq)]
pub struct Gradient {
    pub course: Course,
    pub stops: Vec<(f64, Ink)>,
}

impl Gradient {
    /// Whether it prints over what lies under it: when every ink in it does. A stop without ink does not count.
    pub fn overprints(&self) -> bool {
        let mut inked = self.stops.iter().map(|(_, ink)| ink).filter(|ink| ink.total() > 0.0).peekable();
        inked.peek().is_some() && inked.all(Ink::overprints)
    }
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Course {
    Linear {
        from: Point,
        to: Point,
    },
    Radial {
        centre: Point,
        radius: f64,
    },
    /// Round an oval, its light to one side: of circles from one about the focus to the unit circle, in a space of their own.
    Oval {
        /// From the space of the unit circle about its origin.
        place: Affine,
        /// The first circle lies within the unit circle and does not touch it.
        focus: Point,
        inner: f64,
    },
}

impl Course {
    /// From edge to edge of a box, so that the corners just reach the end inks.
    pub fn across(bounds: Rect, angle: f64, radial: bool) -> Course {
        let centre = bounds.center();
        if radial {
            return Course::Radial { centre, radius: bounds.width().hypot(bounds.height()) / 2.0 };
        }
        let (sin, cos) = angle.to_radians().sin_cos();
        let reach = f64::midpoint(bounds.width() * cos.abs(), bounds.height() * sin.abs());
        let at = |share: f64| Point::new(centre.x + share * reach * cos, centre.y + share * reach * sin);
        Course::Linear { from: at(-1.0), to: at(1.0) }
    }

    /// From the middle of an ellipse to its outline, the largest in a box.
    pub fn in_oval(bounds: Rect) -> Course {
        let reach = Affine::scale_non_uniform(bounds.width() / 2.0, bounds.height() / 2.0);
        Course::Oval { place: Affine::translate(bounds.center().to_vec2()) * reach, focus: Point::ZERO, inner: 0.0 }
    }

    /// The course under a transform that stretches by `scale` alike in all directions.
    #[must_use]
    pub fn carried(self, transform: Affine, scale: f64) -> Course {
        match self {
            Course::Linear { from, to } => Course::Linear { from: transform * from, to: transform * to },
            Course::Radial { centre, radius } => Course::Radial { centre: transform * centre, radius: radius * scale },
            Course::Oval { place, focus, inner } => Course::Oval { place: transform * place, focus, inner },
        }
    }

    /// How far it runs, at the longest.
    pub fn length(self) -> f64 {
        match self {
            Course::Linear { from, to } => from.distance(to),
            Course::Radial { radius, .. } => radius,
            Course::Oval { place, .. } => {
                let [a, b, c, d, ..] = place.as_coeffs();
                a.hypot(b).max(c.hypot(d))
            }
        }
    }
}

/// How a group mixes with what lies under it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default)]
pub enum Blend {
    #[default]
    Normal,
    Multiply,
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A plate either shows what lies under a gradient or it does not: half a run cannot overprint.
    #[test]
    fn a_gradient_overprints_when_all_of_it_does() {
        let run = |from: Ink, to: Ink| {
            let course = Course::Linear { from: Point::ZERO, to: Point::new(9.0, 0.0) };
            Paint::Gradient(Gradient { course, stops: vec![(0.0, from), (1.0, to)] }).overprints()
        };
        let (plain, over) = (Ink::black(0.5), Ink::black(1.0).overprinting());
        assert!(run(over.clone(), over.clone()) && !run(over.clone(), plain.clone()) && !run(plain.clone(), plain));
        assert!(run(Ink::PAPER, over) && !run(Ink::PAPER, Ink::PAPER.overprinting()), "no ink has no say");
    }
}
