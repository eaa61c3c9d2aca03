//! Inks within a limit, as another colour engine sees them: what is printed looks as it did, and the finding tells the cost.

use crate::kit::{cover, room, shown};
use crate::python::python;
use std::process::Command;

fn text(limit: &str) -> String {
    format!(
        "book {{ title \"Deep\"; pages 320 }}\nformat paperback {{ trim 129 198 }}\n
panel front {{ image deep file=\"deep.png\" {{ {limit}left 20; width 20; top 40 }} }}\n"
    )
}

#[test]
fn a_limited_picture_looks_as_it_did_and_the_finding_says_what_it_cost() {
    let built = ["deep-free", "deep-limited"].map(|name| {
        let folder = room().join("covers").join(name);
        std::fs::create_dir_all(&folder).expect("makes a folder");
        python("limited.py", &["make", &shown(&folder)]);
        let limit = if name == "deep-free" { "" } else { "limit-inks 240; " };
        cover(name, &text(limit), &[], &["--only", "press"])
    });
    let said = python("limited.py", &["compare", &shown(&built[0].press()), &shown(&built[1].press())]);
    let said: Vec<f64> = said.split_whitespace().map(|number| number.parse().expect("a number")).collect();
    let [free, limited, changed, mean, most, saved] = said[..] else { panic!("{said:?}") };
    assert!(free > 270.0 && limited <= 240.0, "{said:?}");
    // Pillow has CIELAB in 8 bits: a and b in whole steps, of which two dark colours may each be half a one off.
    assert!(mean < 0.5 && most < 2.5 && saved > 3.0, "{said:?}");
    let checked = Command::new(env!("CARGO_BIN_EXE_jaconet")).arg("check").arg(&built[1].source).output();
    let checked = String::from_utf8_lossy(&checked.expect("the binary runs").stderr).into_owned();
    let line =
        checked.lines().find(|line| line.contains("kept within 240 % of ink")).unwrap_or_else(|| panic!("{checked}"));
    let number = |before: &str| -> f64 {
        let rest = line.split_once(before).unwrap_or_else(|| panic!("{line}")).1;
        rest.split(' ').next().and_then(|word| word.parse().ok()).unwrap_or_else(|| panic!("{line}"))
    };
    assert!((number("of ink: ") - changed).abs() <= 1.0, "{line} {said:?}");
    // A whole step of a near grey counts one and a half, and one of b beside it makes 1.8 together.
    assert!(
        (number("change, by ") - mean).abs() <= 0.3 && (-0.3..=1.8).contains(&(most - number("average and "))),
        "{line} {said:?}"
    );
}
