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
        let mut stated = Vec::new();
        describe(item, &mut stated);
        let items = match &item.mark {
            Mark::Group(group) => group.items.iter().filter_map(|item| MarkName::new(item, to_pixels)).collect(),
            _ => Vec::new(),
        };
        Some(MarkName { bounds, name: Digest::of(&stated), items })
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

fn describe(item: &Item, stated: &mut Vec<u8>) {
    match &item.mark {
        Mark::Fill { path, rule, paint } => {
            stated.extend(format!("fill {rule:?}").bytes());
            self::path(path, stated);
            self::paint(paint, stated);
        }
        Mark::Stroke { path, line, paint } => {
            stated.extend(format!("stroke {line:?}").bytes());
            self::path(path, stated);
            self::paint(paint, stated);
        }
        Mark::Glyphs(run) => {
            stated.extend(b"glyphs");
            stated.extend(run.font.digest().bytes());
            numbers(&[run.size, run.stretch], stated);
            numbers(&run.transform.as_coeffs(), stated);
            for glyph in &run.glyphs {
                stated.extend(glyph.id.to_le_bytes());
                numbers(&[glyph.x, glyph.y], stated);
            }
            numbers(&run.turns, stated);
            self::paint(&run.paint, stated);
        }
        Mark::Picture(placed) => {
            stated.extend(b"picture");
            stated.extend(placed.picture.digest().bytes());
            numbers(&placed.transform.as_coeffs(), stated);
            placed.paint.iter().for_each(|ink| self::ink(ink, stated));
            stated.extend(placed.separation.code());
        }
        Mark::Group(group) => {
            stated.extend(format!("group {:?}", group.blend).bytes());
            numbers(&[group.opacity], stated);
            if let Some((clip, rule)) = &group.clip {
                stated.extend(format!("{rule:?}").bytes());
                path(clip, stated);
            }
            if let Some(veil) = &group.veil {
                stated.extend(b"veil");
                veil.iter().for_each(|item| whole(item, stated));
            }
        }
    }
}

/// A mark with all that is in it.
fn whole(item: &Item, stated: &mut Vec<u8>) {
    stated.push(b'(');
    describe(item, stated);
    if let Mark::Group(group) = &item.mark {
        group.items.iter().for_each(|item| whole(item, stated));
    }
    stated.push(b')');
}

fn path(path: &Path, stated: &mut Vec<u8>) {
    for element in path.elements() {
        let mut say = |letter: u8, points: &[crate::ground::Point]| {
            stated.push(letter);
            for point in points {
                numbers(&[point.x, point.y], stated);
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

fn paint(paint: &Paint, stated: &mut Vec<u8>) {
    match paint {
        Paint::None => stated.push(b'-'),
        Paint::Ink(ink) => self::ink(ink, stated),
        Paint::Gradient(gradient) => {
            match gradient.course {
                Course::Linear { from, to } => {
                    stated.push(b'/');
                    numbers(&[from.x, from.y, to.x, to.y], stated);
                }
                Course::Radial { centre, radius } => {
                    stated.push(b'o');
                    numbers(&[centre.x, centre.y, radius], stated);
                }
                Course::Oval { place, focus, inner } => {
                    stated.push(b'e');
                    numbers(&place.as_coeffs(), stated);
                    numbers(&[focus.x, focus.y, inner], stated);
                }
            }
            for (at, stop) in &gradient.stops {
                numbers(&[*at], stated);
                ink(stop, stated);
            }
        }
    }
}

fn ink(ink: &Ink, stated: &mut Vec<u8>) {
    stated.push(u8::from(ink.overprint));
    match &ink.colour {
        Colour::Process(inks) => numbers(inks, stated),
        Colour::Spot(spot, tint) => {
            stated.extend((spot.name.len() as u64).to_le_bytes());
            stated.extend(spot.name.bytes());
            numbers(&[*tint], stated);
            numbers(&spot.look, stated);
        }
    }
}

fn numbers(numbers: &[f64], stated: &mut Vec<u8>) {
    for number in numbers {
        stated.extend(number.to_le_bytes());
    }
}
