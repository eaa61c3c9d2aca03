//! Spelled: values that the SVG reader does not know as they are written, in words that it knows. One that is none is taken
//! away, so that what was stated before or around it holds, as CSS has it.

use crate::assets::drawing::edited::Edit;
use crate::assets::drawing::stated::stated;
use crate::assets::drawing::transform::transform;
use color::Srgb;
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
    edits.extend(document.descendants().filter(|node| is_empty(*node)).map(|node| {
        let start = node.range().start + 1;
        let name = text[start..].find(|letter: char| letter.is_ascii_whitespace()).unwrap_or_default();
        (start + name..start + name, " display=\"none\"".to_owned())
    }));
    edits
}

/// A frame in the drawing without width or height shows nothing (SVG 2, 8.8); the reader gives it some.
fn is_empty(node: Node<'_, '_>) -> bool {
    let none = |side: &str| {
        node.attribute(side).and_then(|said| said.trim().parse().ok()).is_some_and(|said: f64| said <= 0.0)
    };
    let is_frame = matches!(node.tag_name().name(), "svg" | "use") && node.parent_element().is_some();
    is_frame && node.attribute("display").is_none() && (none("width") || none("height"))
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

/// Something is referred to, and a colour may stand beside for where it is gone.
fn paint(name: &str, value: &str) -> ReadValue {
    let value = value.trim();
    let Some((reference, rest)) = value.strip_prefix("url(").and_then(|rest| rest.split_once(')')) else {
        return match value.to_ascii_lowercase().as_str() {
            "none" | "context-fill" | "context-stroke" => as_written(value, &value.to_ascii_lowercase()),
            _ => one_colour(name, value),
        };
    };
    match paint(name, rest) {
        _ if rest.trim().is_empty() => ReadValue::AsItIs,
        ReadValue::As(known) => ReadValue::As(format!("url({reference}) {known}")),
        other => other,
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
}
