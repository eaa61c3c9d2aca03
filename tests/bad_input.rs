//! Bad input: whatever a file holds, the binary ends soon, by the documented code, with a message at its line.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files and a clock")]

#[path = "kit/binary.rs"]
mod binary;
#[path = "kit/licence.rs"]
mod licence;
#[path = "kit/pixels.rs"]
mod pixels;
#[path = "inputs/profiles.rs"]
mod profiles;

use binary::{ERRORS, HEAD, STOPPED, TestHome, check, panel, run, says};

#[test]
fn files_that_are_no_covers() {
    check("", ERRORS, &["the file says nothing"]);
    check(b"book {\n  title \"Caf\xe9\"\n}\n", ERRORS, &["0xe9", "cover.kdl:2:13"]);
    check([0xff_u8, 0xfe, b'b', 0, b'o', 0], ERRORS, &["UTF-16"]);
    check([0_u8; 4096], ERRORS, &["cover.kdl:1:1"]);
    check("\u{0}\u{1}\u{7f}", ERRORS, &["cover.kdl:1:"]);
    let (code, stated) = run(&TestHome::new(), &["check", "cover.kdl"]);
    assert_eq!((code, stated.contains("there is no such file")), (STOPPED, true), "{stated}");
    let home = TestHome::new();
    std::fs::create_dir_all(home.path("cover.kdl")).expect("a folder");
    let (code, stated) = run(&home, &["check", "cover.kdl"]);
    assert_eq!(code, STOPPED, "{stated}");
}

#[test]
fn braces_without_end() {
    let deep = "a {\n".repeat(80_000);
    check(&deep, ERRORS, &["cover.kdl:"]);
    check(deep.clone() + &"}\n".repeat(80_000), ERRORS, &["cover.kdl:"]);
    check("}".repeat(100_000), ERRORS, &["cover.kdl:1:"]);
    check("/*".repeat(100_000), ERRORS, &["cover.kdl:1:"]);
    check("\"".to_owned() + &"\\".repeat(200_001), ERRORS, &["cover.kdl:1:"]);
    check("(".repeat(200_000), ERRORS, &["cover.kdl:1:"]);
}

#[test]
fn ten_megabytes_of_text() {
    check("salt and lanterns\n".repeat(10 << 16), ERRORS, &["KB large; the limit is"]);
    let home = TestHome::new().with("cover.kdl", panel("text a copy=\"long.md\" { left 0; width 60; top 0 }"));
    says(&home.with("long.md", "salt and lanterns ".repeat(10 << 16)), ERRORS, &["cover.kdl:4:6", "letters"]);
}

/// Lines that words follow: off the panel, and further than anybody draws.
#[test]
fn lines_for_words_that_lead_nowhere() {
    check(panel("text a words=\"x\" { left 500; top 10; along arc }"), ERRORS, &["cover.kdl:4:"]);
    let far = ["C1e200 0 0 1e200 1 1", "L1e30 0", "C1e14 0 0 1e14 1 1"];
    for data in far {
        let text = format!("text a words=\"x\" {{ left 5; top 10; along path data=\"M0 0 {data}\" }}");
        check(panel(&text), ERRORS, &["this path is too long for words"]);
    }
    let fine = format!("M0 0{}", " L1 1 L2 0".repeat(20_000));
    let text = format!("text a words=\"x\" {{ left 5; top 10; along path data=\"{fine}\" }}");
    check(panel(&text), ERRORS, &["this path is too long for words"]);
}

#[test]
fn slips_of_words_and_units() {
    check(
        panel("txet a words=\"x\" { top 0 }"),
        ERRORS,
        &["`txet` is unknown", "did you mean `text`?", "cover.kdl:4:1"],
    );
    check(panel("band a { left 10pt }"), ERRORS, &["`10pt` is not a number", "(pt)10", "cover.kdl:4:15"]);
    check(panel("band a { left (px)10 }"), ERRORS, &["`(px)` is not a unit of length"]);
    check(panel("band a { swatch #2f6f7e }"), ERRORS, &["is a colour of screens", "`swatches { rgb NAME"]);
    check(
        "book { title \"Salt\"; pages 320 }\nformat paperback { trim 0 198 }",
        ERRORS,
        &["0 mm is out of range", "cover.kdl:2:25"],
    );
}

#[test]
fn numbers_beyond_measure() {
    for number in ["#nan", "#inf", "#-inf", "1e400", "-1e400", "1e308", "-99999", "1e-400", "0x7fffffffffffffffffff"] {
        let body = format!("band a {{ swatch black; left {number}; width 10; top 0; height 5; turn {number} }}");
        let (code, stated) = run(&TestHome::new().with("cover.kdl", panel(&body)), &["check", "cover.kdl"]);
        assert!(code == ERRORS || number == "1e-400", "{number}: {code}\n{stated}");
        let facts = format!("book {{ title \"Salt\"; pages {number} }}\nformat paperback {{ trim {number} {number} }}");
        check(facts, ERRORS, &["cover.kdl:"]);
    }
    check(panel("band a { swatch black; left 0; width -10; top 0; height -5 }"), ERRORS, &["-10 mm is out of range"]);
    check(panel("text a words=\"x\" { left 0; width 10; top 0; size 1e9 }"), ERRORS, &["longer than ten metres"]);
}

