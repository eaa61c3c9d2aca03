//! Fonts inside, and words that come back out.

use super::{OnDisk, font, item, press, scene, words};
use crate::ground::{Affine, Paint, Point};
use crate::pdf::Surround;
use crate::scene::{GlyphRun, Mark};

fn sheet(runs: Vec<GlyphRun>) -> OnDisk {
    let items = runs.into_iter().map(|run| item(Mark::Glyphs(run))).collect();
    OnDisk::new(&press(&scene(129.0, 19.8, 198.0, items), Surround::Trim))
}

fn read(disk: &OnDisk) -> Vec<String> {
    let stated = disk.read("pdftotext", &["sheet.pdf", "-"]);
    stated.split_whitespace().map(str::to_owned).collect()
}

/// A static TrueType face, a static CFF one where there is one, a variable one at a weight, an Arabic one.
#[test]
fn every_face_is_inside_as_a_subset() {
    let faces = [
        ("EB Garamond", 400, true),
        ("Libre Franklin", 600, false),
        ("Inter", 650, false),
        ("League Gothic", 400, false),
    ];
    let runs = faces.iter().enumerate().map(|(row, (family, weight, italic))| {
        words(&font(family, *weight, *italic), 5.0, Point::new(20.0, 20.0 + 10.0 * row as f64), "Hamburgefons")
    });
    let disk = sheet(runs.collect());
    let stated = disk.read("pdffonts", &["sheet.pdf"]);
    let rows: Vec<&str> = stated.lines().skip(2).collect();
    assert_eq!(rows.len(), faces.len(), "{stated}");
    for row in rows {
        assert!(row.contains("CID") && row.contains("Identity-H") && row.contains("yes yes yes"), "{stated}");
        assert_eq!(row.find('+'), Some(6), "{stated}");
    }
    assert_eq!(read(&disk), ["Hamburgefons"; 4]);
    disk.read("qpdf", &["--check", "sheet.pdf"]);
}

#[test]
fn ligatures_and_small_forms_say_their_letters() {
    let garamond = font("EB Garamond", 400, false);
    // The same glyph first as a ligature, then as one letter written in Unicode.
    let mut run = words(&garamond, 5.0, Point::new(20.0, 20.0), "o\u{fb01}ce \u{fb01}nd");
    run.text = "office find".into();
    let ranges = [0..1, 1..4, 4..5, 5..6, 6..7, 7..9, 9..10, 10..11];
    run.glyphs.iter_mut().zip(ranges).for_each(|(glyph, range)| glyph.text = range);
    // Two glyphs for one letter, the second silent; and a mark that moves up.
    let mut accent = words(&garamond, 5.0, Point::new(20.0, 40.0), "cafe\u{b4} noir");
    accent.text = "cafe\u{301} noir".into();
    let ranges = [0..1, 1..2, 2..3, 3..6, 6..6, 6..7, 7..8, 8..9, 9..10, 10..11];
    accent.glyphs.iter_mut().zip(ranges).for_each(|(glyph, range)| glyph.text = range);
    accent.glyphs[4].y = -0.3;
    let stated = read(&sheet(vec![run, accent]));
    assert_eq!(stated[..2], ["office", "find"]);
    assert_eq!(stated[2..].join(" "), "cafe\u{301} noir");
}

#[test]
fn a_word_parted_by_a_hyphen_is_one_word() {
    let garamond = font("EB Garamond", 400, false);
    let mut first = words(&garamond, 5.0, Point::new(20.0, 20.0), "an old manu-");
    first.text = "an old manu".into();
    first.glyphs[11].text = 11..11;
    let second = words(&garamond, 5.0, Point::new(20.0, 26.0), "script found");
    let third = words(&garamond, 5.0, Point::new(20.0, 32.0), "well-known");
    let disk = sheet(vec![first, second, third]);
    let stated = disk.read("pdftotext", &["sheet.pdf", "-"]);
    assert_eq!(
        stated.replace("\u{ad}\n", "").split_whitespace().collect::<Vec<_>>(),
        ["an", "old", "manuscript", "found", "well-known"]
    );
}

