//! Scene: the sheet, its trim, bleed and folds, and the items on it.

use crate::assets::Profile;
use crate::ground::{Point, Rect};
use crate::scene::{BookShape, BookView, Item, PanelName, Standing};
use std::fmt;
use std::sync::Arc;

/// Everything an output needs; always printable.
#[derive(Clone, Debug)]
pub struct Scene {
    pub sheet: Sheet,
    pub job: Job,
    pub profile: Arc<Profile>,
    /// From bottom to top.
    pub items: Vec<Item>,
    /// The finished book, and the pictures of it that are wanted.
    pub views: Option<Arc<StandingBook>>,
}

/// The shape of the finished book, and how it is to be seen.
#[derive(Clone, Debug, PartialEq)]
pub struct StandingBook {
    pub shape: BookShape,
    pub all: Vec<BookView>,
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
    /// A front for screens has exactly so many pixels; nothing of the sheet is printed, cut or folded.
    pub pixels: Option<PixelSize>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PixelSize {
    pub width: u32,
    pub height: u32,
}

impl PixelSize {
    pub fn count(self) -> u64 {
        u64::from(self.width) * u64::from(self.height)
    }

    /// Width over height.
    pub fn ratio(self) -> f64 {
        f64::from(self.width) / f64::from(self.height)
    }

    /// Whether a front of these millimetres has this ratio, to a pixel.
    pub fn fits(self, front: Rect) -> bool {
        let (width, height) = (f64::from(self.width), f64::from(self.height));
        (front.width() / front.height() * height - width).abs() <= 1.0
            || (front.height() / front.width() * width - height).abs() <= 1.0
    }
}

impl fmt::Display for PixelSize {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{} × {}", self.width, self.height)
    }
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
    /// What of it is delivered: all of a printed cover, and of a cover for screens the front.
    #[must_use]
    pub fn delivered(&self) -> Sheet {
        let front = self.panel(PanelName::Front).filter(|_| self.pixels.is_some());
        front.map_or_else(
            || self.clone(),
            |front| Sheet {
                trim: front.rect,
                bleed: front.rect,
                panels: vec![front.clone()],
                folds: Vec::new(),
                ..self.clone()
            },
        )
    }

    /// The front as it is seen: on a case with its joint.
    pub fn front(&self) -> Option<Rect> {
        let front = self.panel(PanelName::Front)?.rect;
        Some(self.panel(PanelName::FrontJoint).map_or(front, |joint| front.union(joint.rect)))
    }

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
    /// What the front shows, in words.
    pub alt_text: Option<String>,
    /// Hyphenated, when the book has one.
    pub isbn: Option<String>,
    pub version: Option<u32>,
    /// `YYYY-MM-DD`, as the cover states it; files carry no other date.
    pub date: Option<String>,
    /// How what is shown stands against what was approved, once that is known.
    pub standing: Option<Standing>,
    /// What the stem says after title, ISBN and version: trim, spine, paper.
    pub notes: Vec<String>,
    /// The one plate for all words, where the house keeps one.
    pub text_plate: Option<String>,
}

impl Job {
    /// The book's title and what a picture shows of it.
    pub fn picture_title(&self, part: &str) -> String {
        let title: String = self.title.chars().filter(|letter| *letter != '\0').collect();
        if title.is_empty() { String::new() } else { format!("{title}, {part}") }
    }
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
