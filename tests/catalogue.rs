//! Catalogues through the binary: a mistake stops its title alone, and nothing is made twice.

#[path = "catalogue/faulty.rs"]
mod faulty;
#[path = "catalogue/house.rs"]
mod house;
#[path = "catalogue/repeats.rs"]
mod repeats;
#[path = "catalogue/shares.rs"]
mod shares;

use house::{House, TITLES, names};

const LEDGER: &str = "a-ledger-of-tides-and-of-other-things";

#[test]
fn every_row_is_a_cover_of_its_own() {
    let house = House::new();
    let (exit, reported) = house.build(".");
    assert_eq!((exit, names(&reported, "built").len()), (0, 4), "{reported:#}");
    let report = |stem: &str| -> serde_json::Value {
        serde_json::from_slice(&house.files("out")[&format!("{stem}-report.json")]).expect("is JSON")
    };
    let elements = |stem: &str| {
        let report = report(stem);
        let all = report["elements"].as_array().expect("a list").iter().map(|element| element["name"].to_string());
        all.filter(|name| name.contains("plate") || name.contains("said")).count()
    };
    // `when=` a picture, `each` of two quotes, `otherwise` a smaller style.
    assert_eq!(["salt", "ferry", "noon"].map(elements), [1, 2, 0]);
    let sizes = |stem: &str| {
        let all = report(stem)["elements"].as_array().expect("a list").clone();
        all.into_iter().find(|element| element["name"] == "title").expect("a title")["height"]
            .as_f64()
            .expect("a height")
    };
    // Too long for one line of 14 pt, the title stands in one of 9 pt.
    let sizes = sizes(LEDGER) / sizes("salt");
    assert!((sizes - 9.0 / 14.0).abs() < 0.01, "{sizes}");
    // 2 × 0.3 mm of stock and 100 or 112 leaves of 0.12 mm.
    for (stem, spine) in [("salt", 12.6), ("noon", 14.04)] {
        let width = report(stem)["sheet"]["panels"][1]["width"].as_f64().expect("a width");
        assert!((width - spine).abs() < 0.006, "{width}");
    }
}

#[test]
fn nothing_is_made_twice() {
    let house = House::new();
    assert_eq!(house.build(".").0, 0);
    let again = |what: &str, built: &[&str]| {
        let (exit, reported) = house.build(".");
        assert_eq!(
            (exit, names(&reported, "built")),
            (0, built.iter().map(|name| (*name).to_owned()).collect()),
            "{what}"
        );
        reported
    };
    let reported = again("as it was", &[]);
    assert_eq!(reported["unchanged"], 4);
    assert_eq!(reported["work"], serde_json::json!({ "set": 0, "converted": 0, "compressed": 0, "lit": 0 }));
    house.swap("titles.csv", "Ferry,978-1-83744-108-2,en-GB,208", "Ferry,978-1-83744-108-2,en-GB,240");
    again("a cell", &["ferry"]);
    house.swap("titles.csv", "overrides\n", "overrides\nDawn,978-1-83744-111-2,en-GB,96,,,,\n");
    again("a row above", &["dawn"]);
    house.swap("overrides/noon.kdl", "y=20", "y=30");
    again("overrides", &["noon"]);
    house.swap("art/plate.svg", "M0 0h9v9z", "M0 0h9v8z");
    again("a picture", &["salt"]);
    house.swap("template.kdl", "k=90", "k=91");
    again("the template", &["dawn", "salt", "ferry", LEDGER, "noon"]);
    again("as it was", &[]);
}

