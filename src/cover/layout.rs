//! Layout: from what elements say of their places to frames on the sheet.

use crate::assets::offer;
use crate::cover::{
    Anchor, Axis, Bench, Edge, Element, ElementSize, From, Guide, Limit, Natural, Open, Region, Side, Stretch,
};
use crate::ground::{Rect, Spanned};
use crate::scene::PanelName;
use crate::typeset::Hole;
use std::cell::{Cell, RefCell};
use std::collections::BTreeMap;
use std::rc::Rc;

/// Solves the elements of one region, each axis when it is asked for: neighbours first, words set to find heights.
pub struct Layout<'a> {
    pub bench: Bench<'a>,
    region: &'a Region,
    pub elements: &'a [Element],
    solved: RefCell<Vec<[State; 2]>>,
    /// The room in which an element found its own size along an axis.
    found_in: RefCell<Vec<[Option<f64>; 2]>>,
    taken: TakenByElement,
    /// How many places wait for the one that is being found.
    waiting: Cell<usize>,
}

/// What an element takes out of words on the sheet, and the box around that.
pub type TakenOut = (Rect, Hole);

/// By element, and by whether its contour counts: made once, however many texts run round it and however often they ask.
type TakenByElement = RefCell<BTreeMap<(usize, bool), Option<Rc<TakenOut>>>>;

/// Neighbours of neighbours are found one within the other; a stack of calls has an end.
const WAITING_LIMIT: usize = 100;

#[derive(Clone, Copy, Debug, PartialEq)]
enum State {
    Unknown,
    Asked,
    Solved(f64, f64),
}

