//! Rounding: the shapes that the lines of a text make way for.

use crate::cover::layout::{Layout, State, TakenOut};
use crate::cover::{Axis, Bench, Clip, FirstLine, Natural, Open};
use crate::ground::{Path, Shape as _, rect_path};
use crate::typeset::{Beside, Hole, Holes};
use std::rc::Rc;

impl Layout<'_> {
    /// What an element's lines run round, from the upper left corner of its frame.
    pub fn holes(&self, index: usize, top: Option<f64>) -> Option<Holes> {
        let element = &self.elements[index];
        let around = element.body.runs_round();
        let first = around.first()?;
        let refused = |message: &str, help: &str| {
            self.bench.findings.borrow_mut().error(first.span, message, help);
            Some(Holes::default())
        };
        if element.look.turn != 0.0 {
            return refused("turned words run round nothing", "turn a `group` of both, or leave `around` out");
        }
        let Some(top) = top else {
            let message = "words that run round something have to know where they begin";
            return refused(message, "place them by `top`, `below` or `cap-top`");
        };
        let (left, right) = self.axis(index, Axis::X);
        let holes = around.iter().filter_map(|around| {
            let found = self.called(element, &around.name.value, around.span, false)?;
            let taken = self.taken(found, around.contour)?;
            let (bounds, hole) = &*taken;
            let wider = if bounds.x0 - left > right - left - (bounds.x1 - left) { Beside::Left } else { Beside::Right };
            Some(hole.moved((-left, -top), around.gap, around.beside.unwrap_or(wider)))
        });
        Some(Holes(holes.collect()))
    }

    fn taken(&self, index: usize, contour: bool) -> Option<Rc<TakenOut>> {
        if let Some(known) = self.taken.borrow().get(&(index, contour)) {
            return known.clone();
        }
        let shape = self.shape(index, contour);
        let hole = shape.as_ref().and_then(|shape| Hole::new(shape, 0.0, Beside::Both));
        let taken = shape.zip(hole).map(|(shape, hole)| Rc::new((shape.bounding_box(), hole)));
        // A place that is still being found is none to remember.
        if self.solved.borrow()[index].iter().all(|state| matches!(state, State::Solved(..))) {
            self.taken.borrow_mut().insert((index, contour), taken.clone());
        }
        taken
    }

    /// The outline of an element on the sheet.
    fn shape(&self, index: usize, contour: bool) -> Option<Path> {
        let element = &self.elements[index];
        if element.body.absent() {
            return None;
        }
        let (frame, turn) = element.look.turned(self.frame(index));
        let contour = contour.then(|| match &element.look.clip {
            Some(Clip::Oval | Clip::Path(_)) => element.look.clip_path(frame),
            _ => element.body.contour(frame),
        });
        Some(turn * contour.flatten().unwrap_or_else(|| rect_path(frame)))
    }

    fn at<T>(&self, index: usize, top: Option<f64>, ask: impl FnOnce(&Bench<'_>) -> T) -> T {
        let holes = self.holes(index, top);
        ask(&Bench { holes: holes.as_ref(), ..self.bench })
    }

    /// The size that an element takes itself, where its frame begins at some height.
    pub fn natural_at(&self, index: usize, top: Option<f64>, open: Open) -> Natural {
        self.at(index, top, |bench| self.elements[index].body.natural(open, bench))
    }

    pub fn first_line_at(&self, index: usize, top: f64, open: Open) -> Option<FirstLine> {
        self.at(index, Some(top), |bench| self.elements[index].body.first_line(open, bench))
    }
}