#[test]
fn places_in_the_table_stay_right_when_rows_move() {
    let house = House::new();
    house.swap("titles.csv", "Noon,978-1-83744-110-5,de", "Noon,978-1-83744-110-2,de");
    let row = || {
        let (exit, reported) = house.build(".");
        let noon = reported["covers"].as_array().expect("a list").iter().find(|cover| cover["name"] == "noon");
        let finding = noon.expect("it is reported")["findings"][0].clone();
        assert_eq!((exit, &finding["cell"]), (1, &"isbn".into()), "{finding}");
        let report: serde_json::Value =
            serde_json::from_slice(&house.files("out")["noon-report.json"]).expect("is JSON");
        assert_eq!(report["findings"][0]["line"], finding["line"], "{report:#}");
        (finding["row"].as_u64(), finding["line"].as_u64())
    };
    // The quotes of a row above run over two lines, and so do their authors.
    assert_eq!(row(), (Some(5), Some(7)));
    assert_eq!(row(), (Some(5), Some(7)));
    house.swap("titles.csv", "overrides\n", "overrides\nDawn,978-1-83744-111-2,en-GB,96,,,,\n");
    assert_eq!(row(), (Some(6), Some(8)));
}

#[test]
fn titles_are_picked_by_stem() {
    let house = House::new();
    let (exit, reported) = house.build(". --title noon salt");
    assert_eq!((exit, names(&reported, "built")), (0, vec!["salt".to_owned(), "noon".to_owned()]));
    let (exit, _, error) = house.run("build . --title slat");
    assert!(exit == 2 && error.contains("no catalogue here has a title `slat`"), "{error}");
    assert!(error.contains("did you mean `salt`?"), "{error}");
    let (exit, _, error) = house.run("build titles.csv");
    assert!(exit == 2 && error.contains("titles.csv is a table, not a cover"), "{error}");
}

#[test]
fn tables_in_all_their_writings_give_the_same_press_files() {
    let house = House::new();
    let press = |what: &str| {
        let (exit, reported) = house.build(". --no-store --only press --out press");
        assert_eq!((exit, names(&reported, "built").len()), (0, 4), "{what}: {reported:#}");
        house.files("press")
    };
    let plain = press("commas");
    assert_eq!(plain.len(), 4);
    house.write("titles.csv", format!("\u{feff}{}", TITLES.replace(',', ";").replace('\n', "\r\n")));
    house.swap("titles.csv", "Fine.\r\n", "Fine.\n");
    house.swap("titles.csv", "E. Rowe\r\n", "E. Rowe\n");
    assert!(plain == press("semicolons, a byte-order mark, line ends of another system"));
    house.write(
        "titles.json",
        r#"[{"title": "Salt", "isbn": "978-1-83744-101-3", "language": "en-GB", "pages": 200, "plate": "plate"},
            {"title": "Ferry", "isbn": "978-1-83744-108-2", "language": "en-GB", "pages": 208,
             "quote": ["Fine.", "Bold."], "quote.by": ["E. Rowe", "T. Lind"]},
            {"title": "A Ledger of Tides and of Other Things", "isbn": "978-1-83744-109-9", "language": "en-GB",
             "pages": 216},
            {"title": "Noon", "isbn": "978-1-83744-110-5", "language": "de", "pages": 224,
             "overrides": "overrides/noon.kdl"}]"#,
    );
    house.swap("catalogue.kdl", "titles.csv", "titles.json");
    assert!(plain == press("JSON"));
}

/// A fact of one's own that some titles lack: no title has a finding for it, and a template's own word stays.
#[test]
fn empty_cells_of_facts_are_no_remark() {
    let house = House::new();
    house.swap(
        "template.kdl",
        "press coated",
        "panel spine { text note words=\"{note}\" when=note { head 20; size 8; over ground } }\npress coated",
    );
    house.write("titles.csv", "title,isbn,pages,note\nSalt,978-1-83744-101-3,200,New\nFerry,978-1-83744-108-2,208,\n");
    let (exit, out, error) = house.run("check .");
    assert_eq!((exit, error.as_str()), (0, ""), "{out}");
    assert!(!out.contains("does not state `note`"), "{out}");
    // Without the column at all it is one.
    house.write("titles.csv", "title,isbn,pages\nSalt,978-1-83744-101-3,200\n");
    let (_, out, error) = house.run("check .");
    assert!((out + &error).contains("does not state `note`"), "{error}");
    // In other capitals it is another fact, and an error.
    house.write("titles.csv", "title,isbn,pages,Note\nSalt,978-1-83744-101-3,200,New\n");
    let (exit, out, error) = house.run("check .");
    assert!(exit != 0 && (out + &error).contains("the template calls it `note`"), "{error}");
}

