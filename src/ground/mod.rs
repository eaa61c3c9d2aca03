//! Plain facts: lengths, shapes, inks, places, findings, digests. Imports nothing of ours.

mod digest;
mod finding;
mod ink;
mod length;
mod memo;
mod shape;
mod span;

pub use digest::Digest;
pub use finding::{Finding, Findings, Severity};
pub use ink::{Blend, Colour, Course, Gradient, Ink, Paint, Process, Spot};
pub use length::{Length, MM_PER_INCH, MM_PER_PT, number};
pub use memo::Memo;
pub use shape::{
    Affine, Cap, Ellipse, FillRule, Join, Line, ParamCurve, Path, PathEl, Point, Rect, RoundedRect, Shape, TOLERANCE,
    Vec2, flatten, rect_path,
};
pub use span::{FileId, Span, Spanned};
