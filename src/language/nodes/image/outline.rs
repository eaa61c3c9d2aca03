//! Outline: what of a frame a picture or drawing fills, for words that run round it.

use crate::assets::{Art, Drawing, DrawingPart};
use crate::cover::alpha_contour;
use crate::ground::{Affine, Path, PathEl, Point, Rect, TOLERANCE, rect_path};

const UNIT: Rect = Rect { x0: 0.0, y0: 0.0, x1: 1.0, y1: 1.0 };
/// Points of a drawing's outline; one of more counts by its box.
const MOST_POINTS: usize = 100_000;

/// The outline of art that lies in `place`, as far as a frame shows it.
pub fn outline(art: &Art, place: Rect, frame: Rect) -> Path {
    let shown = place.intersect(frame);
    let found = match art {
        Art::Picture(picture) => {
            let size = (picture.width() as usize, picture.height() as usize);
            picture.alpha().map(|alpha| alpha_contour(alpha, size, place))
        }
        Art::Drawing(drawing) => contour(drawing, place),
    };
    found.map_or_else(|| rect_path(shown), |path| within(&path, shown))
}

fn contour(drawing: &Drawing, place: Rect) -> Option<Path> {
    let (across, down) = (place.width() / drawing.width, place.height() / drawing.height);
    let mut path = Path::new();
    add(uncut(drawing), &mut path)?;
    Some(Affine::new([across, 0.0, 0.0, down, place.x0, place.y0]) * path)
}

/// A cut at the edge of the drawing is no shape in it.
fn uncut(drawing: &Drawing) -> &[DrawingPart] {
    let canvas = rect_path(Rect::new(0.0, 0.0, drawing.width, drawing.height));
    match &drawing.parts[..] {
        [DrawingPart::Group { clip: Some((clip, _)), parts, .. }] if *clip == canvas => parts,
        parts => parts,
    }
}

fn add(parts: &[DrawingPart], into: &mut Path) -> Option<()> {
    for part in parts {
        match part {
            DrawingPart::Fill { path, .. } | DrawingPart::Wash { path, .. } => into.extend(path.iter()),
            DrawingPart::Stroke { path, line, .. } => into.extend(line.outline(path, TOLERANCE).iter()),
            DrawingPart::Group { clip: Some((clip, _)), .. } => into.extend(clip.iter()),
            DrawingPart::Veiled { veil, clips: true, .. } => add(veil, into)?,
            DrawingPart::Group { parts, .. } | DrawingPart::Veiled { parts, .. } => add(parts, into)?,
            DrawingPart::Picture { unit, .. } => into.extend((*unit * rect_path(UNIT)).iter()),
            DrawingPart::Pixels(view) => into.extend(rect_path(view.place).iter()),
        }
        if into.elements().len() > MOST_POINTS {
            return None;
        }
    }
    Some(())
}

/// A path whose points outside a box are moved to its edge.
fn within(path: &Path, bounds: Rect) -> Path {
    let to = |point: Point| Point::new(point.x.clamp(bounds.x0, bounds.x1), point.y.clamp(bounds.y0, bounds.y1));
    let moved = path.elements().iter().map(|part| match *part {
        PathEl::MoveTo(a) => PathEl::MoveTo(to(a)),
        PathEl::LineTo(a) => PathEl::LineTo(to(a)),
        PathEl::QuadTo(a, b) => PathEl::QuadTo(to(a), to(b)),
        PathEl::CurveTo(a, b, c) => PathEl::CurveTo(to(a), to(b), to(c)),
        PathEl::ClosePath => PathEl::ClosePath,
    });
    Path::from_vec(moved.collect())
}
