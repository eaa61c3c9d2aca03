//! DrawingPart: what a drawing is made of, in millimetres of its own; colours still as the file says them.

use crate::ground::{Course, FillRule, Line, Path, PathEl};

pub struct Drawing {
    pub name: String,
    /// Millimetres; an SVG pixel is 1/96 inch.
    pub width: f64,
    pub height: f64,
    pub parts: Vec<DrawingPart>,
    /// What the file has that is not drawn: `a pattern`, `what a filter changes`, `text`. Sorted, each once.
    pub left_out: Vec<String>,
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
    /// A fill that runs from colour to colour. Stops rise from 0 to 1, and stand so close that it makes no difference
    /// in which colours what lies between them is mixed.
    Wash {
        path: Path,
        rule: FillRule,
        course: Course,
        stops: Vec<(f64, [u8; 3])>,
        opacity: f64,
    },
    Group {
        clip: Option<(Path, FillRule)>,
        opacity: f64,
        multiply: bool,
        parts: Vec<DrawingPart>,
    },
}

/// An sRGB colour and its opacity, 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tint {
    pub rgb: [u8; 3],
    pub opacity: f64,
}

impl Drawing {
    /// Bytes in memory, near enough.
    pub fn weight(&self) -> usize {
        self.parts.iter().map(DrawingPart::weight).sum()
    }
}

impl DrawingPart {
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
            }
    }
}

impl std::fmt::Debug for Drawing {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.name)
    }
}
