//! What is shown to people: pictures, which are clean even when a cover has errors, and the proof, as other programs read
//! it.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

use std::collections::BTreeMap;
use std::process::{Command, Stdio};

/// A folder with the starter cover in `book/`.
struct House(tempfile::TempDir);

impl House {
    fn started() -> House {
        let house = House(tempfile::tempdir().expect("a temporary folder"));
        assert_eq!(house.run(&["new", "book"]), 0);
        house
    }

    /// A cover of these words in `book/`.
    fn of(cover: &str) -> House {
        let house = House(tempfile::tempdir().expect("a temporary folder"));
        std::fs::create_dir(house.0.path().join("book")).expect("a folder");
        std::fs::write(house.0.path().join("book/cover.kdl"), cover).expect("writes");
        house
    }

    /// Where a file lies that was made.
    fn file(&self, name: &str) -> String {
        self.0.path().join("book/out").join(name).display().to_string()
    }

    /// How it ends.
    fn run(&self, words: &[&str]) -> i32 {
        let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
        let output = command.current_dir(self.0.path()).args(words).stdin(Stdio::null()).output();
        output.expect("the binary runs").status.code().expect("it ends by itself")
    }

    fn swap(&self, from: &str, to: &str) {
        let path = self.0.path().join("book/cover.kdl");
        let text = std::fs::read_to_string(&path).expect("is there");
        assert!(text.contains(from), "{from}");
        std::fs::write(path, text.replace(from, to)).expect("writes");
    }

    /// Every file that was made, by name.
    fn files(&self) -> BTreeMap<String, Vec<u8>> {
        let entries = std::fs::read_dir(self.0.path().join("book/out")).into_iter().flatten().flatten();
        let files = entries.filter(|entry| entry.path().is_file());
        let named = |entry: std::fs::DirEntry| {
            (entry.file_name().to_string_lossy().into_owned(), std::fs::read(entry.path()).expect("is a file"))
        };
        files.map(named).collect()
    }
}

#[test]
fn errors_are_framed_in_the_marked_picture_alone() {
    let house = House::started();
    house.swap("copy=\"blurb.md\" style=blurb {", "style=blurb { stand-in words=60;");
    assert_eq!(house.run(&["build", "book"]), 1);
    let written = house.files();
    let is_framed = |name: &str| {
        let picture = image::load_from_memory(&written[name]).expect("a picture").into_rgb8();
        picture.pixels().filter(|pixel| pixel.0[0] > 200 && pixel.0[1] < 60 && pixel.0[2] > 90).count() > 100
    };
    assert_eq!(["marked", "flat", "back"].map(|name| is_framed(&format!("book-{name}.png"))), [true, false, false]);
    assert!(!written.contains_key("book-press.pdf"));
    house.swap("style=blurb { stand-in words=60;", "copy=\"blurb.md\" style=blurb {");
    assert_eq!(house.run(&["build", "book"]), 0);
    let written = house.files();
    assert!(written.contains_key("book-press.pdf") && !written.contains_key("book-marked.png"));
}

/// A jacket, narrow and with flaps, so that numbers and names stand close; a title from right to left; and errors.
const FAULTY: &str = r#"
book { title "נהר הלילה"; author "Mirela Anand"; pages 61; language en-GB }
format jacket { trim 90 120; board thickness=2; flap 40; bleed 4; safe 4 }
swatches { spot foil ink="Gold foil" c=20 m=30 y=80 k=0 finishing=foil }
panel front {
    band block { swatch foil; left 20; width 30; top 30; height 20 }
    text late words="Too near the cut" { right trim 0.5; width 30; top 70; align right }
    text small words="Hardly to be read" { size 3; left safe; right safe; top 90; waive small-type reason="an imprint of old" }
    text blurb { stand-in words=9; left safe; right safe; top 100 }
}
"#;

