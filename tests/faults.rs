//! Faults: clean examples changed by seed, each fault just within and just beyond its limit, and faults in pairs.
//!
//! Whatever is beyond its limit is found, whatever is within is not, and nothing else is reported. Which side of the limit
//! a cover is on is not taken from the design: `tests/readers/faults.py` measures it in the press file, or in the picture.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

use jaconet::testing::CoverTester;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

#[path = "faults/bases.rs"]
mod bases;
#[path = "faults/copy.rs"]
mod copy;
#[path = "faults/facts.rs"]
mod facts;
#[path = "faults/inks.rs"]
mod inks;
#[path = "readers/kit.rs"]
#[expect(dead_code, reason = "other readers use more of it")]
mod kit;
#[path = "faults/lines.rs"]
mod lines;
#[path = "faults/list.rs"]
mod list;
#[path = "faults/pictures.rs"]
mod pictures;
#[path = "readers/python.rs"]
mod python;

use bases::{Base, bases};
use list::{Fault, Spot, faults};

/// Values tried on each side of every limit.
const SEEDS: usize = 4;
const PAIRS: usize = 120;
const WORKERS: usize = 2;

type Found = Vec<(String, String)>;

/// One cover to be made, and what is expected of it.
struct FaultyCover<'a> {
    name: String,
    base: &'a Base,
    faults: Vec<(&'static Fault, f64)>,
    expected: Found,
}

#[test]
fn each_fault_on_both_sides_of_its_limit() {
    let shown = shown_pictures();
    let bases = bases(&shown);
    let mut draw = Draw(20_261_127);
    let mut covers = Vec::new();
    for fault in faults() {
        for seed in 0..SEEDS {
            for is_beyond in [false, true] {
                let base = &bases[seed % bases.len()];
                let value = draw.value(fault, is_beyond);
                let expected = found(if is_beyond { fault.beyond } else { fault.within });
                let name = format!("{}-{seed}-{}", fault.name, if is_beyond { "beyond" } else { "within" });
                covers.push(FaultyCover { name, base, faults: vec![(fault, value)], expected });
            }
        }
    }
    let home = room("single");
    let reported = check(&covers, Some(&home));
    let wrong: Vec<String> =
        covers.iter().zip(&reported).filter_map(|(cover, found)| difference(cover, found)).collect();
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), covers.len(), wrong.join("\n"));
    measured(&covers, &home, &shown);
}

#[test]
fn faults_in_pairs_are_both_found() {
    let shown = shown_pictures();
    let bases = bases(&shown);
    let mut draw = Draw(19_930_705);
    let faults = faults();
    let mut covers: Vec<FaultyCover<'_>> = Vec::new();
    while covers.len() < PAIRS {
        let (one, other) = (draw.below(faults.len()), draw.below(faults.len()));
        let pair = [faults[one.min(other)], faults[one.max(other)]];
        let name = format!("{} and {}", pair[0].name, pair[1].name);
        // Faults may share the names of their inks.
        let inks = pair.map(|fault| (fault.inks)(&spot(&bases[0])));
        if one == other || (inks[0] == inks[1] && !inks[0].is_empty()) {
            continue;
        }
        if covers.iter().any(|cover| cover.name == name) {
            continue;
        }
        let faults: Vec<_> = pair.map(|fault| (fault, draw.value(fault, true))).to_vec();
        let mut expected: Found = pair.iter().flat_map(|fault| found(fault.beyond)).collect();
        // Two faults that are each within the six units of a press may have more plates together: four process inks and
        // the spots of both.
        let spots = inks.concat().matches("spot ").count() - inks.concat().matches("finishing=").count();
        let many = found(&[("warning", "many-plates")]);
        if spots > 2 && !expected.contains(&many[0]) {
            expected.extend(many);
        }
        expected.sort();
        covers.push(FaultyCover { name, base: &bases[covers.len() % bases.len()], faults, expected });
    }
    let reported = check(&covers, None);
    let wrong: Vec<String> =
        covers.iter().zip(&reported).filter_map(|(cover, found)| difference(cover, found)).collect();
    assert!(wrong.is_empty(), "{} of {}:\n{}", wrong.len(), covers.len(), wrong.join("\n"));
}

fn spot(base: &Base) -> Spot<'_> {
    Spot { x: 0.0, y: 0.0, value: 1.0, number: 0, base }
}

fn found(stated: &[(&str, &str)]) -> Found {
    stated.iter().map(|(severity, rule)| ((*severity).to_owned(), (*rule).to_owned())).collect()
}

fn difference(cover: &FaultyCover<'_>, found: &Found) -> Option<String> {
    let mut expected = cover.expected.clone();
    expected.sort();
    let values: Vec<f64> = cover.faults.iter().map(|(_, value)| *value).collect();
    (expected != *found)
        .then(|| format!("{} {values:?} on {}: expected {expected:?}, found {found:?}", cover.name, cover.base.name))
}

