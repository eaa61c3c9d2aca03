//! What is found of a template in several titles is reported once, with how many and the first of them.

use crate::house::House;
use serde_json::Value;

/// A band off the sheet in every title, and a row whose own ISBN is wrong.
fn repeating() -> House {
    let house = House::new();
    let title = "    text title words=\"{title}\" style=plain";
    let off = "    band lost { swatch sea; left 900; width 5; top 20; height 5 }\n";
    house.swap("template.kdl", title, &format!("{off}{title}"));
    house.swap("titles.csv", "Noon,978-1-83744-110-5,de", "Noon,978-1-83744-110-2,de");
    house
}

#[test]
fn people_read_it_once() {
    let house = repeating();
    for command in ["check .", "build ."] {
        let (exit, _, error) = house.run(command);
        assert_eq!(exit, 1, "{error}");
        let shown = error.matches("warning: titles.csv, row 2: `lost` lies wholly off the sheet").count();
        assert_eq!((shown, error.matches("lies wholly off the sheet").count()), (1, 2), "{error}");
        let summed = "in 4 titles (salt, ferry, a-ledger-of-tides-and-of-other-things …): warning: template.kdl:";
        assert!(error.contains(summed), "{error}");
        assert_eq!(error.matches("titles.csv, row 5, isbn: ").count(), 1, "{error}");
    }
    // A title that stands alone in a run says what it always said.
    let (_, _, error) = house.run("check . --title ferry");
    assert_eq!(error.matches("titles.csv, row 3: `lost` lies wholly off the sheet").count(), 1, "{error}");
    assert!(!error.contains("in 1 title"), "{error}");
}

#[test]
fn programs_read_it_once() {
    let house = repeating();
    let reported = |words: &str| -> Value {
        let (_, out, error) = house.run(words);
        serde_json::from_str(&out).unwrap_or_else(|_| panic!("{out}\n{error}"))
    };
    for words in ["check . --report json", "build . --report json"] {
        let reported = reported(words);
        let templates = reported["templates"].as_array().expect("a list");
        assert_eq!(templates.len(), 1, "{reported:#}");
        assert_eq!((&templates[0]["rule"], &templates[0]["count"]), (&"nothing-shows".into(), &4.into()));
        assert_eq!((&templates[0]["file"], &templates[0]["titles"][3]), (&"template.kdl".into(), &"noon".into()));
        let left: Vec<usize> = reported["covers"]
            .as_array()
            .expect("a list")
            .iter()
            .map(|cover| cover["findings"].as_array().map_or(9, Vec::len))
            .collect();
        assert_eq!(left, [0, 0, 0, 1], "{reported:#}");
    }
    // SARIF 2.1.0, 3.27.26 `occurrenceCount`: how often a result was observed (from memory).
    let log = reported("check . --report sarif");
    let results = log["runs"][0]["results"].as_array().expect("a list");
    let lost: Vec<&Value> = results.iter().filter(|result| result["ruleId"] == "nothing-shows").collect();
    assert_eq!((lost.len(), results.len(), &lost[0]["occurrenceCount"]), (1, 2, &4.into()), "{log:#}");
    assert_eq!(lost[0]["locations"][0]["physicalLocation"]["artifactLocation"]["uri"], "template.kdl");
}
