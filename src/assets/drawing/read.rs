//! SVG text to drawn nodes. This folder is the one door to the SVG reader.

use crate::assets::drawing::{Drawn, Tint, bounds, clip, trace, wash};
use crate::assets::{PictureFault, decode};
use crate::ground::{Affine, FillRule, MM_PER_INCH, Path, Shape};
use std::collections::BTreeSet;
use usvg::roxmltree::{Document, Node as XmlNode, ParsingOptions};

pub struct ReadDrawing {
    pub width: f64,
    pub height: f64,
    pub nodes: Vec<Drawn>,
    pub left_out: BTreeSet<String>,
}

const PX_PER_INCH: f64 = 96.0;
pub fn read(bytes: &[u8]) -> Result<ReadDrawing, PictureFault> {
    let text = std::str::from_utf8(bytes).map_err(|why| {
        let line = bytes[..why.valid_up_to()].split(|byte| *byte == b'\n').count();
        decode::fault(format!("the SVG is not UTF-8 text (line {line})"), "save it as UTF-8")
    })?;
    bounds::shallow(text)?;
    let options = ParsingOptions { allow_dtd: true, nodes_limit: bounds::NODE_LIMIT, ..ParsingOptions::default() };
    let document = Document::parse_with_options(text, options).map_err(|why| {
        decode::fault(format!("the SVG is malformed in line {}: {why}", why.pos().row), "save it again as plain SVG")
    })?;
    bounds::near(&document)?;
    bounds::counted(&document)?;
    let mut left_out = unread(&document);
    let tree = usvg::Tree::from_xmltree(&document, &closed()).map_err(|why| match why {
        usvg::Error::InvalidSize => {
            decode::fault("the SVG states no size", "give its first element a width and a height, or a viewBox")
        }
        other => decode::fault(format!("the SVG cannot be read: {other}"), "save it again as plain SVG"),
    })?;
    let scale = MM_PER_INCH / PX_PER_INCH;
    let mut nodes = Vec::new();
    group(tree.root(), Affine::scale(scale), &mut nodes, &mut left_out);
    if nodes.is_empty() {
        let found: Vec<String> = left_out.into_iter().collect();
        let found = if found.is_empty() { "nothing visible".to_owned() } else { found.join(", ") };
        let message = format!("nothing in the SVG can be drawn: it has {found}");
        return Err(decode::fault(message, "turn text and lines into paths before saving"));
    }
    let (width, height) = (f64::from(tree.size().width()) * scale, f64::from(tree.size().height()) * scale);
    Ok(ReadDrawing { width, height, nodes, left_out })
}

/// Reads nothing but the text it was given.
fn closed() -> usvg::Options<'static> {
    usvg::Options {
        image_href_resolver: usvg::ImageHrefResolver {
            resolve_data: Box::new(|_, _, _| None),
            resolve_string: Box::new(|_, _| None),
        },
        ..usvg::Options::default()
    }
}

/// What the reader passes over without a word.
fn unread(document: &Document<'_>) -> BTreeSet<String> {
    let printed = |node: &XmlNode<'_, '_>| !node.ancestors().any(|above| above.has_tag_name((SVG, "defs")));
    document
        .descendants()
        .filter(|node| node.is_element() && printed(node))
        .filter_map(|node| match node.tag_name().name() {
            "text" => Some("text".to_owned()),
            "image" => Some("a picture".to_owned()),
            "foreignObject" => Some("foreign matter".to_owned()),
            "animate" | "animateTransform" | "animateMotion" | "set" => Some("an animation".to_owned()),
            _ => None,
        })
        .collect()
}

const SVG: &str = "http://www.w3.org/2000/svg";

