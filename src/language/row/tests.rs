//! Rows as trees: every column in its node, every value at its cell, every slip reported there.

use crate::ground::{FileId, Finding, Findings};
use crate::language::row::stem::stem;
use crate::language::row::{Title, judge_columns, numbers_twice, stems_twice, title};
use crate::source::{Node, Value, table};
use std::fmt::Write as _;

/// The titles of a table that is sound as a whole, and what is wrong with each.
pub fn titles(name: &str, text: &str) -> (Vec<Title>, Vec<Finding>) {
    let mut findings = Findings::default();
    let table = table(&mut findings, FileId(2), name, text);
    assert!(findings.is_empty(), "{text}: {findings:?}");
    let stated: Vec<String> = table.columns.iter().map(|column| format!("{{{0}}} {0}", column.value)).collect();
    judge_columns(&mut findings, &table, &stated.join(" ").replace("swatch.", " "));
    let mut read = Vec::new();
    for row in &table.rows {
        read.push(title(&mut findings, row));
    }
    (read, findings.iter().cloned().collect())
}

/// A tree as it would be written, one node a line.
pub fn written(title: &Title) -> String {
    fn add(out: &mut String, node: &Node, depth: usize) {
        write!(out, "{:1$}{2}", "", depth * 2, node.name.value).expect("a string takes every line");
        let values = node.values.iter().map(Value::shown);
        let properties = node.properties.iter().map(|(key, value)| format!("{}={}", key.value, value.shown()));
        for stated in values.chain(properties) {
            write!(out, " {stated}").expect("a string takes every line");
        }
        out.push('\n');
        node.children.iter().for_each(|child| add(out, child, depth + 1));
    }
    let mut out = String::new();
    title.tree.nodes.iter().for_each(|node| add(&mut out, node, 0));
    out
}

const CSV: &str = "Title,title.short,title.lines,author,pages,pages.state,ISBN,price,price.USD,in-series,in-series.number,\
version,version.date,quote,quote.by,quote.source,binding,trim,paper,cover-stock.caliper,swatch.sea,swatch.lamp.m,strapline,stem,overrides\r\n\
\"Salt and\r\nLanterns\",Salt,\"Salt and\nLanterns\",\"A. Author\nB. Author\",312,estimated,978-1-83742-615-7,\"GBP 10.90\nEUR 12\",14,\
Harbour,2,3,2026-04-02,\"A marvel\n\nFine\",\"E. Rowe\nX\nY\",,paperback,129 × 198,\"grammage=80 bulk=1.5\npages=16 caliper=0.1\",\
0.3,c=70 m=20,34,\"Of the\r\nsea\",salt,salt.kdl\r\n";

const TREE: &str = r#"book
  title "Salt and Lanterns"
    short "Salt"
    lines "Salt and" "Lanterns"
  author "A. Author"
  pages 312 state="estimated"
  isbn "978-1-83742-615-7"
  price "GBP" "10.90"
  in-series "Harbour" number=2
  version 3 date="2026-04-02"
  quote "A marvel" by="E. Rowe"
  fact "strapline" "Of the\nsea"
  author "B. Author"
  price "EUR" "12"
  quote by="X"
  price "USD" "14"
  quote "Fine" by="Y"
format "paperback"
  trim 129 198
  paper grammage=80 bulk=1.5
  cover-stock caliper=0.3
  paper pages=16 caliper=0.1
swatches
  swatch "sea" c=70 m=20
  swatch "lamp" m=34
"#;

#[test]
fn every_column_has_its_node() {
    let (titles, findings) = titles("t.csv", CSV);
    assert!(findings.is_empty(), "{findings:?}");
    assert_eq!(written(&titles[0]), TREE);
    assert_eq!(titles[0].stem.value, "salt");
    assert_eq!(titles[0].overrides.as_ref().map(|path| path.value.as_str()), Some("salt.kdl"));
}

