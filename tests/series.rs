//! Series through the binary: files that lie under each other are one cover, and each answers for its own words.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

use serde_json::Value;
use std::path::Path;
use std::process::{Command, Stdio};

const SERIES: &str = r#"book { author "Mirela Anand"; language en-GB }
format paperback { trim 110 178; paper grammage=80 bulk=1.5; cover-stock caliper=0.3; bleed 3; safe 4 }
swatches { swatch sea c=10 m=4; swatch text k=90 }
type { style plain { font "EB Garamond"; size 14; leading 16; swatch text } }
deliver { flat ppi=30; panels ppi=30 }
wrap { band ground { swatch sea; left bleed; right bleed; top bleed; bottom bleed } }
panel front {
    text title words="{title}" style=plain { left 10; right 10; top 20 }
    band stripe { swatch text; left 10; right 10; top 60; height 5 }
}
"#;
const COVER: &str = "series \"../series.kdl\"\nbook { title \"Salt\"; pages 200 }\n";

struct Shelf(tempfile::TempDir);

impl Shelf {
    fn of(files: &[(&str, &str)]) -> Shelf {
        let shelf = Shelf(tempfile::tempdir().expect("a temporary folder"));
        for (path, text) in files {
            shelf.write(path, text);
        }
        shelf
    }

    fn write(&self, path: &str, text: impl AsRef<[u8]>) {
        let path = self.0.path().join(path);
        std::fs::create_dir_all(path.parent().expect("has a folder")).expect("a folder");
        std::fs::write(path, text).expect("writes");
    }

    fn read(&self, path: &str) -> Vec<u8> {
        std::fs::read(self.0.path().join(path)).unwrap_or_else(|why| panic!("{path}: {why}"))
    }

    fn report(&self, path: &str) -> Value {
        serde_json::from_slice(&self.read(path)).expect("is JSON")
    }

    /// A measure in the report of the cover in folder `a`, by the stem of its files.
    fn measure(&self, stem: &str, name: &str) -> Option<Value> {
        let report = self.report(&format!("a/out/{stem}-report.json"));
        let measures = report["measures"].as_array().expect("a list").clone();
        measures.into_iter().find(|measure| measure["name"] == name).map(|measure| measure["value"].clone())
    }

    /// Exit code and both streams.
    fn run(&self, words: &str) -> (i32, String, String) {
        let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
        command.current_dir(self.0.path()).env_remove("NO_COLOR").env("JACONET_STORE", "").stdin(Stdio::null());
        let output = command.args(words.split_whitespace()).output().expect("the binary runs");
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("words are UTF-8");
        (output.status.code().expect("it ends by itself"), text(output.stdout), text(output.stderr))
    }
}

/// The elements of a panel, in the order of printing.
fn elements(report: &Value, panel: &str) -> Vec<String> {
    let all = report["elements"].as_array().expect("a list").iter().filter(|element| element["panel"] == panel);
    all.map(|element| element["name"].as_str().expect("a name").to_owned()).collect()
}

#[test]
fn a_mistake_is_reported_in_the_file_that_holds_it() {
    let shelf =
        Shelf::of(&[("series.kdl", &SERIES.replace("swatch sea; left", "swatch see; left")), ("a/cover.kdl", COVER)]);
    let (exit, _, error) = shelf.run("check a");
    assert_eq!(exit, 1, "{error}");
    assert!(error.contains("there is no swatch `see`") && error.contains("[series.kdl:6:29]"), "{error}");
    assert!(error.contains("6 \u{2502} wrap { band ground { swatch see;"), "{error}");
    shelf.write("series.kdl", "book {\n    pages 10pt\n}\n");
    let (exit, _, error) = shelf.run("check a");
    assert!(exit == 1 && error.contains("[series.kdl:2:11]") && error.contains("2 \u{2502}     pages 10pt"), "{error}");
}

#[test]
fn a_circle_names_every_file() {
    let shelf = Shelf::of(&[
        ("a/cover.kdl", "series \"../one.kdl\"\n"),
        ("one.kdl", "series \"deep/two.kdl\"\n"),
        ("deep/two.kdl", "\nseries \"three.kdl\"\n"),
        ("deep/three.kdl", "\n\nseries \"../one.kdl\"\n"),
    ]);
    let (exit, _, error) = shelf.run("build a");
    assert_eq!((exit, error.matches("error: ").count()), (1, 1), "{error}");
    let circle = "in a circle: ../one.kdl → ../deep/two.kdl → ../deep/three.kdl → ../one.kdl";
    assert!(error.contains(circle) && error.contains("[deep/three.kdl:3:8]"), "{error}");
    // From its own folder a cover does not see that it is a part of it; the circle is whole all the same.
    shelf.write("deep/three.kdl", "series \"../a/cover.kdl\"\n");
    let (exit, _, error) = shelf.run("build a");
    let circle = "in a circle: ../one.kdl → ../deep/two.kdl → ../deep/three.kdl → ../a/cover.kdl → ../one.kdl";
    assert!(exit == 1 && error.contains(circle), "{error}");
}

