//! Exam: a finished cover laid out for questions.

use crate::assets::Darkroom;
use crate::check::ink_sums::MeasuredPlates;
use crate::check::visible::{VisibleElement, VisibleMark, elements, visible_marks};
use crate::cover::{Cover, Facts};
use crate::ground::Rect;
use crate::scene::{Item, Kind, Mark, OutputSettings, PixelSize, Scene, Sheet, Surface};
use std::collections::BTreeMap;

pub struct Exam<'a> {
    pub cover: &'a Cover,
    pub scene: &'a Scene,
    pub darkroom: &'a Darkroom,
    /// Where a sheet is printed, its plates.
    pub measured: Option<&'a MeasuredPlates>,
    /// Every mark that is no group, bottom to top.
    pub marks: Vec<VisibleMark<'a>>,
    /// The same, element by element.
    pub elements: Vec<VisibleElement<'a>>,
    /// How far every item that is no group reaches, in the order of the scene.
    pub reaches: Vec<Option<MarkReach>>,
}

/// How far a mark reaches, and how many outlines are laid out to draw it: of a run, one for every letter; of a path, one for
/// so many of its lines.
#[derive(Clone, Copy)]
pub struct MarkReach {
    pub bounds: Rect,
    pub outlines: usize,
    /// Pixels of a picture a square millimetre; nothing where it is none.
    pub samples: Option<f64>,
}

fn samples(item: &Item, bounds: Rect) -> Option<f64> {
    let Mark::Picture(placed) = &item.mark else { return None };
    Some(f64::from(placed.picture.width()) * f64::from(placed.picture.height()) / bounds.area())
}

/// How many outlines are laid out to draw a mark.
pub fn outlines(item: &Item) -> usize {
    match &item.mark {
        Mark::Glyphs(run) => run.glyphs.len(),
        Mark::Fill { path, .. } | Mark::Stroke { path, .. } => 1 + path.elements().len() / LINES,
        Mark::Picture(_) | Mark::Group(_) => 1,
    }
}

/// Lines of a path that take as long as a letter's outline. Measured with the modules of QR codes, sixty thousand lines.
pub const LINES: usize = 200;

impl<'a> Exam<'a> {
    pub fn new(cover: &'a Cover, scene: &'a Scene, darkroom: &'a Darkroom) -> Exam<'a> {
        let marks = visible_marks(&scene.items);
        let mut elements = elements(&marks);
        let mut places = BTreeMap::new();
        for (at, element) in elements.iter().enumerate() {
            places.entry(std::ptr::from_ref(element.origin)).or_insert(at);
        }
        scene.walk(&mut |item| {
            if let (Mark::Glyphs(run), None) = (&item.mark, item.bounds())
                && let Some(at) = places.get(&std::ptr::from_ref(&*item.origin))
            {
                elements[*at].blanks.push(run);
            }
        });
        let mut reaches = Vec::new();
        scene.walk(&mut |item| {
            reaches.push(item.bounds().map(|bounds| {
                let (outlines, samples) = (outlines(item), samples(item, bounds));
                MarkReach { bounds, outlines, samples }
            }));
        });
        Exam { cover, scene, darkroom, measured: None, marks, elements, reaches }
    }

    pub fn facts(&self) -> &'a Facts {
        &self.cover.facts
    }

    pub fn sheet(&self) -> &'a Sheet {
        &self.scene.sheet
    }

    /// How many pixels a front for screens has.
    pub fn screen(&self) -> Option<PixelSize> {
        self.sheet().pixels
    }

    /// What is asked of the shop's picture, where one is wanted.
    pub fn shop(&self) -> Option<(&'a OutputSettings, PixelSize)> {
        let settings = self.facts().delivery.get("shop")?;
        Some((settings, settings.front.size?))
    }

    pub fn of(&self, kind: Kind) -> impl Iterator<Item = &VisibleElement<'a>> {
        self.elements.iter().filter(move |element| element.is(kind))
    }

    /// Words whose middle lies on the spine and that are not wider than a title across the whole wrap would be.
    pub fn spine_words(&self) -> impl Iterator<Item = &VisibleElement<'a>> {
        self.of(Kind::Text).filter(|element| element.origin.panel == Surface::SPINE)
    }

    /// Pictures and drawings that end within the trim: marks, emblems, portraits.
    pub fn is_live(&self, element: &VisibleElement<'_>) -> bool {
        match element.origin.kind {
            Kind::Text | Kind::BarCode | Kind::QrCode => true,
            Kind::Picture => !reaches(element.bounds, self.sheet().bleed),
            Kind::Shape => false,
        }
    }
}

/// Whether a rectangle touches an edge of the bleed, or lies over it.
fn reaches(bounds: Rect, bleed: Rect) -> bool {
    bounds.x0 <= bleed.x0 + TOUCH
        || bounds.x1 >= bleed.x1 - TOUCH
        || bounds.y0 <= bleed.y0 + TOUCH
        || bounds.y1 >= bleed.y1 - TOUCH
}

/// Millimetres that count as none.
pub const TOUCH: f64 = 0.02;

/// The four sides of a rectangle, by the name a cover gives them.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum SheetSide {
    Left,
    Right,
    Head,
    Foot,
}

impl SheetSide {
    pub const ALL: [SheetSide; 4] = [SheetSide::Left, SheetSide::Right, SheetSide::Head, SheetSide::Foot];

    pub fn word(self) -> &'static str {
        match self {
            SheetSide::Left => "left",
            SheetSide::Right => "right",
            SheetSide::Head => "head",
            SheetSide::Foot => "foot",
        }
    }

    /// How far `inner` keeps inside `outer` on this side; negative when it reaches out.
    pub fn gap(self, inner: Rect, outer: Rect) -> f64 {
        match self {
            SheetSide::Left => inner.x0 - outer.x0,
            SheetSide::Right => outer.x1 - inner.x1,
            SheetSide::Head => inner.y0 - outer.y0,
            SheetSide::Foot => outer.y1 - inner.y1,
        }
    }
}
