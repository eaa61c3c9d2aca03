//! How far each mark reaches, in pixels, and what names it in the memory of tiles.

use crate::ground::{Affine, Colour, Course, Digest, Ink, Paint, Path, PathEl, Rect};
use crate::scene::{Item, Mark};

/// `None` for a mark that prints nothing.
pub fn pixel_bounds(item: &Item, to_pixels: Affine) -> Option<Rect> {
    let bounds = item.bounds()?;
    bounds.is_finite().then(|| to_pixels.transform_rect_bbox(bounds))
}

/// A mark and those within it, named by what they print.
pub struct MarkName {
    pub bounds: Rect,
    name: Digest,
    items: Vec<MarkName>,
}

impl MarkName {
    pub fn new(item: &Item, to_pixels: Affine) -> Option<MarkName> {
        let bounds = pixel_bounds(item, to_pixels)?;
        let mut said = Vec::new();
        describe(item, &mut said);
        let items = match &item.mark {
            Mark::Group(group) => group.items.iter().filter_map(|item| MarkName::new(item, to_pixels)).collect(),
            _ => Vec::new(),
        };
        Some(MarkName { bounds, name: Digest::of(&said), items })
    }

    /// Adds the names of all that touches a tile.
    pub fn gather(&self, tile: Rect, names: &mut Vec<u8>) {
        if self.bounds.overlaps(tile) {
            names.extend(self.name.bytes());
            names.push(b'(');
            self.items.iter().for_each(|item| item.gather(tile, names));
            names.push(b')');
        }
    }
}

fn describe(item: &Item, said: &mut Vec<u8>) {
    match &item.mark {
        Mark::Fill { path, rule, paint } => {
            said.extend(format!("fill {rule:?}").bytes());
            self::path(path, said);
            self::paint(paint, said);
        }
        Mark::Stroke { path, line, paint } => {
            said.extend(format!("stroke {line:?}").bytes());
            self::path(path, said);
            self::paint(paint, said);
        }
        Mark::Glyphs(run) => {
            said.extend(b"glyphs");
            said.extend(run.font.digest().bytes());
            numbers(&[run.size, run.stretch], said);
            numbers(&run.transform.as_coeffs(), said);
            for glyph in &run.glyphs {
                said.extend(glyph.id.to_le_bytes());
                numbers(&[glyph.x, glyph.y], said);
            }
            self::paint(&run.paint, said);
        }
        Mark::Picture(placed) => {
            said.extend(b"picture");
            said.extend(placed.picture.digest().bytes());
            numbers(&placed.transform.as_coeffs(), said);
            placed.paint.iter().for_each(|ink| self::ink(ink, said));
        }
        Mark::Group(group) => {
            said.extend(format!("group {:?}", group.blend).bytes());
            numbers(&[group.opacity], said);
            if let Some((clip, rule)) = &group.clip {
                said.extend(format!("{rule:?}").bytes());
                path(clip, said);
            }
        }
    }
}

fn path(path: &Path, said: &mut Vec<u8>) {
    for element in path.elements() {
        let mut say = |letter: u8, points: &[crate::ground::Point]| {
            said.push(letter);
            for point in points {
                numbers(&[point.x, point.y], said);
            }
        };
        match *element {
            PathEl::MoveTo(a) => say(b'm', &[a]),
            PathEl::LineTo(a) => say(b'l', &[a]),
            PathEl::QuadTo(a, b) => say(b'q', &[a, b]),
            PathEl::CurveTo(a, b, c) => say(b'c', &[a, b, c]),
            PathEl::ClosePath => say(b'z', &[]),
        }
    }
}

fn paint(paint: &Paint, said: &mut Vec<u8>) {
    match paint {
        Paint::Ink(ink) => self::ink(ink, said),
        Paint::Gradient(gradient) => {
            match gradient.course {
                Course::Linear { from, to } => {
                    said.push(b'/');
                    numbers(&[from.x, from.y, to.x, to.y], said);
                }
                Course::Radial { centre, radius } => {
                    said.push(b'o');
                    numbers(&[centre.x, centre.y, radius], said);
                }
            }
            for (at, stop) in &gradient.stops {
                numbers(&[*at], said);
                ink(stop, said);
            }
        }
    }
}

fn ink(ink: &Ink, said: &mut Vec<u8>) {
    said.push(u8::from(ink.overprint));
    match &ink.colour {
        Colour::Process(inks) => numbers(inks, said),
        Colour::Spot(spot, tint) => {
            said.extend((spot.name.len() as u64).to_le_bytes());
            said.extend(spot.name.bytes());
            numbers(&[*tint], said);
            numbers(&spot.look, said);
        }
    }
}

fn numbers(numbers: &[f64], said: &mut Vec<u8>) {
    for number in numbers {
        said.extend(number.to_le_bytes());
    }
}
