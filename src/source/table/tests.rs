//! Tables as they are written: RFC 4180's own examples, the separators, marks and blank lines of spreadsheets, JSON.

use crate::ground::{FileId, Findings, Span};
use crate::source::{Table, table};

pub fn read(name: &str, text: &str) -> (Table, Findings) {
    let mut findings = Findings::default();
    let table = table(&mut findings, FileId(3), name, text);
    (table, findings)
}

/// A table without a fault: the numbers of its rows and the whole texts of their cells.
fn sound(name: &str, text: &str) -> Vec<(usize, Vec<String>)> {
    let (table, findings) = read(name, text);
    assert!(findings.is_empty(), "{text:?}: {findings:?}");
    let cells = |row: &crate::source::Row| row.cells.iter().map(|cell| cell.whole.value.clone()).collect();
    let row = |row: &crate::source::Row| {
        assert!(row.faults.is_empty(), "{text:?}: {:?}", row.faults);
        (row.number, cells(row))
    };
    table.rows.iter().map(row).collect()
}

fn row(number: usize, cells: [&str; 3]) -> (usize, Vec<String>) {
    (number, cells.map(str::to_owned).to_vec())
}

/// RFC 4180, section 2, rules 1 to 7, under a header.
#[test]
fn the_examples_of_rfc_4180() {
    let plain = [row(2, ["aaa", "bbb", "ccc"]), row(3, ["zzz", "yyy", "xxx"])];
    let header = "field_a,field_b,field_c\r\n";
    for text in
        ["aaa,bbb,ccc\r\nzzz,yyy,xxx\r\n", "aaa,bbb,ccc\r\nzzz,yyy,xxx", "\"aaa\",\"bbb\",\"ccc\"\r\nzzz,yyy,xxx"]
    {
        assert_eq!(sound("t.csv", &format!("{header}{text}")), plain);
    }
    let broken = sound("t.csv", &format!("{header}\"aaa\",\"b\r\nbb\",\"ccc\"\r\nzzz,yyy,xxx"));
    assert_eq!(broken, [row(2, ["aaa", "b\r\nbb", "ccc"]), row(3, ["zzz", "yyy", "xxx"])]);
    assert_eq!(sound("t.csv", &format!("{header}\"aaa\",\"b\"\"bb\",\"ccc\"")), [row(2, ["aaa", "b\"bb", "ccc"])]);
    // Rule 4: spaces are part of a cell.
    assert_eq!(sound("t.csv", &format!("{header} a, b ,c")), [row(2, [" a", " b ", "c"])]);
}

/// Some spreadsheets write a first line that names the separator, and show none: rows are counted without it.
#[test]
fn a_line_may_name_the_separator() {
    let rows = [row(2, ["a,b", "c", "d"]), row(3, ["e", "f", "g"])];
    for (stated, separator) in [("sep=;", ";"), ("\u{feff}sep=;", ";"), ("SEP=\t", "\t"), ("\"sep=;\"", ";")] {
        for end in ["\n", "\r\n", "\r"] {
            let lines = [stated, "x,y;z;w", "a,b;c;d", "e;f;g"].map(|line| line.replace(';', separator));
            let text = lines.join(end).replace(&stated.replace(';', separator), stated);
            let (table, findings) = read("t.csv", &text);
            assert!(findings.is_empty(), "{text:?}: {findings:?}");
            assert_eq!(table.columns.iter().map(|column| column.value.as_str()).collect::<Vec<_>>(), ["x,y", "z", "w"]);
            assert_eq!(sound("t.csv", &text), rows, "{text:?}");
            let cell = &table.rows[1].cells[2].whole;
            assert_eq!(&text[cell.span.start..cell.span.end], "g");
        }
    }
    // A column may be called so.
    let (table, _) = read("t.csv", "sep=,title\n1,2\n");
    assert_eq!(table.columns[0].value, "sep=");
    assert!(read("t.csv", "sep=;").1.has_errors(), "and nothing else is an empty table");
}