/// What another program says.
fn printed(program: &str, words: &[&str]) -> String {
    let output = Command::new(program).args(words).stdin(Stdio::null()).output();
    let output = output.unwrap_or_else(|error| panic!("{program} is wanted: {error}"));
    assert!(output.status.success(), "{program}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("its words are UTF-8")
}

/// The words of some pages as poppler reads them, blanks as one.
fn words(file: &str, first: &str, last: &str) -> String {
    let text = printed("pdftotext", &["-enc", "UTF-8", "-f", first, "-l", last, file, "-"]);
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// The layers as pikepdf reads them.
fn layers(file: &str) -> Vec<String> {
    let code = "import pikepdf, sys\npdf = pikepdf.open(sys.argv[1])\n\
        for group in pdf.Root.OCProperties.OCGs: print(group.Name)";
    python(code, file).lines().map(str::to_owned).collect()
}

fn python(code: &str, file: &str) -> String {
    let own = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join(".venv/bin/python3");
    let program = if own.is_file() { own.display().to_string() } else { "python3".to_owned() };
    printed(&program, &["-c", code, file])
}

#[test]
fn a_cover_with_errors_has_a_proof_of_all_that_was_found() {
    let house = House::of(FAULTY);
    assert_eq!(house.run(&["build", "book", "--only", "press,proof,report"]), 1);
    let names: Vec<String> = house.files().into_keys().collect();
    assert_eq!(names, ["book-proof.pdf", "book-report.json"], "there is no press file");
    let report: serde_json::Value = serde_json::from_slice(&house.files()["book-report.json"]).expect("is JSON");
    let findings = report["findings"].as_array().expect("a list");
    assert!(findings.len() >= 4, "{report}");
    // Each finding with its number, way out, rule and line, in the order of the report.
    let said =
        printed("pdftotext", &["-enc", "UTF-8", "-layout", "-f", "2", "-l", "2", &house.file("book-proof.pdf"), "-"]);
    let said = said.split_whitespace().collect::<Vec<_>>().join(" ");
    let mut rest = words(&house.file("book-proof.pdf"), "2", "2");
    for finding in findings {
        let field = |name: &str| finding[name].as_str().unwrap_or_default().to_owned();
        let line = format!("{}:{}", field("file"), finding["line"]);
        for words in [format!("{}, {}", field("severity"), field("rule")), line] {
            assert!(said.contains(&words), "{words}\n{said}");
        }
        for words in [field("message"), field("help")] {
            let at = rest.find(&words);
            assert!(at.is_some(), "{words}\n{rest}");
            rest = rest[at.unwrap_or_default()..].to_owned();
        }
    }
    assert!(said.contains("the reason given: an imprint of old"), "{said}");
}

#[test]
fn the_proof_shows_the_wrap_at_true_size_with_the_measures() {
    let house = House::of(FAULTY);
    assert_eq!(house.run(&["build", "book", "--only", "proof"]), 1);
    assert_eq!(house.files().into_keys().collect::<Vec<_>>(), ["book-proof.pdf"]);
    let file = house.file("book-proof.pdf");
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    let measured = command.current_dir(house.0.path()).args(["measure", "book", "--report", "json"]).output();
    let measured: serde_json::Value = serde_json::from_slice(&measured.expect("runs").stdout).expect("is JSON");
    let measured = measured["covers"][0]["measures"].as_array().expect("measures");
    let measure = |name: &str| {
        measured.iter().find(|measure| measure["name"] == name).and_then(|measure| measure["value"].as_f64())
    };
    let boxes = printed("pdfinfo", &["-box", "-f", "1", "-l", "1", &file]);
    for (name, sides) in [("TrimBox", ["flat width", "flat height"]), ("BleedBox", ["sheet width", "sheet height"])] {
        let line = boxes.lines().find(|line| line.contains(name)).expect("the page has it");
        let edges: Vec<f64> = line.split_whitespace().filter_map(|word| word.parse().ok()).collect();
        let edges = &edges[edges.len() - 4..];
        for (side, points) in sides.iter().zip([edges[2] - edges[0], edges[3] - edges[1]]) {
            // A point is a 72nd of an inch (ISO 32000, user space unit), an inch 25.4 mm (international inch, 1959).
            let wanted = measure(side).expect("is measured") * 72.0 / 25.4;
            assert!((points - wanted).abs() <= 0.01, "{side}: {points} for {wanted}");
        }
    }
    let shown = words(&file, "1", "1");
    let panels = ["back-flap", "back", "spine", "front", "front-flap"];
    let numbers: Vec<f64> = panels.iter().filter_map(|panel| measure(&format!("{panel} width"))).collect();
    assert_eq!(numbers.len(), 5, "{measured:?}");
    for number in numbers.into_iter().chain(["flat width", "flat height"].into_iter().filter_map(measure)) {
        assert!(shown.split(' ').any(|word| word == number.to_string()), "{number}\n{shown}");
    }
    assert_eq!(layers(&file).last().map(String::as_str), Some("findings"), "no word lies across it");
    assert!(shown.contains("For approval, not for printing") && !shown.contains("PDF/X"), "{shown}");
}

#[test]
fn the_proof_has_layers_and_words_that_can_be_found() {
    let house = House::of(&format!("{FAULTY}deliver {{ proof draft ppi=72 }}\n"));
    assert_eq!(house.run(&["build", "book", "--only", "proof"]), 1);
    let file = house.file("book-proof.pdf");
    let wanted = ["bleed", "safe area", "folds", "trim", "panel names", "dimensions", "findings", "word across"];
    assert_eq!(layers(&file), wanted);
    let all = words(&file, "1", "3");
    assert_eq!(all.matches("נהר הלילה").count(), 4, "on the wrap, over each page and among the facts: {all}");
    // 30 by 20 mm of foil are 6 cm².
    assert!(all.contains("Gold foil") && all.contains("6.0 cm²") && all.contains("block: front 30 × 20 mm"), "{all}");
    for words in ["approved with changes", "Signature", "8.72 mm", "EBGaramond"] {
        assert!(all.contains(words), "{words}\n{all}");
    }
    assert_eq!(printed("qpdf", &["--check", &file]).lines().last().map(|line| line.contains("errors")), Some(true));
    let again = House::of(&format!("{FAULTY}deliver {{ proof draft ppi=72 }}\n"));
    assert_eq!(again.run(&["build", "book", "--only", "proof"]), 1);
    assert!(again.files() == house.files(), "same cover, same bytes");
}

#[test]
fn the_proof_of_every_example_can_be_mailed() {
    let home = tempfile::tempdir().expect("a temporary folder");
    for name in ["salt-and-lanterns", "the-quiet-instruments", "birzei-hapardes"] {
        let example = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("examples").join(name);
        let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
        command.arg("build").arg(example).args(["--only", "proof", "--out"]).arg(home.path());
        assert_eq!(command.output().expect("runs").status.code(), Some(0), "{name}");
        let size = std::fs::metadata(home.path().join(format!("{name}-proof.pdf"))).expect("is there").len();
        assert!(size < 5_000_000, "{name}: {size}");
    }
}
