//! Seeded faults: the clean examples with one change each, just within and just beyond a limit, and with two changes at once.
//! Whether a fault is there is measured in the press file by other programs (`tests/readers/probes.py`), whether it is found
//! is read from the report; the limits stand here as `docs/rules` has them. Waived findings are still reported, and let a
//! press file be written that can be measured.
#![expect(clippy::disallowed_methods, reason = "it lays out covers and runs the binary")]

#[path = "../kit/chance.rs"]
#[expect(dead_code, reason = "numbers are drawn here, not words")]
mod chance;
mod faults;
#[path = "../readers/kit.rs"]
#[expect(dead_code, reason = "covers are built here by the hundred")]
mod kit;
#[path = "../kit/lots.rs"]
#[expect(dead_code, reason = "the lots of this test are drawn all at once")]
mod lots;
#[path = "../kit/png.rs"]
mod png;
#[path = "../readers/python.rs"]
mod python;

use chance::Chance;
use faults::{FAULTS, Seed};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::Command;

/// An example, the file of its cover, and two places of 35 × 14 mm where nothing else stands: panel, left and top.
struct Base {
    folder: &'static str,
    sites: [(&'static str, f64, f64); 2],
}

const BASES: [Base; 5] = [
    Base { folder: "salt-and-lanterns", sites: [("front", 20.0, 131.0), ("back", 20.0, 159.0)] },
    Base { folder: "birzei-hapardes", sites: [("front", 8.0, 131.0), ("back", 60.0, 150.0)] },
    Base { folder: "the-quiet-instruments", sites: [("back", 43.0, 149.0), ("back", 99.0, 153.0)] },
    Base { folder: "harbour-quartet/noon-at-the-breakwater", sites: [("back", 41.0, 145.0), ("front", 59.0, 147.0)] },
    Base { folder: "harbour-quartet/a-ledger-of-tides", sites: [("back", 50.0, 145.0), ("back", 86.0, 167.0)] },
];
/// Of the two patches: the reader tells them apart by their widths.
const WIDTHS: [f64; 2] = [34.0, 34.5];
/// Of each fault on each example, by turns within and beyond the limit.
const ROUNDS: usize = 5;
const PAIRS: usize = 100;

struct Lot {
    name: String,
    seeds: Vec<Seed>,
}

#[test]
fn faults_are_found_where_other_programs_measure_them_and_nowhere_else() {
    let home = kit::room();
    let _ = std::fs::remove_dir_all(&home);
    let examples = Path::new(env!("CARGO_MANIFEST_DIR")).join("examples");
    copy(&examples, &home.join("examples"));
    let lots = lots();
    assert!(lots.len() >= 300, "{} covers", lots.len());
    let found = found(&home, &lots);
    let measured = measured(&home, &lots);
    let mut faults = Vec::new();
    let mut sides = BTreeMap::new();
    for lot in &lots {
        let (said, marks) = (&found[&lot.name], &measured[&lot.name]);
        let mut wanted = BTreeSet::new();
        for (seed, marks) in lot.seeds.iter().zip(marks) {
            let value = (seed.fault.measure)(marks);
            if seed.fault.exact && (value - seed.value).abs() > 0.01 * seed.value.abs().max(0.1) {
                faults.push(format!("{}: {} is {value} in the press file", lot.name, seed.value));
            }
            let beyond = if seed.fault.least { value < seed.fault.limit } else { value > seed.fault.limit };
            *sides.entry((seed.fault.rule, beyond)).or_insert(0) += 1;
            wanted.insert(if beyond {
                format!("waived {}", seed.fault.rule)
            } else {
                format!("unused {}", seed.fault.rule)
            });
        }
        if *said != wanted {
            let values: Vec<String> =
                lot.seeds.iter().map(|seed| format!("{} {}", seed.fault.rule, seed.value)).collect();
            faults.push(format!("{} ({values:?}): {said:?} is reported, {wanted:?} is measured", lot.name));
        }
    }
    assert!(faults.is_empty(), "{} of {}:\n{}", faults.len(), lots.len(), faults.join("\n"));
    // Every rule was met on both sides of its limit.
    let rules: BTreeSet<&str> = FAULTS.iter().map(|fault| fault.rule).collect();
    let fewest = sides.values().min().copied().unwrap_or_default();
    assert!(sides.len() == 2 * rules.len() && fewest >= 8, "{sides:?}");
}

fn lots() -> Vec<Lot> {
    let first = if std::env::var_os("JACONET_LONG").is_some() { lots::fresh() } else { 1 };
    let mut chance = Chance::new(first);
    let mut lots = Vec::new();
    for at in 0..BASES.len() {
        for (number, fault) in FAULTS.iter().enumerate() {
            for round in 0..ROUNDS {
                let seed = fault.seed(round % 2 == 0, &mut chance);
                lots.push(Lot { name: format!("one-{at}-{number}-{round}"), seeds: vec![seed] });
            }
        }
    }
    for pair in 0..PAIRS {
        let one = chance.below(FAULTS.len());
        let other = (one + 1 + chance.below(FAULTS.len() - 1)) % FAULTS.len();
        let seeds = [one, other].map(|at| FAULTS[at].seed(true, &mut chance));
        // Two faults of one rule have one waiver.
        if seeds[0].fault.rule != seeds[1].fault.rule {
            lots.push(Lot { name: format!("two-{}-{pair}", pair % BASES.len()), seeds: seeds.into() });
        }
    }
    lots
}

fn base_of(lot: &Lot) -> &'static Base {
    let at = lot.name.split('-').nth(1).and_then(|at| at.parse::<usize>().ok()).expect("the name says it");
    &BASES[at]
}

/// The cover of a lot: the example without its editions, and the patches with their faults.
fn text(base: &Base, home: &Path, lot: &Lot) -> String {
    let text = std::fs::read_to_string(home.join("examples").join(base.folder).join("cover.kdl")).expect("an example");
    let text = text.split("\nedition ").next().unwrap_or_default();
    let swatches: String = lot.seeds.iter().enumerate().map(|(at, seed)| seed.swatches(at)).collect();
    let mut text = text.replacen("\nswatches {\n", &format!("\nswatches {{\n{swatches}"), 1);
    assert!(text.contains(&swatches), "{} has swatches", base.folder);
    for (at, seed) in lot.seeds.iter().enumerate() {
        let (panel, left, top) = base.sites[at];
        let width = WIDTHS[at];
        let patch =
            format!("band patch-{at} {{ swatch ground-{at}; left {left}; width {width}; top {top}; height 14 }}");
        let probe = seed.element(at, left + 2.0, top + 3.0);
        let waiver = format!("waive {} reason=\"it is measured\"", seed.fault.rule);
        text = format!("{text}\npanel {panel} {{\n    {patch}\n    {probe}\n}}\n{waiver}\n");
    }
    text
}

/// What the report says of every lot: `waived RULE`, `unused RULE` for a waiver that silences nothing, or the rule itself.
fn found(home: &Path, lots: &[Lot]) -> BTreeMap<String, BTreeSet<String>> {
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    command.arg("build");
    for base in &BASES {
        let art = home.join("examples").join(base.folder).join("probe.png");
        std::fs::write(art, faults::picture()).expect("writes a picture");
    }
    for lot in lots {
        let base = base_of(lot);
        let file = home.join("examples").join(base.folder).join(format!("{}.kdl", lot.name));
        std::fs::write(&file, text(base, home, lot)).expect("writes a cover");
        command.arg(file);
    }
    let run = command
        .arg("--out")
        .arg(out(home))
        .args(["--only", "press", "--surround", "trim", "--report", "json"])
        .output();
    let run = run.expect("the binary runs");
    let report: Value = serde_json::from_slice(&run.stdout)
        .unwrap_or_else(|_| panic!("a report: {}", String::from_utf8_lossy(&run.stderr)));
    let said = |finding: &Value| {
        let (rule, message) =
            (finding["rule"].as_str().unwrap_or_default(), finding["message"].as_str().unwrap_or_default());
        let named = message.split('`').nth(1).unwrap_or_default();
        match rule {
            "waiver-unused" => format!("unused {named}"),
            _ if message.starts_with("waived: ") => format!("waived {rule}"),
            _ => format!("{rule}: {message}"),
        }
    };
    let covers = report["covers"].as_array().expect("covers");
    covers
        .iter()
        .map(|cover| {
            let path = Path::new(cover["cover"].as_str().expect("a path"));
            let name = path.file_stem().expect("a name").to_string_lossy().into_owned();
            (name, cover["findings"].as_array().expect("findings").iter().map(said).collect())
        })
        .collect()
}

fn out(home: &Path) -> PathBuf {
    home.join("out")
}

/// What another program reads on the patches of every press file.
fn measured(home: &Path, lots: &[Lot]) -> BTreeMap<String, Vec<Value>> {
    let files: Vec<String> =
        lots.iter().map(|lot| kit::shown(&out(home).join(format!("{}-press.pdf", lot.name)))).collect();
    let words: Vec<&str> = files.iter().map(String::as_str).collect();
    let mut all = BTreeMap::new();
    for line in python::python("probes.py", &words).lines() {
        let marks: Value = serde_json::from_str(line).expect("JSON");
        let file = Path::new(marks["file"].as_str().expect("a file")).file_name().expect("a name").to_string_lossy();
        let name = file.trim_end_matches("-press.pdf").to_owned();
        all.entry(name).or_insert_with(Vec::new).push(marks);
    }
    for lot in lots {
        assert_eq!(all.get(&lot.name).map(Vec::len), Some(lot.seeds.len()), "the patches of {}", lot.name);
    }
    all
}

fn copy(from: &Path, to: &Path) {
    std::fs::create_dir_all(to).expect("makes a folder");
    for entry in std::fs::read_dir(from).expect("a folder").flatten() {
        let target = to.join(entry.file_name());
        if entry.path().is_dir() {
            copy(&entry.path(), &target);
        } else {
            std::fs::copy(entry.path(), target).expect("copies");
        }
    }
}
