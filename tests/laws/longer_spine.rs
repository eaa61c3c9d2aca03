//! A longer spine moves one panel, and changes nothing that is found on it or on the other.

use crate::NONE;
use crate::chance::Chance;
use crate::lots::{rounds, try_law};
use jaconet::testing::CoverTester;

/// Elements with faults at random on the front and the back, each hanging on its own panel.
fn faulty_spread(chance: &mut Chance, pages: &str) -> String {
    let mut element = |name: String, fold: &str| {
        let (top, gap, size) = (chance.between(2.0, 180.0), chance.between(0.5, 40.0), chance.between(3.5, 9.0));
        let (tint, weight) = (chance.one(&[8, 30, 70, 100]), chance.between(0.05, 0.6));
        let side = *chance.one(&[fold, "left", "right"]);
        // What is measured from the outer side of the front, too, hangs on the front alone.
        let place = match side {
            "left" | "right" => format!("{side} {gap:.2}"),
            fold => fold.replace("GAP", &format!("{gap:.2}")),
        };
        match chance.below(3) {
            0 => format!(
                "text {name} words=\"Salt and Lanterns\" {{ {place}; width 60; top {top:.2}; size {size:.2}; swatch black percent={tint} }}\n"
            ),
            1 => format!(
                "rule {name} {{ {place}; width 30; top {top:.2}; weight {weight:.2}; swatch black percent={tint} }}\n"
            ),
            _ => format!("band {name} {{ {place}; width 20; top {top:.2}; height 9; swatch deep percent={tint} }}\n"),
        }
    };
    let front: String = (0..4).map(|at| element(format!("f{at}"), "left fold GAP")).collect();
    let back: String = (0..4).map(|at| element(format!("b{at}"), "right fold GAP")).collect();
    format!(
        "book {{ title \"Salt and Lanterns\"; author \"Mirela Anand\"; pages {pages} }}\nformat paperback {{ trim 129 198 }}\n\
         swatches {{ swatch deep c=90 m=80 y=80 k=80 }}\npanel back {{\n{back}}}\npanel front {{\n{front}}}\n"
    )
}

/// A longer spine changes no finding of elements that hang on another panel. Measured values are not compared: a letter may
/// meet the pixels that it is measured in at another place.
#[test]
fn more_pages_change_no_finding_of_other_panels() {
    let trial = CoverTester::default();
    try_law("findings", rounds(6), |seed| {
        let mut chance = Chance::new(seed);
        let (fewer, more) = (160 + 16 * chance.below(10), 400 + 16 * chance.below(20));
        let cover = faulty_spread(&mut chance, "PAGES");
        let found = |pages: usize| -> Vec<(usize, &'static str, &'static str)> {
            let notes = trial.checked(&cover.replace("PAGES", &pages.to_string()), NONE).notes;
            // The panels begin on the fourth line.
            let mut all: Vec<_> =
                notes.iter().filter(|note| note.line > 3).map(|note| (note.line, note.rule, note.severity)).collect();
            all.sort_unstable();
            all
        };
        let before = found(fewer);
        assert!(!before.is_empty(), "nothing is found in\n{cover}");
        assert_eq!(before, found(more), "{fewer} and {more} pages\n{cover}");
    });
}
