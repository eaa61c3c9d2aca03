//! Drawings: SVG files made of all that refers, repeats, nests and scales, in any combination.

use crate::chance::Chance;
use std::fmt::Write as _;

const HEAD: &str = "<svg xmlns='http://www.w3.org/2000/svg' xmlns:xlink='http://www.w3.org/1999/xlink'";
/// Elements that define something; the other elements refer to them by their number.
const DEFINED: usize = 8;

pub fn drawn(chance: &mut Chance) -> String {
    let mut text = format!("{HEAD} {}>", size(chance));
    if chance.below(4) == 0 {
        let entity = "x".repeat(chance.below(2000));
        text = format!("<!DOCTYPE svg [<!ENTITY e '{entity}'>]>{text}<g class='&e;'/>");
    }
    if chance.below(2) == 0 {
        write!(text, "<style>{}</style>", sheet(chance)).expect("a string takes it");
    }
    for at in 0..DEFINED {
        let kind = *chance.one(&[
            "clipPath",
            "mask",
            "marker",
            "pattern",
            "linearGradient",
            "radialGradient",
            "filter",
            "g",
            "symbol",
            "path",
        ]);
        let inner = match kind {
            "linearGradient" | "radialGradient" => "<stop stop-color='red'/>".repeat(chance.below(4)),
            "filter" => "<feGaussianBlur stdDeviation='2'/><feImage href='#d1'/>".to_owned(),
            _ => body(chance, 2),
        };
        let outline = if kind == "path" { format!("d='M0 0{}'", steps(chance)) } else { String::new() };
        write!(text, "<{kind} id='d{at}' {outline} {}>{inner}</{kind}>", stated(chance)).expect("a string takes it");
    }
    text += &body(chance, 4);
    let repeated = *chance.one(&[1, 1, 1, 2, 50, 3000]);
    text += &"<rect class='c' width='9' height='9' fill='url(#d1)'/>".repeat(repeated);
    text + "</svg>"
}

fn size(chance: &mut Chance) -> String {
    let (width, height) = (number(chance), number(chance));
    match chance.below(5) {
        0 => format!("width='{width}' height='{height}'"),
        1 => format!("viewBox='0 0 {width} {height}'"),
        2 => format!("width='90' height='90' viewBox='{width} 0 {height} {width}'"),
        _ => "width='90' height='90'".to_owned(),
    }
}

fn number(chance: &mut Chance) -> String {
    const WILD: [&str; 14] =
        ["0", "-1", "1e9", "9e8", "1e-9", "3e38", "1e39", "nan", "1000000", "0.0001", "100%", "1e3in", "-1e7", "1.5em"];
    if chance.below(3) == 0 { (*chance.one(&WILD)).to_owned() } else { format!("{:.2}", chance.between(-20.0, 120.0)) }
}

fn reference(chance: &mut Chance) -> String {
    format!("#d{}", chance.below(DEFINED + 1))
}

/// Attributes of any element.
fn stated(chance: &mut Chance) -> String {
    let mut text = String::new();
    let mut used = Vec::new();
    for _ in 0..chance.below(5) {
        const NAMES: [&str; 17] = [
            "fill",
            "stroke",
            "clip-path",
            "mask",
            "filter",
            "marker-mid",
            "marker-start",
            "style",
            "transform",
            "opacity",
            "stroke-width",
            "stroke-dasharray",
            "class",
            "fill-rule",
            "clip-rule",
            "viewBox",
            "overflow",
        ];
        let name = *chance.one(&NAMES);
        if used.contains(&name) {
            continue;
        }
        used.push(name);
        let value = match name {
            "fill" | "stroke" => match chance.below(4) {
                0 => format!("url({})", reference(chance)),
                1 => (*chance.one(&["none", "context-fill", "context-stroke", "currentColor"])).to_owned(),
                _ => format!("#{:06x}", chance.below(1 << 24)),
            },
            "clip-path" | "mask" | "filter" | "marker-mid" | "marker-start" => format!("url({})", reference(chance)),
            "style" => format!("mix-blend-mode:multiply;marker:url({})", reference(chance)),
            "transform" => match chance.below(3) {
                0 => format!("scale({})", number(chance)),
                1 => format!("rotate({}) skewX({})", number(chance), number(chance)),
                _ => format!("matrix({} {} 0 1 {} 3)", number(chance), number(chance), number(chance)),
            },
            "stroke-dasharray" => format!("{} {}", number(chance), number(chance)),
            "class" => (*chance.one(&["a", "b", "c", "a b c"])).to_owned(),
            "fill-rule" | "clip-rule" => "evenodd".to_owned(),
            "viewBox" => format!("0 0 {} {}", number(chance), number(chance)),
            "overflow" => "visible".to_owned(),
            _ => number(chance),
        };
        write!(text, " {name}='{value}'").expect("a string takes it");
    }
    text
}

