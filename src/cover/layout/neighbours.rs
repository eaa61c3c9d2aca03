//! Neighbours: elements that measure from each other, and those that are not there.

use crate::assets::nearest;
use crate::cover::layout::{Layout, State};
use crate::cover::{Anchor, Axis, Edge, Element, FarEnd, From, MateLine, Side, Stretch};
use crate::ground::Span;

impl Layout<'_> {
    /// The far side of a neighbour.
    pub fn neighbour(&self, element: &Element, axis: Axis, side: Side, name: &str, edge: &Edge) -> Option<f64> {
        let (start, end) = self.axis(self.called(element, name, edge.span, false)?, axis);
        Some(if side == Side::Start { end } else { start })
    }

    /// A line of a neighbour.
    pub fn mate(&self, element: &Element, axis: Axis, (name, line): (&str, MateLine), edge: &Edge) -> Option<f64> {
        let found = self.called(element, name, edge.span, matches!(edge.from, From::Mate(..)))?;
        let (start, end) = self.axis(found, axis);
        match line {
            MateLine::Start => return Some(start),
            MateLine::End => return Some(end),
            MateLine::Centre => return Some(f64::midpoint(start, end)),
            MateLine::CapTop | MateLine::Baseline => {}
        }
        let mate = &self.elements[found];
        if mate.body.absent() {
            return Some(start);
        }
        let lines_run_along = mate.look.turn == 0.0 && axis == Axis::Y;
        let first = || mate.body.first_line_in(self.frame(found), self.room(found), &self.bench);
        let Some(first) = lines_run_along.then(first).flatten() else {
            let why = if mate.look.turn == 0.0 { "has no lines" } else { "is turned" };
            let message = format!("`{name}` {why}, so neither cap-top nor baseline to measure from");
            self.bench.findings.borrow_mut().error(
                edge.span,
                message,
                format!("measure from an edge: `top of={name}`"),
            );
            return None;
        };
        Some(start + if line == MateLine::CapTop { first.cap_top } else { first.baseline })
    }

    /// The element of a name; `panels` may have been meant instead.
    pub fn called(&self, element: &Element, name: &str, span: Span, panels: bool) -> Option<usize> {
        let called = |absent: bool| {
            self.elements.iter().position(|other| other.name.value == name && other.body.absent() == absent)
        };
        let found = called(false).or_else(|| called(true));
        let Some(found) = found.filter(|found| !std::ptr::eq(&raw const self.elements[*found], element)) else {
            let names =
                self.elements.iter().map(|other| other.name.value.as_str()).filter(|n| *n != element.name.value);
            let known = self.bench.sheet.panels.iter().map(|panel| panel.name.word());
            let known = known.filter(|_| panels);
            let help = match nearest(name, names.clone().chain(known)) {
                Some(near) => format!("did you mean `{near}`?"),
                None if names.clone().next().is_none() => {
                    "nothing else stands here; across panels a `level` or `of=` measures".to_owned()
                }
                None => format!("neighbours here are {}", names.collect::<Vec<_>>().join(", ")),
            };
            let message = format!("`{}` has no neighbour `{name}` in `{}`", element.name.value, self.region.name);
            self.bench.findings.borrow_mut().error(span, message, help);
            return None;
        };
        Some(found)
    }

    pub fn circle(&self, index: usize, axis: Axis) {
        let solved = self.solved.borrow();
        let asked = self.elements.iter().zip(solved.iter()).filter(|(_, states)| states[axis as usize] == State::Asked);
        let names: Vec<&str> = asked.map(|(element, _)| element.name.value.as_str()).collect();
        let name = &self.elements[index].name;
        if let [only] = names[..] {
            let message = format!("the width of `{only}` waits for its height, and its height for its width");
            return self.error(name, &message, "say one of them, by `width`, by `height` or by two edges");
        }
        let message = format!("these wait for each other's place: {}", names.join(", "));
        let guide = if self.region.spine && axis == Axis::Y { "head safe" } else { "top safe" };
        let guide = if axis == Axis::X { "left safe" } else { guide };
        self.error(name, &message, &format!("let one of them stand on a guide, such as `{guide}`"));
    }

    /// An absent element has no length, and its gaps to its own neighbours close. One that would have stood between two
    /// edges hands each of them on: what follows it begins where it would have begun.
    pub fn absent(&self, stretch: &Stretch, element: &Element, axis: Axis) -> Option<(f64, f64)> {
        let closed = |side, edge: &Edge| {
            let mut edge = edge.clone();
            if matches!(edge.from, From::Neighbour(_)) {
                edge.offset = 0.0;
            }
            self.edge(element, axis, side, &edge)
        };
        let (begins, ends) = match stretch {
            Stretch::Open | Stretch::Size(_) | Stretch::Slipped(_) => (None, None),
            Stretch::At(Anchor::End, edge, _) | Stretch::Mirrored { side: Side::End, edge, .. } => {
                (None, closed(Side::End, edge))
            }
            Stretch::At(_, edge, _) | Stretch::Mirrored { edge, .. } => (closed(Side::Start, edge), None),
            Stretch::Between { start, end } | Stretch::Hung { at: start, far: FarEnd::Edge(end), .. } => {
                (closed(Side::Start, start), closed(Side::End, end))
            }
            Stretch::Hung { at, .. } => (closed(Side::Start, at), None),
        };
        let at = begins.or(ends)?;
        Some((ends.unwrap_or(at), begins.unwrap_or(at)))
    }
}
