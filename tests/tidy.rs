//! Tidy: the house enforced: who imports whom, which door a borrowed crate has, how files begin and how long they are.
#![expect(clippy::disallowed_methods, reason = "it reads the house")]

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

#[path = "tidy/circles.rs"]
mod circles;
#[path = "tidy/doors.rs"]
mod doors;
#[path = "kit/files.rs"]
mod files;
#[path = "kit/house.rs"]
mod house;
#[path = "kit/paths.rs"]
mod paths;
#[path = "tidy/plain.rs"]
mod plain;
#[path = "tidy/type_names.rs"]
mod type_names;
#[path = "tidy/word_lists.rs"]
mod word_lists;

use files::below;
use house::{bare, code_of, rooms_used, test_modules};

/// Every room and the rooms below it that it may import.
const ROOMS: [(&str, &[&str]); 21] = [
    ("ground", &[]),
    ("assets", &["ground"]),
    ("source", &["ground", "assets"]),
    ("printed", &["ground", "assets"]),
    ("typeset", &["ground", "assets"]),
    ("scene", &["ground", "assets"]),
    ("cover", &["ground", "assets", "printed", "typeset", "scene"]),
    ("pdf", &["ground", "assets", "scene"]),
    ("raster", &["ground", "assets", "scene"]),
    ("view", &["ground", "scene"]),
    ("language", &["ground", "assets", "source", "printed", "typeset", "scene", "cover"]),
    ("check", &["ground", "assets", "source", "printed", "typeset", "scene", "cover", "raster"]),
    ("output", &["ground", "assets", "source", "typeset", "scene", "pdf", "raster", "view"]),
    ("returned", &["ground", "assets", "printed", "scene", "raster"]),
    ("disk", &["ground", "assets"]),
    ("record", &["ground", "assets", "source", "scene", "cover", "language"]),
    ("compare", &["ground", "assets", "scene", "raster", "output", "record"]),
    ("targets", &["ground", "assets", "source", "typeset", "language", "disk", "record"]),
    (
        "compile",
        &[
            "ground", "assets", "source", "typeset", "scene", "cover", "language", "check", "output", "disk", "record",
            "targets",
        ],
    ),
    ("watch", &["ground", "disk", "targets", "compile"]),
    (
        "preview",
        &[
            "ground", "assets", "source", "scene", "cover", "raster", "check", "output", "disk", "record", "targets",
            "compile", "watch",
        ],
    ),
];

/// The command line stands on top and may import these.
const CLI: [&str; 16] = [
    "ground", "assets", "source", "scene", "language", "check", "output", "disk", "record", "targets", "compile",
    "watch", "preview", "compare", "printed", "returned",
];

/// Rooms that are no part of the product; they may import everything.
const OUTSIDE: [&str; 1] = ["testing"];

/// Lines that a file may have.
const LONGEST: usize = 300;
/// Beyond them only lists that are one thing: the whole list of bundled faces, tables of data.
const LONG: [&str; 0] = [];

