//! Spelled: values that the SVG reader does not know as they are written, in words that it knows. One that is none is taken
//! away, so that what was stated before or around it holds, as CSS has it.

use crate::assets::drawing::edited::Edit;
use crate::assets::drawing::stated::stated;
use crate::assets::drawing::transform::transform;
use color::Srgb;
use std::collections::BTreeMap;
use usvg::roxmltree::{Document, Node};

/// A value as the SVG reader is to read it.
#[derive(Debug, PartialEq)]
pub enum ReadValue {
    AsItIs,
    As(String),
    Nothing,
}

pub fn edits(text: &str, document: &Document<'_>) -> Vec<Edit> {
    let mut edits: Vec<Edit> = Vec::new();
    stated(text, document, |stated| match spelling(stated.name, stated.value, stated.by_css) {
        ReadValue::AsItIs => {}
        ReadValue::As(known) => edits.push((stated.place, known)),
        // A declaration that means nothing.
        ReadValue::Nothing => edits.push((stated.whole, if stated.by_css { "unread:0" } else { "" }.to_owned())),
    });
    edits.extend(frames(text, document));
    edits
}

/// A frame in the drawing without width or height shows nothing (SVG 2, 8.8), and a negative one is as if not stated
/// (SVG 2, 7.2); the reader gives both some. The sides of a `use` count only where it refers to a frame (SVG 2, 5.6).
fn frames(text: &str, document: &Document<'_>) -> Vec<Edit> {
    let is_frame = |node: Node<'_, '_>| matches!(node.tag_name().name(), "svg" | "symbol");
    let (mut framed, mut edits) = (BTreeMap::new(), Vec::new());
    for node in document.descendants() {
        if let Some(id) = node.attribute("id") {
            framed.entry(id).or_insert(is_frame(node));
        }
    }
    let sized = |node: &Node<'_, '_>| match node.tag_name().name() {
        "svg" => node.parent_element().is_some(),
        "use" => {
            let href = node.attributes().find(|attribute| attribute.name() == "href");
            let id = href.and_then(|href| href.value().trim().strip_prefix('#'));
            id.and_then(|id| framed.get(id)).copied().unwrap_or_default()
        }
        _ => false,
    };
    for node in document.descendants().filter(sized) {
        let sides = ["width", "height"].into_iter().filter_map(|side| node.attribute_node(side));
        let sides: Vec<_> = sides.filter_map(|side| Some((side.range(), size(side.value())?))).collect();
        if sides.iter().any(|(_, size)| *size == 0.0) && node.attribute("display").is_none() {
            let start = node.range().start + 1;
            let name = text[start..].find(|letter: char| letter.is_ascii_whitespace()).unwrap_or_default();
            edits.push((start + name..start + name, " display=\"none\"".to_owned()));
        }
        edits.extend(sides.into_iter().filter(|(_, size)| *size < 0.0).map(|(whole, _)| (whole, String::new())));
    }
    edits
}

/// The number of a length, in whatever unit.
fn size(value: &str) -> Option<f64> {
    let value = value.trim().to_ascii_lowercase();
    let number = value.trim_end_matches(|letter: char| letter.is_ascii_alphabetic() || letter == '%');
    let unit = &value[number.len()..];
    let is_known = matches!(unit, "" | "%" | "q") || UNITS.contains(&unit);
    number.parse().ok().filter(|_| is_known)
}

pub fn spelling(name: &str, value: &str, by_css: bool) -> ReadValue {
    match name {
        "fill" | "stroke" => paint(name, value),
        "color" | "stop-color" | "flood-color" | "lighting-color" => one_colour(name, value),
        _ if !by_css && LENGTHS.contains(&name) => length(value),
        "transform" if by_css => transform(value).map_or(ReadValue::Nothing, ReadValue::As),
        _ => ReadValue::AsItIs,
    }
}

/// Attributes that hold one length.
pub const LENGTHS: [&str; 15] =
    ["x", "y", "width", "height", "cx", "cy", "r", "rx", "ry", "x1", "x2", "y1", "y2", "stroke-width", "font-size"];
