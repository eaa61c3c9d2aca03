//! Variable: the letters of variable fonts in the press file are those that another reader draws at the same place.

use crate::kit::{cover, shown};
use crate::python::python;
use std::path::Path;

/// A unit of a font's grid: places between two masters are rounded to it.
const UNIT: f64 = 1.0;

/// Three places of one font: a weight between masters with the optical size of its points, two axes by name, and points
/// beyond the axis. fontTools reads the font itself, interpolates its outlines and widths, and compares.
#[test]
fn a_press_file_has_the_letters_of_its_place() {
    let text = r#"
book { title "Salt"; pages 96 }
format paperback { trim 129 198 }
panel front {
    text found words="Hamburgevons" { left 15; top 20; font "Inter" weight=620; size 20 }
    text named words="Hamburgevons" { left 15; top 50; font "Inter"; axis wght=250 opsz=28; size 9 }
    text large words="Ragbes" { left 15; top 80; font "Inter"; size 60 }
}
"#;
    let built = cover("variable", text, &[], &["--only", "press"]);
    let source = Path::new(env!("CARGO_MANIFEST_DIR")).join("fonts-open/Inter/InterVariable.ttf");
    let places = [
        "Inter_620wght_20opsz=wght:620,opsz:20",
        "Inter_250wght_28opsz=wght:250,opsz:28",
        "Inter_400wght_32opsz=wght:400,opsz:32",
    ];
    let words: Vec<String> =
        [shown(&built.press()), shown(&source)].into_iter().chain(places.map(str::to_owned)).collect();
    let stated = python("variable.py", &words.iter().map(String::as_str).collect::<Vec<_>>());
    let lines: Vec<Vec<&str>> = stated.lines().map(|line| line.split(' ').collect()).collect();
    assert_eq!(lines.len(), places.len(), "{stated}");
    for line in lines {
        let number = |at: usize| line[at].parse::<f64>().expect("a number");
        assert!(number(1) >= 6.0 && number(2) <= UNIT && number(3) <= 0.6, "{stated}");
    }
}
