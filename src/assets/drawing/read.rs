//! SVG text to a drawing: refused where it asks too much, then read by the SVG reader.

use crate::assets::drawing::allowance::Allowance;
use crate::assets::drawing::laid::LaidDrawing;
use crate::assets::drawing::part::{Drawing, DrawingPart};
use crate::assets::drawing::pictures::DrawnFrom;
use crate::assets::drawing::style::Styles;
use crate::assets::drawing::{bounds, cost, entities, group, handed, markup, outlines, text, trace, unread};
use crate::assets::{Library, PictureFault, decode};
use crate::ground::{Affine, Digest, FillRule, Rect, Severity, rect_path};

pub fn read(name: &str, bytes: &[u8], beside: DrawnFrom<'_>) -> Result<Drawing, PictureFault> {
    let markup = std::str::from_utf8(bytes).map_err(|why| {
        let line = bytes[..why.valid_up_to()].split(|byte| *byte == b'\n').count();
        decode::fault(format!("the SVG is not UTF-8 text (line {line})"), "save it as UTF-8")
    })?;
    let markup = &*entities::written_out(markup)?;
    markup::bounded(markup)?;
    let document = markup::parsed(markup)?;
    let styles = Styles::read(&document)?;
    bounds::near(&document, styles.declarations().map(|stated| (stated.name, stated.value)))?;
    cost::bounded(&document, &styles)?;
    let handed = handed::handed(markup, &document, &styles)?;
    let again = handed.as_deref().map(markup::parsed).transpose()?;
    let handed = again.as_ref().unwrap_or(&document);
    let LaidDrawing { tree, faces, gone, pictures } = LaidDrawing::read(handed, name, beside)?;
    let scale = trace::MM_PER_PX;
    let (width, height) = (f64::from(tree.size().width()) * scale, f64::from(tree.size().height()) * scale);
    let mut allowance = Allowance::new(digest(bytes, beside.library), (width, height))?;
    let unread = unread::unread(&document, &styles);
    allowance.left_out = unread.kinds;
    let missing = unread.missing.into_iter().collect();
    let mut remarks = text::remarks((&tree, faces, &gone), (&document, &styles), &mut allowance.left_out);
    let found = pictures.found();
    remarks.extend(found.remarks);
    allowance.left_out.extend(found.left_out);
    allowance.pictures.clone_from(&found.all);
    let mut parts = Vec::new();
    group::root(tree.root(), Affine::scale(scale), &mut parts, &mut allowance)?;
    let left_out: Vec<String> = allowance.left_out.into_iter().collect();
    if let Some(remark) = remarks.iter().find(|remark| remark.severity == Severity::Error && parts.is_empty()) {
        let message = format!("nothing in the SVG can be drawn: it {}", remark.message);
        return Err(decode::fault(message, remark.help.clone()));
    }
    if parts.is_empty() {
        let found = if left_out.is_empty() { "nothing visible".to_owned() } else { left_out.join(", ") };
        let message = format!("nothing in the SVG can be drawn: it has {found}");
        return Err(decode::fault(message, "turn text and lines into paths before saving"));
    }
    let parts = within(parts, allowance.canvas);
    let (steps, length) = outlines::of(&parts);
    let (name, pictures) = (name.to_owned(), found.all);
    Ok(Drawing { name, width, height, parts, left_out, missing, remarks, pictures, steps, length })
}

/// How far a drawing may stand over its edge before it is cut there, in millimetres.
const OVER: f64 = 0.01;

/// What lies outside the canvas of a file is not part of its picture (SVG 2, 8.2: the outermost viewport cuts).
fn within(parts: Vec<DrawingPart>, canvas: Rect) -> Vec<DrawingPart> {
    let reaches_out =
        |part: &DrawingPart| part.bounds().is_some_and(|bounds| !canvas.inflate(OVER, OVER).contains_rect(bounds));
    if !parts.iter().any(reaches_out) {
        return parts;
    }
    let clip = Some((rect_path(canvas), FillRule::NonZero));
    vec![DrawingPart::Group { clip, opacity: 1.0, multiply: false, parts }]
}

/// What a drawing is made of.
fn digest(bytes: &[u8], library: &Library) -> Digest {
    if Drawing::may_have_text(bytes) { Digest::of_all(&[bytes, library.digest().bytes()]) } else { Digest::of(bytes) }
}