const UNITS: [&str; 8] = ["px", "em", "ex", "in", "cm", "mm", "pt", "pc"];

/// Units are known in small letters.
fn length(value: &str) -> ReadValue {
    let (value, lower) = (value.trim(), value.trim().to_ascii_lowercase());
    let number = lower.trim_end_matches(|letter: char| letter.is_ascii_alphabetic());
    let Ok(size) = number.parse::<f64>() else { return ReadValue::AsItIs };
    match &lower[number.len()..] {
        "q" => ReadValue::As(format!("{}mm", size / 4.0)),
        unit if UNITS.contains(&unit) => as_written(value, &lower),
        _ => ReadValue::AsItIs,
    }
}

/// Something is referred to, and one colour may stand beside for where it is gone (SVG 2, 13.2): never another reference.
fn paint(name: &str, value: &str) -> ReadValue {
    let value = value.trim();
    let Some((reference, rest)) = value.strip_prefix("url(").and_then(|rest| rest.split_once(')')) else {
        return plain_paint(name, value);
    };
    match plain_paint(name, rest.trim()) {
        _ if rest.trim().is_empty() => ReadValue::AsItIs,
        ReadValue::As(known) => ReadValue::As(format!("url({reference}) {known}")),
        other => other,
    }
}

fn plain_paint(name: &str, value: &str) -> ReadValue {
    let lower = value.to_ascii_lowercase();
    match lower.as_str() {
        "none" | "context-fill" | "context-stroke" => as_written(value, &lower),
        _ => one_colour(name, value),
    }
}

fn one_colour(name: &str, value: &str) -> ReadValue {
    let (value, lower) = (value.trim(), value.trim().to_ascii_lowercase());
    if ["var(", "calc(", "env("].iter().any(|function| lower.contains(function)) {
        return ReadValue::AsItIs;
    }
    match lower.as_str() {
        "inherit" => as_written(value, "inherit"),
        "unset" | "revert" | "revert-layer" if INHERITED.contains(&name) => as_written(value, "inherit"),
        "initial" | "unset" | "revert" | "revert-layer" => ReadValue::As(initial(name).to_owned()),
        // Of `color`, it is that of the element around it.
        "currentcolor" if name == "color" => ReadValue::As("inherit".to_owned()),
        "currentcolor" => as_written(value, "currentColor"),
        _ => match hexadecimal(&lower) {
            Some(code) if code.eq_ignore_ascii_case(value) => ReadValue::AsItIs,
            Some(code) => ReadValue::As(code),
            None => ReadValue::Nothing,
        },
    }
}

const INHERITED: [&str; 3] = ["fill", "stroke", "color"];

fn initial(name: &str) -> &'static str {
    match name {
        "stroke" => "none",
        "lighting-color" => "white",
        _ => "black",
    }
}

fn as_written(value: &str, known: &str) -> ReadValue {
    if value == known { ReadValue::AsItIs } else { ReadValue::As(known.to_owned()) }
}

