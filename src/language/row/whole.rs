//! Whole covers of rows: the language reads their trees as it reads a file, and what it finds points into the table.

use crate::assets::{Darkroom, Library, MapShelf};
use crate::cover::Cover;
use crate::language::row::tests::titles;
use crate::language::{Desk, read};
use crate::source::Files;
use std::cell::RefCell;

/// What the language says of the first title of a table: at which text, and what.
fn reported(name: &str, text: &str) -> (Cover, Vec<(String, String)>) {
    let (titles, own) = titles(name, text);
    assert!(own.is_empty(), "{own:?}");
    let (shelf, darkroom, library) = (MapShelf::default(), Darkroom::default(), Library::open(&[]).0);
    let (files, findings) = (Files::default(), RefCell::default());
    let cover = read(&Desk::new(&shelf, &darkroom, &library, &files, &findings), &titles[0].tree);
    let findings = findings.into_inner();
    let place = |span: crate::ground::Span| text[span.start..span.end].to_owned();
    (cover, findings.iter().map(|finding| (place(finding.span), finding.message.clone())).collect())
}

#[test]
fn a_row_alone_can_be_a_cover() {
    let text = "title,title.short,author,pages,isbn,price.GBP,binding,trim,paper.caliper,cover-stock.caliper,swatch.sea,quote,quote.by\n\
                Salt,S,\"A\nB\",320,9781837426157,10.90,paperback,b-format,0.1,(pt)1,c=70,Fine,E. Rowe\n";
    let (cover, reported) = reported("t.csv", text);
    assert_eq!(reported, []);
    let word = |name: &str| cover.facts.book.word(name).unwrap_or_default().to_owned();
    let stated = ["title", "title.short", "author", "isbn", "price", "quote", "quote.by"].map(word);
    assert_eq!(stated, ["Salt", "S", "A & B", "978-1-83742-615-7", "£10.90", "Fine", "E. Rowe"]);
    assert_eq!((cover.facts.format.trim, cover.facts.book.pages.value), ((129.0, 198.0), 320));
    // 320 pages are 160 leaves of 0.1 mm, and the stock of 1 point, 25.4 / 72 mm, counts twice.
    let spine = cover.flat.measures.iter().find(|measure| measure.name == "spine").map(|measure| measure.value);
    assert!(spine.is_some_and(|spine| (spine - 16.0 - 2.0 * 25.4 / 72.0).abs() < 1e-9), "{spine:?}");
}

#[test]
fn what_the_language_refuses_is_reported_at_its_cell() {
    let rest = ",paperback,129 198,312\n";
    let cases = [
        ("isbn", "978-1-83742-615-8", "978-1-83742-615-8", "the check digit is wrong"),
        ("price.gbp", "10.90", "price.gbp", "is not a currency code"),
        ("price", "GBP ten", "ten", "is not an amount"),
        ("pages.state", "guessed", "guessed", "`guessed` is unknown"),
        ("language", "english", "english", "is not a language tag"),
        ("version.date", "2.4.2026", "2.4.2026", "is not a day of the calendar"),
        ("paper", "grammage=80 bulky=1.5", "bulky", "`paper` has no property `bulky`"),
        ("swatch.sea", "c=170", "170", "170 % is out of range"),
        ("spine", "wide", "wide", "`spine` takes"),
    ];
    for (column, stated, pointed, words) in cases {
        let (_, reported) =
            reported("t.csv", &format!("{column},binding,trim,pages,title\n{stated}{},Salt\n", rest.trim_end()));
        let found = reported.iter().find(|(_, message)| message.contains(words));
        assert_eq!(found.map(|(place, _)| place.as_str()), Some(pointed), "{column}: {reported:?}");
    }
    let (_, reported) =
        reported("t.json", "[{\"binding\": \"paperback\", \"trim\": [129, 198], \"pages\": 31.5, \"title\": \"A\"}]");
    assert_eq!(reported, [("31.5".to_owned(), "31.5 is not a page count".to_owned())]);
}
