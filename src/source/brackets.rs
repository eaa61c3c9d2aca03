//! Brackets behind a word: a unit on the wrong side of its number, or a colour as style sheets write it.

use crate::source::around::around;
use crate::source::slip::Slip;
use crate::source::tokens::Token;

/// The word before, and the bracket that touches it.
pub fn bracket_slip(text: &str, tokens: &[Token], place: usize) -> Slip {
    let (word, bracket) = (&tokens[place - 1], &tokens[place]);
    let (name, stated) = (&text[word.range.clone()], &text[bracket.range.clone()]);
    let range = word.range.start..bracket.range.end;
    if name.starts_with(|letter: char| letter.is_ascii_digit()) {
        let help = format!("a unit comes first: `{stated}{name}`");
        return Slip::new(bracket.range.clone(), "the unit stands after its number", help);
    }
    let Some(way) = colour(name, stated) else {
        return Slip::new(
            range,
            format!("`{name}` takes no brackets"),
            "values stand apart by spaces, without brackets",
        );
    };
    let beside = around(text, tokens, place - 1);
    let defined = beside.node == "swatch" && beside.first != name;
    let help = match (way, defined) {
        (ColourNotation::Ink(inks), true) => format!("write the inks in percent: `swatch {} {inks}`", beside.first),
        (ColourNotation::Ink(inks), false) => {
            format!("name the ink once, `swatches {{ swatch NAME {inks} }}`, and write the name here")
        }
        (ColourNotation::Screen(code), true) => {
            format!("write `rgb {} \"{code}\"`, which is converted to ink", beside.first)
        }
        (ColourNotation::Screen(code), false) => {
            format!("name the colour once, `swatches {{ rgb NAME \"{code}\" }}`, and write the name here")
        }
    };
    Slip::new(range, format!("a colour is not written as `{name}(…)`"), help)
}

enum ColourNotation {
    Ink(String),
    Screen(String),
}

fn colour(name: &str, stated: &str) -> Option<ColourNotation> {
    let parts = stated.trim_matches(['(', ')']).split([',', '/', ' ']).filter(|part| !part.is_empty());
    let numbers: Vec<f64> = parts.map_while(|part| part.trim_end_matches('%').parse().ok()).collect();
    match (name.to_lowercase().as_str(), &numbers[..]) {
        ("cmyk" | "device-cmyk", [c, m, y, k, ..]) => Some(ColourNotation::Ink(format!("c={c} m={m} y={y} k={k}"))),
        ("rgb" | "rgba", [red, green, blue, ..]) => {
            let byte = |value: &f64| value.clamp(0.0, 255.0).round() as u8;
            Some(ColourNotation::Screen(format!("#{:02x}{:02x}{:02x}", byte(red), byte(green), byte(blue))))
        }
        ("cmyk" | "device-cmyk", _) => Some(ColourNotation::Ink("c= m= y= k=".to_owned())),
        ("rgb" | "rgba" | "hsl" | "hsla" | "lab" | "lch" | "hex", _) => {
            Some(ColourNotation::Screen("#2f6f7e".to_owned()))
        }
        _ => None,
    }
}