impl<'a> Layout<'a> {
    pub fn new(bench: Bench<'a>, region: &'a Region, elements: &'a [Element]) -> Layout<'a> {
        let solved = RefCell::new(vec![[State::Unknown; 2]; elements.len()]);
        let found_in = RefCell::new(vec![[None; 2]; elements.len()]);
        Layout { bench, region, elements, solved, found_in, taken: TakenByElement::default(), waiting: Cell::new(0) }
    }

    /// The frame of an element; a place that cannot be found is reported, and the region's safe room serves instead.
    pub fn frame(&self, index: usize) -> Rect {
        let (x0, x1) = self.axis(index, Axis::X);
        let (y0, y1) = self.axis(index, Axis::Y);
        Rect::new(x0, y0, x1, y1)
    }

    /// The room in which an element found its size: the sides of its frame, where it was not asked.
    pub fn room(&self, index: usize) -> Open {
        Open { width: self.side(index, Axis::X), height: self.side(index, Axis::Y) }
    }

    fn side(&self, index: usize, axis: Axis) -> Limit {
        let (start, end) = self.axis(index, axis);
        self.found_in.borrow()[index][axis as usize].map_or(Limit::Fixed(end - start), Limit::Most)
    }

    pub fn axis(&self, index: usize, axis: Axis) -> (f64, f64) {
        let state = self.solved.borrow()[index][axis as usize];
        match state {
            State::Solved(start, end) => return (start, end),
            State::Asked => {
                self.circle(index, axis);
                return self.spare(axis);
            }
            State::Unknown => {}
        }
        if self.waiting.get() >= WAITING_LIMIT {
            let message = format!("more than {WAITING_LIMIT} elements wait for each other's place in a row");
            self.error(&self.elements[index].name, &message, "let one of them stand on a guide or a level");
            return self.spare(axis);
        }
        self.solved.borrow_mut()[index][axis as usize] = State::Asked;
        self.waiting.set(self.waiting.get() + 1);
        let solved = self.solve(index, axis);
        self.waiting.set(self.waiting.get() - 1);
        let (start, end) = solved.unwrap_or_else(|| self.spare(axis));
        let (start, end) = if end - start > 0.0 || self.elements[index].body.absent() {
            (start, end)
        } else {
            let element = &self.elements[index];
            let what = if axis == Axis::X { "wide" } else { "high" };
            let mm = crate::ground::number(end - start);
            let message = format!("the frame of `{}` is {mm} mm {what}", element.name.value);
            self.error(&element.name, &message, "its edges cross; give it more room, or move one of them");
            self.spare(axis)
        };
        self.solved.borrow_mut()[index][axis as usize] = State::Solved(start, end);
        (start, end)
    }

    fn solve(&self, index: usize, axis: Axis) -> Option<(f64, f64)> {
        let element = &self.elements[index];
        let stretch = element.place.axis(axis);
        if element.body.absent() {
            return self.absent(stretch, element, axis);
        }
        let edge = |side, edge| self.edge(element, axis, side, edge);
        let own = |anchor, at| self.own_from(index, axis, anchor, at);
        let found = match stretch {
            Stretch::Open | Stretch::Size(_) | Stretch::Slipped(_) => None,
            Stretch::Hung { by, at, far } => return self.hung(index, *by, at, far),
            Stretch::At(anchor, line, size) => {
                let at = edge(anchor.side(), line);
                at.and_then(|at| match size {
                    ElementSize::Stated(size) => Some(anchor.reach(at, *size)),
                    ElementSize::Own | ElementSize::Slipped => own(*anchor, at),
                })
            }
            // An edge that is not found has been reported; the other one still holds.
            Stretch::Between { start, end } => match (edge(Side::Start, start), edge(Side::End, end)) {
                (Some(start), Some(end)) => Some((start, end)),
                (Some(start), None) => own(Anchor::Start, start),
                (None, Some(end)) => own(Anchor::End, end),
                (None, None) => None,
            },
            Stretch::Mirrored { side, edge: line, centre } => {
                let anchor = if *side == Side::Start { Anchor::Start } else { Anchor::End };
                match (edge(*side, line), edge(Side::Start, centre)) {
                    (Some(at), Some(centre)) => Some(anchor.reach(at, 2.0 * (centre - at).abs())),
                    (Some(at), None) => own(anchor, at),
                    (None, Some(centre)) => own(Anchor::Centre, centre),
                    (None, None) => None,
                }
            }
        };
        found.or_else(|| self.unplaced(index, axis, stretch))
    }

    /// On a spine what does not say how it lies across runs between the folds; elsewhere a place must be stated.
    fn unplaced(&self, index: usize, axis: Axis, stretch: &Stretch) -> Option<(f64, f64)> {
        let element = &self.elements[index];
        if self.region.spine && axis == Axis::X {
            let safe = self.region.safe;
            let centred = |size| Anchor::Centre.reach(safe.center().x, size);
            return Some(stretch.size().map_or((safe.x0, safe.x1), centred));
        }
        if stretch.is_placed() || matches!(stretch, Stretch::Slipped(_)) {
            // It could not be found; that has been reported.
            return None;
        }
        let words = match (axis, self.region.spine) {
            (Axis::X, false) => "say left, right, width or centre-x (two of them for a shape)",
            (Axis::X, true) => "say `across safe`, or a width",
            (Axis::Y, false) => {
                "say top, bottom, height or centre-y, or a neighbour: below, above (two of them for a shape)"
            }
            (Axis::Y, true) => "say head or foot, or a neighbour: after, before",
        };
        let which = if axis == Axis::X { "from side to side" } else { "from head to foot" };
        let message = format!("`{}` does not say where it stands {which}", element.name.value);
        self.error(&element.name, &message, words);
        None
    }

    /// An element of a size of its own, one line of which lies somewhere.
    fn own_from(&self, index: usize, axis: Axis, anchor: Anchor, at: f64) -> Option<(f64, f64)> {
        let top = (anchor == Anchor::Start && axis == Axis::Y).then_some(at);
        self.own(index, axis, self.room_from(axis, anchor, at), top).map(|size| anchor.reach(at, size))
    }

    /// The most room there is along an axis for what has one of its lines somewhere.
    fn room_from(&self, axis: Axis, anchor: Anchor, at: f64) -> f64 {
        let (before, after) = (at - self.far(axis, Side::Start), self.far(axis, Side::End) - at);
        match anchor {
            Anchor::Start => after,
            Anchor::End => before,
            Anchor::Centre => 2.0 * before.min(after),
        }
    }

    /// The size an element gives itself along an axis.
    fn own(&self, index: usize, axis: Axis, room: f64, top: Option<f64>) -> Option<f64> {
        let element = &self.elements[index];
        let quarter = element.look.quarter();
        // Along the lines of a text (or the width of a picture) nothing else need be known; across them, that must be.
        let lengthwise = (axis == Axis::X) != quarter;
        let other = if axis == Axis::X { Axis::Y } else { Axis::X };
        let across_spine = self.region.spine && other == Axis::X;
        let known = match element.place.axis(other) {
            Stretch::Hung { .. } if lengthwise && across_spine => Limit::Most(f64::INFINITY),
            // Each side would wait for the other one.
            Stretch::At(anchor, line, ElementSize::Own) if lengthwise && across_spine => {
                let at = self.edge(element, other, anchor.side(), line);
                Limit::Most(at.map_or(self.region.safe.width(), |at| self.room_from(other, *anchor, at)))
            }
            stretch if lengthwise && !stretch.is_closed() && !across_spine => Limit::Most(f64::INFINITY),
            _ => self.side(index, other),
        };
        let open = match axis {
            Axis::X => Open { width: Limit::Most(room), height: known },
            Axis::Y => Open { width: known, height: Limit::Most(room) },
        };
        let open = if quarter { open.turned() } else { open };
        // Words that run round something have to be told how wide they are.
        let own = axis == Axis::Y || element.body.runs_round().is_empty();
        let natural = if own { self.natural_at(index, top, open) } else { Natural::default() };
        let size = if lengthwise { natural.width } else { natural.height };
        if size.is_some() {
            self.found_in.borrow_mut()[index][axis as usize] = Some(room);
        }
        let stretch = element.place.axis(axis);
        // Two words were written, and one of them has been reported.
        let reported = stretch.is_closed() || matches!(stretch, Stretch::At(.., ElementSize::Slipped));
        if size.is_none() && !reported {
            let (which, help) = match (axis, self.region.spine) {
                (Axis::X, true) => ("wide", "write `across 6`, a width in the middle, or `across safe`"),
                (Axis::X, false) => ("wide", "say one more of left, right, width"),
                (Axis::Y, true) => ("high", "say one more of head, foot, height"),
                (Axis::Y, false) => ("high", "say one more of top, bottom, height"),
            };
            let message = format!("nothing says how {which} `{}` is", element.name.value);
            self.error(&element.name, &message, help);
        }
        size
    }

    fn edge(&self, element: &Element, axis: Axis, side: Side, edge: &Edge) -> Option<f64> {
        let inwards = if side == Side::Start { edge.offset } else { -edge.offset };
        match &edge.from {
            From::Guide(guide) => {
                let elsewhere = edge.of.as_ref().map(|of| {
                    let safe = self.bench.facts.format.safe;
                    PanelName::named(of)
                        .and_then(|of| Region::panel(self.bench.sheet, of, safe))
                        .ok_or_else(|| format!("this cover has no panel `{of}`"))
                });
                let at = match &elsewhere {
                    Some(Err(missing)) => Err(missing.clone()),
                    Some(Ok(region)) => region.edge(axis, side, *guide),
                    None => self.region.edge(axis, side, *guide),
                };
                match at {
                    Ok(at) => Some(at + inwards),
                    Err(message) => {
                        let names: Vec<&str> = self.bench.sheet.panels.iter().map(|panel| panel.name.word()).collect();
                        let help = match (&elsewhere, &edge.of) {
                            (Some(Err(_)), Some(of)) if self.elements.iter().any(|mate| mate.name.value == *of) => {
                                format!("`{of}` is a neighbour: its lines are centre, baseline, cap-top and its edges")
                            }
                            (Some(Err(_)), Some(of)) => offer(of, &names),
                            _ => "guides are trim, bleed, safe, fold, centre".to_owned(),
                        };
                        self.bench.findings.borrow_mut().error(edge.span, message, help);
                        None
                    }
                }
            }
            From::Level(name) => {
                let level = self.bench.facts.guides.levels.get(name)?.value;
                Some(level.y(self.bench.sheet) + inwards)
            }
            From::Neighbour(name) => self.neighbour(element, axis, side, name, edge).map(|at| at + inwards),
            From::Mate(name, line) => self.mate(element, axis, (name, *line), edge).map(|at| at + inwards),
        }
    }

    fn far(&self, axis: Axis, side: Side) -> f64 {
        let guide = if axis == Axis::X && self.region.spine { Guide::Safe } else { Guide::Trim };
        self.region.edge(axis, side, guide).unwrap_or_default()
    }

    fn spare(&self, axis: Axis) -> (f64, f64) {
        let safe = self.region.safe;
        let (start, end) = if axis == Axis::X { (safe.x0, safe.x1) } else { (safe.y0, safe.y1) };
        if end > start { (start, end) } else { (start, start + 1.0) }
    }

    fn error(&self, name: &Spanned<String>, message: &str, help: &str) {
        self.bench.findings.borrow_mut().error(name.span, message, help);
    }
}

mod hanging;
mod neighbours;
mod rounding;
