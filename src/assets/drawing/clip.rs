//! Clips: what cuts a group, as paths to be applied one within the other.

use crate::assets::PictureFault;
use crate::assets::drawing::allowance::Allowance;
use crate::assets::drawing::bounds::{self, refused};
use crate::assets::drawing::trace;
use crate::ground::{Affine, FillRule, ParamCurve, Path, PathEl, Point, Shape};

type ClipShape = (Path, FillRule);

/// All of them cut. A clip with nothing in it leaves nothing.
pub fn flat(clip: &usvg::ClipPath, above: Affine, allowance: &mut Allowance) -> Result<Vec<ClipShape>, PictureFault> {
    let here = above * trace::affine(clip.transform());
    let mut cuts = match clip.clip_path() {
        Some(outer) => flat(outer, above, allowance)?,
        None => Vec::new(),
    };
    let mut shapes = Vec::new();
    let mut inner = Vec::new();
    gather(clip.root(), here, &mut shapes, &mut inner, allowance)?;
    if shapes.len() > 1 && !inner.is_empty() {
        // One of several shapes is cut by itself: no single path says that.
        allowance.left_out.insert("a clip within a clip".to_owned());
        inner.clear();
    }
    cuts.append(&mut inner);
    cuts.push(united(shapes)?);
    Ok(cuts)
}

fn gather(
    group: &usvg::Group,
    above: Affine,
    shapes: &mut Vec<ClipShape>,
    inner: &mut Vec<ClipShape>,
    allowance: &mut Allowance,
) -> Result<(), PictureFault> {
    let here = above * trace::affine(group.transform());
    if let Some(clip) = group.clip_path() {
        inner.append(&mut flat(clip, here, allowance)?);
    }
    for node in group.children() {
        match node {
            usvg::Node::Group(child) => gather(child, here, shapes, inner, allowance)?,
            usvg::Node::Path(child) if child.is_visible() => {
                let shape = trace::path(child.data(), here);
                allowance.outline(&shape)?;
                shapes.push((shape, child.fill().map_or(FillRule::NonZero, |fill| trace::rule(fill.rule()))));
            }
            _ => {}
        }
    }
    Ok(())
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