/// The text of a cover with its faults.
fn text(cover: &FaultyCover<'_>) -> String {
    let (mut inks, mut marks, mut facts, mut top) = (String::new(), String::new(), String::new(), String::new());
    for (number, (fault, value)) in cover.faults.iter().enumerate() {
        let (x, y) = cover.base.places[number];
        let spot = Spot { x, y, value: *value, number, base: cover.base };
        inks += &((fault.inks)(&spot) + "\n");
        marks += &((fault.marks)(&spot) + "\n");
        facts += &((fault.facts)(&spot) + "\n");
        top += &((fault.top)(&spot) + "\n");
    }
    cover.base.text.replace("INKS", &inks).replace("MARKS", &marks).replace("FACTS", &facts) + &top
}

/// What is found of each, in their order; press files are written to a folder.
fn check(covers: &[FaultyCover<'_>], home: Option<&Path>) -> Vec<Found> {
    let next = AtomicUsize::new(0);
    let all: Mutex<BTreeMap<usize, Found>> = Mutex::default();
    let work = || {
        let tester = CoverTester::default();
        loop {
            let at = next.fetch_add(1, Ordering::Relaxed);
            let Some(cover) = covers.get(at) else { break };
            let files = cover.base.files.iter().map(|(path, bytes)| (path.as_str(), bytes.as_slice()));
            let tested = tester.checked(&text(cover), files);
            let scene = tested.scene.unwrap_or_else(|| panic!("{}: {:?}", cover.name, tested.notes));
            if let Some(home) = home {
                let press = tester.press(&scene);
                std::fs::write(home.join(format!("{}.pdf", cover.name)), press).expect("writes a press file");
                std::fs::write(home.join(format!("{}.kdl", cover.name)), text(cover)).expect("writes a cover");
            }
            let mut found: Found =
                tested.notes.into_iter().map(|found| (found.severity.to_owned(), found.rule.to_owned())).collect();
            found.sort();
            all.lock().expect("no worker fails with the lock held").insert(at, found);
        }
    };
    std::thread::scope(|scope| (0..WORKERS).for_each(|_| drop(scope.spawn(work))));
    all.into_inner().expect("all workers are done").into_values().collect()
}

/// Every cover lies on the side of its limit that it was made for, as another program measures it.
fn measured(covers: &[FaultyCover<'_>], home: &Path, pictures: &Path) {
    let asked = covers.iter().map(|cover| {
        let (fault, value) = cover.faults[0];
        let measure = fault.measure.replace("wrong", cover.base.wrong_name);
        format!("{}.pdf\t{value}\t{measure}", cover.name)
    });
    let list = home.join("list.tsv");
    std::fs::write(&list, asked.collect::<Vec<String>>().join("\n")).expect("writes the list");
    let stated = python::python("faults.py", &["measure", &kit::shown(home), &kit::shown(pictures)]);
    let values: Vec<f64> = stated.lines().map(|line| line.parse().expect("a number a line")).collect();
    assert_eq!(values.len(), covers.len(), "{stated}");
    let mut wrong = Vec::new();
    for (cover, measured) in covers.iter().zip(values) {
        let fault = cover.faults[0].0;
        let is_beyond = if fault.over { measured > fault.limit } else { measured < fault.limit };
        if is_beyond != cover.name.ends_with("beyond") {
            wrong.push(format!("{}: {} measured, the limit is {}", cover.name, measured, fault.limit));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Pictures with faults, made by another program.
fn shown_pictures() -> PathBuf {
    static MADE: std::sync::Once = std::sync::Once::new();
    let place = kit::room().join("pictures");
    MADE.call_once(|| {
        std::fs::create_dir_all(&place).expect("makes a folder");
        python::python("faults.py", &["make", &kit::shown(&place)]);
    });
    place
}

fn room(name: &str) -> PathBuf {
    let place = kit::room().join(name);
    std::fs::create_dir_all(&place).expect("makes a folder");
    place
}

/// Numbers drawn by a seed: a linear congruential generator with the constants of Knuth's MMIX.
struct Draw(u64);

impl Draw {
    fn share(&mut self) -> f64 {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (self.0 >> 11) as f64 / (1_u64 << 53) as f64
    }

    fn below(&mut self, end: usize) -> usize {
        (self.share() * end as f64) as usize
    }

    fn value(&mut self, fault: &Fault, is_beyond: bool) -> f64 {
        let (least, most) = fault.aside;
        let aside = least + (most - least) * self.share();
        let value = if fault.over == is_beyond { fault.limit + aside } else { fault.limit - aside };
        let rounded = (value / fault.step).round() * fault.step;
        (rounded * 1000.0).round() / 1000.0
    }
}
