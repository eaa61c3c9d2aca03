//! Sweep: what curves far larger than a page cost beyond others. The reader strokes every outline to find its box, in steps
//! of a fraction of a unit: a circle of a million units takes it two milliseconds, measured.

use crate::assets::drawing::bounds::{self, SVG};
use crate::assets::drawing::letters;
use crate::assets::drawing::style::Styles;
use crate::assets::drawing::taken::TakenLetters;
use std::collections::BTreeMap;
use usvg::roxmltree::{Document, Node};

/// Units in which a curve of a path may reach at no extra cost: tracing programs write such numbers.
const PAGE: f64 = 10_000.0;
/// Pixels that a unit of length has: a millimetre has fewer than four, a centimetre 38, an inch 96.
const UNIT: f64 = 4.0;
/// A curve of so many units is as quick to step along as any other element.
const STEP: f64 = 100.0;
/// Curves of a letter.
const LETTER: u64 = 20;
/// What a curve counts for at the most; what reaches farther still is refused for that.
const MOST: u64 = 1000;

/// The elements that an element counts for beyond itself, by its number; those that count for none are left away.
pub fn extras(document: &Document<'_>, styles: &Styles<'_>, taken: &TakenLetters<'_>) -> BTreeMap<usize, u64> {
    let mut extras = BTreeMap::new();
    if !has_strokes(document, styles) {
        return extras;
    }
    let type_size = letters::largest(document, styles);
    let mut scales: BTreeMap<usize, f64> = BTreeMap::new();
    // Parents stand before their children.
    for node in document.descendants().filter(Node::is_element) {
        let around = node.parent_element().and_then(|parent| scales.get(&parent.id().get_usize()));
        let scale = around.copied().unwrap_or_else(|| page_scale(node)) * scale(node);
        scales.insert(node.id().get_usize(), scale);
        let extra = if node.has_tag_name((SVG, "text")) {
            set(taken.counted(node).0, type_size * scale)
        } else {
            extra(node, scale)
        };
        if extra > 0 {
            extras.insert(node.id().get_usize(), extra);
        }
    }
    extras
}

/// How many pixels a unit of a drawing has, at the most.
fn page_scale(root: Node<'_, '_>) -> f64 {
    let first = |name: &str| bounds::numbers(root.attribute(name).unwrap_or_default()).next();
    let shown = bounds::numbers(root.attribute("viewBox").unwrap_or_default()).skip(2).fold(f64::INFINITY, f64::min);
    let stated = first("width").into_iter().chain(first("height")).fold(0.0, f64::max);
    let has_unit = root.attribute("width").is_some_and(|width| width.ends_with(char::is_alphabetic));
    let pixels = if has_unit { stated * UNIT } else { stated };
    if shown.is_finite() && shown > 0.0 && pixels > 0.0 { pixels / shown } else { 1.0 }
}

/// Whether anything in a drawing has a stroke.
fn has_strokes(document: &Document<'_>, styles: &Styles<'_>) -> bool {
    let painted = |value: &str| value.trim() != "none";
    let own = |node: Node<'_, '_>| {
        node.attribute("stroke").is_some_and(painted)
            || node.attribute("style").is_some_and(|style| style.contains("stroke"))
    };
    document.descendants().any(own) || styles.declarations().any(|it| it.name == "stroke" && painted(it.value))
}

/// The elements that a curve counts for, as far as it shows from its own numbers and the scales around it.
fn extra(node: Node<'_, '_>, scale: f64) -> u64 {
    let largest = |name: &str| bounds::numbers(node.attribute(name).unwrap_or_default()).fold(0.0, f64::max);
    let (curves, reach, free) = match node.tag_name().name() {
        "circle" | "ellipse" => (4, largest("r").max(largest("rx")).max(largest("ry")), STEP),
        "rect" => (4, largest("rx").max(largest("ry")), STEP),
        "path" => {
            let outline = node.attribute("d").unwrap_or_default();
            let curved = outline.bytes().any(|letter| b"CcSsQqTtAa".contains(&letter));
            // The shortest curve takes two numbers.
            let curves = if curved { bounds::numbers(outline).count() as u64 / 2 } else { 0 };
            (curves, largest("d"), PAGE)
        }
        _ => return 0,
    };
    swept(curves, reach * scale.max(1.0), free)
}

/// The same for the letters of a text.
fn set(letters: u64, size: f64) -> u64 {
    swept(letters * LETTER, size, PAGE)
}

fn swept(curves: u64, reach: f64, free: f64) -> u64 {
    if reach <= free { 0 } else { curves.saturating_mul(((reach / STEP).sqrt() as u64).min(MOST)) }
}

/// How much the transforms of an element enlarge what is in it, at the most.
fn scale(node: Node<'_, '_>) -> f64 {
    let transform = node.attribute("transform").unwrap_or_default();
    let calls = transform.split(')').filter_map(|call| call.split_once('('));
    let scales = calls.map(|(name, numbers)| match name.trim_matches([' ', ',', '\n', '\t', '\r']) {
        "scale" => bounds::numbers(numbers).fold(0.0, f64::max),
        "matrix" => bounds::numbers(numbers).take(4).fold(0.0, f64::max),
        _ => 1.0,
    });
    scales.product()
}
