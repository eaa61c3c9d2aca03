//! Scene: the sheet, its trim, bleed and folds, and the items on it.

use crate::assets::Profile;
use crate::ground::{Point, Rect};
use crate::scene::{Item, PanelName};
use std::sync::Arc;

/// Everything an output needs; always printable.
#[derive(Clone, Debug)]
pub struct Scene {
    pub sheet: Sheet,
    pub job: Job,
    pub profile: Arc<Profile>,
    /// From bottom to top.
    pub items: Vec<Item>,
}

/// The flat sheet, outside up. Origin at the trim's top left corner, millimetres, y down.
#[derive(Clone, Debug, PartialEq)]
pub struct Sheet {
    /// The finished flat: (0, 0) to (width, height).
    pub trim: Rect,
    /// Trim and the bleed (or turn-in) around it.
    pub bleed: Rect,
    /// From left to right; they tile the trim.
    pub panels: Vec<Panel>,
    /// From left to right.
    pub folds: Vec<Fold>,
    /// With the front before you, the spine is at the right.
    pub bound_right: bool,
}

#[derive(Clone, Debug, PartialEq)]
pub struct Panel {
    pub name: PanelName,
    pub rect: Rect,
}

/// A line along which the sheet is folded or scored, from head to foot.
#[derive(Clone, Debug, PartialEq)]
pub struct Fold {
    pub x: f64,
    pub kind: FoldKind,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum FoldKind {
    /// An edge of the spine, a flap's edge, a board's edge at the joint.
    Fold,
    /// A relief score beside the spine.
    Score,
}

impl Sheet {
    pub fn panel(&self, name: PanelName) -> Option<&Panel> {
        self.panels.iter().find(|panel| panel.name == name)
    }

    /// The panel under a point of the trim.
    pub fn panel_at(&self, point: Point) -> Option<&Panel> {
        self.panels.iter().find(|panel| panel.rect.contains(point))
    }
}

/// What a press sheet states about itself outside the bleed and in its metadata.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Job {
    pub title: String,
    pub author: String,
    pub language: String,
    /// Hyphenated, when the book has one.
    pub isbn: Option<String>,
    pub version: Option<u32>,
    /// `YYYY-MM-DD`, as the cover states it; files carry no other date.
    pub date: Option<String>,
    /// What the stem says after title, ISBN and version: trim, spine, paper.
    pub notes: Vec<String>,
}

/// What stands around the trim.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Default, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Surround {
    /// Bleed, then crop, fold and registration marks, colour bar and job line.
    #[default]
    Marks,
    /// Bleed alone: the page is the bleed box.
    Bleed,
    /// Neither: the page is the trim.
    Trim,
}
