//! Rows with every kind of mistake, and catalogues that are wrong as a whole.

use crate::house::{House, names};

/// What is wrong, in which row and column, and in which words.
const FAULTS: [(&str, &str, &str, &str); 6] = [
    ("Digit,978-1-83744-101-4,en-GB,200,,,", "digit", "row 3, isbn", "the check digit is wrong: 4 should be 3"),
    ("Tongue,978-1-83744-112-9,klingonese,200,,,", "tongue", "row 4, language", "is not a language tag"),
    ("Plate,978-1-83744-113-6,en-GB,200,plaet,,", "plate", "row 5, plate", "\"art/plaet.svg\": there is no such file"),
    ("Short,978-1-83744-114-3", "short", "row 6", "2 cells here, and the first row names 7"),
    ("Salt,978-1-83744-115-0,en-GB,200,,,", "salt+row-7", "row 7, title", "row 2 has the stem `salt`, too"),
    ("Odd,978-1-83744-116-7,en-GB,200,,,overrides/odd.kdl", "odd", "row 8, overrides", "`ribon` is unknown"),
];

fn faulty() -> House {
    let house = House::new();
    let rows: Vec<&str> = FAULTS.iter().map(|fault| fault.0).collect();
    let head = "title,isbn,language,pages,plate,quote,overrides\nSalt,978-1-83744-101-3,en-GB,200,plate,,\n";
    house.write("titles.csv", format!("{head}{}\nLast,978-1-83744-117-4,en-GB,200,,,\n", rows.join("\n")));
    house.write("overrides/odd.kdl", "panel front { ribon mark { left 10 } }\n");
    house
}

#[test]
fn a_mistake_stops_its_own_title_alone() {
    let house = faulty();
    let (exit, out, error) = house.run("build .");
    assert_eq!(exit, 1, "{out}");
    let written = house.files("out");
    for (_, stem, place, words) in FAULTS {
        let line = error.lines().find(|line| line.contains(&format!("error: titles.csv, {place}: ")));
        assert!(line.is_some_and(|line| line.contains(words)), "{place} {words}\n{error}");
        let failed = out.lines().find(|line| line.starts_with(&format!("failed: {stem}: titles.csv, {place}: ")));
        assert!(failed.is_some_and(|line| line.contains(words)), "{out}");
        // The pictures show the mistake; there is no press file.
        assert!(written.contains_key(&format!("{stem}-flat.png")), "{stem}");
        assert!(!written.contains_key(&format!("{stem}-press.pdf")), "{stem}");
    }
    assert!(error.contains("[titles.csv:3:7]") && error.contains("[overrides/odd.kdl:1:15]"), "{error}");
    assert!(written.contains_key("salt-press.pdf") && written.contains_key("last-press.pdf"));
    assert!(out.contains("\n8 covers: 2 built, 0 unchanged, 6 failed in "), "{out}");
}

#[test]
fn programs_are_reported_of_every_mistake() {
    let house = faulty();
    let (exit, reported) = house.build(".");
    assert_eq!(exit, 1);
    assert_eq!(names(&reported, "built"), ["salt", "last"]);
    assert_eq!((&reported["built"], &reported["unchanged"], &reported["failed"]), (&2.into(), &0.into(), &6.into()));
    assert!(reported["seconds"].as_f64().is_some_and(|seconds| seconds > 0.0));
    for (_, stem, place, words) in FAULTS {
        let cover = reported["covers"].as_array().expect("a list").iter().find(|cover| cover["name"] == stem);
        let cover = cover.expect("it is reported");
        let reason = cover["reasons"][0].as_str().expect("a reason");
        assert!(reason.starts_with(&format!("titles.csv, {place}: ")) && reason.contains(words), "{reason}");
        let findings = cover["findings"].as_array().expect("a list");
        let finding = findings.iter().find(|finding| finding["message"].as_str().is_some_and(|m| m.contains(words)));
        let finding = finding.expect("is found");
        let column = finding["cell"].as_str().map_or_else(String::new, |column| format!(", {column}"));
        assert_eq!(format!("row {}{column}", finding["row"]), place, "{finding}");
        assert_eq!((&finding["table"], &finding["severity"]), (&"titles.csv".into(), &"error".into()));
    }
}

