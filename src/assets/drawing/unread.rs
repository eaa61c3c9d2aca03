//! Unread: what the SVG reader passes over silently. A message names it, so that nothing prints otherwise unnoticed.

use crate::assets::drawing::bounds::SVG;
use crate::assets::drawing::style::Styles;
use simplecss::DeclarationTokenizer;
use std::collections::BTreeSet;
use usvg::roxmltree::{Document, Node};

/// Properties whose references must lead to an element.
const REFERRING: [&str; 5] = ["fill", "stroke", "clip-path", "mask", "filter"];

/// Each once, by name.
pub fn unread(document: &Document<'_>, styles: &Styles<'_>) -> BTreeSet<String> {
    let ids: BTreeSet<&str> = document.descendants().filter_map(|node| node.attribute("id")).collect();
    let mut found = BTreeSet::new();
    for node in document.descendants().filter(Node::is_element) {
        let printed = !node.ancestors().any(|above| above.has_tag_name((SVG, "defs")));
        found.extend(element(node).filter(|_| printed).map(str::to_owned));
        for attribute in node.attributes().filter(|attribute| attribute.name() != "style") {
            found.extend(property(attribute.name(), attribute.value(), &ids));
        }
        for stated in DeclarationTokenizer::from(node.attribute("style").unwrap_or_default()) {
            found.extend(property(stated.name, stated.value, &ids));
        }
        let sheet = node.text().filter(|_| node.has_tag_name("style")).unwrap_or_default();
        if sheet.contains("@media") || sheet.contains("@import") {
            found.insert("styles for some media or from another file".to_owned());
        }
    }
    for stated in styles.declarations() {
        found.extend(property(stated.name, stated.value, &ids));
    }
    found
}

fn element(node: Node<'_, '_>) -> Option<&'static str> {
    let elsewhere = || {
        let href = node.attributes().find(|attribute| attribute.name() == "href")?;
        (!href.value().trim().starts_with('#')).then_some("what lies in another file")
    };
    match node.tag_name().name() {
        "text" => Some("text"),
        "image" => Some("a picture"),
        "foreignObject" => Some("foreign matter"),
        "animate" | "animateTransform" | "animateMotion" | "set" => Some("an animation"),
        "mesh" | "meshgradient" | "meshGradient" => Some("a mesh of colours"),
        "hatch" => Some("a hatching"),
        "use" => elsewhere(),
        _ => None,
    }
}

/// What a property says that is not heeded.
fn property(name: &str, value: &str, ids: &BTreeSet<&str>) -> Option<String> {
    let value = value.trim();
    let said = match name {
        "vector-effect" if value.contains("non-scaling-stroke") => "lines that keep their width",
        "color-interpolation" if value == "linearRGB" => "colours mixed in linear light",
        "mask-image" if value != "none" => "a mask that is a picture",
        "clip-path" if !value.contains("url(") && !matches!(value, "none" | "inherit") => "a clip that is no path",
        _ if REFERRING.contains(&name) && value.contains("var(") => "a variable of CSS",
        _ if REFERRING.contains(&name) => return astray(value, ids),
        _ => return None,
    };
    Some(said.to_owned())
}

/// A reference that leads nowhere, without a colour to fall back on.
fn astray(value: &str, ids: &BTreeSet<&str>) -> Option<String> {
    let (inside, rest) = value.strip_prefix("url(")?.split_once(')')?;
    let target = inside.trim().trim_matches(['"', '\'']);
    match target.strip_prefix('#') {
        None => Some("what lies in another file".to_owned()),
        Some(id) if !ids.contains(id) && rest.trim().is_empty() => Some(format!("`#{id}`, which is not in the file")),
        Some(_) => None,
    }
}