/// A colour of CSS Color 4, or the sRGB colour that stands before another one (`#d62828 icc-color(…)`, SVG 1.1, 11.2).
fn hexadecimal(lower: &str) -> Option<String> {
    let own = lower.find("icc-color(").or_else(|| lower.find("device-")).map_or(lower, |at| lower[..at].trim_end());
    if own.starts_with('#')
        && matches!(own.len(), 4 | 5 | 7 | 9)
        && own[1..].bytes().all(|digit| digit.is_ascii_hexdigit())
    {
        return Some(own.to_owned());
    }
    let colour = color::parse_color(own).ok()?.to_alpha_color::<Srgb>().to_rgba8();
    let [red, green, blue, alpha] = [colour.r, colour.g, colour.b, colour.a];
    let code = format!("#{red:02x}{green:02x}{blue:02x}");
    Some(if alpha == 255 { code } else { format!("{code}{alpha:02x}") })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn written(name: &str, value: &str) -> String {
        match spelling(name, value, true) {
            ReadValue::AsItIs => value.to_owned(),
            ReadValue::As(known) => known,
            ReadValue::Nothing => "nothing".to_owned(),
        }
    }

    /// CSS Color 4: examples 9 to 21 and 4.2 (from memory); the names are those of its table.
    #[test]
    fn a_colour_is_the_same_in_every_spelling() {
        for green in [
            "#0f0",
            "#0F0",
            "#00ff00",
            "#00FF00FF",
            "lime",
            "LIME",
            "rgb(0,255,0)",
            "rgb(0 255 0)",
            "RGB(0%, 100%, 0%)",
            "rgba(0,255,0,1)",
            "rgb(0 255 0 / 100%)",
            "hsl(120,100%,50%)",
            "hsl(120deg 100% 50%)",
            "hsl(.3333333turn 100% 50%)",
            "hwb(120 0% 0%)",
            "color(srgb 0 1 0)",
            "#00ff00 icc-color(press, 0.6, 0, 1, 0)",
        ] {
            let found = written("fill", green).to_ascii_lowercase();
            assert!(["#0f0", "#00ff00", "#00ff00ff"].contains(&found.as_str()), "{green}: {found}");
        }
        for half in ["rgb(29 53 87 / 50%)", "rgba(29,53,87,.5)", "rgb(29 53 87/.5)"] {
            assert_eq!(written("stroke", half), "#1d355780", "{half}");
        }
        assert_eq!(written("stop-color", "rebeccapurple"), "#663399");
        assert_eq!(written("fill", "transparent"), "#00000000");
        assert_eq!(written("fill", "url(#g) rgb(0 0 255 / 50%)"), "url(#g) #0000ff80");
        assert_eq!(written("fill", "url( '#g' )"), "url( '#g' )");
        assert_eq!(written("fill", "url(#g) none"), "url(#g) none");
        assert_eq!([written("stroke", "currentcolor"), written("color", "currentColor")], ["currentColor", "inherit"]);
        assert_eq!(
            [written("stroke", "initial"), written("fill", "unset"), written("fill", "NONE")],
            ["none", "inherit", "none"]
        );
        for none in ["bluish", "#12345", "#ggg", "ff0000", "rgb(1,2)", "", "device-cmyk(1 0 0 0)", "canvastext"] {
            assert_eq!(written("fill", none), "nothing", "{none}");
        }
    }

    #[test]
    fn a_paint_has_one_reference() {
        assert_eq!(written("fill", "url(#a) url(#b)"), "nothing");
        assert_eq!(written("fill", &"url()".repeat(8000)), "nothing");
    }

    fn handed(body: &str) -> String {
        let text = format!("<svg xmlns='http://www.w3.org/2000/svg'>{body}</svg>");
        let document = Document::parse(&text).expect("XML");
        crate::assets::drawing::edited::edited(&text, edits(&text, &document))
    }

    /// SVG 2: 5.6, 7.2 and 8.8.
    #[test]
    fn a_frame_of_no_size_shows_nothing() {
        let shapes = "<rect id='r'/><symbol id='s'/><svg id='f'/>";
        for none in
            ["width='0'", "width='0px'", "height=' 0mm '", "width='-0%'", "height='0.0Q'", "width='9' height='0'"]
        {
            for frame in
                [format!("<use href='#s' {none}/>"), format!("<use href='#f' {none}/>"), format!("<svg {none}/>")]
            {
                let body = format!("{shapes}{frame}");
                assert!(handed(&body).contains(" display=\"none\""), "{body}: {}", handed(&body));
            }
            let body = format!("{shapes}<use href='#r' {none}/>");
            assert!(!handed(&body).contains("display"), "{body}");
        }
        for stated in ["width='-1'", "height='-2mm'"] {
            for frame in ["use href='#s'", "svg"] {
                let new = handed(&format!("{shapes}<{frame} {stated}/>"));
                assert!(new.ends_with(&format!("<{frame} /></svg>")), "{new}");
            }
        }
        for some in ["width='1'", "width='0wide'", "width=''", "width='auto'"] {
            let body = format!("{shapes}<use href='#s' {some}/>");
            assert!(handed(&body).ends_with(&format!("{body}</svg>")), "{some}");
        }
    }
}
