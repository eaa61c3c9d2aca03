//! Shares: the work of a catalogue divided among machines, as docs/many-machines.md says it.
#![expect(clippy::disallowed_methods, reason = "it plays the machines, which share a disk or not")]

use crate::house::{House, TITLES, names};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write as _;

/// Three shares, each with something to do.
fn large() -> House {
    let house = House::new();
    let mut rows = TITLES.to_owned();
    for number in 1..=6 {
        writeln!(rows, "Volume {number},{},en-GB,200,,,,", isbn(number)).expect("a string takes every line");
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
    // Press file, proof, report, and four pictures: flat, front, spine, back.
    assert_eq!(whole.len(), 10 * 7);
    let mut joined = BTreeMap::new();
    for part in 1..=3 {
        let (exit, reported) = house.build(&format!(". --share {part}/3 --out shared --no-store"));
        assert_eq!((exit, names(&reported, "built").is_empty()), (0, false), "{reported:#}");
        assert_eq!(house.build(&format!(". --share {part}/3 --out part-{part} --no-store")).0, 0);
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
            let (exit, out, error) = house.run(&format!("check . --report json --share {part}/3"));
            assert_eq!(exit, 0, "{error}");
            let reported: serde_json::Value = serde_json::from_str(&out).expect("is JSON");
            let names =
                reported["covers"].as_array().expect("a list").iter().map(|cover| (cover["name"].to_string(), part));
            names.collect::<Vec<_>>()
        };
        (1..=3).flat_map(part).collect::<BTreeSet<(String, u32)>>()
    };
    let before = parts();
    house.swap("titles.csv", "overrides\n", "overrides\nDawn,978-1-83744-999-6,en-GB,96,,,,\n");
    let after = parts();
    assert_eq!((before.len(), after.len()), (10, 11));
    assert!(after.is_superset(&before));
}

/// The blocks of the page, each with its kind.
fn blocks_of_the_page() -> Vec<(String, String)> {
    let page = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("docs/many-machines.md");
    let page = std::fs::read_to_string(page).expect("is there");
    let blocks = page.split("```").skip(1).step_by(2).filter_map(|block| block.split_once('\n'));
    blocks.map(|(kind, text)| (kind.to_owned(), text.to_owned())).collect()
}

/// Runs shell lines with the binary on the path, as a machine that has this part.
fn shell(house: &House, lines: &str, part: u32, environment: &[(&str, String)]) {
    let binary = std::path::Path::new(env!("CARGO_BIN_EXE_jaconet")).parent().expect("a folder").to_owned();
    let path = std::env::var_os("PATH").unwrap_or_default();
    let path = std::env::join_paths([binary].into_iter().chain(std::env::split_paths(&path)));
    let mut shell = std::process::Command::new("sh");
    shell.current_dir(house.folder()).env("PATH", path.expect("no colon within")).arg("-ec").arg(lines);
    shell.env("JACONET_STORE", ".store").envs(environment.iter().map(|(name, value)| (name, value)));
    let output = shell.output().expect("there is a shell");
    assert!(output.status.success(), "part {part}: {lines}: {}", String::from_utf8_lossy(&output.stderr));
}

/// The catalogue where the page has it, and all that a single run makes of it in `whole`.
fn large_as_on_the_page() -> House {
    let house = large();
    std::fs::create_dir(house.folder().join("lists")).expect("a folder");
    for name in ["catalogue.kdl", "template.kdl", "titles.csv", "art", "overrides"] {
        std::fs::rename(house.folder().join(name), house.folder().join("lists").join(name)).expect("moves");
    }
    assert_eq!(house.build("lists --out whole --no-store").0, 0);
    house
}

/// Where a scheduler is at hand (Slurm; one node is enough), the page's script is handed to it. Its lines run by a plain
/// shell in the next test, on any machine.
#[test]
fn a_scheduler_runs_the_script_of_the_page() {
    let answers = std::process::Command::new("scontrol").arg("ping").output();
    if !answers.is_ok_and(|output| String::from_utf8_lossy(&output.stdout).contains("UP")) {
        return;
    }
    let house = large_as_on_the_page();
    let script = &blocks_of_the_page()[1].1;
    std::fs::write(house.folder().join("covers.sh"), script).expect("the script");
    // Smaller machines run it, too: what is asked for is taken back at the command line.
    shell(&house, "sbatch --wait --cpus-per-task=1 --mem=0 covers.sh", 0, &[]);
    assert!(house.files("whole") == house.files("build"), "an array job");
    std::fs::remove_dir_all(house.folder().join("build")).expect("was written");
    (1..=5).for_each(|part| {
        shell(&house, &format!("sbatch --wait --cpus-per-task=1 --mem=0 --array={part} covers.sh"), part, &[]);
    });
    assert!(house.files("whole") == house.files("build"), "each part again, by itself");
}

#[test]
fn the_lines_of_the_page_make_the_whole() {
    let house = large_as_on_the_page();
    let whole = house.files("whole");
    let blocks = blocks_of_the_page();
    let kinds: Vec<&str> = blocks.iter().map(|(kind, _)| kind.as_str()).collect();
    assert_eq!(kinds, ["sh", "sh", "sh", "yaml"]);
    let clear = || std::fs::remove_dir_all(house.folder().join("build")).expect("was written");
    let named = |part: u32| [("PART", part.to_string()), ("PARTS", "5".to_owned())];

    (1..=5).for_each(|part| shell(&house, &blocks[0].1, part, &named(part)));
    assert!(whole == house.files("build"), "into one folder");
    clear();

    // As Slurm gives it to the script (its manual of `sbatch`): a run of one part again is one task.
    let slurm = |part: u32, tasks: u32| {
        [
            ("SLURM_ARRAY_TASK_ID", part.to_string()),
            ("SLURM_ARRAY_TASK_COUNT", tasks.to_string()),
            ("SLURM_CPUS_PER_TASK", "2".to_owned()),
        ]
    };
    (1..=5).for_each(|part| shell(&house, &blocks[1].1, part, &slurm(part, 5)));
    assert!(whole == house.files("build"), "an array job");
    let lost: Vec<String> = whole.keys().filter(|name| name.starts_with("salt-")).cloned().collect();
    for name in &lost {
        std::fs::remove_file(house.folder().join("build").join(name)).expect("is there");
    }
    (1..=5).for_each(|part| shell(&house, &blocks[1].1, part, &slurm(part, 1)));
    assert!(whole == house.files("build"), "each part again, by itself");
    let report = std::fs::read_to_string(house.folder().join("build-5.json")).expect("is written");
    assert!(report.contains("\"covers\""), "{report}");
    clear();

    let runs = blocks[3].1.lines().filter_map(|line| line.trim().strip_prefix("- run: "));
    let build: Vec<&str> = runs.filter(|line| line.starts_with("jaconet ")).collect();
    assert_eq!(build.len(), 1, "{build:?}");
    (1..=5).for_each(|part| shell(&house, build[0], part, &named(part)));
    // The service puts the folders of the parts into one, as `merge-multiple` says.
    let parts: Vec<_> = (1..=5).flat_map(|part| house.files(&format!("build-{part}"))).collect();
    assert_eq!(parts.len(), whole.len(), "no file is made twice");
    assert!(parts.into_iter().collect::<BTreeMap<_, _>>() == whole, "a build matrix");
}
