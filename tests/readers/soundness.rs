//! Soundness: syntax as qpdf reads it, fonts as poppler lists them.

use crate::kit::{ask, examples, shown};
use crate::titles::series_and_titles;

#[test]
fn every_press_file_is_sound() {
    for built in examples().iter().chain(series_and_titles()) {
        let stated = ask("qpdf", &["--check", &shown(&built.press())]);
        assert!(stated.contains("No syntax or stream encoding errors found"), "{}: {stated}", built.stem);
        assert!(stated.contains("PDF Version: 1.6") && stated.contains("not encrypted"), "{}: {stated}", built.stem);
    }
}

/// Columns of `pdffonts`, counted from the right: two for the object, then uni, sub, emb.
#[test]
fn every_font_is_inside_as_a_subset_with_its_letters() {
    for built in examples().iter().chain(series_and_titles()) {
        let stated = ask("pdffonts", &[&shown(&built.press())]);
        let rows: Vec<&str> = stated.lines().skip(2).collect();
        assert!(!rows.is_empty(), "{} has words: {stated}", built.stem);
        for row in rows {
            let columns: Vec<&str> = row.split_whitespace().rev().collect();
            assert_eq!(columns[2..5], ["yes"; 3], "{}: {row}", built.stem);
            let tag: Vec<u8> = row.bytes().take(7).collect();
            assert!(tag[..6].iter().all(u8::is_ascii_uppercase) && tag[6] == b'+', "{}: {row}", built.stem);
        }
    }
}
