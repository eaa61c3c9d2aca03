//! Unheard: words of SVG 2 and CSS that the SVG reader does not know, or takes otherwise than browsers do. A message names them.

use crate::assets::drawing::spelled::{LENGTHS, ReadValue, spelling};
use crate::assets::drawing::stated::is_animation;
use crate::assets::drawing::style::Styles;
use simplecss::{DeclarationTokenizer, Selector};
use std::collections::BTreeSet;
use usvg::roxmltree::{Document, Node};

/// Letters of a file that a message shows.
const SHOWN: usize = 30;
/// Selectors that are named.
const SELECTORS: usize = 3;
/// Units of CSS Values 4 that are unknown or, as `ex`, guessed.
const UNITS: [&str; 15] =
    ["ex", "rem", "rex", "ch", "rch", "cap", "ic", "lh", "rlh", "vw", "vh", "vi", "vb", "vmin", "vmax"];
const MARKERS: [&str; 4] = ["marker", "marker-start", "marker-mid", "marker-end"];

/// What a property says that is ignored or cannot be read; whether CSS states it.
pub fn value((name, value, by_css): (&str, &str, bool)) -> Option<String> {
    let value = value.trim();
    let plain = matches!(value, "none" | "auto" | "normal" | "inherit" | "initial" | "unset" | "revert" | "");
    let said = match name {
        _ if plain => return None,
        "rotate" | "translate" | "scale" if by_css => "`rotate`, `translate` or `scale` of CSS",
        "offset-path" => "a place on a path by CSS (`offset-path`)",
        "transform-box" if value != "view-box" => "a `transform-box` of CSS",
        "animation" | "animation-name" => "an animation",
        "backdrop-filter" => "a filter of what lies behind (`backdrop-filter`)",
        "marker-start" | "marker-mid" | "marker-end" | "marker" => return None,
        "mix-blend-mode" if value.starts_with("plus-") => "a blend mode that adds light (`mix-blend-mode`)",
        _ if value.to_ascii_lowercase().contains("icc-color(") => {
            "a colour of another profile (`icc-color`), but its sRGB colour"
        }
        _ if LENGTHS.contains(&name) => return unit(value).map(|unit| format!("a length in `{unit}`")),
        _ if spelling(name, value, by_css) == ReadValue::Nothing => {
            let kind = if name == "transform" { "a transform" } else { "a colour" };
            let shown: String = value.chars().take(SHOWN).collect();
            return Some(format!("{kind} that cannot be read (`{shown}`)"));
        }
        _ => return None,
    };
    Some(said.to_owned())
}

/// Values that the reader would be handed in other words, but for markup beside them that stands there by name, `&amp;`.
pub fn unspelled(document: &Document<'_>, styles: &Styles<'_>) -> BTreeSet<String> {
    let text = document.input_text();
    let mut kinds = BTreeSet::new();
    let mut add = |name: &str, value: &str, by_css: bool| {
        if !is_read(value.trim()) && matches!(spelling(name, value, by_css), ReadValue::As(_)) {
            let shown: String = value.trim().chars().take(SHOWN).collect();
            kinds.insert(format!("`{name}` as `{shown}`, beside quotes or markup by name (`&quot;`),"));
        }
    };
    for node in document.descendants().filter(|node| node.is_element() && !is_animation(*node)) {
        let own = node.attributes().filter(|attribute| attribute.namespace().is_none());
        for attribute in own.filter(|attribute| text[attribute.range_value()].contains('&')) {
            if attribute.name() == "style" {
                DeclarationTokenizer::from(attribute.value()).for_each(|stated| add(stated.name, stated.value, true));
            } else {
                add(attribute.name(), attribute.value(), false);
            }
        }
    }
    let mut sheets = document.descendants().filter(|node| node.has_tag_name("style")).map(|node| &text[node.range()]);
    if sheets.any(|sheet| sheet.contains('&') && !sheet.contains("<![CDATA[")) {
        styles.declarations().for_each(|stated| add(stated.name, stated.value, true));
    }
    kinds
}

/// Whether the reader knows a colour as it is written: by its name, its digits, or three or four numbers between commas.
fn is_read(value: &str) -> bool {
    let value = if value.starts_with("url(") {
        value.split_once(')').map_or(value, |(_, beside)| beside.trim())
    } else {
        value
    };
    let is_wide = matches!(value, "initial" | "unset" | "revert" | "revert-layer" | "currentcolor");
    let is_name = value.bytes().all(|letter| letter.is_ascii_lowercase()) && !is_wide;
    let is_function = ["rgb(", "rgba(", "hsl(", "hsla("].iter().any(|function| value.starts_with(function));
    value.starts_with('#') || is_name || is_function && value.contains(',')
}