#[test]
fn all_is_reported_in_the_order_of_the_table() {
    let house = faulty();
    let reported = |jobs: &str| {
        let (_, out, error) = house.run(&format!("build . --no-store --jobs {jobs}"));
        let timeless: Vec<&str> = out.lines().map(|line| line.split(" in ").next().unwrap_or_default()).collect();
        (timeless.join("\n"), error)
    };
    // What stands as it did is called unchanged, so both runs find the files of a first.
    reported("4");
    let one = reported("1");
    assert_eq!(one, reported("4"));
    let places: Vec<usize> =
        FAULTS.iter().map(|fault| one.1.find(&format!("titles.csv, {}: ", fault.2)).expect("it is reported")).collect();
    assert!(places.is_sorted(), "{}", one.1);
}

#[test]
fn a_catalogue_that_is_wrong_as_a_whole_is_reported_once() {
    let whole = |change: &dyn Fn(&House), words: &str| {
        let house = House::new();
        change(&house);
        let (exit, out, error) = house.run("build .");
        assert_eq!((exit, error.matches("error: ").count()), (1, 1), "{words}: {error}");
        assert!(error.contains(words), "{words}: {error}");
        assert!(out.contains("\nfailed: ./catalogue.kdl: "), "{words}: {out}");
        assert!(house.files("out").is_empty());
        let (exit, reported) = house.build(".");
        assert_eq!((exit, reported["covers"].as_array().map(Vec::len)), (1, Some(0)));
        let message = reported["catalogues"][0]["findings"][0]["message"].as_str().expect("a message");
        assert!(error.contains(message), "{message}");
    };
    whole(&|house| house.swap("catalogue.kdl", "titles.csv", "titels.csv"), "\"titels.csv\": there is no such file");
    whole(&|house| house.swap("catalogue.kdl", "template.kdl", "tmplate.kdl"), "did you mean \"template.kdl\"?");
    whole(&|house| house.write("titles.csv", ""), "titles.csv: the table is empty");
    whole(&|house| house.write("titles.csv", "title,isbn\n"), "titles.csv: the table has no rows");
    whole(&|house| house.write("titles.csv", b"title\nCaf\xe9\n"), "is not UTF-8 text: see its line 2");
    whole(&|house| house.write("titles.csv", "title,title,pages\nA,B,2\n"), "the column `title` stands twice");
    whole(&|house| house.write("template.kdl", "book {\n    pages 10pt\n}\n"), "[template.kdl:2:11]");
    whole(&|house| house.write("template.kdl", b"\xff\xfe"), "not UTF-8");
    whole(&|house| house.write("template.kdl", ""), "the file says nothing");
    whole(&|house| house.write("template.kdl", "series \"no.kdl\"\n"), "\"no.kdl\": there is no such file");
    whole(&|house| house.swap("catalogue.kdl", "template.kdl", "catalogue.kdl"), "the template is a file of its own");
    whole(&|house| house.swap("catalogue.kdl", "}\n", "}\nbook { title \"A\" }\n"), "`book` has no place");
    whole(&|house| house.swap("catalogue.kdl", "titles.csv", "catalogue.kdl"), "cannot be its own table");
    whole(&|house| house.write("catalogue.kdl", "catalogue { template \"template.kdl\" }\n"), "lacks its `titles`");
}

#[test]
fn two_covers_never_write_one_file() {
    let house = House::new();
    house.swap("template.kdl", "book {", "book { title \"Noon\"; pages 200; isbn \"978-1-83744-101-3\";");
    std::fs::copy(house.folder().join("template.kdl"), house.folder().join("noon.kdl")).expect("copies");
    let (exit, out, error) = house.run("build catalogue.kdl noon.kdl");
    assert_eq!((exit, out.as_str()), (2, ""), "{error}");
    assert!(error.contains("would both write noon-press.pdf"), "{error}");
    assert_eq!(house.run("build catalogue.kdl noon.kdl --title noon").0, 0);
}
