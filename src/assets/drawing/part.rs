//! DrawingPart: what a drawing is made of, in millimetres of its own; colours still as the file says them.

use crate::assets::Picture;
use crate::assets::drawing::pixels::PixelView;
use crate::assets::drawing::remark::DrawingRemark;
use crate::ground::{Affine, Course, FillRule, Line, Path, PathEl, Rect, Shape as _};
use std::collections::BTreeSet;
use std::sync::Arc;

pub struct Drawing {
    pub name: String,
    /// Millimetres; an SVG pixel is 1/96 inch.
    pub width: f64,
    pub height: f64,
    pub parts: Vec<DrawingPart>,
    /// What the file has that is not drawn: `a picture`, `text`. Sorted, each once.
    pub left_out: Vec<String>,
    /// What it refers to and has not: `#gone`. Sorted, each once.
    pub missing: Vec<String>,
    /// What there is to say of its text and pictures.
    pub remarks: Vec<DrawingRemark>,
    /// Each once.
    pub pictures: Vec<Arc<Picture>>,
    /// Corners and curves of its outlines, as far as they cost; a shape has no fewer than four.
    pub steps: usize,
    /// Millimetres of its outlines, by the points that steer them.
    pub length: f64,
}

#[derive(Clone, Debug)]
pub enum DrawingPart {
    Fill {
        path: Path,
        rule: FillRule,
        colour: Tint,
    },
    Stroke {
        path: Path,
        line: Line,
        colour: Tint,
    },
    /// A fill that runs from colour to colour, mixed in sRGB between them. Stops rise from 0 to 1.
    Wash {
        path: Path,
        rule: FillRule,
        course: Course,
        stops: Vec<(f64, [u8; 3])>,
        opacity: f64,
    },
    /// As much of its parts shows as the veil is light, seen on black.
    Veiled {
        veil: Vec<DrawingPart>,
        /// Whether the veil is all light where it is: an edge, as that of a clip.
        clips: bool,
        parts: Vec<DrawingPart>,
    },
    /// A picture that the file shows. In a mask, its alpha is how much shows.
    Picture {
        picture: Arc<Picture>,
        /// From one unit square to millimetres.
        unit: Affine,
    },
    /// An effect that is printed as a picture.
    Pixels(Arc<PixelView>),
    Group {
        clip: Option<(Path, FillRule)>,
        opacity: f64,
        multiply: bool,
        parts: Vec<DrawingPart>,
    },
}

/// Where a picture lies before it is placed.
pub const UNIT: Rect = Rect { x0: 0.0, y0: 0.0, x1: 1.0, y1: 1.0 };

/// An sRGB colour and its opacity, 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tint {
    pub rgb: [u8; 3],
    pub opacity: f64,
}

impl Drawing {
    /// The colours that paths have, other than in veils.
    pub fn colours(&self) -> BTreeSet<[u8; 3]> {
        let mut colours = BTreeSet::new();
        self.parts.iter().for_each(|part| part.colours(&mut colours));
        colours
    }

    /// Bytes in memory, near enough.
    pub fn weight(&self) -> usize {
        let pictures = self.pictures.iter().map(|picture| picture.weight());
        self.parts.iter().map(DrawingPart::weight).chain(pictures).sum()
    }
}

impl DrawingPart {
    fn colours(&self, into: &mut BTreeSet<[u8; 3]>) {
        match self {
            DrawingPart::Fill { colour, .. } | DrawingPart::Stroke { colour, .. } => drop(into.insert(colour.rgb)),
            DrawingPart::Wash { stops, .. } => into.extend(stops.iter().map(|(_, rgb)| *rgb)),
            DrawingPart::Group { parts, .. } | DrawingPart::Veiled { parts, .. } => {
                for part in parts {
                    part.colours(into);
                }
            }
            DrawingPart::Picture { .. } | DrawingPart::Pixels(_) => {}
        }
    }

    fn weight(&self) -> usize {
        let steps = |path: &Path| size_of_val::<[PathEl]>(path.elements());
        size_of::<DrawingPart>()
            + match self {
                DrawingPart::Fill { path, .. } | DrawingPart::Stroke { path, .. } => steps(path),
                DrawingPart::Wash { path, stops, .. } => steps(path) + size_of_val(&stops[..]),
                DrawingPart::Group { clip, parts, .. } => {
                    clip.as_ref().map_or(0, |(path, _)| steps(path))
                        + parts.iter().map(DrawingPart::weight).sum::<usize>()
                }
                DrawingPart::Veiled { veil, parts, .. } => {
                    veil.iter().chain(parts).map(DrawingPart::weight).sum::<usize>()
                }
                // Pictures are weighed once, however often they are shown.
                DrawingPart::Picture { .. } => 0,
                DrawingPart::Pixels(view) => view.weight(),
            }
    }

    /// The box around what it covers in another space, that this transform leads to.
    pub fn bounds_in(&self, space: Affine) -> Option<Rect> {
        let around = |path: &Path| (!path.elements().is_empty()).then(|| (space * path).bounding_box());
        let all =
            |parts: &[DrawingPart]| parts.iter().filter_map(|part| part.bounds_in(space)).reduce(|a, b| a.union(b));
        match self {
            DrawingPart::Fill { path, .. } | DrawingPart::Wash { path, .. } => around(path),
            DrawingPart::Stroke { path, line, .. } => {
                let scale = space.determinant().abs().sqrt();
                Line { width: line.width * scale, ..line.clone() }.bounds(&(space * path))
            }
            DrawingPart::Group { clip, parts, .. } => {
                let whole = all(parts)?;
                clip.as_ref().map_or(Some(whole), |(path, _)| Some(whole.intersect(around(path)?)))
            }
            DrawingPart::Veiled { veil, parts, .. } => Some(all(parts)?.intersect(all(veil)?)),
            DrawingPart::Picture { unit, .. } => Some((space * *unit).transform_rect_bbox(UNIT)),
            DrawingPart::Pixels(view) => Some(space.transform_rect_bbox(view.place)),
        }
    }

    /// The box around what it covers; `None` where it covers nothing.
    pub fn bounds(&self) -> Option<Rect> {
        self.bounds_in(Affine::IDENTITY)
    }
}

impl std::fmt::Debug for Drawing {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.name)
    }
}