#[test]
fn editions_of_a_template_are_editions_of_every_title() {
    let house = House::new();
    house.swap("template.kdl", "press coated", "edition case { swatches { swatch sea c=40 } }\npress coated");
    let (exit, reported) = house.build(". --title noon salt");
    assert_eq!(
        (exit, names(&reported, "built")),
        (0, ["salt", "salt (case)", "noon", "noon (case)"].map(String::from).into())
    );
    assert!(house.files("out").contains_key("noon-case-press.pdf"));
    let (exit, reported) = house.build(". --title noon --edition case");
    assert_eq!((exit, names(&reported, "unchanged")), (0, vec!["noon (case)".to_owned()]));
    let (exit, _, error) = house.run("build . --edition cloth");
    assert!(exit == 2 && error.contains("`cloth`"), "{error}");
}

#[test]
fn the_other_commands_take_catalogues() {
    let house = House::new();
    let (exit, out, error) = house.run("check .");
    assert_eq!((exit, error.as_str()), (0, ""), "{out}");
    assert_eq!(out.lines().filter(|line| line.ends_with(": no findings")).count(), 4, "{out}");
    let (exit, out, _) = house.run("measure .");
    assert!(exit == 0 && out.starts_with("salt\n") && out.contains("\n\nnoon\n"), "{out}");
    let (exit, out, _) = house.run("measure . --title noon --report json");
    let reported: serde_json::Value = serde_json::from_str(&out).expect("is JSON");
    assert_eq!((exit, &reported["covers"][0]["name"]), (0, &"noon".into()), "{reported:#}");
    let (exit, out, error) = house.run("shelf . --out shown/shelf.png");
    assert!(exit == 0 && house.files("shown").contains_key("shelf.png"), "{out}{error}");
    let (exit, out, error) = house.run("tidy catalogue.kdl");
    assert_eq!((exit, error.as_str()), (0, ""), "{out}");
    assert_eq!(house.build(".").1["built"], 4);
}

#[test]
fn the_page_on_catalogues_shows_one_that_builds() {
    let page = include_str!("../src/cli/topics/catalogue.txt");
    let block = |first: &str| {
        let block = page.split("\n\n").find(|block| block.starts_with(&format!("    {first}"))).expect("is shown");
        block.lines().map(|line| line.trim_start_matches("    ").to_owned() + "\n").collect::<String>()
    };
    let house = House::new();
    house.write("catalogue.kdl", block("catalogue {"));
    house.write("titles.csv", block("title,"));
    house.write("overrides/tin-orchard.kdl", "panel front { text title { top 40 } }\n");
    let (exit, reported) = house.build(".");
    assert_eq!(
        (exit, names(&reported, "built")),
        (0, ["salt-and-lanterns", "the-tin-orchard"].map(String::from).into())
    );
    let notes: Vec<_> = reported["covers"]
        .as_array()
        .expect("a list")
        .iter()
        .filter_map(|cover| cover["findings"].as_array())
        .flatten()
        .collect();
    assert!(notes.is_empty(), "{notes:#?}");
}

// Light depends on shape, camera and lamps alone, so titles of one extent share it.
#[test]
fn titles_of_one_extent_share_the_light_of_their_views() {
    let house = House::new();
    house.swap("template.kdl", "deliver {", "view standing { pixels 96 78 }\ndeliver {");
    let lit = |last: &str| {
        let extents =
            [",208,", ",216,"].iter().fold(TITLES.to_owned(), |titles, extent| titles.replace(extent, ",200,"));
        house.write("titles.csv", extents.replace(",224,", &format!(",{last},")));
        let (_, reported) = house.build(&format!(". --no-store --jobs 1 --out out-{last}"));
        assert_eq!(names(&reported, "built").len(), 4, "{reported:#}");
        let made = house.files(&format!("out-{last}"));
        assert_eq!(made.keys().filter(|name| name.ends_with("view-standing.png")).count(), 4);
        reported["work"]["lit"].as_u64().expect("is counted")
    };
    assert_eq!([lit("200"), lit("240")], [1, 2]);
}
