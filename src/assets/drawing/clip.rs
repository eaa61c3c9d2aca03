//! Clips: what cuts a group, as paths within each other, or as a veil where no paths say it.

use crate::assets::PictureFault;
use crate::assets::drawing::allowance::Allowance;
use crate::assets::drawing::bounds::{self, refused};
use crate::assets::drawing::part::{DrawingPart, Tint};
use crate::assets::drawing::trace;
use crate::ground::{Affine, FillRule, ParamCurve, Path, PathEl, Point, Shape};

type ClipShape = (Path, FillRule);

/// Parts as a clip leaves them.
pub fn cut(
    clip: &usvg::ClipPath,
    above: Affine,
    parts: Vec<DrawingPart>,
    allowance: &mut Allowance,
) -> Result<Vec<DrawingPart>, PictureFault> {
    let here = above * trace::affine(clip.transform());
    let parts = if is_intricate(clip.root()) {
        let veil = solid(clip.root(), here, allowance)?;
        if veil.is_empty() { Vec::new() } else { vec![DrawingPart::Veiled { veil, clips: true, parts }] }
    } else {
        let (mut shapes, mut inner) = (Vec::new(), Vec::new());
        gather(clip.root(), here, &mut shapes, &mut inner, allowance)?;
        let whole = vec![united(shapes)?];
        let cut = |parts, clip| vec![DrawingPart::Group { clip: Some(clip), opacity: 1.0, multiply: false, parts }];
        let parts = whole.into_iter().fold(parts, cut);
        inner.into_iter().try_fold(parts, |parts, (clip, here)| self::cut(clip, here, parts, allowance))?
    };
    match clip.clip_path() {
        Some(outer) => cut(outer, above, parts, allowance),
        None => Ok(parts),
    }
}

/// Whether one of several shapes is cut by itself: no single path says that.
fn is_intricate(root: &usvg::Group) -> bool {
    fn count(group: &usvg::Group) -> (usize, bool) {
        let inside = group.children().iter().map(|node| match node {
            usvg::Node::Group(child) => count(child),
            usvg::Node::Text(child) => count(child.flattened()),
            _ => (1, false),
        });
        inside.fold((0, group.clip_path().is_some()), |(all, cut), (more, cuts)| (all + more, cut || cuts))
    }
    matches!(count(root), (2.., true))
}

/// What a clip covers, solid, each shape of it cut as it says.
fn solid(group: &usvg::Group, above: Affine, allowance: &mut Allowance) -> Result<Vec<DrawingPart>, PictureFault> {
    let here = above * trace::affine(group.transform());
    let mut parts = Vec::new();
    for node in group.children() {
        match node {
            usvg::Node::Group(child) => parts.extend(solid(child, here, allowance)?),
            usvg::Node::Text(child) => parts.extend(solid(child.flattened(), here, allowance)?),
            usvg::Node::Path(child) if child.is_visible() => {
                let (path, rule) = shape(child, here, allowance)?;
                parts.push(DrawingPart::Fill { path, rule, colour: Tint { rgb: [255; 3], opacity: 1.0 } });
            }
            _ => {}
        }
    }
    match group.clip_path() {
        Some(clip) => cut(clip, here, parts, allowance),
        None => Ok(parts),
    }
}

fn gather<'a>(
    group: &'a usvg::Group,
    above: Affine,
    shapes: &mut Vec<ClipShape>,
    inner: &mut Vec<(&'a usvg::ClipPath, Affine)>,
    allowance: &mut Allowance,
) -> Result<(), PictureFault> {
    let here = above * trace::affine(group.transform());
    if let Some(clip) = group.clip_path() {
        inner.push((clip, here));
    }
    for node in group.children() {
        match node {
            usvg::Node::Group(child) => gather(child, here, shapes, inner, allowance)?,
            usvg::Node::Text(child) => gather(child.flattened(), here, shapes, inner, allowance)?,
            usvg::Node::Path(child) if child.is_visible() => {
                shapes.push(shape(child, here, allowance)?);
            }
            _ => {}
        }
    }
    Ok(())
}

fn shape(path: &usvg::Path, here: Affine, allowance: &mut Allowance) -> Result<ClipShape, PictureFault> {
    let shape = trace::path(path.data(), here);
    allowance.outline(&shape)?;
    Ok((shape, path.fill().map_or(FillRule::NonZero, |fill| trace::rule(fill.rule()))))
}

/// Several shapes as one path that covers what any of them covers.
fn united(mut shapes: Vec<ClipShape>) -> Result<ClipShape, PictureFault> {
    if shapes.len() == 1 {
        return Ok(shapes.remove(0));
    }
    // Wound the same way, shapes add up where they overlap and never cancel.
    let mut all = Path::new();
    for (path, rule) in shapes {
        let wound = match rule {
            FillRule::NonZero => forward(&path, path.area() < 0.0),
            FillRule::EvenOdd => alternating(&path)?,
        };
        all.extend(wound);
    }
    Ok((all, FillRule::NonZero))
}

fn forward(path: &Path, backward: bool) -> Path {
    if backward { path.reverse_subpaths() } else { path.clone() }
}

/// A path filled by the even-odd rule, wound so that the other rule fills the same; its contours must not cross.
fn alternating(path: &Path) -> Result<Path, PictureFault> {
    let contours: Vec<Path> = contours(path);
    if contours.len().saturating_mul(path.elements().len()) > bounds::CONTOURS {
        return Err(refused(format!("a clip in the SVG has {} contours in one shape", contours.len())));
    }
    let wound = contours.iter().enumerate().map(|(at, contour)| {
        let around = |(other, outer): &(usize, &Path)| *other != at && outer.contains(on(contour));
        let hole = contours.iter().enumerate().filter(around).count() % 2 == 1;
        forward(contour, (contour.area() < 0.0) != hole)
    });
    Ok(wound.flatten().collect())
}

fn on(contour: &Path) -> Point {
    contour.segments().next().map_or(Point::ZERO, |segment| segment.eval(0.5))
}

fn contours(path: &Path) -> Vec<Path> {
    let mut contours: Vec<Path> = Vec::new();
    for element in path.elements() {
        if matches!(element, PathEl::MoveTo(_)) || contours.is_empty() {
            contours.push(Path::new());
        }
        if let Some(contour) = contours.last_mut() {
            contour.push(*element);
        }
    }
    contours
}
