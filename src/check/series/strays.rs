//! Strays: every element that most covers share is held against the line and the size that most of them keep.

use crate::check::series::appearance::{Appearance, SeenElement};
use crate::check::series::common::{CommonLine, Direction, End, SIZE_TOLERANCE, TOLERANCE, agrees, common};
use crate::check::series::words;
use crate::scene::{Kind, Surface};
use std::collections::BTreeSet;

/// StrayKind a cover does otherwise than most.
#[derive(Clone, Debug, PartialEq, serde::Serialize)]
pub struct Stray {
    /// Its place among the covers that were compared.
    #[serde(skip)]
    pub cover: usize,
    pub face: Surface,
    pub element: String,
    pub what: StrayKind,
    /// Millimetres, for type points: how much lower, further right, larger.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub by: Option<f64>,
    /// The line or size that most covers keep.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub common: Option<f64>,
    pub message: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum StrayKind {
    Down,
    Across,
    TypeSize,
    Height,
    Width,
    Missing,
}

/// One element and the covers that show it.
struct Shared<'a> {
    name: &'a str,
    face: Surface,
    /// Cover by cover.
    shown: Vec<(usize, &'a SeenElement)>,
}

/// The strays of a series, cover by cover in the order given, then by face and name.
pub fn strays(covers: &[&Appearance]) -> Vec<Stray> {
    let mut all = Vec::new();
    for face in [Surface::SPINE, Surface::FRONT, Surface::Wrap] {
        let with: Vec<_> =
            covers.iter().enumerate().filter_map(|(at, cover)| Some((at, cover.surfaces.get(&face)?))).collect();
        let names: BTreeSet<&str> = with.iter().flat_map(|(_, elements)| elements.keys().map(String::as_str)).collect();
        for name in names {
            let shown: Vec<_> = with.iter().filter_map(|(at, elements)| Some((*at, elements.get(name)?))).collect();
            if shown.len() * 2 <= with.len() {
                continue;
            }
            let shared = Shared { name, face, shown };
            let lacking = with.iter().filter(|(_, elements)| !elements.contains_key(name));
            all.extend(lacking.map(|(at, _)| shared.missing(*at, with.len())));
            shared.placed(&mut all);
            if face != Surface::Wrap {
                shared.sized(&mut all);
            }
        }
    }
    // Stable: within a cover surfaces and names keep their order.
    all.sort_by_key(|stray| stray.cover);
    all
}

impl Shared<'_> {
    fn elements(&self) -> Vec<&SeenElement> {
        self.shown.iter().map(|(_, element)| *element).collect()
    }

    fn stray(&self, cover: usize, what: StrayKind, by: f64, common: f64, message: String) -> Stray {
        let [by, common] = [by, common].map(|value| Some((value * 1000.0).round() / 1000.0 + 0.0));
        Stray { cover, face: self.face, element: self.name.to_owned(), what, by, common, message }
    }

    fn missing(&self, cover: usize, of: usize) -> Stray {
        let message = words::missing(self.name, self.face, self.shown.len(), of);
        let element = self.name.to_owned();
        Stray { cover, face: self.face, element, what: StrayKind::Missing, by: None, common: None, message }
    }

    fn placed(&self, all: &mut Vec<Stray>) {
        // Across the wrap widths follow the spines.
        let axes: &[Direction] =
            if self.face == Surface::Wrap { &[Direction::Down] } else { &[Direction::Down, Direction::Across] };
        for line in axes.iter().filter_map(|axis| CommonLine::shared(*axis, &self.elements())) {
            for (cover, element) in &self.shown {
                let Some(by) = line.strays(element) else { continue };
                let what = if line.axis == Direction::Down { StrayKind::Down } else { StrayKind::Across };
                let message = words::moved(self.name, self.face, element, &line, by);
                all.push(self.stray(*cover, what, by, line.value, message));
            }
        }
    }

    fn sized(&self, all: &mut Vec<Stray>) {
        let set = self.shown.iter().filter_map(|(at, element)| Some((*at, element.size?, false))).collect::<Vec<_>>();
        self.odd(&set, SIZE_TOLERANCE, StrayKind::TypeSize, all);
        for (axis, what) in [(Direction::Across, StrayKind::Width), (Direction::Down, StrayKind::Height)] {
            let (near, far) = (self.edge(axis, End::Near), self.edge(axis, End::Far));
            let keeps = |element: &SeenElement, edge: Option<f64>, end: End| {
                edge.is_some_and(|edge| agrees(element.stands(axis, end, end), edge, TOLERANCE))
            };
            let marks = self.shown.iter().filter(|(_, element)| element.kind != Kind::Text);
            let lengths = marks.map(|(at, element)| {
                // StrayKind keeps to both edges grows with its face, and does not stray.
                let grows = keeps(element, near, End::Near) && keeps(element, far, End::Far);
                (*at, element.length(axis), grows)
            });
            self.odd(&lengths.collect::<Vec<_>>(), TOLERANCE, what, all);
        }
    }

    /// Covers whose size is not the common one, unless they are excused.
    fn odd(&self, sizes: &[(usize, f64, bool)], tolerance: f64, what: StrayKind, all: &mut Vec<Stray>) {
        let values: Vec<f64> = sizes.iter().map(|(_, size, _)| *size).collect();
        let Some((common, agree)) = common(&values, tolerance) else { return };
        let others = if values.len() - agree == 1 { "the others" } else { "most" };
        for (cover, size, excused) in sizes {
            if *excused || agrees(*size, common, tolerance) {
                continue;
            }
            let message = match what {
                StrayKind::TypeSize => words::set(self.name, self.face, *size, common, others),
                StrayKind::Height => words::sized(self.name, self.face, "high", *size, common, others),
                _ => words::sized(self.name, self.face, "wide", *size, common, others),
            };
            all.push(self.stray(*cover, what, size - common, common, message));
        }
    }

    fn edge(&self, axis: Direction, end: End) -> Option<f64> {
        let stands: Vec<f64> = self.elements().iter().map(|element| element.stands(axis, end, end)).collect();
        common(&stands, TOLERANCE).map(|(value, _)| value)
    }
}
