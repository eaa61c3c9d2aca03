//! GradientInks: what a gradient runs through, before it is known what it fills; where it says so, to nothing.

use crate::ground::{Course, Gradient, Ink, Rect};

#[derive(Clone, Debug, PartialEq)]
pub struct GradientInks {
    /// At even distances; `None` where nothing is left of it.
    pub inks: Vec<Option<Ink>>,
    /// Degrees clockwise from a run to the right.
    pub angle: f64,
    pub radial: bool,
    /// Whether it fills the ellipse in a box, whose outline then is the end of a radial one.
    pub in_oval: bool,
}

impl GradientInks {
    /// From ink to ink across a box, wherever it fades. With one stop there is nothing to run to.
    pub fn across(&self, bounds: Rect) -> Option<Gradient> {
        let known = |at: Option<usize>| self.inks.get(at?)?.as_ref();
        self.run(bounds, |at, ink| match ink {
            Some(ink) => vec![ink.clone()],
            // On both sides of nothing its neighbour keeps its colour.
            None => [known(at.checked_sub(1)), known(Some(at + 1))].into_iter().flatten().cloned().collect(),
        })
    }

    /// How much of it shows there, as black; `None` where all of it does.
    pub fn shows(&self, bounds: Rect) -> Option<Gradient> {
        let share = |ink: &Option<Ink>| Ink::black(if ink.is_some() { 1.0 } else { 0.0 });
        if self.inks.iter().all(Option::is_some) { None } else { self.run(bounds, |_, ink| vec![share(ink)]) }
    }

    fn run(&self, bounds: Rect, inks_at: impl Fn(usize, &Option<Ink>) -> Vec<Ink>) -> Option<Gradient> {
        let last = self.inks.len().checked_sub(1).filter(|last| *last > 0)? as f64;
        let stops = self.inks.iter().enumerate();
        let stops = stops.flat_map(|(at, ink)| inks_at(at, ink).into_iter().map(move |ink| (at as f64 / last, ink)));
        let stops: Vec<_> = stops.collect();
        let course = match (self.radial, self.in_oval) {
            (true, true) => Course::in_oval(bounds),
            (radial, _) => Course::across(bounds, self.angle, radial),
        };
        (!stops.is_empty()).then_some(Gradient { course, stops })
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Point;

    #[test]
    fn beside_nothing_an_ink_keeps_its_colour() {
        let (one, other) = (Ink::black(0.5), Ink::process(1.0, 0.0, 0.0, 0.0));
        let both = |inks: &[Option<&Ink>]| {
            let inks = inks.iter().map(|ink| ink.cloned()).collect();
            let wash = GradientInks { inks, angle: 90.0, radial: false, in_oval: false };
            let bounds = Rect::new(0.0, 0.0, 9.0, 9.0);
            [wash.across(bounds), wash.shows(bounds)].map(|run| run.map(|run| run.stops))
        };
        let (a, b) = (|at: f64| (at, one.clone()), |at: f64| (at, other.clone()));
        let share = |at: f64, share: f64| (at, Ink::black(share));
        assert_eq!(both(&[Some(&one), Some(&other)]), [Some(vec![a(0.0), b(1.0)]), None]);
        let fades = [Some(vec![a(0.0), a(1.0)]), Some(vec![share(0.0, 1.0), share(1.0, 0.0)])];
        assert_eq!(both(&[Some(&one), None]), fades);
        let dips = [Some(&one), None, Some(&other)];
        let shows = vec![share(0.0, 1.0), share(0.5, 0.0), share(1.0, 1.0)];
        assert_eq!(both(&dips), [Some(vec![a(0.0), a(0.5), b(0.5), b(1.0)]), Some(shows)]);
        assert_eq!(both(&[None, None])[0], None);
    }

    /// A glow fades to nothing at its own edge: the ellipse 50 by 24 showed 43 % of its ink cut off at its head, by the distance
    /// to the corners of its box.
    #[test]
    fn in_an_ellipse_it_ends_on_the_outline() {
        let bounds = Rect::new(10.0, 130.0, 60.0, 154.0);
        let glow =
            |in_oval| GradientInks { inks: vec![Some(Ink::black(1.0)), None], angle: 90.0, radial: true, in_oval };
        for run in [glow(true).across(bounds), glow(true).shows(bounds)] {
            let Some(Gradient { course: Course::Oval { place, focus, inner }, .. }) = run else { panic!("{run:?}") };
            let ends = [(1.0, 0.0), (0.0, -1.0)].map(|(x, y)| place * Point::new(x, y));
            assert_eq!((focus, inner, ends), (Point::ZERO, 0.0, [Point::new(60.0, 142.0), Point::new(35.0, 130.0)]));
        }
        let box_of = glow(false).across(bounds).map(|run| run.course);
        assert_eq!(box_of, Some(Course::across(bounds, 90.0, true)));
    }
}