fn body(chance: &mut Chance, deep: usize) -> String {
    let mut text = String::new();
    for _ in 0..=chance.below(4) {
        let own = stated(chance);
        match chance.below(11) {
            0 | 1 if deep > 0 => write!(text, "<g{own}>{}</g>", body(chance, deep - 1)),
            2 if deep > 0 => write!(text, "<svg{own} width='{}'>{}</svg>", number(chance), body(chance, deep - 1)),
            3 => write!(text, "<use href='{}' x='{}'{own}/>", reference(chance), number(chance)),
            4 => write!(text, "<circle r='{}' cx='{}'{own}/>", number(chance), number(chance)),
            5 => write!(text, "<line x2='{}' y2='{}'{own}/>", number(chance), number(chance)),
            6 => write!(text, "<polygon points='{}'{own}/>", points(chance)),
            7 => write!(text, "<path d='M0 0{}'{own}/>", steps(chance)),
            8 => write!(text, "<text x='{}' {own}>{}</text>", number(chance), words(chance, 3)),
            9 => write!(
                text,
                "<image href='{}' width='{}' height='{}'{own}/>",
                chance.one(&[PICTURE, PICTURE, "data:image/png;base64,iVBORw0KGgo", "a.png", "data:,"]),
                number(chance),
                number(chance)
            ),
            _ => write!(
                text,
                "<rect width='{}' height='{}' rx='{}'{own}/>",
                number(chance),
                number(chance),
                number(chance)
            ),
        }
        .expect("a string takes it");
    }
    text
}

/// One pixel.
const PICTURE: &str = "data:image/png;base64,iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mP8z8BQDwAEhQGAhKmMIQAAAABJRU5ErkJggg==";

/// What a text holds: letters of several scripts, pieces of it with places and sizes of their own, and paths to run along.
fn words(chance: &mut Chance, deep: usize) -> String {
    let mut text = String::new();
    for _ in 0..=chance.below(4) {
        let family =
            *chance.one(&["EB Garamond", "Inter, League Gothic", "Nowhere", "serif", "Frank Ruhl Libre", "Amiri"]);
        let said = match chance.below(6) {
            0 => format!("x='{0} {0}' dy='1 {1}'", number(chance), number(chance)),
            1 => format!("font-family='{family}' font-size='{}'", number(chance)),
            2 => format!("letter-spacing='{}' text-anchor='middle' rotate='9 {}'", number(chance), number(chance)),
            3 => format!("textLength='{}' lengthAdjust='spacingAndGlyphs'", number(chance)),
            4 => format!("text-decoration='underline' baseline-shift='{}' writing-mode='tb'", number(chance)),
            _ => format!("font-family='{family}' font-weight='bolder' font-style='italic'"),
        };
        let inner = if deep > 0 && chance.below(3) == 0 {
            words(chance, deep - 1)
        } else {
            let known =
                ["Salt", "fi\u{301}sh \u{5d0}\u{5d1} 12", "\u{628}\u{627}\u{628}", "\u{92e}\u{947}\u{1f600}", " ", ""];
            (*chance.one(&known)).to_owned()
        };
        match chance.below(5) {
            0 => write!(
                text,
                "<textPath href='{}' startOffset='{}'>{inner}</textPath>",
                reference(chance),
                number(chance)
            ),
            1 => write!(text, "{inner}"),
            _ => write!(text, "<tspan {said}>{inner}</tspan>"),
        }
        .expect("a string takes it");
    }
    text.repeat(*chance.one(&[1, 1, 1, 1, 1, 40]))
}

fn points(chance: &mut Chance) -> String {
    (0..chance.below(30)).map(|_| number(chance) + " ").collect()
}

fn steps(chance: &mut Chance) -> String {
    let mut text = String::new();
    let times = *chance.one(&[1, 1, 1, 1, 300]);
    for _ in 0..chance.below(9) {
        match chance.below(5) {
            0 => write!(text, "L{} {}", number(chance), number(chance)),
            1 => write!(text, "a{} {} 30 1 0 {} {}", number(chance), number(chance), number(chance), number(chance)),
            2 => write!(text, "c{0} {0} {1} {1} 9 9", number(chance), number(chance)),
            3 => write!(text, "zM{} 3", number(chance)),
            _ => write!(text, "q1 2 {} {}", number(chance), number(chance)),
        }
        .expect("a string takes it");
    }
    text.repeat(times)
}

fn sheet(chance: &mut Chance) -> String {
    let mut text = String::new();
    for _ in 0..chance.below(6) {
        let selector = *chance.one(&[
            "*",
            "path",
            ".a",
            ".b",
            "g rect",
            "g > *",
            "svg g g path",
            "*:first-child",
            "rect + rect",
            "[class~='c']",
        ]);
        let stated = match chance.below(6) {
            0 => format!("fill:url({})", reference(chance)),
            1 => format!("marker:url({})", reference(chance)),
            2 => format!("clip-path:url({}) !important", reference(chance)),
            3 => format!("stroke-width:{};stroke:red", number(chance)),
            4 => format!("mask:url({})", reference(chance)),
            _ => format!("opacity:{}", number(chance)),
        };
        write!(text, "{selector}{{{stated}}}").expect("a string takes it");
    }
    text.repeat(*chance.one(&[1, 1, 1, 200]))
}
