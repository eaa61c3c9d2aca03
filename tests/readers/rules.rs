//! Rules: PDF/X-4 as we read it, asked with another PDF library. Not certification; the script's head says why.

use crate::kit::{cover, examples, shown};
use crate::patches::{files, text};
use crate::python::python;

#[test]
fn every_press_file_keeps_the_rules_as_read() {
    let files = files();
    let files: Vec<(&str, &[u8])> = files.iter().map(|(name, bytes)| (*name, bytes.as_slice())).collect();
    let patches = cover("rules", &text(""), &files, &["--only", "press", "--surround", "bleed"]);
    // A printer's own profile, with its own name for the press.
    let own = include_bytes!("../../src/assets/profiles/uncoated-fogra29.icc");
    let front = text("").replace("press coated", "press profile=\"own.icc\" condition=\"Quay 4\"");
    let own = cover("rules-own", &front, &[files.as_slice(), &[("own.icc", own)]].concat(), &["--only", "press"]);
    let mut asked = Vec::new();
    for built in examples().iter().chain([&patches, &own]) {
        asked.push(python("rules.py", &[&shown(&built.press())]));
    }
    // Each of these was met somewhere, so that no search looked in the wrong place.
    for kind in ["metadata", "inks", "states", "fonts", "layers"] {
        let counts = asked.iter().flat_map(|stated| stated.lines()).filter_map(|line| line.strip_prefix(kind));
        let met: usize = counts.filter_map(|count| count.trim().parse::<usize>().ok()).sum();
        assert!(met > 0, "no {kind} in {asked:?}");
    }
}

#[test]
fn the_rules_see_every_damage() {
    let built = examples().iter().find(|built| built.stem == "the-quiet-instruments").expect("the example is there");
    let stated = python("damage.py", &[&shown(&built.press()), &built.beside("damaged.pdf")]);
    assert_eq!(stated.matches("seen: ").count(), 106, "{stated}");
}