#[test]
fn a_missing_series_offers_the_nearest() {
    let shelf = Shelf::of(&[("series.kdl", SERIES), ("a/cover.kdl", &COVER.replace("series.kdl", "seires.kdl"))]);
    let (exit, _, error) = shelf.run("build a");
    assert_eq!(exit, 1);
    assert!(
        error.contains("\"../seires.kdl\": there is no such file") && error.contains("[a/cover.kdl:1:8]"),
        "{error}"
    );
    assert!(error.contains("did you mean \"../series.kdl\"?"), "{error}");
    // What is unreadable may have had the edition.
    let (exit, _, error) = shelf.run("build a --edition case");
    assert!(exit == 1 && error.contains("did you mean \"../series.kdl\"?"), "{error}");
}

/// A cover over so many series, each of which adds its bit.
fn tall(files: usize) -> Shelf {
    let shelf = Shelf::of(&[("lot.kdl", "series \"s1.kdl\"\nbook { title \"Salt\"; pages 200 }\n")]);
    for file in 1..files {
        let band = format!("band b{file} {{ swatch text; left {file}; width 1; top 100; height 5 }}");
        let below = file + 1;
        let own = format!("series \"s{below}.kdl\"\npanel front {{ {band} }}\n");
        shelf.write(&format!("s{file}.kdl"), if below < files { &own } else { SERIES });
    }
    shelf
}

#[test]
fn sixty_files_may_lie_under_each_other_and_sixty_five_may_not() {
    let shelf = tall(60);
    let (exit, out, error) = shelf.run("build lot.kdl --only report");
    assert_eq!(exit, 0, "{out}{error}");
    // The lowest says two elements of the front, and each of the 58 between adds one on top of those below it.
    let report = shelf.report("out/lot-report.json");
    let front = elements(&report, "front");
    let above: Vec<String> = (1..=58).rev().map(|file| format!("b{file}")).collect();
    assert_eq!(front, [vec!["title".to_owned(), "stripe".to_owned()], above].concat());
    assert_eq!(tall(64).run("check lot.kdl").0, 0);
    let (exit, _, error) = tall(65).run("check lot.kdl");
    assert!(exit == 1 && error.contains("more than 64 files lie under each other"), "{error}");
    assert!(error.contains("[s63.kdl:1:8]"), "{error}");
}

#[test]
fn paths_count_from_the_file_that_says_them() {
    let series = SERIES.to_owned()
        + "press profile=\"icc/press.icc\"\npanel front { image plate file=\"art/plate.svg\" { left 10; width 40; top 80 } }\n\
           panel back { text blurb copy=\"copy/blurb.md\" style=plain { left 10; right 10; top 20 } }\n";
    let shelf = Shelf::of(&[
        ("series.kdl", &series),
        (
            "art/plate.svg",
            r#"<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><path d="M0 0h9v9z"/></svg>"#,
        ),
        ("copy/blurb.md", "A novel of the sea.\n"),
        ("a/cover.kdl", COVER),
        ("fonts/none.ttf", "no font"),
    ]);
    let icc = Path::new(env!("CARGO_MANIFEST_DIR")).join("src/assets/profiles/uncoated-fogra29.icc");
    shelf.write("icc/press.icc", std::fs::read(icc).expect("is there"));
    let (exit, out, error) = shelf.run("build a");
    assert_eq!(exit, 0, "{out}{error}");
    assert!(error.contains("the font `../fonts/none.ttf` is left out"), "{error}");
    let report = shelf.report("a/out/a-report.json");
    let inputs: Vec<&str> =
        report["inputs"].as_array().expect("a list").iter().filter_map(|input| input["file"].as_str()).collect();
    for wanted in ["../series.kdl", "../art/plate.svg", "../copy/blurb.md", "../icc/press.icc", "cover.kdl"] {
        assert!(inputs.contains(&wanted), "{wanted}: {inputs:?}");
    }
    let plates = report["elements"].as_array().expect("a list").iter().filter(|element| element["name"] == "plate");
    assert_eq!(plates.count(), 1);
}

#[test]
fn editions_of_series_and_cover_are_one() {
    let series = SERIES.to_owned() + "edition case { format case { board thickness=2.5; hinge 8 } }\n";
    let cover = COVER.to_owned() + "edition case { book { pages 300 } }\nedition large { format { trim 129 198 } }\n";
    let shelf = Shelf::of(&[("series.kdl", &series), ("a/cover.kdl", &cover)]);
    let (exit, out, error) = shelf.run("build a --only report");
    assert_eq!(exit, 0, "{out}{error}");
    assert_eq!(shelf.measure("a", "pages"), Some(200.0.into()));
    // The series brings the boards, the cover the extent.
    assert_eq!(shelf.measure("a-case", "pages"), Some(300.0.into()));
    assert!(shelf.measure("a-case", "turn-in").is_some() && shelf.measure("a", "turn-in").is_none());
    assert_eq!(shelf.measure("a-large", "front width"), Some(129.0.into()));
    let (exit, out, _) = shelf.run("check a --edition case");
    assert!(exit == 0 && out.lines().count() == 1 && out.starts_with("a/cover.kdl (case): "), "{out}");
    let (exit, out, error) = shelf.run("build a --edition case cse");
    assert_eq!((exit, out.as_str()), (2, ""), "{error}");
    assert!(error.contains("no cover here has an edition `cse`"), "{error}");
    assert!(error.contains("did you mean `case`? known here: case, large"), "{error}");
}