#[test]
fn elements_that_wait_or_nest_without_end() {
    let circle = "band a { swatch black; left 0; width 1; below b; height 1 }\nband b { swatch black; left 0; width 1; below a; height 1 }";
    check(panel(circle), ERRORS, &["wait for each other's place: a, b"]);
    // Nearly as long as a file may be; each waits for the next, so that the first waits for all.
    let link = |at: usize| format!("oval b{at} {{ swatch black; left 0; width 1; below b{}; height 1 }}\n", at + 1);
    let chain = (0..3_500).map(link).collect::<Vec<_>>().concat()
        + "oval b3500 { swatch black; left 0; width 1; top 0; height 1 }\n";
    check(panel(&chain), ERRORS, &["more than 100 elements wait for each other's place in a row"]);
    let frame = "left 0; right 0; top 0; bottom 0;";
    let nested = |deep: usize| panel(&(format!("group g {{ {frame}\n").repeat(deep) + &"}\n".repeat(deep)));
    check(nested(40), ERRORS, &["more than 16 deep", "cover.kdl:20:"]);
    check(nested(200), ERRORS, &["blocks lie more than 48 deep"]);
    let part = |body: &str| format!("{HEAD}part ring {{ {frame} {body} }}\npanel front {{ use ring }}\n");
    check(part("use ring as=a {}"), ERRORS, &["more than 16 deep", "a part may not use itself"]);
    let five = ["a", "b", "c", "d", "e"].map(|name| format!("use ring as={name}; ")).concat();
    check(part(&five), ERRORS, &["more than 5000 elements"]);
}

#[test]
fn words_that_are_hard_to_set() {
    let narrow = "left 0; width 3; top 0; height 40; size between 6 30";
    let fits = "left 0; width 100; top 0";
    let long = "Donaudampfschifffahrtsgesellschaft".repeat(60);
    for (words, place) in [
        (long.as_str(), narrow),
        (&long, "left 0; width 0.01; top 0; align justify"),
        ("\u{200b}\u{200b}\u{200b}", fits),
        ("\u{200b}\u{2060}\u{feff}", narrow),
        (&"\u{301}".repeat(500), fits),
        (&"\u{202e}\u{2066}\u{202b}a".repeat(300), narrow),
        (&"\u{202e}".repeat(200), fits),
        ("\u{ad}\u{ad}\u{ad}", narrow),
        (&"a\u{ad}".repeat(2000), narrow),
        ("\u{1f468}\u{200d}\u{1f469}\u{200d}\u{1f467}", fits),
        (&" ".repeat(5000), narrow),
        (&"a b ".repeat(3000), narrow),
        ("\u{fffd}\u{10ffff}\u{e000}", fits),
        ("a\\u{0}b\\u{7}c\\u{1b}[31md", fits),
    ] {
        let words =
            if words.contains("\\u") { words.to_owned() } else { words.escape_debug().to_string().replace("\\'", "'") };
        let home = TestHome::new().with("cover.kdl", panel(&format!("text a words=\"{words}\" {{ {place} }}")));
        let (code, stated) = run(&home, &["check", "cover.kdl"]);
        assert!(code <= ERRORS, "{}", &stated[..stated.floor_char_boundary(2000)]);
        assert!(!stated.contains('\u{1b}'), "what the file says reaches the terminal");
    }
}

/// Mistakes without number: the first are reported, the rest are counted.
#[test]
fn mistakes_without_number_are_counted() {
    for (text, awaited) in [
        (format!("{HEAD}{}", "zz\n".repeat(10_000)), "9000 more that are not listed"),
        (
            HEAD.to_owned() + &(0..30_000).map(|at| format!("zz{at}\n")).collect::<Vec<_>>().concat(),
            "29000 more that are not listed",
        ),
        (format!("{HEAD}panel front {{\n{}}}\n", "zz\n".repeat(35_000)), "34000 more that are not listed"),
    ] {
        let home = TestHome::new().with("cover.kdl", text);
        let (code, _) = run(&home, &["check", "cover.kdl"]);
        let out = std::fs::read_to_string(home.path("stdout")).expect("is there");
        assert!(code == ERRORS && out.contains(awaited), "{code}: {out}");
    }
}

#[test]
fn four_thousand_elements() {
    let band =
        |at: usize| format!("band b{at} {{ swatch black; left {}; width 1; top {}; height 1 }}\n", at % 100, at / 100);
    let body = (0..4_000).map(band).collect::<Vec<_>>().concat();
    let (code, stated) = run(&TestHome::new().with("cover.kdl", panel(&body)), &["check", "cover.kdl"]);
    assert!(code <= ERRORS, "{}", &stated[..stated.floor_char_boundary(2000)]);
}

