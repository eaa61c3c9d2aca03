//! Unread: what the SVG reader passes over silently. A message names it, so that nothing prints otherwise unnoticed.

use crate::assets::drawing::bounds::SVG;
use crate::assets::drawing::stated::is_animation;
use crate::assets::drawing::style::Styles;
use crate::assets::drawing::unheard;
use simplecss::DeclarationTokenizer;
use std::collections::BTreeSet;
use usvg::roxmltree::{Document, Node};

/// What the reader makes something of, as an attribute or a property of a style.
const READ: [&str; 49] = [
    "clip-path",
    "clip-rule",
    "color",
    "cx",
    "cy",
    "d",
    "display",
    "dx",
    "dy",
    "fill",
    "fill-opacity",
    "fill-rule",
    "filter",
    "flood-color",
    "flood-opacity",
    "fx",
    "fy",
    "height",
    "isolation",
    "lighting-color",
    "marker",
    "marker-end",
    "marker-mid",
    "marker-start",
    "mask",
    "mix-blend-mode",
    "offset",
    "opacity",
    "paint-order",
    "r",
    "rx",
    "ry",
    "stop-color",
    "stop-opacity",
    "stroke",
    "stroke-dasharray",
    "stroke-dashoffset",
    "stroke-miterlimit",
    "stroke-opacity",
    "stroke-width",
    "transform",
    "visibility",
    "width",
    "x",
    "x1",
    "x2",
    "y",
    "y1",
    "y2",
];
/// The same of a text.
const SET: [&str; 13] = [
    "baseline-shift",
    "dominant-baseline",
    "font",
    "font-family",
    "font-size",
    "font-stretch",
    "font-style",
    "font-variant",
    "font-weight",
    "letter-spacing",
    "text-anchor",
    "textLength",
    "word-spacing",
];
/// Properties whose references must lead to an element.
const REFERRING: [&str; 5] = ["fill", "stroke", "clip-path", "mask", "filter"];

/// Each once, by name.
#[derive(Default)]
pub struct UnreadMatter {
    /// What is not drawn, or not as the file says.
    pub kinds: BTreeSet<String>,
    /// References to what is not in the file.
    pub missing: BTreeSet<String>,
    /// Whether what is said of text matters.
    has_text: bool,
    /// Whether text has white space that shows only where it is kept, and that XML does not keep.
    has_spaces: bool,
}

pub fn unread(document: &Document<'_>, styles: &Styles<'_>) -> UnreadMatter {
    let ids: BTreeSet<&str> = document.descendants().filter_map(|node| node.attribute("id")).collect();
    let has_text = document.descendants().any(|node| node.has_tag_name((SVG, "text")));
    let has_spaces = document.descendants().any(|node| node.is_text() && is_spaced(node));
    let mut found = UnreadMatter { has_text, has_spaces, ..UnreadMatter::default() };
    for node in document.descendants().filter(Node::is_element) {
        let is_printed = || !node.ancestors().any(|above| above.has_tag_name((SVG, "defs")));
        found.kinds.extend(element(node).filter(|_| is_printed()).map(str::to_owned));
        let attributes = node.attributes().filter(|attribute| attribute.namespace().is_none());
        for attribute in attributes.filter(|attribute| attribute.name() != "style") {
            found.property(attribute.name(), attribute.value(), &ids);
            let means = (attribute.name(), attribute.value(), false);
            found.kinds.extend(unheard::value(means).filter(|_| !is_animation(node)));
        }
        for stated in DeclarationTokenizer::from(node.attribute("style").unwrap_or_default()) {
            found.property(stated.name, stated.value, &ids);
            found.kinds.extend(unheard::value((stated.name, stated.value, true)));
        }
        let sheet =
            node.text().filter(|_| node.has_tag_name("style")).map(unheard::without_remarks).unwrap_or_default();
        if sheet.contains("@media") || sheet.contains("@import") {
            found.kinds.insert("`@media` or `@import` in a style sheet".to_owned());
        }
    }
    for stated in styles.declarations() {
        found.property(stated.name, stated.value, &ids);
        found.kinds.extend(unheard::value((stated.name, stated.value, true)));
    }
    found.kinds.extend(unheard::of_elements(document, styles));
    found.kinds.extend(unheard::unspelled(document, styles));
    found
}