#[test]
fn an_edition_begins_as_another() {
    let series =
        SERIES.to_owned() + "edition case { format case { board thickness=2.5; hinge 8 }; book { pages 250 } }\n";
    let cover = COVER.to_owned()
        + "edition us like=case { book { pages 300 } }\nedition large like=us { format { trim 140 210 } }\n";
    let shelf = Shelf::of(&[("series.kdl", &series), ("a/cover.kdl", &cover)]);
    let (exit, out, error) = shelf.run("build a --only report");
    assert_eq!(exit, 0, "{out}{error}");
    let pages = ["a", "a-case", "a-us", "a-large"].map(|stem| shelf.measure(stem, "pages"));
    assert_eq!(pages, [200.0, 250.0, 300.0, 300.0].map(|pages: f64| Some(pages.into())));
    // The boards come down from the first, and the larger page is the last one's own.
    let boarded = ["a", "a-case", "a-us", "a-large"].map(|stem| shelf.measure(stem, "turn-in").is_some());
    assert_eq!(boarded, [false, true, true, true]);
    assert_ne!(shelf.measure("a-large", "front width"), shelf.measure("a-us", "front width"));
    for (like, message, help) in [
        ("cse", "there is no edition `cse` to begin as", "did you mean `case`?"),
        ("large", "these editions begin as each other in a circle: us → large → us", "take `like=` away from one"),
        ("us", "these editions begin as each other in a circle: us → us", "take `like=` away from one"),
    ] {
        let cover = cover.replace("us like=case", &format!("us like={like}"));
        shelf.write("a/cover.kdl", cover);
        let (exit, out, error) = shelf.run("check a --edition us");
        assert!(exit == 1 && error.contains(message) && error.contains(help), "{out}{error}");
    }
    shelf.write("a/cover.kdl", cover.replace("us like=case", "us lke=case"));
    let (exit, out, error) = shelf.run("check a --edition us");
    assert!(exit == 1 && error.contains("`edition` has no property `lke`"), "{out}{error}");
}

#[test]
fn a_cover_may_have_its_format_in_its_editions_alone() {
    let (format, series) = SERIES
        .split_once('\n')
        .and_then(|(book, rest)| {
            let (format, rest) = rest.split_once('\n')?;
            Some((format, format!("{book}\n{rest}")))
        })
        .expect("the second line is the format");
    let cover = COVER.to_owned() + "edition soft {\n    " + format + "\n}\n";
    let shelf = Shelf::of(&[("series.kdl", &series), ("a/cover.kdl", &cover)]);
    let (exit, out, error) = shelf.run("build a --only press");
    assert_eq!((exit, error.as_str()), (0, ""), "{out}");
    assert!(shelf.read("a/out/a-soft-press.pdf").starts_with(b"%PDF"));
    assert!(!shelf.0.path().join("a/out/a-press.pdf").exists());
}

#[test]
fn a_cover_drops_and_slots_among_what_its_series_has() {
    let front = "panel front { drop stripe; band low { swatch text; left 10; width 20; top 10; height 3; under title }\n\
                 band high { swatch text; left 10; width 20; top 90; height 3 } }\n";
    let shelf = Shelf::of(&[("series.kdl", SERIES), ("a/cover.kdl", &(COVER.to_owned() + front))]);
    let (exit, out, error) = shelf.run("build a --only report");
    assert_eq!(exit, 0, "{out}{error}");
    assert_eq!(elements(&shelf.report("a/out/a-report.json"), "front"), ["low", "title", "high"]);
    shelf.write("a/cover.kdl", COVER.to_owned() + "panel front { drop strip }\n");
    let (exit, _, error) = shelf.run("check a");
    assert!(exit == 1 && error.contains("there is nothing called `strip` to drop here"), "{error}");
    assert!(error.contains("did you mean `stripe`?") && error.contains("[a/cover.kdl:3:20]"), "{error}");
}

#[test]
fn an_empty_series_changes_no_byte_of_the_press_file() {
    let whole = SERIES.replace("book {", "book { title \"Salt\"; pages 200;");
    let shelf = Shelf::of(&[
        ("series.kdl", "// Nothing is shared yet.\n"),
        ("over/a/cover.kdl", &format!("series \"../../series.kdl\"\n{whole}")),
        ("alone/a/cover.kdl", &whole),
        ("laid/series.kdl", SERIES),
        ("laid/a/cover.kdl", COVER),
    ]);
    let (exit, out, error) = shelf.run("build over/a alone/a laid/a --only press");
    assert_eq!((exit, error.as_str()), (0, ""), "{out}");
    let alone = shelf.read("alone/a/out/a-press.pdf");
    assert!(alone.len() > 1000 && alone == shelf.read("over/a/out/a-press.pdf"));
    // Nor does it matter which file says a word.
    assert!(alone == shelf.read("laid/a/out/a-press.pdf"));
}