/// The same row, as JSON nests it.
#[test]
fn json_says_the_same() {
    let text = r#"[{"title": {"text": "Salt and Lanterns", "short": "Salt", "lines": ["Salt and", "Lanterns"]},
        "author": ["A. Author", "B. Author"], "pages": {"text": 312, "state": "estimated"}, "isbn": "978-1-83742-615-7",
        "price": ["GBP 10.90", "EUR 12"], "price.USD": 14, "in-series": {"text": "Harbour", "number": 2},
        "version": {"text": 3, "date": "2026-04-02"},
        "quote": [{"text": "A marvel", "by": "E. Rowe"}, {"by": "X"}, {"text": "Fine", "by": "Y"}],
        "binding": "paperback", "trim": [129, 198], "paper": ["grammage=80 bulk=1.5", {"pages": 16, "caliper": 0.1}],
        "cover-stock": {"caliper": 0.3}, "swatch": {"sea": "c=70 m=20", "lamp": {"m": 34}},
        "strapline": "Of the\nsea", "stem": "salt", "overrides": "salt.kdl"}]"#;
    let (titles, findings) = titles("t.json", text);
    assert!(findings.is_empty(), "{findings:?}");
    assert_eq!(written(&titles[0]), TREE);
}

#[test]
fn empty_cells_say_nothing() {
    let (read, findings) = titles("t.csv", "title,isbn,paper,quote,stem\nSalt, ,,\"\n\",\n");
    assert!(findings.is_empty(), "{findings:?}");
    assert_eq!(written(&read[0]), "book\n  title \"Salt\"\n");
    let (read, _) =
        titles("t.json", "[{\"title\": null, \"isbn\": \"\", \"price\": [], \"stem\": \"a\", \"new\": false}]");
    assert_eq!(written(&read[0]), "");
    // A column that stands twice continues its list.
    let (read, _) = titles("t.csv", "title,author,author,quote,quote.by,quote,quote.by\nT,A,B,Q,X,,Y\n");
    let tree = "book\n  title \"T\"\n  author \"A\"\n  quote \"Q\" by=\"X\"\n  author \"B\"\n  quote by=\"Y\"\n";
    assert_eq!(written(&read[0]), tree);
}

#[test]
fn every_value_stands_at_its_cell() {
    let (titles, _) = titles("t.csv", CSV);
    let mut open: Vec<&Node> = titles[0].tree.nodes.iter().collect();
    let mut texts = Vec::new();
    while let Some(node) = open.pop() {
        for value in node.values.iter().chain(node.properties.iter().map(|(_, value)| value)) {
            assert_eq!(value.span.file, FileId(2));
            texts.push(CSV[value.span.start..value.span.end].to_owned());
        }
        open.extend(&node.children);
    }
    for stated in ["GBP", "10.90", "B. Author", "198", "1.5", "20", "34", "Salt and\r\nLanterns", "price.USD", "Y"] {
        assert!(texts.iter().any(|text| text == stated), "{stated} is in {texts:?}");
    }
}

#[test]
fn slips_are_reported_in_their_cell() {
    let cases = [
        ("t.csv", "title,price\nA,£10\n", "£10", "is not a price / write currency"),
        ("t.csv", "title,paper\nA,\"grammage=80 bulk=1,5\"\n", "1,5", "1.5"),
        ("t.json", "[{\"title\": \"A\", \"trim\": \"129mm 198\"}]", "129mm", "write 129"),
        ("t.csv", "title,bleed\nA,3; spine 9\n", "3; spine 9", "does not stop at what follows `bleed`"),
        ("t.csv", "title,bleed\nA,\"3\n}\"\n", "}", "closes nothing"),
        ("t.csv", "title,isbn\nA,9.78184E+12\n", "9.78184E+12", "before a spreadsheet shortened it"),
        ("t.csv", "title;isbn\nA;9,78E+12\n", "9,78E+12", "set the column to text"),
        ("t.csv", "title,stem\nA,a/b\n", "a/b", "`/` makes it a path"),
        ("t.csv", "title,stem\nA,..\n", "..", "begins with neither"),
        ("t.csv", "title,stem\nA,a.\n", "a.", "ends with a point"),
        ("t.csv", "title,stem\nA,-a\n", "-a", "begins with neither"),
        ("t.csv", "title,stem\nA,a b\n", "a b", "it has a blank"),
        ("t.csv", "title,isbn\n?!,1\n", "?!", "no letter to name its files by"),
        ("t.csv", "title,isbn\n,1\n", ",1", "row 2 has no title"),
        ("t.csv", "title,isbn\nA\n", "A", "1 cell here, and the first row names 2"),
        ("t.csv", "isbn,title,ISBN\n1,A,2\n", "ISBN", "stands twice"),
        ("t.csv", "title,isbn\n\u{202e}Salt,1\n", "\u{202e}Salt", "an unseen letter stands here, U+202E"),
        ("t.csv", "title,isbn\nSa\u{0}lt,1\n", "Sa\u{0}lt", "U+0000 / type these words again"),
    ];
    for (name, text, pointed, words) in cases {
        let (read, found) = titles(name, text);
        let [finding] = &found[..] else { panic!("{text}: {found:?}") };
        assert_eq!(&text[finding.span.start..finding.span.end], pointed, "{finding:?}");
        let stated = format!("{} / {}", finding.message, finding.help.as_deref().unwrap_or_default());
        assert!(stated.contains(words), "{stated}");
        assert!(!read[0].stem.value.is_empty());
    }
}

