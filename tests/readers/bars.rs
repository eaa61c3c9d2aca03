//! Bars: bar codes and add-ons, read from paper at 600 pixels to the inch by two engines that share nothing.

use crate::geometry::{POINTS, example, flat};
use crate::kit::{Built, ask, cover, examples, shown};
use crate::python::python;
use crate::titles::series_and_titles;

const PPI: f64 = 600.0;

#[test]
fn the_bar_codes_of_the_examples_are_read_by_two_engines() {
    for built in examples() {
        let (number, back) = match built.stem.as_str() {
            "salt-and-lanterns" => ("9781837426157", Side::Left),
            "birzei-hapardes" => ("9789655973181", Side::Right),
            "the-quiet-instruments" => ("9781836512844", Side::Left),
            other => panic!("state the number of the example {other:?} here"),
        };
        read(built, &back, number);
    }
}

/// A row's number is on the row's cover: the table as Python reads it, the bars as both engines do.
#[test]
fn the_bar_codes_of_a_catalogue_are_the_numbers_of_its_table() {
    let titles: Vec<&Built> =
        series_and_titles().iter().filter(|built| built.source.ends_with("quarterbound")).collect();
    let table = shown(&titles[0].source.join("titles.csv"));
    let numbers = python("isbns.py", &[&table]);
    for built in titles {
        let number = numbers.lines().find_map(|line| line.strip_prefix(built.stem.as_str())?.strip_prefix(' '));
        read_page(built, number.expect("the table has a number for the title"), None, &[]);
    }
}

#[test]
fn bar_code_and_add_on_are_read_at_every_size() {
    for (scale, isbn, number, add_on) in [
        (80, "978-0-306-40615-7", "9780306406157", "51299"),
        (100, "978-1-83742-615-7", "9781837426157", "90000"),
        (150, "978-965-597-318-1", "9789655973181", "01750"),
        (200, "979-10-95395-02-7", "9791095395027", "52495"),
    ] {
        let text = format!(
            "book {{ title \"Bars\"; author \"A. Reader\"; language en-GB; pages 200 state=confirmed; isbn \"{isbn}\" }}
             format paperback {{ trim 152 229; paper caliper=0.1; cover-stock caliper=0.3; bleed 3; safe 5 }}
             press coated ink-limit=300
             swatches {{ swatch night c=92 m=74 y=38 k=42 }}
             wrap {{ band ground {{ swatch night; left bleed; right bleed; top bleed; bottom bleed }} }}
             panel back {{ barcode barcode {{ right safe; bottom safe; scale {scale}; add-on \"{add_on}\" }} }}"
        );
        let built = cover(&format!("bars-{scale}"), &text, &[], &["--only", "press", "--surround", "trim"]);
        read_page(&built, number, Some(add_on), &[]);
    }
}

enum Side {
    Left,
    Right,
}

/// The back alone: some readers refuse a page as wide as a jacket.
fn read(built: &Built, side: &Side, number: &str) {
    let sheet = flat(example(&built.stem));
    let pixels = |mm: f64| ((mm * POINTS) * PPI / 72.0).round().to_string();
    // With the printer's marks, 8.1 mm lie left of the bleed; a little more or less paper changes nothing here.
    let margin = 8.0 + sheet.bleed;
    let (left, width) = match side {
        Side::Left => (0.0, margin + sheet.spine.0),
        Side::Right => (margin + sheet.spine.1, sheet.width - sheet.spine.1 + margin),
    };
    let (left, width) = (pixels(left), pixels(width));
    read_page(built, number, None, &["-x", &left, "-W", &width]);
}

fn read_page(built: &Built, number: &str, add_on: Option<&str>, part: &[&str]) {
    let root = built.beside("bars");
    let press = shown(&built.press());
    let mut words = vec!["-r", "600", "-gray", "-singlefile"];
    words.extend(part);
    words.extend([press.as_str(), root.as_str()]);
    ask("pdftoppm", &words);
    let page = format!("{root}.pgm");
    // The first engine tells code and add-on apart, the second joins them.
    let stated = ask("zbarimg", &["-q", "-S", "ean5.enable", &page]);
    let mut lines: Vec<&str> = stated.split_whitespace().collect();
    lines.sort_unstable();
    let mut wanted = vec![format!("EAN-13:{number}")];
    wanted.extend(add_on.map(|digits| format!("EAN-5:{digits}")));
    assert_eq!(lines, wanted, "{} by the first engine", built.stem);
    let stated = python("bars.py", &[&page, if add_on.is_some() { "with-add-on" } else { "alone" }]);
    let wanted = format!("EAN13 {number}{}", add_on.unwrap_or_default());
    assert_eq!(stated.trim(), wanted, "{} by the second engine", built.stem);
}

/// QR codes at their least size, of few and of many words and at every level of correction.
#[test]
fn qr_codes_are_read_by_two_engines() {
    let head = "book { title \"Marks\"; author \"A. Reader\"; language en-GB; pages 200 state=confirmed }
        format paperback { trim 152 229; paper caliper=0.1; cover-stock caliper=0.3; bleed 3; safe 5 }
        press coated ink-limit=300
        swatches { swatch night c=92 m=74 y=38 k=42 }
        wrap { band ground { swatch night; left bleed; right bleed; top bleed; bottom bleed } }";
    let long = "https://lanternhouse.example/harbours/of/the/north?tide=high&moon=full&lamp=lit#the-third-keeper";
    let codes = [
        ("A", "L", 11.6, "left safe; top 6"),
        ("https://lanternhouse.example/tides", "Q", 16.4, "right safe; top 6"),
        (long, "H", 28.0, "left safe; bottom safe"),
        ("Größe, מידה, 大きさ", "M", 20.0, "right safe; bottom safe; turn 90"),
    ];
    let elements: Vec<String> = codes
        .iter()
        .enumerate()
        .map(|(at, (words, level, width, place))| {
            format!("qr-code code{at} words={words:?} {{ width {width}; correction {level}; {place} }}")
        })
        .collect();
    let text = format!("{head}\npanel back {{\n{}\n}}", elements.join("\n"));
    let built = cover("qr-codes", &text, &[], &["--only", "press", "--surround", "trim"]);
    let root = built.beside("codes");
    ask("pdftoppm", &["-r", "600", "-gray", "-singlefile", &shown(&built.press()), &root]);
    let page = format!("{root}.pgm");
    let mut wanted: Vec<&str> = codes.iter().map(|(words, ..)| *words).collect();
    wanted.sort_unstable();
    let first = ask("zbarimg", &["-q", "--raw", "-S", "disable", "-S", "qrcode.enable", &page]);
    let second = python("qr_codes.py", &[&page]);
    for read in [first, second] {
        let mut lines: Vec<&str> = read.lines().collect();
        lines.sort_unstable();
        assert_eq!(lines, wanted);
    }
}