#[test]
fn spreadsheets_write_marks_and_blank_lines_and_other_separators() {
    for separator in [",", ";", "\t"] {
        for (mark, end) in [("", "\n"), ("\u{feff}", "\r\n"), ("", "\r")] {
            let lines = [" title , isbn, pages ", "", "Salz; Wasser,9,1", ",,", "\"a,\tb\",  ,c", ""];
            let text = mark.to_owned() + &lines.join(end).replace("; ", " ").replace(',', separator);
            let (table, findings) = read("t.csv", &text.replace(&format!("a{separator}"), "a,"));
            assert!(findings.is_empty(), "{findings:?}");
            let names: Vec<&str> = table.columns.iter().map(|column| column.value.as_str()).collect();
            assert_eq!(names, ["title", "isbn", "pages"]);
            // Blank rows are counted and left out.
            let numbers: Vec<usize> = table.rows.iter().map(|row| row.number).collect();
            assert_eq!(numbers, [3, 5], "{text:?}");
            assert_eq!(table.rows[1].cells[0].whole.value, "a,\tb");
            for column in &table.columns {
                assert_eq!(text[column.span.start..column.span.end], column.value);
            }
        }
    }
}

#[test]
fn json_is_an_array_of_objects_or_holds_one() {
    let text = "\u{feff}[{\"title\": \"Caf\\u00e9 \\\"M\\\"\", \"isbn\": 9781837426157, \"price\": 10.90}, {}, {\"title\": null, \"a\": true}]";
    let (table, findings) = read("T.JSON", text);
    assert!(findings.is_empty(), "{findings:?}");
    let reported: Vec<(usize, &str, &str, &str)> = table
        .rows
        .iter()
        .flat_map(|row| row.cells.iter().map(move |cell| (row.number, cell)))
        .map(|(number, cell)| {
            let span = cell.whole.span;
            (number, cell.column.value.as_str(), cell.whole.value.as_str(), &text[span.start..span.end])
        })
        .collect();
    assert_eq!(
        reported,
        [
            (1, "title", "Café \"M\"", "\"Caf\\u00e9 \\\"M\\\"\""),
            (1, "isbn", "9781837426157", "9781837426157"),
            (1, "price", "10.90", "10.90"),
            (3, "title", "", "null"),
            (3, "a", "true", "true"),
        ]
    );
    let inside = read("t.json", "{\"house\": \"Tern Passage\", \"titles\": [{\"title\": \"Salt\"}]}").0;
    assert_eq!(inside.rows[0].cells[0].whole.value, "Salt");
}

#[test]
fn json_nests_to_columns() {
    let text = r#"[{"title": {"text": "Salt", "short": "S", "lines": ["Sa", "lt"]}, "price": {"GBP": "10.90"},
        "quote": [{"text": "A", "by": "E"}, "B", {"by": "F", "source": {"text": "G"}}], "author": []}]"#;
    let (table, findings) = read("t.json", text);
    assert!(findings.is_empty() && table.rows[0].faults.is_empty(), "{findings:?} {:?}", table.rows[0].faults);
    let cells: Vec<(&str, Vec<&str>)> = table.rows[0]
        .cells
        .iter()
        .map(|cell| (cell.column.value.as_str(), cell.items.iter().map(|item| item.value.as_str()).collect()))
        .collect();
    assert_eq!(
        cells,
        [
            ("title", vec!["Salt"]),
            ("title.short", vec!["S"]),
            ("title.lines", vec!["Sa", "lt"]),
            ("price.GBP", vec!["10.90"]),
            ("quote", vec!["A", "B"]),
            ("quote.by", vec!["E", "", "F"]),
            ("quote.source", vec!["", "", "G"]),
        ]
    );
}

#[test]
fn a_place_finds_its_row_and_column() {
    let text = "title,isbn\nSalt,978\n\n\"A\nB\",9\n";
    let (table, _) = read("t.csv", text);
    let at = |word: &str| {
        let start = text.find(word).expect("it stands there");
        table.cell_at(Span::new(FileId(3), start..start + word.len()))
    };
    assert_eq!(at("978"), Some((2, Some("isbn"))));
    assert_eq!(at("B"), Some((4, Some("title"))));
    assert_eq!(at("Salt,978"), Some((2, None)));
    assert_eq!(at("title"), None);
    assert_eq!(at("978\n\n\"A"), None);
    // Where cells have no place of their own, none is named.
    let (mut table, _) = read("t.csv", "title,isbn\nSalt,978\n");
    let whole = table.rows[0].span;
    for cell in &mut table.rows[0].cells {
        cell.whole.span = whole;
        cell.items.iter_mut().for_each(|item| item.span = whole);
    }
    assert_eq!(table.cell_at(whole), Some((2, None)));
    let json = "[{\"quote\": [{\"text\": \"A\", \"by\": \"E\"}]}]";
    let (table, _) = read("t.json", json);
    let start = json.find("\"E\"").expect("it stands there");
    assert_eq!(table.cell_at(Span::new(FileId(3), start..start + 3)), Some((1, Some("quote.by"))));
}
