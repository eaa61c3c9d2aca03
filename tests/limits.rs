//! Limits of rules as data: usual, of the house, of the printer, of the cover; what is in force, and warnings as errors.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

#[path = "kit/spoken.rs"]
mod spoken;

use serde_json::Value;
use spoken::jaconet;

const COVER: &str = "series \"house.kdl\"
printer \"printers/quay.kdl\"
book { title \"Salt and Lanterns\"; author \"Mirela Anand\"; pages 320; isbn \"978-1-83742-615-7\" }
format paperback { trim 129 198; spine 20 }
panel front { text title words=\"{title}\" { size 6.7; left safe; width 80; top 30 } }
panel back { barcode code { right safe; bottom safe; scale 100 } }
edition far { printer \"printers/far.kdl\" }
";

fn home(own: &str) -> tempfile::TempDir {
    let home = tempfile::tempdir().expect("a temporary folder");
    let write = |path: &str, text: &str| {
        let path = home.path().join(path);
        std::fs::create_dir_all(path.parent().expect("it has a folder")).expect("is made");
        std::fs::write(path, text).expect("is written");
    };
    write("cover.kdl", &format!("{COVER}{own}"));
    write("house.kdl", "limit small-type warning=6.5 error=5.5\n\nlimit outside-safe error=4\n");
    write("printers/quay.kdl", "limit small-type warning=6.8\nlimit sheet-too-large width=260 height=200\n");
    write("printers/far.kdl", "limit small-type warning=6.9\n");
    home
}

/// The findings of the first cover, by rule.
fn found(home: &tempfile::TempDir, words: &[&str], rule: &str) -> (i32, Vec<Value>) {
    let (exit, out, _) = jaconet(home.path(), &[&["check", "--report", "json"], words].concat());
    let report: Value = serde_json::from_str(&out).unwrap_or_else(|fault| panic!("{fault}: {out}"));
    let all = report["covers"][0]["findings"].as_array().expect("a list").iter();
    (exit, all.filter(|finding| finding["rule"] == rule).cloned().collect())
}

#[test]
fn the_cover_over_the_printer_over_the_house() {
    let edition = ["--edition", "far"];
    for (own, words, limit, place) in [
        ("", &[][..], 6.8, ("printers/quay.kdl", 1)),
        ("", &edition[..], 6.9, ("printers/far.kdl", 1)),
        ("limit small-type warning=(mm)2.4\n", &[], 6.803, ("cover.kdl", 8)),
    ] {
        let (_, found) = found(&home(own), words, "small-type");
        let measured = &found[0]["measured"];
        assert_eq!((&measured["value"], &measured["limit"]), (&6.7.into(), &limit.into()), "{found:?}");
        assert_eq!((measured["unit"].as_str(), measured["name"].as_str()), (Some("pt"), Some("warning")));
        assert_eq!(
            (measured["set"]["file"].as_str(), measured["set"]["line"].as_u64()),
            (Some(place.0), Some(place.1))
        );
        assert_eq!((found[0]["element"].as_str(), found[0]["panel"].as_str()), (Some("title"), Some("front")));
    }
    // A limit that the cover takes back to the usual one.
    assert_eq!(found(&home("limit small-type warning=6\n"), &[], "small-type").1, Vec::<Value>::new());
}

#[test]
fn the_printers_sheet_is_too_small() {
    let (exit, found) = found(&home(""), &[], "sheet-too-large");
    assert_eq!(exit, 1);
    // Two pages, the spine and twice the bleed of 3 mm.
    assert_eq!((&found[0]["measured"]["value"], &found[0]["measured"]["limit"]), (&284.0.into(), &260.0.into()));
    let (_, _, words) = jaconet(home("").path(), &["check"]);
    assert!(words.contains("the limit is set in printers/quay.kdl:2"), "{words}");
}

/// The cover comes last and its number holds; that the printer asks for another one is a note, which names both.
#[test]
fn a_printers_limit_that_the_cover_relaxes_is_a_note() {
    let relaxed = |own: &str| -> Vec<String> {
        let (_, found) = found(&home(own), &[], "limit-relaxed");
        found.iter().map(|one| format!("{} {}", one["severity"], one["message"])).collect()
    };
    let note = "\"note\" \"`warning` of `small-type` is 6.2 pt here, and 6.8 pt in the printer's file\"";
    assert_eq!(relaxed("limit small-type warning=6.2\n"), [note]);
    let wide = "\"note\" \"`width` of `sheet-too-large` is 284 mm here, and 260 mm in the printer's file\"";
    assert_eq!(relaxed("limit sheet-too-large width=284\n"), [wide]);
    // Stricter ones, and limits that the printer does not state.
    for own in ["limit small-type warning=7.5\n", "limit sheet-too-large width=250\n", "limit hairline error=0.1\n"] {
        assert_eq!(relaxed(own), [""; 0], "{own}");
    }
    let inky = home("press coated ink-limit=320\n");
    let printer = "press coated ink-limit=280\nlimit sheet-too-large width=300 height=210\n";
    std::fs::write(inky.path().join("printers/quay.kdl"), printer).expect("is written");
    let (_, found) = found(&inky, &[], "limit-relaxed");
    assert_eq!(found[0]["message"], "`ink-limit` is 320 % here, and 280 % in the printer's file");
    assert_eq!(found.len(), 1);
}

/// The cover's press holds; that its colours are made for another paper than the printer's is said.
#[test]
fn another_press_than_the_printers_is_a_note() {
    let said = |own: &str| -> Vec<String> {
        let home = home(own);
        let printer = "press uncoated ink-limit=300\nlimit sheet-too-large width=300 height=210\n";
        std::fs::write(home.path().join("printers/quay.kdl"), printer).expect("is written");
        let (_, found) = found(&home, &[], "limit-relaxed");
        found.iter().map(|one| format!("{} {}", one["severity"], one["message"])).collect()
    };
    assert_eq!(said("press coated\n"), ["\"note\" \"the press is FOGRA39 here, and FOGRA29 in the printer's file\""]);
    assert_eq!(said("press uncoated ink-limit=280\n"), [""; 0]);
    assert_eq!(said(""), [""; 0]);
}

/// What the printer's press keeps pictures within is lost with it, and said.
#[test]
fn pictures_that_the_printer_limits_and_the_cover_does_not() {
    let asked = |asked: &str, look: &str, own: &str| -> Vec<Value> {
        let picture =
            format!("panel spine {{ image dark file=\"deep.png\" {{ left 5; width 10; top 60; {look} }} }}\n");
        let home = home(&format!("{picture}{own}"));
        std::fs::write(home.path().join("deep.png"), include_bytes!("pictures/deep.png")).expect("is written");
        let printer = format!("press coated limit-inks={asked}\nlimit sheet-too-large width=300 height=210\n");
        std::fs::write(home.path().join("printers/quay.kdl"), printer).expect("is written");
        found(&home, &[], "limit-relaxed").1
    };
    let message = |one: &Value| one["message"].as_str().unwrap_or_default().to_owned();
    let said = |own: &str| -> Vec<String> { asked("280", "", own).iter().map(message).collect() };
    // A picture with a limit of its own, and one in a single ink.
    for look in ["limit-inks 250", "paint black"] {
        assert_eq!(asked("280", look, "press coated ink-limit=300\n"), [Value::Null; 0], "{look}");
    }
    // 283 would be over it.
    let part = asked("282.6", "", "press coated limit-inks=283\n");
    assert_eq!(message(&part[0]), "`limit-inks` is 283 % here, and 282.6 % in the printer's file");
    assert_eq!(part[0]["help"], "write `limit-inks=282` here, too, or agree it with the printer");
    assert_eq!(
        said("press coated ink-limit=300\n"),
        ["`limit-inks` is not stated here, and 280 % in the printer's file"]
    );
    assert_eq!(said("press coated limit-inks=290\n"), ["`limit-inks` is 290 % here, and 280 % in the printer's file"]);
    assert_eq!(said("press coated limit-inks=280\n"), [""; 0]);
    assert_eq!(said(""), [""; 0]);
}

/// The house's rule about words holds whatever press the printer's file or the cover states.
#[test]
fn the_plate_for_words_stays() {
    let count = |printer: &str, own: &str| {
        let ink = "swatches { swatch red m=90 y=80 }\npanel back { text line words=\"Salt\" { swatch red; left safe; width 40; top 30 } }\n";
        let home = home(&format!("{ink}{own}"));
        std::fs::write(home.path().join("house.kdl"), "press coated text-plate=black\n").expect("is written");
        std::fs::write(home.path().join("printers/quay.kdl"), printer).expect("is written");
        found(&home, &[], "words-on-more-plates").1.len()
    };
    let sheet = "limit sheet-too-large width=300 height=210\n";
    let uncoated = format!("press uncoated ink-limit=260\n{sheet}");
    assert_eq!(count(sheet, ""), 1);
    assert_eq!(count(&uncoated, ""), 1, "a printer's press says nothing of words");
    assert_eq!(count(&uncoated, "press coated\n"), 1);
    assert_eq!(count(&uncoated, "press coated text-plate=magenta\n"), 2, "title and line");
    assert_eq!(count(&uncoated, "press coated text-plate=none\n"), 0);
    assert_eq!(count(&uncoated, "drop press\n"), 0);
}

#[test]
fn a_second_printer_is_an_error() {
    let (exit, _, words) = jaconet(home("printer \"printers/far.kdl\"\n").path(), &["check"]);
    assert!(exit == 1 && words.contains("`printer` stands here a second time"), "{words}");
}

#[test]
fn explain_shows_what_is_in_force_and_where_it_was_set() {
    let home = home("");
    let (exit, out, error) = jaconet(home.path(), &["explain", "small-type", "cover.kdl"]);
    let in_force: Vec<&str> = out.lines().skip_while(|line| !line.starts_with("In force")).collect();
    let line = |name: &str| in_force.iter().find(|line| line.trim_start().starts_with(name)).copied().unwrap_or("none");
    assert_eq!(exit, 0, "{error}");
    assert!(line("warning ").ends_with("6.8 pt    printers/quay.kdl:1, in place of 6 pt"), "{in_force:#?}");
    assert!(line("error ").ends_with("5.5 pt    house.kdl:1, in place of 5 pt"), "{in_force:#?}");
    assert!(line("reversed-error").ends_with("6 pt      usual: common practice"), "{in_force:#?}");
    let (exit, _, error) = jaconet(home.path(), &["explain", "missing-glyph", "cover.kdl"]);
    assert_eq!((exit, error.contains("`missing-glyph` has no limits")), (2, true), "{error}");
}

#[test]
fn strict_makes_errors_of_warnings_but_not_of_what_is_waived() {
    let fits = "limit sheet-too-large width=284 height=204\n";
    let plain = home(fits);
    assert_eq!(found(&plain, &[], "small-type").0, 0);
    let (exit, raised) = found(&plain, &["--strict"], "small-type");
    assert_eq!((exit, raised[0]["severity"].as_str()), (1, Some("error")));
    let waived = home(&format!("{fits}waive small-type reason=\"it is the imprint\"\n"));
    let (_, raised) = found(&waived, &["--strict"], "small-type");
    assert_eq!(raised[0]["severity"], "note");
    // A strict build has no press file, and does not take over what an easier one remembered.
    let press = plain.path().join("out").read_dir().is_ok_and(|all| all.count() > 0);
    assert!(!press);
    let build = |more: &[&str]| {
        jaconet(plain.path(), &[&["build", "--only", "press", "--store", "kept", "cover.kdl"], more].concat()).0
    };
    let is_there = || {
        std::fs::read_dir(plain.path().join("out"))
            .is_ok_and(|all| all.flatten().any(|file| file.file_name().to_string_lossy().ends_with("-press.pdf")))
    };
    assert_eq!((build(&[]), is_there()), (0, true));
    assert_eq!((build(&["--strict"]), is_there()), (1, false));
}

#[test]
fn mistakes_in_limits_are_told_where_they_stand() {
    for (own, message) in [
        ("limit small-tipe warning=7", "there is no rule `small-tipe` with limits"),
        ("limit small-type wraning=7", "`limit` has no property `wraning`"),
        ("limit small-type warning=700", "700 pt is out of range here"),
        ("limit hairline", "this states no limit"),
    ] {
        let (exit, found) = found(&home(own), &[], "language");
        assert_eq!((exit, found.len()), (1, 1), "{own}: {found:#?}");
        assert!(found[0]["message"].as_str().is_some_and(|said| said.contains(message)), "{found:#?}");
        assert_eq!(found[0]["line"], 8, "{own}");
    }
    let home = home("");
    std::fs::write(home.path().join("printers/quay.kdl"), "book { pages 9 }").expect("is written");
    let (_, found) = found(&home, &[], "language");
    assert_eq!(found[0]["message"], "a printer's file does not state `book`", "{found:#?}");
}

/// 50 cm² of solid black are a note; of the black that stands in for a swatch with a slip nothing is said.
#[test]
fn nothing_is_said_of_the_ink_of_a_swatch_with_a_slip() {
    let said = |swatch: &str| {
        let band = "panel spine { band a { swatch a; left 0; width 20; top 0; height 198 } }";
        let home = home(&format!("swatches {{ {swatch} }}\nlimit plain-black-area area=10\n{band}\n"));
        (found(&home, &[], "plain-black-area").1.len(), found(&home, &[], "language").1.len())
    };
    assert_eq!(said("swatch a k=100"), (1, 0));
    for slip in ["spot a ink=\"cyan\"", "swatch a k=174", "spot a ink=\"\"", "swach a k=20"] {
        assert_eq!(said(slip), (0, 1), "{slip}");
    }
}
