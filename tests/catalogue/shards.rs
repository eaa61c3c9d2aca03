//! Shards: the work of a catalogue divided among machines, as docs/many-machines.md says it.
#![expect(clippy::disallowed_methods, reason = "it plays the machines, which share a disk or not")]

use crate::house::{House, TITLES, names};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

/// Three shards, each with something to do.
fn large() -> House {
    let house = House::new();
    let mut rows = TITLES.to_owned();
    for number in 1..=6 {
        writeln!(rows, "Volume {number},978-1-83744-101-3,en-GB,200,,,").expect("a string takes every line");
    }
    house.write("titles.csv", rows);
    house
}

#[test]
fn the_parts_make_the_whole() {
    let house = large();
    assert_eq!(house.build(". --out whole --no-store").0, 0);
    let whole = house.files("whole");
    assert_eq!(whole.len(), 10 * 6);
    let mut joined = BTreeMap::new();
    for part in 1..=3 {
        let (exit, told) = house.build(&format!(". --shard {part}/3 --out shared --no-store"));
        assert_eq!((exit, names(&told, "built").is_empty()), (0, false), "{told:#}");
        assert_eq!(house.build(&format!(". --shard {part}/3 --out part-{part} --no-store")).0, 0);
        for (name, bytes) in house.files(&format!("part-{part}")) {
            assert!(joined.insert(name, bytes).is_none(), "no file is made twice");
        }
    }
    assert!(whole == house.files("shared") && whole == joined);
}

#[test]
fn another_row_moves_no_title() {
    let house = large();
    let parts = || {
        let part = |part: u32| {
            let (exit, out, error) = house.run(&format!("check . --report json --shard {part}/3"));
            assert_eq!(exit, 0, "{error}");
            let names = out.lines().map(|line| {
                let told: serde_json::Value = serde_json::from_str(line).expect("is JSON");
                (told["name"].to_string(), part)
            });
            names.collect::<Vec<_>>()
        };
        (1..=3).flat_map(part).collect::<BTreeSet<(String, u32)>>()
    };
    let before = parts();
    house.swap("titles.csv", "overrides\n", "overrides\nDawn,978-1-83744-101-3,en-GB,96,,,\n");
    let after = parts();
    assert_eq!((before.len(), after.len()), (10, 11));
    assert!(after.is_superset(&before));
}
