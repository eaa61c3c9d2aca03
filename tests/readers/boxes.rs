//! Boxes: the page's sizes as mutool finds them, against the sums of the trade.

use crate::geometry::{Binding, Board, Book, Flat, POINTS, example, flat};
use crate::kit::{Built, ask, cover, examples, shown};

/// How far a box may be off, in points.
const SLACK: f64 = 0.01;
/// Crop marks stand outside the bleed and are this long, in millimetres. Common practice.
const MARK: f64 = 5.0;

#[test]
fn the_examples_measure_what_the_trade_computes() {
    for built in examples() {
        check(built, &flat(example(&built.stem)), "marks");
    }
}

#[test]
fn every_binding_measures_what_the_trade_computes() {
    let board = Board { thickness: 3.0, square: 3.0, setback: 6.0, joint: 9.0, turn_in: 18.0 };
    let book = Book {
        width: 127.0,
        height: 203.2,
        pages: 256,
        grammage: 90.0,
        bulk: 1.25,
        bleed: 3.175,
        binding: Binding::Stapled,
    };
    let boards = "board thickness=3 square=3 setback=6 joint=9 turn-in=18";
    for (word, binding, facts) in [
        ("stapled", Binding::Stapled, String::new()),
        ("paperback", Binding::Paperback(0.254), "cover-stock caliper=0.254".to_owned()),
        (
            "flapped-paperback",
            Binding::Flapped(0.3, 85.0, 0.5),
            "cover-stock caliper=0.3; flap 85; growth 0.5".to_owned(),
        ),
        ("case", Binding::Case(board), boards.to_owned()),
        ("jacket", Binding::Jacket(board, 95.0), format!("{boards}; flap 95")),
    ] {
        let sheet = flat(Book { binding, ..book });
        let text = format!(
            "book {{ title \"Boxes\"; author \"A. Reader\"; language en-GB; pages 256 state=confirmed }}
             format {word} {{ trim 127 203.2; paper grammage=90 bulk=1.25; bleed 3.175; safe 5; {facts} }}
             press coated ink-limit=300
             wrap {{ band ground {{ swatch black percent=20; left bleed; right bleed; top bleed; bottom bleed }} }}"
        );
        for around in ["marks", "bleed", "trim"] {
            let name = format!("boxes-{word}-{around}");
            check(&cover(&name, &text, &[], &["--only", "press", "--surround", around]), &sheet, around);
        }
    }
}

fn check(built: &Built, sheet: &Flat, around: &str) {
    let stated = ask("mutool", &["pages", &shown(&built.press())]);
    let about = format!("{} with {around}: {sheet:?}\n{stated}", built.stem);
    assert_eq!(stated.matches("<page ").count(), 1, "{about}");
    assert!(!stated.contains("CropBox") && !stated.contains("ArtBox"), "{about}");
    let near = |value: f64, wanted: f64| assert!((value - wanted).abs() <= SLACK, "{value} is not {wanted}: {about}");
    let media = corners(&stated, "MediaBox").unwrap_or_else(|| panic!("{about}"));
    let trim = corners(&stated, "TrimBox").unwrap_or_else(|| panic!("{about}"));
    near(trim[2] - trim[0], sheet.width * POINTS);
    near(trim[3] - trim[1], sheet.height * POINTS);
    near(media[0], 0.0);
    near(media[1], 0.0);
    // Without a bleed box, the bleed is the crop box, and that the media box.
    let bleed = corners(&stated, "BleedBox").unwrap_or(media);
    let ring = if around == "trim" { 0.0 } else { sheet.bleed * POINTS };
    let away = if around == "marks" { MARK * POINTS } else { 0.0 };
    for side in 0..4 {
        let outwards = if side < 2 { 1.0 } else { -1.0 };
        near((trim[side] - bleed[side]) * outwards, ring);
        let margin = (bleed[side] - media[side]) * outwards;
        if around == "marks" {
            assert!(margin >= away, "no room for marks: {about}");
        } else {
            near(margin, 0.0);
        }
    }
}

/// Left, bottom, right, top.
fn corners(stated: &str, name: &str) -> Option<[f64; 4]> {
    let line = stated.lines().find(|line| line.contains(&format!("<{name} ")))?;
    let side = |key: &str| line.split_once(&format!(" {key}=\""))?.1.split_once('"')?.0.parse().ok();
    Some([side("l")?, side("b")?, side("r")?, side("t")?])
}
