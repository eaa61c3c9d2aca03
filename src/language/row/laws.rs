//! Laws of rows: CSV and JSON of one table give one tree; no cell makes a panic, and every place lies in the table.

use crate::ground::kept::kept;
use crate::language::row::tests::{titles, written};
use proptest::prelude::*;
use std::collections::BTreeSet;

const COLUMNS: [&str; 14] = [
    "title",
    "title.lines",
    "author",
    "pages",
    "isbn",
    "price",
    "quote",
    "quote.by",
    "trim",
    "paper",
    "paper.pages",
    "swatch.sea",
    "swatch.sea.c",
    "motto",
];

fn cell() -> impl Strategy<Value = String> {
    let part = prop::sample::select(vec![
        "a", "é", "ש", "\"", "\"\"", "\n", "\r\n", " ", ",", ";", "{", "}", "=", "80", "x", "×", "c=1", "bulk=1.5",
        "GBP", "1.", "(pt)", "//", "/-", "\\", "#", "\u{301}",
    ]);
    prop::collection::vec(part, 0..6).prop_map(|parts| parts.concat())
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 500, failure_persistence: kept("tests/lots/language-row.txt"), ..ProptestConfig::default() })]

    #[test]
    fn csv_and_json_give_one_tree(rows in prop::collection::vec(prop::collection::vec(cell(), COLUMNS.len()), 1..4)) {
        // A row that says nothing is left out of both; a last column keeps all.
        let rows = rows.into_iter().map(|row| row.into_iter().chain(["end".to_owned()]).collect::<Vec<String>>());
        let rows: Vec<Vec<String>> = rows.collect();
        let header: Vec<&str> = COLUMNS.into_iter().chain(["end"]).collect();
        let quoted = |cell: &str| format!("\"{}\"", cell.replace('"', "\"\""));
        let mut csv = header.join(",") + "\n";
        for row in &rows {
            csv += &(row.iter().map(|cell| quoted(cell)).collect::<Vec<_>>().join(",") + "\n");
        }
        let object = |row: &Vec<String>| {
            let members = header.iter().zip(row).map(|(name, cell)| ((*name).to_owned(), cell.clone().into()));
            members.collect::<serde_json::Map<_, _>>()
        };
        let json = serde_json::to_string(&rows.iter().map(object).collect::<Vec<_>>()).expect("text is JSON");
        let (from_csv, csv_findings) = titles("t.csv", &csv);
        let (from_json, json_findings) = titles("t.json", &json);
        // A map of JSON writes its members in the order of their names.
        let sorted = |title| {
            let tree = written(title);
            let mut lines: Vec<String> = tree.lines().map(str::to_owned).collect();
            lines.sort();
            lines
        };
        prop_assert_eq!(from_csv.iter().map(sorted).collect::<Vec<_>>(), from_json.iter().map(sorted).collect::<Vec<_>>());
        // Rows are counted in two ways, and lines of one text in JSON share a place.
        let stated = |findings: &[crate::ground::Finding]| {
            let messages = findings.iter().map(|finding| finding.message.clone());
            messages.filter(|message| !message.starts_with("row ")).collect::<BTreeSet<String>>()
        };
        prop_assert_eq!(stated(&csv_findings), stated(&json_findings));
        for (text, findings) in [(&csv, csv_findings), (&json, json_findings)] {
            for finding in findings {
                prop_assert!(text.get(finding.span.start..finding.span.end).is_some(), "{:?} {:?}", text, finding);
            }
        }
    }
}