#[test]
fn a_list_has_an_end() {
    let of = |lines: usize, column: &str| format!("title,{column}\nA,\"{}\"\n", "x\n".repeat(lines));
    assert!(titles("t.csv", &of(999, "author")).1.is_empty());
    let (_, found) = titles("t.csv", &of(100_000, "author"));
    assert_eq!(
        found.iter().map(|finding| finding.message.as_str()).collect::<Vec<_>>(),
        ["`author` says more than 1000 things"]
    );
    assert!(titles("t.csv", &of(100_000, "story")).1.is_empty());
}

#[test]
fn a_column_that_looks_like_a_known_one_is_asked_about() {
    let text = "titel,page,auhtor,strapline,quote.form,author\nA,1,B,C,D,E\n";
    let mut findings = Findings::default();
    let table = table(&mut findings, FileId(0), "t.csv", text);
    judge_columns(&mut findings, &table, "{auhtor}");
    let reported: Vec<(&str, bool)> = findings
        .iter()
        .map(|finding| {
            let near = ["`title`", "`pages`", "`quote"];
            let help = finding.help.as_deref().unwrap_or_default();
            (&text[finding.span.start..finding.span.end], near.iter().any(|near| help.contains(near)))
        })
        .collect();
    assert_eq!(reported, [("titel", true), ("page", true), ("strapline", false), ("quote.form", true)]);
    assert!(!findings.has_errors());
}

#[test]
fn titles_make_stems() {
    let cases = [
        ("Salt and Lanterns", "salt-and-lanterns"),
        ("  The King’s Ferry (2nd ed.) ", "the-kings-ferry-2nd-ed"),
        ("Čas / Время / זמן", "čas-время-זמן"),
        ("../../etc", "etc"),
        ("हिन्दी", "हिन्दी"),
        ("…", ""),
    ];
    for (title, made) in cases {
        assert_eq!(stem(title), made);
    }
    let long = stem(&"lantern ".repeat(40));
    assert!(long.len() <= 100 && long.ends_with("-lantern"), "{long}");
    assert_eq!(stem(&"é".repeat(400)).len(), 100);
}

#[test]
fn two_titles_cannot_share_their_files() {
    let text = "title,stem\nSalt,\nB,b\nC,SALT\nSalt!,\n";
    let (read, _) = titles("t.csv", text);
    let twice = stems_twice(&read);
    let reported: Vec<(usize, &str)> =
        twice.iter().map(|(at, finding)| (*at, &text[finding.span.start..finding.span.end])).collect();
    assert_eq!(reported, [(2, "SALT"), (3, "Salt!")]);
    assert_eq!(twice[0].1.message, "row 2 has the stem `salt`, too");
    // One letter, or e with an accent after it.
    assert_eq!(stems_twice(&titles("t.csv", "title\nCaf\u{e9}\nCafe\u{301}\n").0).len(), 1);
}

#[test]
fn a_swatch_that_nothing_is_printed_in_is_reported() {
    let text = "title,swatch.grund,swatch.sea\nA,c=1,c=2\n";
    let mut findings = Findings::default();
    let table = table(&mut findings, FileId(0), "t.csv", text);
    judge_columns(&mut findings, &table, "band b { swatch ground }; band c { swatch sea }");
    let reported: Vec<_> = findings.iter().map(|finding| (finding.message.as_str(), finding.help.as_deref())).collect();
    let message = "nothing in the template is printed in the swatch `grund`";
    assert_eq!(reported, [(message, Some("did you mean `swatch.ground`?"))]);
}

#[test]
fn two_titles_cannot_share_their_number() {
    let text = "title,isbn\nA,978-1-83742-615-7\nB,9781837426157\nC,978-0-306-40615-7\nD,\nE,\n";
    let (read, _) = titles("t.csv", text);
    let found = numbers_twice(&read);
    let [(1, finding)] = &found[..] else { panic!("{found:?}") };
    assert_eq!(&text[finding.span.start..finding.span.end], "9781837426157");
    assert_eq!(finding.message, "row 2 has this ISBN, too");
}
