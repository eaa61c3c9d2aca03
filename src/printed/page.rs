//! Page: what a page of a PDF holds, as far as it can be told without rendering it.

use crate::ground::Rect;
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
    /// Width, height and components of every picture that is placed, smallest first.
    pub pictures: Vec<(u32, u32, String)>,
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

impl PrintedPage {
    /// Turned clockwise by so many quarters, as a page may ask to be shown.
    pub fn turn(&mut self, quarters: usize) {
        for _ in 0..quarters {
            let width = self.boxes.get("MediaBox").map_or(0.0, Rect::width);
            for place in self.boxes.values_mut() {
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