fn unit(value: &str) -> Option<&'static str> {
    let number = value.trim_end_matches(|letter: char| letter.is_ascii_alphabetic());
    number.parse::<f64>().ok()?;
    UNITS.into_iter().find(|unit| unit.eq_ignore_ascii_case(&value[number.len()..]))
}

pub fn of_elements(document: &Document<'_>, styles: &Styles<'_>) -> BTreeSet<String> {
    let mut kinds = BTreeSet::new();
    let mut add = |kind: &str| kinds.extend([kind.to_owned()]);
    let elements = || document.descendants().filter(Node::is_element);
    if document.root().children().any(|node| node.pi().is_some_and(|said| said.target == "xml-stylesheet")) {
        add("a style sheet in another file");
    }
    let has_dashes = document.input_text().contains("dasharray");
    for node in elements() {
        let has = |names: &[&str]| names.iter().any(|name| node.attribute(*name).is_some());
        match node.tag_name().name() {
            "style" if !matches!(node.attribute("media").map(str::trim), None | Some("" | "all")) => {
                add("a style sheet for one medium (`media`)");
            }
            "symbol" if has(&["x", "y", "width", "height", "refX", "refY"]) => {
                add("the own size or place of a `symbol`");
            }
            _ => {}
        }
        if has_dashes && has(&["pathLength"]) {
            add("dashes by `pathLength`");
        }
        let sizes = SIZES.iter().find(|(names, _)| names.contains(&node.tag_name().name()));
        let is_root = node.parent_element().is_none();
        if let Some((_, sizes)) = sizes.filter(|_| !is_root)
            && let Some(size) = styles.sets(node, sizes)
        {
            add(&format!("a size or place by CSS (`{size}`)"));
        }
    }
    markers(document, styles, &mut add);
    kinds.extend(elements().filter(|node| node.has_tag_name("style")).flat_map(selectors).take(SELECTORS));
    kinds
}

/// Properties of CSS that are attributes to the reader, by the elements that have them.
const SIZES: [(&[&str], &[&str]); 4] = [
    (&["rect", "svg", "use", "image"], &["x", "y", "width", "height", "rx", "ry"]),
    (&["circle", "ellipse"], &["cx", "cy", "r", "rx", "ry"]),
    (&["path"], &["d"]),
    (&["linearGradient", "radialGradient", "pattern"], &["transform"]),
];

/// SVG 2, 13.7: markers of shapes, which browsers leave out, and the way that those of a closed path point.
fn markers(document: &Document<'_>, styles: &Styles<'_>, add: &mut impl FnMut(&str)) {
    let markers = || document.descendants().filter(|node| node.has_tag_name("marker"));
    if markers().next().is_none() {
        return;
    }
    let turned = markers().any(|node| node.attribute("orient").is_some_and(|said| said.starts_with("auto")));
    let mut marked: BTreeSet<usize> = BTreeSet::new();
    for node in document.descendants().filter(Node::is_element) {
        let stated = MARKERS.iter().filter_map(|name| styles.stated(node, name));
        let own = stated.map(|said| said.starts_with("url(")).reduce(|one, other| one || other);
        let above = || node.parent().is_some_and(|above| marked.contains(&above.id().get_usize()));
        if !own.unwrap_or_else(above) {
            continue;
        }
        marked.insert(node.id().get_usize());
        match node.tag_name().name() {
            "rect" | "circle" | "ellipse" => add("markers of a rectangle, circle or ellipse, which others leave out"),
            "polygon" if turned => add(CLOSED),
            "path" if turned && node.attribute("d").is_some_and(|d| d.trim_end().ends_with(['z', 'Z'])) => add(CLOSED),
            _ => {}
        }
    }
}

const CLOSED: &str = "the direction of markers where a path closes";

/// What stands before the blocks of a style sheet and is not understood.
fn selectors(sheet: Node<'_, '_>) -> Vec<String> {
    let text = without_remarks(sheet.text().unwrap_or_default());
    let (mut unknown, mut depth, mut start) = (Vec::new(), 0_usize, 0);
    for (at, brace) in text.match_indices(['{', '}', ';']) {
        if brace == "{" && depth == 0 && !text[start..at].trim_start().starts_with('@') {
            let all = text[start..at].split(',').map(str::trim);
            unknown.extend(all.filter(|one| Selector::parse(one).is_none()).map(|one| {
                let shown: String = one.chars().take(SHOWN).collect();
                format!("what the selector `{shown}` of a style sheet is for")
            }));
        }
        match brace {
            "{" => depth += 1,
            "}" => depth = depth.saturating_sub(1),
            _ => {}
        }
        start = at + 1;
    }
    unknown
}

