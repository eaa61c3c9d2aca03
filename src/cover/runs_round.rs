//! Words that run round their neighbours: which, and by what outline of a picture.

use crate::ground::{Path, Point, Rect, Span, Spanned, rect_path};
use crate::typeset::Beside;

/// A neighbour that lines run round, and how.
#[derive(Clone, Debug, PartialEq)]
pub struct RunsRound {
    pub name: Spanned<String>,
    /// Millimetres between them.
    pub gap: f64,
    /// Where words stand beside it; without a side, where there is more room.
    pub beside: Option<Beside>,
    /// Its contour counts, not its frame.
    pub contour: bool,
    pub span: Span,
}

/// The outline of what a picture shows: of every row, from its first dot that is not clear to its last, in the frame in
/// which the whole picture lies.
pub fn alpha_contour(alpha: &[u8], (width, height): (usize, usize), place: Rect) -> Path {
    let mut path = Path::new();
    let rows = height.div_ceil(MOST_BANDS).max(1);
    for from in (0..height).step_by(rows) {
        let to = (from + rows).min(height);
        let shown = |row: &[u8]| {
            let first = row.iter().position(|alpha| *alpha >= SHOWS)?;
            Some((first, row.iter().rposition(|alpha| *alpha >= SHOWS)? + 1))
        };
        let bands = alpha.chunks(width.max(1)).take(to).skip(from);
        let Some((left, right)) = bands.filter_map(shown).reduce(|a, b| (a.0.min(b.0), a.1.max(b.1))) else { continue };
        let at = |x: usize, y: usize| {
            let share = Point::new(x as f64 / width as f64, y as f64 / height as f64);
            Point::new(place.x0 + share.x * place.width(), place.y0 + share.y * place.height())
        };
        path.extend(rect_path(Rect::from_points(at(left, from), at(right, to))).iter());
    }
    path
}

/// Bands that a picture's contour has at the most.
const MOST_BANDS: usize = 600;
/// Fainter dots do not count: soft shadows and dust.
const SHOWS: u8 = 32;