fn group(group: &usvg::Group, above: Affine, nodes: &mut Vec<Drawn>, left_out: &mut BTreeSet<String>) {
    let here = above * trace::affine(group.transform());
    if !group.filters().is_empty() {
        left_out.insert("a filter".to_owned());
    }
    // Shown without its mask it would be something that nobody drew.
    if group.mask().is_some() {
        left_out.insert("what a mask covers".to_owned());
        return;
    }
    let multiply = match group.blend_mode() {
        usvg::BlendMode::Normal => false,
        usvg::BlendMode::Multiply => true,
        other => {
            left_out.insert(format!("the blend mode {other}"));
            false
        }
    };
    let mut inner = Vec::new();
    for node in group.children() {
        match node {
            usvg::Node::Group(child) => self::group(child, here, &mut inner, left_out),
            usvg::Node::Path(child) => path(child, here, &mut inner, left_out),
            usvg::Node::Image(_) | usvg::Node::Text(_) => {}
        }
    }
    if inner.is_empty() {
        return;
    }
    for clip in group.clip_path().map(|clip| clip::flat(clip, here, left_out)).unwrap_or_default() {
        inner = vec![Drawn::Group { clip: Some(clip), opacity: 1.0, multiply: false, nodes: inner }];
    }
    let opacity = f64::from(group.opacity().get());
    match inner.as_mut_slice() {
        _ if opacity >= 1.0 && !multiply => nodes.append(&mut inner),
        [Drawn::Group { opacity: outer, multiply: mixed, .. }] if group.clip_path().is_some() => {
            (*outer, *mixed) = (opacity, multiply);
            nodes.append(&mut inner);
        }
        _ => nodes.push(Drawn::Group { clip: None, opacity, multiply, nodes: inner }),
    }
}

fn path(path: &usvg::Path, here: Affine, nodes: &mut Vec<Drawn>, left_out: &mut BTreeSet<String>) {
    if !path.is_visible() {
        return;
    }
    let outline = trace::path(path.data(), here);
    // A line given a fill by default covers nothing.
    let bounds = outline.bounding_box();
    let covers = bounds.width() > 0.0 && bounds.height() > 0.0;
    let fill = path.fill().filter(|_| covers).and_then(|fill| {
        let rule = match fill.rule() {
            usvg::FillRule::NonZero => FillRule::NonZero,
            usvg::FillRule::EvenOdd => FillRule::EvenOdd,
        };
        painted(outline.clone(), rule, fill.paint(), f64::from(fill.opacity().get()), here, left_out)
    });
    let stroke = path.stroke().and_then(|stroke| {
        let opacity = f64::from(stroke.opacity().get());
        match (stroke.paint(), trace::line(stroke, here)) {
            (usvg::Paint::Color(colour), Some(line)) => {
                Some(Drawn::Stroke { path: outline, line, colour: tint(*colour, opacity) })
            }
            // A line pulled askew, or one with a wash in it, is no line any more but a shape.
            (paint, _) => {
                let shape: Path = trace::stroked(path.data(), stroke, here)?;
                painted(shape, FillRule::NonZero, paint, opacity, here, left_out)
            }
        }
    });
    match path.paint_order() {
        usvg::PaintOrder::FillAndStroke => nodes.extend(fill.into_iter().chain(stroke)),
        usvg::PaintOrder::StrokeAndFill => nodes.extend(stroke.into_iter().chain(fill)),
    }
}

fn painted(
    path: Path,
    rule: FillRule,
    paint: &usvg::Paint,
    opacity: f64,
    here: Affine,
    left_out: &mut BTreeSet<String>,
) -> Option<Drawn> {
    let wash = match paint {
        usvg::Paint::Color(colour) => return Some(Drawn::Fill { path, rule, colour: tint(*colour, opacity) }),
        usvg::Paint::LinearGradient(gradient) => wash::linear(gradient, here),
        usvg::Paint::RadialGradient(gradient) => wash::radial(gradient, here),
        usvg::Paint::Pattern(_) => Err("a pattern"),
    };
    match wash {
        Ok((course, stops, thinned)) => Some(Drawn::Wash { path, rule, course, stops, opacity: opacity * thinned }),
        Err(what) => {
            left_out.insert(what.to_owned());
            None
        }
    }
}

fn tint(colour: usvg::Color, opacity: f64) -> Tint {
    Tint { rgb: [colour.red, colour.green, colour.blue], opacity }
}
