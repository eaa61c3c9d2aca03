//! Group: what the SVG reader has made of a drawing, as parts in millimetres.

use crate::assets::PictureFault;
use crate::assets::drawing::allowance::Allowance;
use crate::assets::drawing::part::{DrawingPart, Tint};
use crate::assets::drawing::{clip, trace, wash};
use crate::ground::{Affine, FillRule, Path, Shape};

pub fn read(
    group: &usvg::Group,
    above: Affine,
    parts: &mut Vec<DrawingPart>,
    allowance: &mut Allowance,
) -> Result<(), PictureFault> {
    let here = above * trace::affine(group.transform());
    // Shown without its filter or mask it would be something that nobody drew.
    if !group.filters().is_empty() {
        allowance.left_out.insert("what a filter changes".to_owned());
        return Ok(());
    }
    if group.mask().is_some() {
        allowance.left_out.insert("what a mask covers".to_owned());
        return Ok(());
    }
    let multiply = match group.blend_mode() {
        usvg::BlendMode::Normal => false,
        usvg::BlendMode::Multiply => true,
        other => {
            allowance.left_out.insert(format!("the blend mode {other}"));
            false
        }
    };
    let mut inner = Vec::new();
    for node in group.children() {
        match node {
            usvg::Node::Group(child) => read(child, here, &mut inner, allowance)?,
            usvg::Node::Path(child) => path(child, here, &mut inner, allowance)?,
            usvg::Node::Image(_) | usvg::Node::Text(_) => {}
        }
    }
    if inner.is_empty() {
        return Ok(());
    }
    let cuts = match group.clip_path() {
        Some(clip) => clip::flat(clip, here, allowance)?,
        None => Vec::new(),
    };
    for clip in cuts {
        inner = vec![DrawingPart::Group { clip: Some(clip), opacity: 1.0, multiply: false, parts: inner }];
    }
    let opacity = f64::from(group.opacity().get());
    match inner.as_mut_slice() {
        _ if opacity >= 1.0 && !multiply => parts.append(&mut inner),
        [DrawingPart::Group { opacity: outer, multiply: mixed, .. }] if group.clip_path().is_some() => {
            (*outer, *mixed) = (opacity, multiply);
            parts.append(&mut inner);
        }
        _ => parts.push(DrawingPart::Group { clip: None, opacity, multiply, parts: inner }),
    }
    Ok(())
}

fn path(
    path: &usvg::Path,
    here: Affine,
    parts: &mut Vec<DrawingPart>,
    allowance: &mut Allowance,
) -> Result<(), PictureFault> {
    if !path.is_visible() {
        return Ok(());
    }
    let outline = trace::path(path.data(), here);
    allowance.outline(&outline)?;
    // A line given a fill by default covers nothing.
    let bounds = outline.bounding_box();
    let covers = bounds.width() > 0.0 && bounds.height() > 0.0;
    let fill = match path.fill().filter(|_| covers) {
        Some(fill) => {
            let opacity = f64::from(fill.opacity().get());
            painted(outline.clone(), trace::rule(fill.rule()), fill.paint(), opacity, here, allowance)?
        }
        None => None,
    };
    let stroke = match path.stroke() {
        Some(stroke) => stroked(path, stroke, outline, here, allowance)?,
        None => None,
    };
    match path.paint_order() {
        usvg::PaintOrder::FillAndStroke => parts.extend(fill.into_iter().chain(stroke)),
        usvg::PaintOrder::StrokeAndFill => parts.extend(stroke.into_iter().chain(fill)),
    }
    Ok(())
}

fn stroked(
    path: &usvg::Path,
    stroke: &usvg::Stroke,
    outline: Path,
    here: Affine,
    allowance: &mut Allowance,
) -> Result<Option<DrawingPart>, PictureFault> {
    let opacity = f64::from(stroke.opacity().get());
    allowance.line(&outline, &trace::line(stroke, here.determinant().abs().sqrt()))?;
    match (stroke.paint(), trace::even_scale(here)) {
        (usvg::Paint::Color(colour), Some(scale)) => {
            let line = trace::line(stroke, scale);
            Ok(Some(DrawingPart::Stroke { path: outline, line, colour: tint(*colour, opacity) }))
        }
        // A line pulled askew, or one with a wash in it, is no line any more but a shape.
        (paint, _) => {
            let Some(shape) = trace::stroked(path.data(), stroke, here) else { return Ok(None) };
            allowance.outline(&shape)?;
            painted(shape, FillRule::NonZero, paint, opacity, here, allowance)
        }
    }
}

fn painted(
    path: Path,
    rule: FillRule,
    paint: &usvg::Paint,
    opacity: f64,
    here: Affine,
    allowance: &mut Allowance,
) -> Result<Option<DrawingPart>, PictureFault> {
    let wash = match paint {
        usvg::Paint::Color(colour) => {
            return Ok(Some(DrawingPart::Fill { path, rule, colour: tint(*colour, opacity) }));
        }
        usvg::Paint::LinearGradient(gradient) => wash::linear(gradient, here),
        usvg::Paint::RadialGradient(gradient) => wash::radial(gradient, here),
        usvg::Paint::Pattern(_) => Err("a pattern"),
    };
    match wash {
        Ok((course, stops, thinned)) => {
            allowance.steps(stops.len())?;
            Ok(Some(DrawingPart::Wash { path, rule, course, stops, opacity: opacity * thinned }))
        }
        Err(what) => {
            allowance.left_out.insert(what.to_owned());
            Ok(None)
        }
    }
}

fn tint(colour: usvg::Color, opacity: f64) -> Tint {
    Tint { rgb: [colour.red, colour.green, colour.blue], opacity }
}
