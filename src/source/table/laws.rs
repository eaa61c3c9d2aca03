//! Laws of tables: what a writer wrote is read back cell for cell, each at its place; no bytes make a panic.

use crate::ground::kept::kept;
use crate::source::Table;
use crate::source::table::tests::read;
use csv::{QuoteStyle, Terminator, WriterBuilder};
use proptest::prelude::*;

const CASES: u32 = 500;

fn cell() -> impl Strategy<Value = String> {
    prop_oneof![
        3 => "[a-zé\"',;|\t \n\rאבגع\u{feff}\u{301}0-9]{0,9}",
        1 => any::<String>(),
        1 => Just(String::new()),
    ]
}

/// Rows of one width, none of them blank.
fn rows() -> impl Strategy<Value = Vec<Vec<String>>> {
    (1..5_usize).prop_flat_map(|width| {
        let row = prop::collection::vec(cell(), width);
        prop::collection::vec(
            row.prop_filter("it says something", |row| row.iter().any(|cell| !cell.trim().is_empty())),
            1..6,
        )
    })
}

fn columns(width: usize) -> Vec<String> {
    (0..width).map(|at| format!("column {at}")).collect()
}

fn whole(table: &Table) -> Vec<Vec<String>> {
    table.rows.iter().map(|row| row.cells.iter().map(|cell| cell.whole.value.clone()).collect()).collect()
}

/// A cell's text by RFC 4180, rules 5 to 7.
fn by_hand(raw: &str) -> String {
    if raw.starts_with('"') { raw[1..raw.len() - 1].replace("\"\"", "\"") } else { raw.to_owned() }
}

proptest! {
    #![proptest_config(ProptestConfig { cases: CASES, failure_persistence: kept("tests/lots/source-table.txt"), ..ProptestConfig::default() })]

    #[test]
    fn csv_is_read_back_with_its_places(
        rows in rows(),
        separator in prop::sample::select(vec![b',', b';', b'\t']),
        end in prop::sample::select(vec![Terminator::CRLF, Terminator::Any(b'\n'), Terminator::Any(b'\r')]),
        quoted in any::<bool>(),
        mark in any::<bool>(),
    ) {
        let style = if quoted { QuoteStyle::Always } else { QuoteStyle::Necessary };
        let mut writer =
            WriterBuilder::new().delimiter(separator).terminator(end).quote_style(style).from_writer(Vec::new());
        // One column alone has no separator to judge by: a second stands beside it.
        let rows: Vec<Vec<String>> =
            rows.into_iter().map(|row| row.into_iter().chain(["end".to_owned()]).collect()).collect();
        writer.write_record(columns(rows[0].len())).expect("memory takes it");
        for row in &rows {
            writer.write_record(row).expect("memory takes it");
        }
        let text = String::from_utf8(writer.into_inner().expect("memory takes it")).expect("text was written");
        let text = if mark { format!("\u{feff}{text}") } else { text };
        let (table, findings) = read("t.csv", &text);
        prop_assert!(findings.is_empty(), "{:?}\n{:?}", text, findings);
        prop_assert_eq!(whole(&table), rows);
        for (at, row) in table.rows.iter().enumerate() {
            prop_assert!(row.faults.is_empty(), "{:?}\n{:?}", text, row.faults);
            prop_assert_eq!(row.number >= at + 2, true);
            for cell in &row.cells {
                let span = cell.whole.span;
                prop_assert_eq!(by_hand(&text[span.start..span.end]), cell.whole.value.as_str());
                for item in &cell.items {
                    prop_assert!(span.start <= item.span.start && item.span.end <= span.end);
                    let raw = &text[item.span.start..item.span.end];
                    let quoted = text[span.start..].starts_with('"');
                    let stated = if quoted { raw.replace("\"\"", "\"") } else { raw.to_owned() };
                    prop_assert_eq!(stated, item.value.as_str());
                    prop_assert!(!item.value.contains(['\r', '\n']));
                }
                let stated: String = cell.items.iter().map(|item| item.value.as_str()).collect();
                prop_assert_eq!(stated, cell.whole.value.replace(['\r', '\n'], ""));
                prop_assert_eq!(table.cell_at(span), Some((row.number, Some(cell.column.value.as_str()))));
            }
        }
    }

    #[test]
    fn json_says_the_same_as_csv(rows in rows(), pretty in any::<bool>()) {
        let names = columns(rows[0].len());
        let object = |row: &Vec<String>| {
            names.iter().cloned().zip(row.iter().map(|cell| cell.clone().into())).collect::<serde_json::Map<_, _>>()
        };
        let objects: Vec<_> = rows.iter().map(object).collect();
        let text = if pretty { serde_json::to_string_pretty(&objects) } else { serde_json::to_string(&objects) };
        let text = text.expect("text is JSON");
        let (table, findings) = read("t.json", &text);
        prop_assert!(findings.is_empty(), "{:?}\n{:?}", text, findings);
        prop_assert_eq!(whole(&table), rows);
        for cell in table.rows.iter().flat_map(|row| &row.cells) {
            let raw = &text[cell.whole.span.start..cell.whole.span.end];
            prop_assert_eq!(serde_json::from_str::<String>(raw).ok(), Some(cell.whole.value.clone()));
        }
    }

    #[test]
    fn nothing_panics_and_every_place_is_in_the_text(
        wild in any::<String>(),
        parts in prop::collection::vec(prop::sample::select(vec![
            "a", "\"", "\"\"", ",", ";", "\t", "\n", "\r\n", "\r", "\u{feff}", "é", "{", "}", "[", "]", ":", "\\u00e9",
            "\\ud83d", "\"a\":", "{\"a\":", "[{\"a\":1},", "null", "1.50", " ",
        ]), 0..40),
    ) {
        for text in [wild, parts.concat(), format!("[{{{}}}]", parts.concat())] {
            for name in ["t.csv", "t.json"] {
                let (table, findings) = read(name, &text);
                let faults = table.rows.iter().flat_map(|row| &row.faults);
                for finding in findings.iter().chain(faults) {
                    prop_assert!(text.get(finding.span.start..finding.span.end).is_some(), "{:?} {:?}", text, finding);
                }
                for row in &table.rows {
                    let cells = row.cells.iter().flat_map(|cell| cell.items.iter().chain([&cell.whole, &cell.column]));
                    for stated in cells {
                        prop_assert!(text.get(stated.span.start..stated.span.end).is_some(), "{:?} {:?}", text, stated);
                    }
                }
            }
        }
    }
}