#[test]
fn pictures_that_are_none() {
    let image = panel("image a file=\"art/a.png\" { left 0; top 0; width 10 }");
    says(&TestHome::new().with("cover.kdl", &image), ERRORS, &["art/a.png", "there is no such file", "cover.kdl:4:14"]);
    let picture = |bytes: &[u8]| TestHome::new().with("cover.kdl", &image).with("art/a.png", bytes);
    says(&picture(include_bytes!("pictures/grey.jpg")), ERRORS, &["the name says PNG, but the file is JPEG"]);
    says(&picture(b""), ERRORS, &["art/a.png"]);
    says(&picture(&pixels::png_header(60_000, 60_000)), ERRORS, &["art/a.png", "cover.kdl:4:14"]);
    says(&picture(&pixels::png_header(0, 0)), ERRORS, &["art/a.png"]);
    let whole = include_bytes!("covers/art/quarters.png");
    says(&picture(&whole[..whole.len() / 2]), ERRORS, &["art/a.png"]);
    let folder = TestHome::new().with("cover.kdl", &image).with("art/a.png/inner", b"");
    says(&folder, ERRORS, &["art/a.png", "cannot be read"]);
}

#[test]
fn fonts_that_cannot_be_used() {
    let cover = panel("text a words=\"Salt\" { left 20; width 60; top 20 }");
    let font = include_bytes!("../fonts-open/EBGaramond/EBGaramond-Regular.ttf");
    let home = TestHome::new().with("cover.kdl", &cover).with("fonts/half.ttf", &font[..font.len() / 3]);
    says(&home, 0, &["fonts/half.ttf", "is left out"]);
    says(
        &TestHome::new().with("cover.kdl", &cover).with("fonts/none.otf", b"OTTO"),
        0,
        &["fonts/none.otf", "is left out"],
    );
    // The cover's own file comes before the bundled one of the same family.
    let locked = TestHome::new().with("cover.kdl", &cover).with("fonts/locked.ttf", licence::restricted(font));
    says(&locked, ERRORS, &["is marked as not to be embedded", "cover.kdl:4:6"]);
}

#[test]
fn folders_that_cannot_be_written() {
    // A file, and a path below a file, hold against root as well, who may write anywhere.
    let home = TestHome::new()
        .with("cover.kdl", panel("band a { swatch black; left 0; width 9; top 0; height 9 }"))
        .with("taken", b"");
    for out in ["taken", "taken/deeper"] {
        let (code, stated) = run(&home, &["build", "cover.kdl", "--out", out, "--only", "report"]);
        assert_eq!(code, STOPPED, "{stated}");
        assert!(stated.contains("taken"), "{stated}");
    }
}

/// SARIF 2.1.0 (OASIS): the properties that its schema requires, from memory, and places that count from 1.
#[test]
fn mistakes_for_other_programs() {
    let text = format!("{HEAD}panel front {{ band a {{ swatch nigth; left 0; right 0; top 0; height 9 }} }}\n");
    let home = TestHome::new().with("My Fö/cover.kdl", &text).with("other.kdl", HEAD);
    let (code, stated) = run(&home, &["check", "My Fö", "other.kdl", "--report", "sarif"]);
    assert_eq!((code, stated.as_str()), (ERRORS, ""));
    let log = std::fs::read_to_string(home.path("stdout")).expect("is there");
    let log: serde_json::Value = serde_json::from_str(&log).expect("one JSON document for both covers");
    assert_eq!((&log["version"], log["runs"].as_array().map(Vec::len)), (&"2.1.0".into(), Some(1)));
    let driver = &log["runs"][0]["tool"]["driver"];
    assert_eq!(driver["name"], "jaconet");
    let results = log["runs"][0]["results"].as_array().expect("a list");
    let stated =
        |result: &&serde_json::Value| result["message"]["text"].as_str().is_some_and(|text| text.contains("nigth"));
    let found = results.iter().find(stated).expect("the unknown swatch");
    assert_eq!((&found["level"], &found["ruleId"]), (&"error".into(), &"language".into()));
    let place = &found["locations"][0]["physicalLocation"];
    assert_eq!(place["artifactLocation"]["uri"], "My%20F%C3%B6/cover.kdl");
    let column = text.lines().nth(2).and_then(|line| line.find("nigth")).expect("stands in the third line") + 1;
    assert_eq!((&place["region"]["startLine"], &place["region"]["startColumn"]), (&3.into(), &column.into()));
    let known: Vec<&serde_json::Value> =
        driver["rules"].as_array().expect("rules").iter().map(|rule| &rule["id"]).collect();
    assert!(results.iter().all(|result| known.contains(&&result["ruleId"])));
}
