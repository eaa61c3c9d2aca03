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
        writeln!(rows, "Volume {number},{},en-GB,200,,,", isbn(number)).expect("a string takes every line");
    }
    house.write("titles.csv", rows);
    house
}

/// Its check digit by ISO 2108: every second digit three times, a sum of tens.
fn isbn(number: u32) -> String {
    let digits = format!("978183744{:03}", 200 + number);
    let sum: u32 =
        digits.chars().zip([1, 3].into_iter().cycle()).map(|(c, weight)| c.to_digit(10).unwrap_or(0) * weight).sum();
    format!("{digits}{}", (10 - sum % 10) % 10)
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
    house.swap("titles.csv", "overrides\n", "overrides\nDawn,978-1-83744-999-6,en-GB,96,,,\n");
    let after = parts();
    assert_eq!((before.len(), after.len()), (10, 11));
    assert!(after.is_superset(&before));
}

/// The lines of the page that build, with all that stands in the environment or in the matrix.
fn lines_of_the_page() -> Vec<String> {
    let page = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/many-machines.md");
    let page = std::fs::read_to_string(page).expect("is there");
    let shell = page.lines().map(|line| line.trim().trim_start_matches("- run: "));
    shell
        .filter(|line| line.starts_with("jaconet ") || line.starts_with("mkdir ") || is_variable(line))
        .map(str::to_owned)
        .collect()
}

/// `PART="$SLURM_ARRAY_TASK_ID"`.
fn is_variable(line: &str) -> bool {
    line.split_once('=').is_some_and(|(name, _)| name.starts_with("PART"))
}

#[test]
fn the_lines_of_the_page_make_the_whole() {
    let house = large();
    std::fs::create_dir(house.folder().join("lists")).expect("a folder");
    for name in ["catalogue.kdl", "template.kdl", "titles.csv", "art", "overrides"] {
        std::fs::rename(house.folder().join(name), house.folder().join("lists").join(name)).expect("moves");
    }
    assert_eq!(house.build("lists --out whole --no-store").0, 0);
    let whole = house.files("whole");
    let binary = std::path::Path::new(env!("CARGO_BIN_EXE_jaconet")).parent().expect("a folder").to_owned();
    let shell = |line: &str, part: u32| {
        let path = std::env::var_os("PATH").unwrap_or_default();
        let path = std::env::join_paths([binary.clone()].into_iter().chain(std::env::split_paths(&path)));
        let mut shell = std::process::Command::new("sh");
        shell.current_dir(house.folder()).env("PATH", path.expect("no colon within")).arg("-ec").arg(line);
        shell.env("PART", part.to_string()).env("PARTS", "5").env("JACONET_STORE", ".store");
        shell.env("SLURM_ARRAY_TASK_ID", part.to_string()).env("SLURM_ARRAY_TASK_COUNT", "5");
        let output = shell.output().expect("there is a shell");
        assert!(output.status.success(), "{line}: {}", String::from_utf8_lossy(&output.stderr));
    };
    let lines = lines_of_the_page();
    let (plain, array, matrix, join) = match &lines[..] {
        [plain, part, parts, array, matrix, join] => (plain, [part, parts, array], matrix, join),
        other => panic!("{other:#?}"),
    };
    let clear = || std::fs::remove_dir_all(house.folder().join("build")).expect("was written");
    (1..=5).for_each(|part| shell(plain, part));
    assert!(whole == house.files("build"), "into one folder");
    clear();
    (1..=5).for_each(|part| shell(&format!("unset PART PARTS\n{}\n{}\n{}", array[0], array[1], array[2]), part));
    assert!(whole == house.files("build"), "an array job");
    assert!(house.folder().join("build-5.json").is_file());
    (1..=5).for_each(|part| std::fs::remove_file(house.folder().join(format!("build-{part}.json"))).expect("is there"));
    clear();
    (1..=5).for_each(|part| shell(matrix, part));
    shell(join, 0);
    assert!(whole == house.files("build"), "a build matrix");
}
