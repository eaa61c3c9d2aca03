//! Group: what the SVG reader has made of a drawing, as parts in millimetres.

use crate::assets::PictureFault;
use crate::assets::drawing::allowance::Allowance;
use crate::assets::drawing::mixing::{alone, mixes, multiplies};
use crate::assets::drawing::part::{DrawingPart, Tint, UNIT};
use crate::assets::drawing::pixels::PixelView;
use crate::assets::drawing::spread::Wash;
use crate::assets::drawing::tiles::Tiling;
use crate::assets::drawing::{bounds, clip, mask, pictures, trace, wash};
use crate::ground::{Affine, Cap, Digest, FillRule, Path, Rect, Shape, rect_path};
use std::sync::Arc;

/// All of a drawing.
pub fn root(
    root: &usvg::Group,
    above: Affine,
    parts: &mut Vec<DrawingPart>,
    allowance: &mut Allowance,
) -> Result<(), PictureFault> {
    match mixes(root) {
        Some(mode) => pictured(&usvg::Node::Group(Box::new(root.clone())), above, &mode, parts, allowance),
        None => read(root, above, parts, allowance)?,
    }
    Ok(())
}

/// What is drawn apart, in a mask or a pattern; there is no picture of parts of it alone.
fn apart(root: &usvg::Group, above: Affine, allowance: &mut Allowance) -> Result<Vec<DrawingPart>, PictureFault> {
    let mut parts = Vec::new();
    if let Some(mode) = mixes(root) {
        allowance.unfit = Some(mode);
        return Ok(parts);
    }
    allowance.nested += 1;
    read(root, above, &mut parts, allowance)?;
    allowance.nested -= 1;
    Ok(parts)
}

