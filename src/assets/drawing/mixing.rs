//! Mixing: what of a drawing mixes with what lies under it, and how far down.

use crate::assets::drawing::part::{DrawingPart, Tint};
use crate::ground::{FillRule, rect_path};

/// The way of mixing among what lies in one group with what is under it that ink does not know. Its result depends on all of the group.
pub fn mixes(group: &usvg::Group) -> Option<String> {
    group.children().iter().find_map(|node| match node {
        usvg::Node::Group(child) => match child.blend_mode() {
            usvg::BlendMode::Normal | usvg::BlendMode::Multiply if child.should_isolate() => None,
            usvg::BlendMode::Normal | usvg::BlendMode::Multiply => mixes(child),
            other => Some(format!("the blend mode {other}")),
        },
        _ => None,
    })
}

/// Whether it multiplies with what lies under the group that it is in.
pub fn multiplies(part: &DrawingPart) -> bool {
    match part {
        DrawingPart::Group { multiply: true, .. } => true,
        DrawingPart::Group { opacity, parts, .. } => *opacity >= 1.0 && parts.iter().any(multiplies),
        _ => false,
    }
}

/// Mixed among themselves alone: what lies behind a veil, light everywhere here, is composed before it is laid on what is under it.
pub fn alone(parts: Vec<DrawingPart>) -> Vec<DrawingPart> {
    let Some(bounds) = parts.iter().filter_map(DrawingPart::bounds).reduce(|one, other| one.union(other)) else {
        return parts;
    };
    let (path, colour) = (rect_path(bounds.inflate(1.0, 1.0)), Tint { rgb: [255; 3], opacity: 1.0 });
    vec![DrawingPart::Veiled {
        veil: vec![DrawingPart::Fill { path, rule: FillRule::NonZero, colour }],
        clips: false,
        parts,
    }]
}