#[test]
fn stairs_lead_only_down() {
    let mut faults = Vec::new();
    let mut steps = 0;
    for (path, text) in sources() {
        let Some((room, _)) = path.split_once('/') else { continue };
        let allowed: Vec<&str> = match ROOMS.iter().find(|(name, _)| *name == room) {
            Some((_, allowed)) => allowed.to_vec(),
            None if room == "cli" => CLI.to_vec(),
            None if OUTSIDE.contains(&room) => continue,
            None => panic!("the room {room} stands in no list"),
        };
        for used in rooms_used(&code_of(&text)) {
            steps += 1;
            if used != room && !allowed.contains(&used.as_str()) {
                faults.push(format!("src/{path} imports {used}"));
            }
        }
        if text.contains("super::super") {
            faults.push(format!("src/{path} climbs by super::super"));
        }
    }
    assert!(steps > 200, "the imports were not understood");
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn files_say_what_they_are_and_stay_short() {
    let mut faults = Vec::new();
    for path in below(&root(), &["src", "tests", "benches"], &["rs"]) {
        let text = std::fs::read_to_string(&path).expect("a file can be read");
        let name = shown(&path);
        if !text.starts_with("//!") {
            faults.push(format!("{name} does not say what it is"));
        }
        let lines = text.lines().count();
        if lines > LONGEST && !LONG.contains(&name.as_str()) {
            faults.push(format!("{name} has {lines} lines"));
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn nothing_is_unwrapped_or_silenced() {
    let mut faults = Vec::new();
    for (path, text) in sources() {
        let code = bare(&code_of(&text));
        for word in [".unwrap()", "unsafe {", "todo!(", "unimplemented!(", "dbg!(", "#[allow(", "#![allow("] {
            if code.contains(word) {
                faults.push(format!("src/{path} says {word}"));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

#[test]
fn every_word_rule_and_output_stands_in_its_list() {
    for (folder, constant, list) in [
        ("src/language/nodes", "HEADWORD", "mod.rs"),
        ("src/check/rules", "RULE", "mod.rs"),
        ("src/output", "OUTPUT", "mod.rs"),
    ] {
        let folder = root().join(folder);
        let listed = std::fs::read_to_string(folder.join(list));
        let listed = listed.unwrap_or_else(|_| panic!("{} has no list in {list}", shown(&folder)));
        let mut found = 0;
        for path in below(&folder, &["."], &["rs"]) {
            let text = std::fs::read_to_string(&path).expect("a file can be read");
            let stem = path.file_stem().unwrap_or_default().to_string_lossy().into_owned();
            if text.contains(&format!("pub const {constant}: ")) {
                found += 1;
                assert!(listed.contains(&format!("&{stem}::{constant}")), "{} stands in no list", shown(&path));
            }
        }
        assert!(found > 2, "{} lists {found}", shown(&folder));
    }
}

/// A path of somebody's own disk leads nowhere on another.
#[test]
fn no_file_names_an_absolute_path() {
    // Put together here, so that this file does not offend.
    let banned = [["/wo", "rk/"], ["/ro", "ot/"], ["/ho", "me/"], ["/us", "ers/"], ["/tm", "p/"]];
    let banned: Vec<String> = banned.iter().map(|[one, other]| format!("{one}{other}")).collect();
    let mut faults = Vec::new();
    for path in below(
        &root(),
        &["src", "tests", "docs", "examples", "benches"],
        &["rs", "md", "kdl", "txt", "py", "scene", "yml"],
    ) {
        let Ok(text) = std::fs::read_to_string(&path) else { continue };
        let text = text.to_lowercase();
        for word in &banned {
            if text.contains(word.as_str()) {
                faults.push(format!("{} names an absolute path: `{word}…`", shown(&path)));
            }
        }
    }
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}

/// Every file of `src/` that is built into the program, by its path there.
fn sources() -> BTreeMap<String, String> {
    let read = |path: PathBuf| {
        let name = shown(&path).trim_start_matches("src/").to_owned();
        (name, std::fs::read_to_string(&path).expect("a file can be read"))
    };
    let mut all: BTreeMap<String, String> = below(&root(), &["src"], &["rs"]).into_iter().map(read).collect();
    let tests: Vec<String> = all
        .iter()
        .flat_map(|(path, text)| {
            // `a/mod.rs` and `a.rs` both keep their modules in `a/`.
            let folder = path.trim_end_matches("mod.rs").trim_end_matches(".rs").trim_end_matches('/').to_owned();
            test_modules(text).into_iter().map(move |module| format!("{folder}/{module}"))
        })
        .collect();
    assert!(tests.len() > 5, "the tests were not found");
    all.retain(|path, _| {
        !tests.iter().any(|test| *path == format!("{test}.rs") || path.starts_with(&format!("{test}/")))
    });
    all
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_owned()
}

fn shown(path: &Path) -> String {
    path.strip_prefix(root()).unwrap_or(path).to_string_lossy().replace("/./", "/")
}