fn read(
    group: &usvg::Group,
    above: Affine,
    parts: &mut Vec<DrawingPart>,
    allowance: &mut Allowance,
) -> Result<(), PictureFault> {
    let here = above * trace::affine(group.transform());
    if !group.filters().is_empty() {
        allowance.unfit = Some("a filter".to_owned());
        return Ok(());
    }
    if group.should_isolate()
        && let Some(mode) = mixes(group)
    {
        allowance.unfit = Some(mode);
        return Ok(());
    }
    let mut inner = Vec::new();
    for node in group.children() {
        self::node(node, here, &mut inner, allowance)?;
    }
    if inner.is_empty() {
        return Ok(());
    }
    if let Some(clip) = group.clip_path() {
        inner = clip::cut(clip, here, inner, allowance)?;
    }
    let mut around = group.mask();
    while let Some(mask) = around {
        let veil = apart(mask.root(), here, allowance)?;
        inner = mask::veiled(mask, here, veil, inner, allowance);
        around = mask.mask();
    }
    let multiply = group.blend_mode() == usvg::BlendMode::Multiply;
    let opacity = f64::from(group.opacity().get());
    let is_apart = opacity < 1.0 || multiply || group.mask().is_some();
    if group.should_isolate() && !is_apart && inner.iter().any(multiplies) {
        inner = alone(inner);
    }
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

/// One node, as a picture where no paths can say what it is.
fn node(
    node: &usvg::Node,
    here: Affine,
    parts: &mut Vec<DrawingPart>,
    allowance: &mut Allowance,
) -> Result<(), PictureFault> {
    let before = parts.len();
    match node {
        usvg::Node::Group(child) => read(child, here, parts, allowance)?,
        usvg::Node::Path(child) => path(child, here, parts, allowance)?,
        usvg::Node::Text(text) => read(text.flattened(), here, parts, allowance)?,
        usvg::Node::Image(image) => parts.extend(shown(image, here, allowance)?),
    }
    if allowance.nested == 0
        && let Some(why) = allowance.unfit.take()
    {
        parts.truncate(before);
        pictured(node, here, &why, parts, allowance);
    }
    Ok(())
}

/// A picture that the file shows.
fn shown(image: &usvg::Image, here: Affine, allowance: &mut Allowance) -> Result<Option<DrawingPart>, PictureFault> {
    let number = pictures::number(image).filter(|_| image.is_visible());
    let Some(picture) = number.and_then(|number| allowance.pictures.get(number)).cloned() else { return Ok(None) };
    let unit = here * Affine::scale_non_uniform(f64::from(image.size().width()), f64::from(image.size().height()));
    allowance.outline(&(unit * rect_path(UNIT)))?;
    allowance.steps(bounds::SHOWN)?;
    Ok(Some(DrawingPart::Picture { picture, unit }))
}

/// The picture of a node; what would take too long to draw is left out by name.
fn pictured(node: &usvg::Node, here: Affine, why: &str, parts: &mut Vec<DrawingPart>, allowance: &mut Allowance) {
    if pictures::is_in(node) {
        allowance.left_out.insert(format!("{why} with a picture behind it, and all that is drawn with it"));
        return;
    }
    allowance.effects += 1;
    let key = Digest::of_all(&[allowance.digest.bytes(), &allowance.effects.to_le_bytes()]);
    match PixelView::new(node, here, (why, key), allowance.canvas) {
        Ok(Some(view)) => {
            let multiply = matches!(node, usvg::Node::Group(group) if group.blend_mode() == usvg::BlendMode::Multiply);
            let pixels = DrawingPart::Pixels(Arc::new(view));
            parts.push(if multiply {
                DrawingPart::Group { clip: None, opacity: 1.0, multiply, parts: vec![pixels] }
            } else {
                pixels
            });
        }
        Ok(None) => {}
        Err(what) => drop(allowance.left_out.insert(what)),
    }
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
        None => Vec::new(),
    };
    let stroke = match path.stroke() {
        Some(stroke) => stroked(path, stroke, outline, here, allowance)?,
        None => Vec::new(),
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
) -> Result<Vec<DrawingPart>, PictureFault> {
    let opacity = f64::from(stroke.opacity().get());
    allowance.line(&outline, &trace::line(stroke, here.determinant().abs().sqrt()))?;
    match (stroke.paint(), trace::even_scale(here)) {
        (usvg::Paint::Color(colour), Some(scale)) => {
            let line = trace::line(stroke, scale);
            let outline = if line.cap == Cap::Butt { outline } else { trace::with_points(&outline) };
            Ok(vec![DrawingPart::Stroke { path: outline, line, colour: tint(*colour, opacity) }])
        }
        // A line pulled askew, or one with a wash in it, is no line any more but a shape.
        (paint, _) => {
            let Some(shape) = trace::stroked(path.data(), stroke, here) else { return Ok(Vec::new()) };
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
) -> Result<Vec<DrawingPart>, PictureFault> {
    let bounds = path.bounding_box();
    let wash = match paint {
        usvg::Paint::Color(colour) => {
            return Ok(vec![DrawingPart::Fill { path, rule, colour: tint(*colour, opacity) }]);
        }
        usvg::Paint::Pattern(pattern) => {
            let Some(tiles) = Tiling::new(pattern, here, bounds, allowance) else { return Ok(Vec::new()) };
            let tile = apart(pattern.root(), tiles.origin, allowance)?;
            let parts = tiles.laid(tile, allowance)?;
            if parts.is_empty() {
                return Ok(parts);
            }
            return Ok(vec![DrawingPart::Group { clip: Some((path, rule)), opacity, multiply: false, parts }]);
        }
        usvg::Paint::LinearGradient(gradient) => wash::linear(gradient, here, bounds),
        usvg::Paint::RadialGradient(gradient) => wash::radial(gradient, here, bounds),
    };
    match wash {
        Ok(wash) => {
            allowance.steps(wash.steps())?;
            Ok(vec![washed(path, rule, wash, opacity)])
        }
        Err(what) => {
            allowance.unfit = Some(what.to_owned());
            Ok(Vec::new())
        }
    }
}

/// A wash that fades lies behind another one, of how much shows.
fn washed(path: Path, rule: FillRule, wash: Wash, opacity: f64) -> DrawingPart {
    let Wash { course, stops } = wash;
    let colours = stops.iter().map(|stop| (stop.at, stop.rgb)).collect();
    let thinned = stops.first().map_or(1.0, |stop| stop.opacity);
    if stops.iter().all(|stop| (stop.opacity - thinned).abs() < f64::EPSILON) {
        return DrawingPart::Wash { path, rule, course, stops: colours, opacity: opacity * thinned };
    }
    let shows = stops.iter().map(|stop| (stop.at, [(stop.opacity * 255.0).round() as u8; 3])).collect();
    // The veil is larger than the shape, so that the edge is smoothed once: as that of the shape.
    let bounds = path.bounding_box();
    let room = bounds.width().max(bounds.height()) * 0.05;
    let around = rect_path(Rect::inflate(&bounds, room, room));
    let veil = DrawingPart::Wash { path: around, rule: FillRule::NonZero, course, stops: shows, opacity: 1.0 };
    DrawingPart::Veiled {
        veil: vec![veil],
        clips: false,
        parts: vec![DrawingPart::Wash { path, rule, course, stops: colours, opacity }],
    }
}

fn tint(colour: usvg::Color, opacity: f64) -> Tint {
    Tint { rgb: [colour.red, colour.green, colour.blue], opacity }
}
