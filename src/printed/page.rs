//! Page: what a page of a PDF holds, as far as it can be told without rendering it.

use crate::ground::{Path, PathEl, Point, Rect};
use crate::printed::painted::{PaintedColours, PrintedPicture};
use std::collections::{BTreeMap, BTreeSet};

/// What is on a page as it is shown, in millimetres from the lower left corner of its media box.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PrintedPage {
    pub pages: usize,
    /// By their PDF names: `TrimBox`.
    pub boxes: BTreeMap<&'static str, Rect>,
    /// Those that something is painted in: process inks by letter, and spot inks by name.
    pub spots: BTreeSet<String>,
    /// Whether a font's outlines are inside, by name, without the mark of a subset.
    pub fonts: BTreeMap<String, bool>,
    /// Every picture that is placed, smallest first.
    pub pictures: Vec<PrintedPicture>,
    /// How much is painted in which colour.
    pub colours: PaintedColours,
    /// How many fills, strokes and texts are painted while overprint is on, and how many at all.
    pub overprinted: usize,
    pub painted: usize,
    pub texts: usize,
    /// The condition that its output intent names.
    pub condition: Option<String>,
    /// Straight lines along the axes, thin or the edges of rectangles.
    pub lines: Vec<PageLine>,
    /// There was more than is looked at.
    pub is_cut_short: bool,
}

/// A straight line, upright or level.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct PageLine {
    pub upright: bool,
    /// Where it stands, from the left or from the foot.
    pub at: f64,
    pub from: f64,
    pub to: f64,
}

pub const BOXES: [&str; 5] = ["MediaBox", "CropBox", "BleedBox", "TrimBox", "ArtBox"];

/// Lines that are kept.
const LINES: usize = 20_000;
/// Millimetres by which an upright line may lean.
const STRAIGHT: f64 = 0.02;

impl PrintedPage {
    /// Keeps the straight lines of a path.
    pub fn keep_lines(&mut self, path: &Path) {
        let (mut last, mut start) = (Point::ZERO, Point::ZERO);
        for element in path.elements() {
            match element {
                PathEl::MoveTo(point) => (last, start) = (*point, *point),
                PathEl::LineTo(point) => {
                    self.line(last, *point);
                    last = *point;
                }
                PathEl::QuadTo(_, point) | PathEl::CurveTo(_, _, point) => last = *point,
                PathEl::ClosePath => {
                    self.line(last, start);
                    last = start;
                }
            }
        }
    }

    fn line(&mut self, one: Point, other: Point) {
        let upright = (one.x - other.x).abs() < STRAIGHT;
        if upright == ((one.y - other.y).abs() < STRAIGHT) {
            return;
        }
        if self.lines.len() == LINES {
            self.is_cut_short = true;
            return;
        }
        let (at, a, b) = if upright { (one.x, one.y, other.y) } else { (one.y, one.x, other.x) };
        self.lines.push(PageLine { upright, at, from: a.min(b), to: a.max(b) });
    }

    /// Turned clockwise by so many quarters, as a page may ask to be shown.
    pub fn turn(&mut self, quarters: usize) {
        for _ in 0..quarters {
            let width = self.boxes.get("MediaBox").map_or(0.0, Rect::width);
            let pictures = self.pictures.iter_mut().map(|picture| &mut picture.place);
            let colours = self.colours.values_mut().filter_map(|colour| colour.bounds.as_mut());
            for place in self.boxes.values_mut().chain(pictures).chain(colours) {
                *place = Rect::new(place.y0, width - place.x1, place.y1, width - place.x0);
            }
            for line in &mut self.lines {
                let level = !line.upright;
                *line = if level {
                    PageLine { upright: true, at: line.at, from: width - line.to, to: width - line.from }
                } else {
                    PageLine { upright: false, at: width - line.at, from: line.from, to: line.to }
                };
            }
        }
    }
}
