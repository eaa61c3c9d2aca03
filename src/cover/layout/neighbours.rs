//! Neighbours: elements that measure from each other, and those that are not there.

use crate::assets::nearest;
use crate::cover::layout::{Layout, State};
use crate::cover::{Axis, Edge, Element, From, Side};

impl Layout<'_> {
    pub fn neighbour(&self, element: &Element, axis: Axis, side: Side, name: &str, edge: &Edge) -> Option<f64> {
        let called = |absent: bool| {
            self.elements.iter().position(|other| other.name.value == name && other.body.absent() == absent)
        };
        let found = called(false).or_else(|| called(true));
        let Some(found) = found.filter(|found| !std::ptr::eq(&raw const self.elements[*found], element)) else {
            let names =
                self.elements.iter().map(|other| other.name.value.as_str()).filter(|n| *n != element.name.value);
            let help = match nearest(name, names.clone()) {
                Some(near) => format!("did you mean `{near}`?"),
                None if names.clone().next().is_none() => {
                    "nothing else stands here; across panels a `level` or `of=` measures".to_owned()
                }
                None => format!("neighbours here are {}", names.collect::<Vec<_>>().join(", ")),
            };
            let message = format!("`{}` has no neighbour `{name}` in `{}`", element.name.value, self.region.name);
            self.bench.findings.borrow_mut().error(edge.span, message, help);
            return None;
        };
        let (start, end) = self.axis(found, axis);
        Some(if side == Side::Start { end } else { start })
    }

    pub fn circle(&self, index: usize, axis: Axis) {
        let solved = self.solved.borrow();
        let asked = self.elements.iter().zip(solved.iter()).filter(|(_, states)| states[axis as usize] == State::Asked);
        let names: Vec<&str> = asked.map(|(element, _)| element.name.value.as_str()).collect();
        let message = format!("these wait for each other's place: {}", names.join(", "));
        self.error(&self.elements[index].name, &message, "let one of them stand on a guide, such as `top safe`");
    }

    /// An absent element has no length, and its gaps to its own neighbours close. One that would have stood between two
    /// edges hands each of them on: what follows it begins where it would have begun.
    pub fn absent(&self, element: &Element, axis: Axis) -> Option<(f64, f64)> {
        let closed = |side, edge: Option<&Edge>| {
            let mut edge = edge?.clone();
            if matches!(edge.from, From::Neighbour(_)) {
                edge.offset = 0.0;
            }
            self.edge(element, axis, side, Some(&edge))
        };
        let stretch = element.place.axis(axis);
        let hook =
            (axis == Axis::Y).then(|| element.place.cap_top.as_ref().or(element.place.baseline.as_ref())).flatten();
        let begins = closed(Side::Start, stretch.start.as_ref().or(hook));
        let ends = closed(Side::End, stretch.end.as_ref());
        let at = begins.or(ends).or_else(|| closed(Side::Start, stretch.centre.as_ref()))?;
        Some((ends.unwrap_or(at), begins.unwrap_or(at)))
    }
}
