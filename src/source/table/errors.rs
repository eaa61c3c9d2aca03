//! What is wrong with a table is reported at its place, and stops no more than it must.

use crate::ground::Finding;
use crate::source::table::rows::{COLUMN_LIMIT, ROW_LIMIT, TEXT_LIMIT};
use crate::source::table::tests::read;

/// Line, what is pointed at, message and help.
fn shown(text: &str, finding: &Finding) -> (usize, String, String) {
    let line = text[..finding.span.start].matches('\n').count() + 1;
    let pointed = text[finding.span.start..finding.span.end].to_owned();
    (line, pointed, format!("{} / {}", finding.message, finding.help.as_deref().unwrap_or_default()))
}

/// The one error of a whole file.
fn whole(name: &str, text: &str, line: usize, pointed: &str, words: &str) {
    let (_, findings) = read(name, text);
    let all: Vec<_> = findings.iter().map(|finding| shown(text, finding)).collect();
    let [(at, place, stated)] = &all[..] else { panic!("{text:?}: {all:?}") };
    assert_eq!((*at, place.as_str()), (line, pointed), "{stated}");
    assert!(stated.contains(words), "{stated}");
}

/// The one fault of one row; every other row is sound.
fn one(name: &str, text: &str, number: usize, pointed: &str, words: &str) {
    let (table, findings) = read(name, text);
    assert!(findings.is_empty(), "{text:?}: {findings:?}");
    let faults: Vec<_> =
        table.rows.iter().flat_map(|row| row.faults.iter().map(|fault| (row.number, shown(text, fault)))).collect();
    let [(at, (_, place, stated))] = &faults[..] else { panic!("{text:?}: {faults:?}") };
    assert_eq!((*at, place.as_str()), (number, pointed), "{stated}");
    assert!(stated.contains(words), "{stated}");
    assert!(table.rows.iter().any(|row| row.faults.is_empty()), "the other rows stay");
}

#[test]
fn a_csv_file_that_cannot_be_reported_apart() {
    let cases = [
        ("a,b\n1,2\n3,\"4\n5,6\n7,8\n", 3, "\"", "never closed"),
        ("a,b\n1,\"2\n3,\"4\",5\n", 2, "\"", "closes before the end"),
        ("\"a\"b,c\n1,2\n", 1, "\"", "closes before the end"),
        ("a,,c\n1,,2\n3,x,4\n5,y,6\n", 3, "x", "column 2 has no name, and row 3 fills it"),
        ("a,b\n", 1, "", "no rows / write a row"),
        ("a,b\n,\n\n", 1, "", "no rows"),
        ("", 1, "", "empty / begin with a line"),
        ("\u{feff}\r\n \r\n", 1, "", "empty"),
    ];
    for (text, line, pointed, words) in cases {
        whole("t.csv", text, line, pointed, words);
    }
}

#[test]
fn a_row_of_csv_that_is_wrong_stands_alone() {
    one("t.csv", "a,b\n1,2\n3\n4,5\n", 3, "3", "1 cell here, and the first row names 2");
    one("t.csv", "a,b\n1,2\n3,4,5\n", 3, "3,4,5", "3 cells here, and the first row names 2");
    one("t.csv", "a,b\n1,2\n\"He said \"no\" twice\",5\n", 3, "no\" twice\"", "doubled");
}

#[test]
fn a_json_file_that_is_none() {
    let cases = [
        ("[{\"a\": 1},\n {\"a\": 2,}]", 2, "}", "a comma stands before this"),
        ("[{\"a\": 1}\n", 1, "\n", "this is not JSON: EOF"),
        ("", 1, "", "this is not JSON: EOF"),
        ("[{\"a\": 1}] x", 1, "x", "trailing characters"),
        ("\u{feff}[{\"a\": é}]", 1, "é", "expected value"),
        ("[{\"a\": 010}]", 1, "1", "invalid number"),
        ("7", 1, "7", "no array of titles"),
        ("{\"a\": 1}", 1, "{\"a\": 1}", "no array of titles"),
        ("{\"a\": [1], \"b\": [2]}", 1, "[2]", "there are 2 arrays here"),
        ("[]", 1, "", "no rows / put an object"),
    ];
    for (text, line, pointed, words) in cases {
        whole("t.json", text, line, pointed, words);
    }
}

#[test]
fn a_title_of_json_that_is_wrong_stands_alone() {
    let cases = [
        ("3", "3", "3 is not a title"),
        ("{\"a\": 1, \"a\": 2}", "\"a\"", "`a` is stated twice"),
        ("{\"a.b\": 1, \"a\": {\"b\": 2}}", "\"b\"", "`a.b` is stated twice"),
        ("{\"a\": [[1]]}", "[1]", "`a` is nested too deep"),
        ("{\"a\":{\"b\":{\"c\":{\"d\":{\"e\":{\"f\":1}}}}}}", "{\"f\":1}", "`a.b.c.d.e` is nested too deep"),
        ("{\"\": 1}", "\"\"", "a column without a name"),
        ("{\"a\": \"\\ud83d\"}", "\"\\ud83d\"", "not sound text"),
        ("{\"\\ud83d\": 1}", "\"\\ud83d\"", "not sound text"),
    ];
    for (title, pointed, words) in cases {
        one("t.json", &format!("[{{\"z\": 1}}, {title}]"), 2, pointed, words);
    }
}

#[test]
fn limits_are_named() {
    let (_, findings) = read("t.csv", &" ".repeat(TEXT_LIMIT + 1));
    assert!(findings.iter().all(|finding| finding.message == "the table is 64 MB large; the limit is 64 MB"));
    assert_eq!(findings.len(), 1);
    let rows = "1\n".repeat(ROW_LIMIT);
    assert_eq!(read("t.csv", &format!("a\n{rows}")).0.rows.len(), ROW_LIMIT);
    let (table, findings) = read("t.csv", &format!("a\n{rows}1\n2\n"));
    assert_eq!((table.rows.len(), findings.len()), (ROW_LIMIT, 1));
    whole("t.csv", &format!("a\n{rows}2"), ROW_LIMIT + 2, "2", "more than 100000 rows");
    let objects = "{\"a\":1},".repeat(ROW_LIMIT);
    whole("t.json", &format!("[{objects}{{\"a\":2}}]"), 1, "{\"a\":2}", "more than 100000 rows");
    let header = format!("a{}", ",a".repeat(COLUMN_LIMIT));
    whole("t.csv", &format!("{header}\n1"), 1, &header, "has 1001 columns");
    let names: Vec<String> = (0..=COLUMN_LIMIT).map(|at| format!("\"{at}\":1,")).collect();
    let names = names.concat();
    one("t.json", &format!("[{{\"z\":1}},{{{names}\"b\":1}}]"), 2, "\"b\"", "more than 1000 columns");
    // Brackets without end neither panic nor run deep.
    whole("t.json", &"[".repeat(100_000), 1, "[", "EOF");
    let deep = format!("[{{\"z\":1}},{{\"a\":{}1{}}}]", "[".repeat(50_000), "]".repeat(50_000));
    assert_eq!(read("t.json", &deep).0.rows[1].faults.len(), 1);
}