fn is_spaced(text: Node<'_, '_>) -> bool {
    const XML: &str = "http://www.w3.org/XML/1998/namespace";
    let said = text.text().unwrap_or_default();
    let runs = said.trim().contains("  ") || said.trim().contains(['\n', '\t']);
    let stated = || text.ancestors().find_map(|above| above.attribute((XML, "space")));
    runs && text.ancestors().any(|above| above.has_tag_name((SVG, "text"))) && stated() != Some("preserve")
}

fn element(node: Node<'_, '_>) -> Option<&'static str> {
    let elsewhere = || {
        let href = node.attributes().find(|attribute| attribute.name() == "href")?;
        (!href.value().trim().starts_with('#')).then_some("what lies in another file")
    };
    match node.tag_name().name() {
        "textPath" if node.attribute("path").is_some() => Some("text along a path that it states itself"),
        "textPath" if !node.parent().is_some_and(|parent| parent.has_tag_name((SVG, "text"))) => {
            Some("text along a path within a `tspan`")
        }
        "foreignObject" => Some("content of another language (`foreignObject`)"),
        "animate" | "animateTransform" | "animateMotion" | "set" => Some("an animation"),
        "mesh" | "meshgradient" | "meshGradient" => Some("a mesh gradient"),
        "hatch" => Some("a hatching"),
        "use" => elsewhere(),
        _ => None,
    }
}

/// Whether a property states nothing of its own.
fn plain(value: &str) -> bool {
    matches!(value, "none" | "inherit" | "initial" | "unset" | "revert")
}

/// What a property says of text that is ignored.
fn otherwise_set(name: &str, value: &str) -> Option<&'static str> {
    match name {
        "inline-size" | "shape-inside" if !plain(value) && value != "auto" => Some("text that flows in a shape"),
        "text-transform" if !plain(value) => Some("capitals by CSS (`text-transform`)"),
        "text-shadow" if !plain(value) => Some("a shadow by CSS (`text-shadow`)"),
        "font-feature-settings" if value != "normal" && !plain(value) => {
            Some("features of a font (`font-feature-settings`)")
        }
        "font-variant" if !matches!(value, "normal" | "small-caps") && !plain(value) => Some("a `font-variant` of CSS"),
        "font-size-adjust" if !plain(value) => Some("another size of letters by CSS (`font-size-adjust`)"),
        // Here `none` is a wish, too: no ligatures.
        _ if name.starts_with("font-variant-") && value != "normal" && (value == "none" || !plain(value)) => {
            Some("a `font-variant` of CSS")
        }
        "direction" if value == "rtl" => Some("text from right to left by `direction`"),
        _ => None,
    }
}

impl UnreadMatter {
    fn reads(&self, name: &str) -> bool {
        READ.contains(&name) || self.has_text && SET.contains(&name)
    }

    /// What a property says that is ignored.
    fn property(&mut self, name: &str, value: &str, ids: &BTreeSet<&str>) {
        let value = value.trim();
        let said = match name {
            "vector-effect" if value.contains("non-scaling-stroke") => "lines that do not scale (`vector-effect`)",
            "color-interpolation" if value == "linearRGB" => "colours mixed in linear light",
            "mask-image" if !plain(value) => "a mask that is a picture",
            _ if value.contains("var(") && self.reads(name) => "a `var()` of CSS",
            _ if value.contains("calc(") && self.reads(name) => "a `calc()` of CSS",
            "clip-path" if !value.contains("url(") && !plain(value) => "a clip by a CSS shape",
            "white-space" if self.has_spaces && (value.starts_with("pre") || value == "break-spaces") => {
                "white space that CSS keeps (`white-space`)"
            }
            _ if self.has_text
                && let Some(said) = otherwise_set(name, value) =>
            {
                said
            }
            _ if REFERRING.contains(&name) => return self.reference(value, ids),
            _ => return,
        };
        self.kinds.insert(said.to_owned());
    }

    /// One that leads nowhere, without a colour to fall back on.
    fn reference(&mut self, value: &str, ids: &BTreeSet<&str>) {
        let Some((inside, rest)) = value.strip_prefix("url(").and_then(|value| value.split_once(')')) else { return };
        match inside.trim().trim_matches(['"', '\'']).strip_prefix('#') {
            None => drop(self.kinds.insert("what lies in another file".to_owned())),
            Some(id) if !ids.contains(id) && rest.trim().is_empty() => drop(self.missing.insert(format!("`#{id}`"))),
            Some(_) => {}
        }
    }
}
