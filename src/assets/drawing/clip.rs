//! Clips: what cuts a group, as paths to be applied one within the other.

use crate::assets::drawing::trace;
use crate::ground::{Affine, FillRule, ParamCurve, Path, Point, Shape};
use std::collections::BTreeSet;

type Cut = (Path, FillRule);

/// All of them cut. A clip with nothing in it leaves nothing.
pub fn flat(clip: &usvg::ClipPath, above: Affine, left_out: &mut BTreeSet<String>) -> Vec<Cut> {
    let here = above * trace::affine(clip.transform());
    let mut cuts = clip.clip_path().map(|outer| flat(outer, above, left_out)).unwrap_or_default();
    let mut shapes = Vec::new();
    let mut inner = Vec::new();
    gather(clip.root(), here, &mut shapes, &mut inner, left_out);
    if shapes.len() > 1 && !inner.is_empty() {
        // One of several shapes is cut by itself: no single path says that.
        left_out.insert("a clip within a clip".to_owned());
        inner.clear();
    }
    cuts.append(&mut inner);
    cuts.push(united(shapes));
    cuts
}

fn gather(
    group: &usvg::Group,
    above: Affine,
    shapes: &mut Vec<Cut>,
    inner: &mut Vec<Cut>,
    left_out: &mut BTreeSet<String>,
) {
    let here = above * trace::affine(group.transform());
    if let Some(clip) = group.clip_path() {
        inner.append(&mut flat(clip, here, left_out));
    }
    for node in group.children() {
        match node {
            usvg::Node::Group(child) => gather(child, here, shapes, inner, left_out),
            usvg::Node::Path(child) if child.is_visible() => {
                let rule = match child.fill().map(usvg::Fill::rule) {
                    Some(usvg::FillRule::EvenOdd) => FillRule::EvenOdd,
                    _ => FillRule::NonZero,
                };
                shapes.push((trace::path(child.data(), here), rule));
            }
            _ => {}
        }
    }
}

/// Several shapes as one path that covers what any of them covers.
fn united(mut shapes: Vec<Cut>) -> Cut {
    if shapes.len() == 1 {
        return shapes.remove(0);
    }
    // Wound the same way, shapes add up where they overlap and never cancel.
    let all = shapes.into_iter().flat_map(|(path, rule)| match rule {
        FillRule::NonZero => forward(&path, path.area() < 0.0),
        FillRule::EvenOdd => alternating(&path),
    });
    (all.collect(), FillRule::NonZero)
}

fn forward(path: &Path, backward: bool) -> Path {
    if backward { path.reverse_subpaths() } else { path.clone() }
}

/// A path filled by the even-odd rule, wound so that the other rule fills the same; its contours must not cross.
fn alternating(path: &Path) -> Path {
    let contours: Vec<Path> = contours(path);
    let wound = contours.iter().enumerate().map(|(at, contour)| {
        let around = |(other, outer): &(usize, &Path)| *other != at && outer.contains(on(contour));
        let hole = contours.iter().enumerate().filter(around).count() % 2 == 1;
        forward(contour, (contour.area() < 0.0) != hole)
    });
    wound.flatten().collect()
}

fn on(contour: &Path) -> Point {
    contour.segments().next().map_or(Point::ZERO, |segment| segment.eval(0.5))
}

fn contours(path: &Path) -> Vec<Path> {
    let mut contours: Vec<Path> = Vec::new();
    for element in path.elements() {
        if matches!(element, crate::ground::PathEl::MoveTo(_)) || contours.is_empty() {
            contours.push(Path::new());
        }
        if let Some(contour) = contours.last_mut() {
            contour.push(*element);
        }
    }
    contours
}