/// A reader sees the end of a word in a gap of a fifth of an em.
#[test]
fn a_word_with_a_gap_is_one_word() {
    let mut gap = words(&font("Inter", 600, false), 5.0, Point::new(20.0, 20.0), "the Tidal road");
    for glyph in &mut gap.glyphs[5..] {
        glyph.x += 1.0;
    }
    assert_eq!(read(&sheet(vec![gap])), ["the", "Tidal", "road"]);
}

#[test]
fn right_to_left_words_come_back_in_order() {
    let amiri = font("Frank Ruhl Libre", 400, false);
    let text = "שלום עולם";
    // Visual order: the last letter stands leftmost.
    let reversed: String = text.chars().rev().collect();
    let mut run = words(&amiri, 6.0, Point::new(20.0, 20.0), &reversed);
    run.text = text.into();
    let mut end = text.len();
    for (glyph, letter) in run.glyphs.iter_mut().zip(reversed.chars()) {
        glyph.text = end - letter.len_utf8()..end;
        end -= letter.len_utf8();
    }
    let stated = read(&sheet(vec![run]));
    let bare: Vec<String> = stated.iter().map(|word| word.chars().filter(|c| c.is_alphanumeric()).collect()).collect();
    assert_eq!(bare, ["שלום", "עולם"], "{stated:?}");
}

/// Letters that other marks show, and letters each turned by itself: a reader finds their words.
#[test]
fn unseen_and_turned_words_come_back_whole() {
    let inter = font("Inter", 450, false);
    let unseen = GlyphRun { paint: Paint::None, ..words(&inter, 8.0, Point::new(20.0, 30.0), "Wandering willows") };
    let mut round = words(&inter, 6.0, Point::ZERO, "round the harbour");
    round.transform = Affine::translate((90.0, 120.0));
    round.turns = (0..round.glyphs.len()).map(|at| at as f64 * 0.15 - 1.2).collect();
    for (glyph, turn) in round.glyphs.iter_mut().zip(&round.turns) {
        (glyph.x, glyph.y) = (40.0 * turn.sin(), -40.0 * turn.cos());
    }
    assert_eq!(read(&sheet(vec![unseen, round])), ["Wandering", "willows", "round", "the", "harbour"]);
}

/// Positions to a hundredth of a point, as another reader measures them: tracked, stretched and turned.
#[test]
fn glyphs_stand_where_the_scene_has_them() {
    let inter = font("Inter", 450, false);
    let mut run = words(&inter, 4.0, Point::new(20.0, 30.0), "Wandering willows");
    run.stretch = 0.97;
    let mut x = 0.0;
    for glyph in &mut run.glyphs {
        glyph.x = x;
        x += glyph.advance * 0.97 + 0.123;
    }
    let turned = GlyphRun { transform: Affine::translate((150.0, 20.0)) * Affine::rotate(0.3), ..run.clone() };
    let bent = GlyphRun { turns: (0..run.glyphs.len()).map(|at| at as f64 / 9.0).collect(), ..turned.clone() };
    for run in [run, turned, bent] {
        let disk = sheet(vec![run.clone()]);
        let stated = disk.read("mutool", &["trace", "sheet.pdf"]);
        let found: Vec<Point> = stated
            .split("<g ")
            .skip(1)
            .filter_map(|glyph| Some(Point::new(number(glyph, "x")?, number(glyph, "y")?)))
            .collect();
        assert_eq!(found.len(), run.glyphs.len(), "{stated}");
        for (found, glyph) in found.iter().zip(&run.glyphs) {
            let wanted = run.transform * Point::new(glyph.x, glyph.y);
            let wanted = Point::new(wanted.x, 198.0 - wanted.y).to_vec2() * (72.0 / 25.4);
            assert!((found.to_vec2() - wanted).hypot() < 0.01, "{found} {wanted}\n{stated}");
        }
    }
}

fn number(text: &str, key: &str) -> Option<f64> {
    text.split_once(&format!("{key}=\""))?.1.split_once('"')?.0.parse().ok()
}