pub fn without_remarks(sheet: &str) -> String {
    let mut parts = sheet.split("/*");
    let first = parts.next().unwrap_or_default().to_owned();
    parts.fold(first, |all, part| all + part.split_once("*/").map_or("", |(_, after)| after))
}

#[cfg(test)]
mod tests {
    use crate::assets::drawing::open;

    /// A feature a line: its name, what a warning says of it, and the drawing. All differ from what a browser draws (measured
    /// beside one), or from what one would.
    const NAMED: &str = include_str!("../../../tests/readers/features/named.txt");

    #[test]
    fn what_is_drawn_otherwise_is_named() {
        let mut silent = Vec::new();
        for line in NAMED.lines() {
            let (said, body) = line.split_at(line.find('<').expect("a line has a drawing"));
            let (name, said) = said.trim_end().split_once(' ').expect("a line has a name");
            let text =
                format!("<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'>{body}<path d='M0 0h9v9'/></svg>");
            let drawing = open("a.svg", text.as_bytes()).expect("reads");
            if !drawing.left_out.iter().any(|left| left.contains(said)) {
                silent.push(format!("{name}: {:?}", drawing.left_out));
            }
        }
        assert!(silent.is_empty(), "{silent:#?}");
    }

    #[test]
    fn what_is_written_with_entities_is_read() {
        const PLAIN: &str = "<svg xmlns='http://www.w3.org/2000/svg'";
        const OWN: &str = "<!DOCTYPE svg [<!ENTITY ns 'http://www.w3.org/2000/svg'><!ENTITY c 'oklch(50% .1 20)'>\
            <!ENTITY turn 'rotate(20deg)'>]><svg xmlns='&ns;'";
        let of = |head: &str, body: &str| {
            let text = format!("{head} viewBox='0 0 9 9'><path d='M0 0h9v9' {body}/></svg>");
            open("a.svg", text.as_bytes()).unwrap_or_else(|fault| panic!("{body}: {}", fault.message))
        };
        // Each as it is without names.
        for (named, plain) in [
            ("fill='color(srgb 0 1 0)'", "fill='color(srgb 0 1 0)'"),
            ("style='fill:&c;'", "style='fill:oklch(50% .1 20)'"),
            ("fill='&#99;olor(srgb &#x30; 1 0)'", "fill='color(srgb 0 1 0)'"),
            ("style='transform:&turn;'", "style='transform:rotate(20deg)'"),
            ("stroke='red' stroke-width='4Q'", "stroke='red' stroke-width='4Q'"),
            ("style=\"fill:&c;;font-family:&quot;X&quot;\"", "style='fill:oklch(50% .1 20)'"),
        ] {
            let (named, plain) = (of(OWN, named), of(PLAIN, plain));
            assert_eq!((&named.left_out[..], format!("{:?}", named.parts)), (&[][..], format!("{:?}", plain.parts)));
        }
        let both = of(PLAIN, "style=\"fill:oklch(50% .1 20);font-family:&quot;X&quot;,'Y'\"").left_out;
        assert!(both.iter().any(|left| left.contains("`fill` as `oklch(")), "{both:?}");
        for known in ["fill='url(#a) red'", "fill='red'", "fill='#F00'", "style='fill:rgb(1,2,3);stroke:none'"] {
            assert!(of(OWN, known).left_out.is_empty(), "{known}");
        }
    }

    /// Features that are drawn as a browser draws them.
    #[test]
    fn nothing_is_named_without_need() {
        let lists = [
            include_str!("../../../tests/readers/features/frames.txt"),
            include_str!("../../../tests/readers/features/lines.txt"),
            include_str!("../../../tests/readers/features/colours.txt"),
        ];
        let mut named = Vec::new();
        for line in lists.into_iter().flat_map(str::lines).filter(|line| !line.starts_with("broken")) {
            let text =
                format!("<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'>{line}<path d='M0 0h9v9'/></svg>");
            let drawing = open("a.svg", text.as_bytes()).expect("reads");
            if !drawing.left_out.is_empty() || !drawing.missing.is_empty() {
                named.push(format!("{:.30}: {:?} {:?}", line, drawing.left_out, drawing.missing));
            }
        }
        assert!(named.is_empty(), "{named:#?}");
    }
}
