//! Transforms of CSS (Transforms 1), as SVG writes them: without units, in pixels and degrees.

use std::fmt::Write as _;

/// `None` for one that depends on more than itself (`translate(50%)`) or is none.
pub fn transform(value: &str) -> Option<String> {
    let mut rest = value.trim();
    if rest.eq_ignore_ascii_case("none") {
        return Some("translate(0)".to_owned());
    }
    let mut all = String::new();
    while !rest.is_empty() {
        let (name, after) = rest.split_once('(')?;
        let (inside, after) = after.split_once(')')?;
        rest = after.trim_start();
        let arguments: Vec<&str> = inside.split(',').map(str::trim).collect();
        let name = name.trim().to_ascii_lowercase();
        let _ = write!(all, "{}", one(&name, &arguments)?);
    }
    (!all.is_empty()).then_some(all)
}

fn one(name: &str, arguments: &[&str]) -> Option<String> {
    Some(match (name, arguments) {
        ("translate" | "translatex", [x]) => format!("translate({} 0)", length(x)?),
        ("translate", [x, y]) => format!("translate({} {})", length(x)?, length(y)?),
        ("translatey", [y]) => format!("translate(0 {})", length(y)?),
        ("scale", [both]) => format!("scale({})", share(both)?),
        ("scale", [x, y]) => format!("scale({} {})", share(x)?, share(y)?),
        ("scalex", [x]) => format!("scale({} 1)", share(x)?),
        ("scaley", [y]) => format!("scale(1 {})", share(y)?),
        ("rotate" | "rotatez", [turn]) => format!("rotate({})", angle(turn)?),
        ("skewx" | "skew", [x]) => format!("skewX({})", angle(x)?),
        ("skewy", [y]) => format!("skewY({})", angle(y)?),
        ("skew", [x, y]) => {
            let [x, y] = [angle(x)?.to_radians().tan(), angle(y)?.to_radians().tan()];
            format!("matrix(1 {y} {x} 1 0 0)")
        }
        ("matrix", [_, _, _, _, _, _]) => {
            let numbers = arguments.iter().map(|number| number.parse::<f64>().ok().filter(|number| number.is_finite()));
            let numbers: Vec<String> = numbers.map(|number| Some(number?.to_string())).collect::<Option<_>>()?;
            format!("matrix({})", numbers.join(" "))
        }
        _ => return None,
    })
}

/// CSS Values 4, 6.2, in pixels.
const LENGTHS: [(&str, f64); 7] = [
    ("px", 1.0),
    ("in", 96.0),
    ("cm", 96.0 / 2.54),
    ("mm", 96.0 / 25.4),
    ("q", 96.0 / 101.6),
    ("pt", 96.0 / 72.0),
    ("pc", 16.0),
];
/// 7.1, in degrees.
const ANGLES: [(&str, f64); 4] = [("deg", 1.0), ("grad", 0.9), ("rad", 180.0 / std::f64::consts::PI), ("turn", 360.0)];

fn length(said: &str) -> Option<f64> {
    measured(said, &LENGTHS)
}

fn angle(said: &str) -> Option<f64> {
    measured(said, &ANGLES)
}

fn share(said: &str) -> Option<f64> {
    measured(said, &[("%", 0.01)]).or_else(|| said.parse().ok()).filter(|share: &f64| share.is_finite())
}

/// Only zero needs no unit.
fn measured(said: &str, units: &[(&str, f64)]) -> Option<f64> {
    let number = said.trim_end_matches(|letter: char| letter.is_ascii_alphabetic() || letter == '%');
    let unit = &said[number.len()..];
    let number: f64 = number.parse().ok().filter(|number: &f64| number.is_finite())?;
    match units.iter().find(|(name, _)| name.eq_ignore_ascii_case(unit)) {
        // Far beyond all measure is none.
        Some((_, size)) => Some(number * size).filter(|number| number.is_finite()),
        None => (unit.is_empty() && number == 0.0).then_some(0.0),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn units_become_pixels_and_degrees() {
        let of = |value: &str| transform(value).unwrap_or_default();
        assert_eq!(of("translate(20px, 10px) rotate(.25turn)"), "translate(20 10)rotate(90)");
        assert_eq!(of("translateY(-1in)scaleX(50%)"), "translate(0 -96)scale(0.5 1)");
        assert_eq!(of("MATRIX(1, .5, 0, 1, 3, 4)"), "matrix(1 0.5 0 1 3 4)");
        assert_eq!([of("none"), of("rotate(0)")], ["translate(0)", "rotate(0)"]);
        for none in [
            "translate(50%)",
            "rotate(20)",
            "translate(3 4)",
            "perspective(9px)",
            "rotate",
            "",
            "rotate(NaNdeg)",
            "translate(1e308in)",
            "rotate(-1e308turn)",
        ] {
            assert_eq!(transform(none), None, "{none}");
        }
    }
}
