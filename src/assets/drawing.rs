//! Drawing: an SVG file as paths, in millimetres of its own; colours still as the file says them.

mod bounds;
mod clip;
mod read;
mod trace;
mod wash;

use crate::assets::{PictureFault, decode};
use crate::ground::{Course, FillRule, Line, Path, PathEl};

pub struct Drawing {
    pub name: String,
    /// Millimetres; an SVG pixel is 1/96 inch.
    pub width: f64,
    pub height: f64,
    pub nodes: Vec<Drawn>,
    /// What the file has that is not drawn: `a pattern`, `a filter`, `text`. Sorted, each once.
    pub left_out: Vec<String>,
}

#[derive(Clone, Debug)]
pub enum Drawn {
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
        nodes: Vec<Drawn>,
    },
}

/// An sRGB colour and its opacity, 0 to 1.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Tint {
    pub rgb: [u8; 3],
    pub opacity: f64,
}

impl Drawing {
    /// Whether the bytes look like SVG (text that begins with `<svg`, an XML head, a comment or a doctype).
    pub fn is_drawing(bytes: &[u8]) -> bool {
        let text = bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes).trim_ascii_start();
        [&b"<svg"[..], b"<?xml", b"<!--", b"<!DOCTYPE"].iter().any(|head| text.starts_with(head))
    }

    pub fn open(name: &str, bytes: &[u8]) -> Result<Drawing, PictureFault> {
        decode::agreed(name, "SVG", "svg")?;
        let sheet = read::read(bytes)?;
        Ok(Drawing {
            name: name.to_owned(),
            width: sheet.width,
            height: sheet.height,
            nodes: sheet.nodes,
            left_out: sheet.left_out.into_iter().collect(),
        })
    }

    /// Bytes in memory, near enough.
    pub fn weight(&self) -> usize {
        self.nodes.iter().map(Drawn::weight).sum()
    }
}

impl Drawn {
    fn weight(&self) -> usize {
        let steps = |path: &Path| size_of_val::<[PathEl]>(path.elements());
        size_of::<Drawn>()
            + match self {
                Drawn::Fill { path, .. } | Drawn::Stroke { path, .. } => steps(path),
                Drawn::Wash { path, stops, .. } => steps(path) + size_of_val(&stops[..]),
                Drawn::Group { clip, nodes, .. } => {
                    clip.as_ref().map_or(0, |(path, _)| steps(path)) + nodes.iter().map(Drawn::weight).sum::<usize>()
                }
            }
    }
}

impl std::fmt::Debug for Drawing {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.name)
    }
}

#[cfg(test)]
mod tests;
