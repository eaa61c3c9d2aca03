//! Item: one mark on the sheet: fill, stroke, glyphs, picture or group; each with its origin.

use crate::assets::{Font, Glyph, Picture, Separation, Sequence};
use crate::ground::{Affine, Blend, FillRule, Ink, Line, Paint, Path, Rect, Span};
use crate::scene::Surface;
use std::sync::Arc;

/// A mark and where it comes from. All geometry is in sheet millimetres, y down, origin at the trim's top left corner.
#[derive(Clone, Debug)]
pub struct Item {
    pub origin: Arc<Origin>,
    pub mark: Mark,
}

/// Who asked for a mark.
#[derive(Clone, Debug, PartialEq)]
pub struct Origin {
    pub span: Span,
    /// `front`, `spine`, `back`, `wrap` …
    pub panel: Surface,
    /// The element's name within its panel.
    pub element: String,
    pub kind: Kind,
    /// The element's frame on the sheet, turned elements by their bounds.
    pub frame: Rect,
}

/// What an element is to a production manager.
#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    Text,
    Shape,
    Picture,
    BarCode,
    QrCode,
}

#[derive(Clone, Debug)]
pub enum Mark {
    Fill { path: Path, rule: FillRule, paint: Paint },
    Stroke { path: Path, line: Line, paint: Paint },
    Glyphs(GlyphRun),
    Picture(PlacedPicture),
    Group(Group),
}

/// Glyphs of one font on one line, placed in a space of their own: x along the baseline, y down, millimetres.
#[derive(Clone, Debug)]
pub struct GlyphRun {
    pub font: Arc<Font>,
    /// The em, in millimetres.
    pub size: f64,
    /// Horizontal scale of every glyph; 1 leaves them as drawn.
    pub stretch: f64,
    /// From the run's space to the sheet.
    pub transform: Affine,
    /// In visual order, left to right in the run's space. Spaces are glyphs too.
    pub glyphs: Vec<Glyph>,
    /// How far each glyph is turned about its origin, in radians clockwise; empty where none is.
    pub turns: Vec<f64>,
    /// What the run says, in logical order.
    pub text: Arc<str>,
    pub sequence: Sequence,
    pub paint: Paint,
}

/// A picture on the sheet.
#[derive(Clone, Debug)]
pub struct PlacedPicture {
    pub picture: Arc<Picture>,
    /// From the unit square, (0,0) at the picture's top left corner and y down, to the sheet.
    pub transform: Affine,
    /// Print the picture's alpha (or, without alpha, its darkness) in this one ink.
    pub paint: Option<Ink>,
    pub separation: Separation,
}

/// Several marks treated as one: cut to a path, thinned, mixed.
#[derive(Clone, Debug)]
pub struct Group {
    pub clip: Option<(Path, FillRule)>,
    pub opacity: f64,
    pub blend: Blend,
    /// As much of it shows as these marks lay black, isolated on nothing; `None` where all of it does. They are not printed.
    pub veil: Option<Arc<[Item]>>,
    pub items: Vec<Item>,
}

impl Group {
    /// A group that only cuts.
    pub fn cut(clip: (Path, FillRule), items: Vec<Item>) -> Group {
        Group { veil: None, clip: Some(clip), opacity: 1.0, blend: Blend::Normal, items }
    }

    /// Whether its items can be drawn one by one, without being composed apart first.
    pub fn is_plain(&self) -> bool {
        self.opacity >= 1.0 && self.blend == Blend::Normal && self.veil.is_none()
    }
}
