//! Plain facts: lengths, shapes, inks, places, findings, digests. Imports nothing of ours.

mod adler;
mod bits;
mod block;
mod breadth;
mod condition;
mod count;
mod covering;
mod crossings;
mod deflate;
mod digest;
mod entropy;
mod finding;
mod gradient_inks;
mod hidden;
mod huffman;
mod ink;
mod joined;
#[cfg(test)]
pub mod kept;
mod language;
mod length;
mod listed;
mod memo;
mod packed_rows;
mod pieces;
mod reach;
mod registry;
mod repeats;
mod rows;
mod shape;
mod span;
mod subject;
mod ways;

pub use adler::Adler;
pub use breadth::breadth;
pub use condition::same_condition;
pub use count::count;
pub use covering::covering;
#[cfg(test)]
pub use deflate::inflated;
pub use deflate::{coded_rows, crc, deflate, deflate_fast, inflated_length, stream_end, stream_head};
pub use digest::Digest;
pub use finding::{Finding, Findings, Severity};
pub use gradient_inks::GradientInks;
pub use hidden::{hidden, hidden_words};
pub use ink::{ALL_PLATES, Blend, Colour, Course, Finish, Gradient, Ink, PROCESS_PLATES, Paint, Process, Spot};
pub use joined::joined;
pub use language::{bound_either_way, right_to_left};
pub use length::{Length, MM_PER_INCH, MM_PER_PT, number};
pub use listed::listed;
pub use memo::Memo;
pub use packed_rows::{PackedRows, Packing};
pub use pieces::{Pieces, SharedBytes};
pub use registry::{REGISTERED, REGISTRY, registered};
pub use shape::{
    Affine, Cap, Ellipse, FillRule, Join, Line, ParamCurve, Path, PathEl, Point, Rect, RoundedRect, Shape, TOLERANCE,
    Vec2, flatten, rect_path, unit_in,
};
pub use span::{FileId, Span, Spanned};
pub use subject::{EdgeDistance, Measured, Subject};
