//! Measured: what the bundled conditions say of their presses, patch by patch against the open characterisation data.

use crate::kit::{cover, shown};
use crate::python::python;

fn text(condition: &str) -> String {
    format!(
        "book {{ title \"Patches\"; pages 320 }}\nformat paperback {{ trim 129 198 }}\npress {condition}\n
panel front {{ band ground {{ swatch black; left 20; width 20; top 40; height 20 }} }}\n"
    )
}

/// Patches, and the median and the largest difference (CIEDE2000) of what a condition's press file says and a set measured,
/// where the press prints so many percent of the free paper too much.
fn off(condition: &str, set: &str, gain: &str) -> [f64; 3] {
    let built = cover(&format!("measured-{condition}-{set}-{gain}"), &text(condition), &[], &["--only", "press"]);
    let said = python("measured.py", &[&shown(&built.press()), set, gain]);
    let numbers: Vec<f64> = said.split_whitespace().map(|word| word.parse().expect("a number")).collect();
    numbers.try_into().unwrap_or_else(|numbers| panic!("{numbers:?}"))
}

const SETS: [(&str, &str, f64); 2] = [("coated", "FOGRA39L", 1617.0), ("uncoated", "FOGRA29L", 1485.0)];

/// Pillow reads CIELAB in 8 bits: whole steps of a and b are half a one off at most, which is most of the median. In double
/// precision 0.50 and 0.17 are the largest (`src/assets/profiles/README.md`).
const MEDIAN: f64 = 0.3;
const LARGEST: f64 = 1.0;

#[test]
fn a_bundled_condition_looks_as_its_patches_were_measured() {
    for (condition, set, patches) in SETS {
        let [read, median, largest] = off(condition, set, "0");
        assert!((read - patches).abs() < 0.5, "{set}: {read} patches");
        assert!(median < MEDIAN && largest < LARGEST, "{condition}: {median} and at most {largest} off {set}");
    }
}

/// One percent of dot gain, and the set of the paper that is most alike, are seen by both limits.
#[test]
fn a_little_dot_gain_and_another_paper_are_seen() {
    let others = [("coated", "FOGRA28L", "0"), ("uncoated", "FOGRA30L", "0")];
    for (condition, set, gain) in SETS.map(|(condition, set, _)| (condition, set, "1")).into_iter().chain(others) {
        let [_, median, largest] = off(condition, set, gain);
        assert!(median > MEDIAN && largest > LARGEST, "{condition}: {median} and at most {largest} off {set}");
    }
}
