//! Outlines and lines of the SVG reader, carried into millimetres.

use crate::ground::{Affine, Cap, FillRule, Join, Line, MM_PER_INCH, Path, PathEl};
use usvg::tiny_skia_path::{self, PathSegment};

pub const MM_PER_PX: f64 = MM_PER_INCH / 96.0;

pub fn affine(transform: usvg::Transform) -> Affine {
    Affine::new([transform.sx, transform.ky, transform.kx, transform.sy, transform.tx, transform.ty].map(f64::from))
}

pub fn path(path: &tiny_skia_path::Path, here: Affine) -> Path {
    let place = |at: tiny_skia_path::Point| here * crate::ground::Point::new(f64::from(at.x), f64::from(at.y));
    let mut traced = Path::new();
    for segment in path.segments() {
        match segment {
            PathSegment::MoveTo(to) => traced.move_to(place(to)),
            PathSegment::LineTo(to) => traced.line_to(place(to)),
            PathSegment::QuadTo(over, to) => traced.quad_to(place(over), place(to)),
            PathSegment::CubicTo(out, into, to) => traced.curve_to(place(out), place(into), place(to)),
            PathSegment::Close => traced.close_path(),
        }
    }
    traced
}

pub fn rule(rule: usvg::FillRule) -> FillRule {
    match rule {
        usvg::FillRule::NonZero => FillRule::NonZero,
        usvg::FillRule::EvenOdd => FillRule::EvenOdd,
    }
}

/// A line as it lies in millimetres, so many to a unit.
pub fn line(stroke: &usvg::Stroke, scale: f64) -> Line {
    let cap = match stroke.linecap() {
        usvg::LineCap::Butt => Cap::Butt,
        usvg::LineCap::Round => Cap::Round,
        usvg::LineCap::Square => Cap::Square,
    };
    let join = match stroke.linejoin() {
        usvg::LineJoin::Miter | usvg::LineJoin::MiterClip => Join::Miter,
        usvg::LineJoin::Round => Join::Round,
        usvg::LineJoin::Bevel => Join::Bevel,
    };
    let dashes = stroke.dasharray().unwrap_or_default();
    Line {
        width: f64::from(stroke.width().get()) * scale,
        cap,
        join,
        miter_limit: f64::from(stroke.miterlimit().get()),
        dashes: dashes.iter().map(|dash| f64::from(*dash) * scale).collect(),
        dash_offset: f64::from(stroke.dashoffset()) * scale,
    }
}

/// Curves of one unit are cut no finer than this, however much a drawing is enlarged.
const FINEST: f64 = 1e6;

/// The shape a line covers.
pub fn stroked(path: &tiny_skia_path::Path, stroke: &usvg::Stroke, here: Affine) -> Option<Path> {
    let style = stroke.to_tiny_skia();
    // Curves are kept true to a fraction of a unit; finer by how much the drawing is enlarged, at 1/100 mm.
    let fineness = (here.determinant().abs().sqrt() * 100.0).clamp(1.0, FINEST) as f32;
    let dashed = style.dash.as_ref().and_then(|dash| path.dash(dash, fineness));
    let shape = dashed.as_ref().unwrap_or(path).stroke(&style, fineness)?;
    Some(self::path(&shape, here))
}

/// Lines of no length show their caps (SVG 2, 13.5.5), in millimetres.
const POINT: f64 = 1e-3;

/// A path whose pieces of no length are so long that every reader draws their caps.
pub fn with_points(path: &Path) -> Path {
    let mut all = Path::new();
    for piece in pieces(path) {
        let ends = piece.iter().filter_map(PathEl::end_point).collect::<Vec<_>>();
        match ends.first() {
            Some(start) if piece.len() > 1 && ends.iter().all(|end| end == start) => {
                all.move_to(*start);
                all.line_to((start.x + POINT, start.y));
            }
            _ => all.extend(piece.iter().copied()),
        }
    }
    all
}

/// Each begins with a move.
fn pieces(path: &Path) -> impl Iterator<Item = &[PathEl]> {
    path.elements().chunk_by(|_, next| !matches!(next, PathEl::MoveTo(_)))
}

/// By how much a transform scales, when it does so evenly.
pub fn even_scale(here: Affine) -> Option<f64> {
    let [a, b, c, d, ..] = here.as_coeffs();
    let (across, down, skew) = (a.hypot(b), c.hypot(d), a * c + b * d);
    let slack = 1e-4 * across.max(down);
    ((across - down).abs() <= slack && skew.abs() <= slack * across.max(down)).then(|| (across * down).sqrt())
}
