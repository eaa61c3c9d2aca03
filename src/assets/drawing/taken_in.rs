//! Taken in: how far around a pixel an effect looks for what it makes of it.

use crate::assets::drawing::trace;
use usvg::filter::Kind;

/// A blur takes in no more than so many of its deviations: it is three boxes, each 1.88 deviations wide (Filter Effects 1, 9.4).
const BLURRED: f32 = 3.0;
/// Pixels of the drawing that smoothing and rounding take in beside.
const ROUNDED: f64 = 2.0;

/// In pixels of the drawing; `None` where it may look at all of itself, or depends on where it begins, and where layers lie in its
/// layer: the library cuts those at the wrong place.
pub fn taken_in(node: &usvg::Node) -> Option<f64> {
    let mut is_flat = true;
    node.subroots(|root| is_flat &= flat(root));
    let usvg::Node::Group(group) = node else { return is_flat.then_some(0.0) };
    if !is_flat || !flat(group) {
        return None;
    }
    let [a, b, c, d, ..] = trace::affine(group.abs_transform()).as_coeffs();
    let scale = a.hypot(b).max(c.hypot(d));
    let primitives = group.filters().iter().flat_map(|filter| filter.primitives());
    primitives.map(|primitive| Some(f64::from(reach(primitive.kind())?) * scale + ROUNDED)).sum()
}

/// Whether nothing in a group has a layer of its own.
fn flat(group: &usvg::Group) -> bool {
    group.children().iter().all(|node| {
        let mut is_flat = !matches!(node, usvg::Node::Group(child) if child.should_isolate() || !flat(child));
        node.subroots(|root| is_flat &= flat(root));
        is_flat
    })
}

/// In units of the filter.
fn reach(kind: &Kind) -> Option<f32> {
    let blurred = |x: f32, y: f32| BLURRED * x.max(y);
    match kind {
        Kind::GaussianBlur(blur) => Some(blurred(blur.std_dev_x().get(), blur.std_dev_y().get())),
        Kind::DropShadow(shadow) => {
            let blur = blurred(shadow.std_dev_x().get(), shadow.std_dev_y().get());
            Some(blur + shadow.dx().abs().max(shadow.dy().abs()))
        }
        Kind::Offset(offset) => Some(offset.dx().abs().max(offset.dy().abs())),
        Kind::Morphology(brush) => Some(brush.radius_x().get().max(brush.radius_y().get())),
        Kind::Blend(_)
        | Kind::ColorMatrix(_)
        | Kind::ComponentTransfer(_)
        | Kind::Composite(_)
        | Kind::Flood(_)
        | Kind::Merge(_) => Some(0.0),
        Kind::ConvolveMatrix(_)
        | Kind::DiffuseLighting(_)
        | Kind::DisplacementMap(_)
        | Kind::Image(_)
        | Kind::SpecularLighting(_)
        | Kind::Tile(_)
        | Kind::Turbulence(_) => None,
    }
}
