//! Outlines: how much there is of those of a drawing, wherever it is placed.

use crate::assets::drawing::allowance::length;
use crate::assets::drawing::part::DrawingPart;
use crate::ground::Path;

/// Corners that a shape counts for at the least: a mark costs by itself.
const LEAST: usize = 4;
/// A stroke has two edges.
const EDGES: f64 = 2.0;

/// Corners and curves of some parts, and millimetres.
pub fn of(parts: &[DrawingPart]) -> (usize, f64) {
    parts.iter().map(one).fold((0, 0.0), with)
}

fn with(one: (usize, f64), other: (usize, f64)) -> (usize, f64) {
    (one.0 + other.0, one.1 + other.1)
}

fn one(part: &DrawingPart) -> (usize, f64) {
    let path = |path: &Path| (path.elements().len().max(LEAST), length(path));
    match part {
        DrawingPart::Fill { path: outline, .. } | DrawingPart::Wash { path: outline, .. } => path(outline),
        DrawingPart::Stroke { path: outline, .. } => {
            let (steps, length) = path(outline);
            (steps, length * EDGES)
        }
        DrawingPart::Group { clip, parts, .. } => {
            with(clip.as_ref().map_or((LEAST, 0.0), |(clip, _)| path(clip)), of(parts))
        }
        DrawingPart::Veiled { veil, parts, .. } => with(of(veil), with((LEAST, 0.0), of(parts))),
        DrawingPart::Picture { .. } | DrawingPart::Pixels(_) => (LEAST, 0.0),
    }
}

#[cfg(test)]
mod tests {
    use crate::assets::drawing::open;

    /// Two squares of 10 by 10 units beside each other: two times four lines of 10, and a line of 30 that is drawn.
    #[test]
    fn outlines_are_measured_in_millimetres() {
        let text = "<svg xmlns='http://www.w3.org/2000/svg' width='100mm' height='100mm' viewBox='0 0 100 100'>\
            <rect id='r' x='5' y='5' width='10' height='10'/><use href='#r' x='20'/><path d='M5 50H35' stroke='red' fill='none'/></svg>";
        let drawing = open("a.svg", text.as_bytes()).expect("reads");
        assert!((drawing.length - 140.0).abs() < 1e-3, "{}", drawing.length);
        // A start, three lines and the way back, twice; a line counts as the least shape.
        assert_eq!(drawing.steps, 5 + 5 + 4);
    }
}
