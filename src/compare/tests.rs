//! Small covers compared, with changes that a hand can compute.

use crate::assets::MapShelf;
use crate::compare::{Changes, View, compare, in_words, picture, resized};
use crate::compile::{Workshop, build};
use crate::ground::Rect;
use crate::record::{Built, CoverOutline, CoverRequest};

const COVER: &str = r#"
book { title "Salt and Lanterns"; author "M. Anand"; pages 320; isbn "978-1-83742-615-7" }
format paperback { trim 129 198; paper grammage=80 bulk=1.5; cover-stock caliper=0.3 }
swatches { swatch night c=92 m=74 y=38 k=42; swatch lamp m=34 y=88 }
type { style title { font "EB Garamond"; size 30; swatch night } }
wrap { band ground { swatch lamp; left bleed; right bleed; top bleed; bottom bleed } }
panel front {
    text title words="{title}" style=title { left safe; right safe; top 40 }
    band block { swatch night; left 30; top 90; width 50; height 20 }
    image kite file="kite.svg" { left 20; top 130; width 20; height 20; fit inside }
}
panel spine { text name words="{author}" style=title { size 11; head 20 } }
panel back { band patch { swatch night; right 20; top 100; width 20; height 20 } }
"#;
const KITE: &str =
    r##"<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 10 10"><path d="M0 0H10V10H0Z" fill="#800"/></svg>"##;

fn built(text: &str) -> Built {
    let other = KITE.replace("#800", "#080");
    let shelf = MapShelf::default().with("cover.kdl", text.as_bytes());
    let coarse = include_bytes!("../../tests/covers/art/quarters-150.png");
    let fine = include_bytes!("../../tests/covers/art/quarters.png");
    let shelf = shelf.with("fine.png", &fine[..]).with("coarse.png", &coarse[..]);
    let shelf = shelf.with("kite.svg", KITE.as_bytes()).with("other.svg", other.as_bytes());
    build(&Workshop::default(), &shelf, &CoverRequest::of("cover.kdl")).expect("the file is there")
}

/// Every swap of words, one after the other.
fn changed(swaps: &[(&str, &str)]) -> String {
    swaps.iter().fold(COVER.to_owned(), |text, (from, to)| {
        assert!(text.contains(from), "{from}");
        text.replace(from, to)
    })
}

fn changes(swaps: &[(&str, &str)]) -> Changes {
    compare(&CoverOutline::of(&built(COVER)), &CoverOutline::of(&built(&changed(swaps))))
}

/// `topic place: sentence`, of those about design, not about findings.
fn says(swaps: &[(&str, &str)]) -> Vec<String> {
    let all = changes(swaps).0;
    let design = all.into_iter().filter(|change| !["finding", "plates"].contains(&change.topic.word()));
    design.map(|change| format!("{} {}: {}", change.topic.word(), change.place, change.says)).collect()
}

/// An edition in another language whose words are black changes the black plate, and one in four inks all of them.
#[test]
fn translated_words_change_the_plates_that_they_stand_on() {
    let plates = |swatch: &str| -> Vec<String> {
        let [old, new] = ["Salt and Lanterns", "Sel et lanternes"].map(|title| {
            let text = changed(&[
                ("size 30; swatch night", &format!("size 30; swatch {swatch}")),
                ("Salt and Lanterns", title),
            ]);
            CoverOutline::of(&built(&text))
        });
        let changes = compare(&old, &new).0.into_iter().filter(|change| change.topic.word() == "plates");
        changes.map(|change| change.says).collect()
    };
    assert_eq!(plates("black"), ["only Black differs: one plate of 4"]);
    assert_eq!(plates("night"), ["all 4 plates differ"]);
}

#[test]
fn the_same_cover_has_no_changes() {
    assert_eq!(changes(&[]).0, []);
    assert_eq!(in_words("a → b", &changes(&[("book {", "\n\nbook {")])), "a → b: nothing changed\n");
}

/// ISO 534 (apparent specific volume, from memory) and the trade's sum: sixteen more pages are eight leaves of
/// 80 × 1.5 / 1000 = 0.12 mm, so 0.96 mm; 320 pages make a spine of 160 × 0.12 + 2 × 0.3 = 19.8.
#[test]
fn a_longer_book_moves_the_front_and_nothing_by_itself() {
    let stated = says(&[("pages 320", "pages 336")]);
    assert!(stated.contains(&"sheet spine: 19.80 mm → 20.76 mm, 0.96 mm more".to_owned()), "{stated:#?}");
    assert!(stated.contains(&"sheet flat width: 277.80 mm → 278.76 mm, 0.96 mm more".to_owned()), "{stated:#?}");
    let places: Vec<&String> = stated.iter().filter(|stated| stated.starts_with("place")).collect();
    let wanted = [
        "place front: everything moves 0.96 mm to the right with the spine",
        "place spine: everything becomes 0.96 mm wider with the spine",
        "place wrap: everything becomes 0.96 mm wider with the spine",
    ];
    assert_eq!(places, wanted);
    assert!(stated.iter().all(|stated| stated.starts_with("sheet") || stated.starts_with("place")), "{stated:#?}");
}

#[test]
fn an_element_that_moves_is_measured_against_its_panel() {
    // 32 from the left of the front and 50 × 20 large; the spine grows at once and is not counted.
    let stated = says(&[("left 30; top 90", "left 32; top 89"), ("pages 320", "pages 336")]);
    let place = "place front / block: moves 2.00 mm to the right; moves 1.00 mm up; \
                 now 32.00 from the left and 89.00 from the top of the front, 50.00 × 20.00 mm";
    assert!(stated.contains(&place.to_owned()), "{stated:#?}");
    let stated = says(&[("right 20; top 100; width 20", "right 20; top 100; width 23")]);
    assert_eq!(stated.len(), 1, "{stated:#?}");
    assert!(
        stated[0].starts_with("place back / patch: its left edge moves 3.00 mm to the left, 3.00 mm wider"),
        "{stated:#?}"
    );
}

#[test]
fn words_type_inks_and_pictures_are_reported_each_by_itself() {
    let stated = says(&[("Salt and Lanterns", "Salt and Lamps")]);
    assert_eq!(stated, ["words front / title: “Salt and Lanterns” → “Salt and Lamps”"]);
    let stated = says(&[("size 11;", "size 12;")]);
    assert!(
        stated.iter().any(|stated| stated == "type spine / name: EBGaramond-Regular 11 pt → EBGaramond-Regular 12 pt"),
        "{stated:#?}"
    );
    // A swatch that several elements share is reported once.
    let stated = says(&[("c=92 m=74 y=38 k=42", "c=92 m=74 y=38 k=60")]);
    let wanted = "ink back / patch, front / block, front / title, spine / name: c92 m74 y38 k42 → c92 m74 y38 k60";
    assert_eq!(stated, [wanted]);
    let spot = ("swatch lamp m=34 y=88", "swatch lamp m=34 y=88; spot foil ink=\"Gold foil\" c=20 m=30 y=70");
    let stated = says(&[spot, ("band block { swatch night", "band block { swatch foil")]);
    let wanted = ["ink sheet: the plate Gold foil is new", "ink front / block: c92 m74 y38 k42 → Gold foil 100 %"];
    assert_eq!(stated, wanted);
}

#[test]
fn elements_come_go_and_change_their_order() {
    let stated = says(&[("band patch", "band other")]);
    assert_eq!(stated, ["element back / other: is new: shape", "element back / patch: is gone: shape"]);
    let block = "    band block { swatch night; left 30; top 90; width 50; height 20 }\n";
    let stated = says(&[(block, ""), ("panel front {\n", &format!("panel front {{\n{block}"))]);
    let wanted = "element sheet: is printed in another order, bottom to top: \
                  front / title, front / block → front / block, front / title";
    assert_eq!(stated, [wanted]);
    let stated = says(&[("width 50; height 20", "width 50; height 20; radius 4")]);
    assert_eq!(stated, ["drawing front / block: is drawn otherwise in the same frame"]);
}

#[test]
fn a_picture_swapped_is_reported_with_its_resolution() {
    let photo = |file: &str| COVER.replace("image kite file=\"kite.svg\"", &format!("image kite file={file:?}"));
    let pixels = |bytes: &[u8]| u32::from_be_bytes(bytes[16..20].try_into().expect("four bytes"));
    // The width of a PNG stands in its first chunk (PNG specification); the picture fills a frame of 20 mm.
    let wide = pixels(include_bytes!("../../tests/covers/art/quarters.png"));
    let ppi = (f64::from(wide) * 25.4 / 20.0).round();
    let (fine, coarse) = (CoverOutline::of(&built(&photo("fine.png"))), CoverOutline::of(&built(&photo("coarse.png"))));
    let print = &fine.elements.iter().find(|element| element.name == "kite").expect("it is drawn").pictures[0];
    assert_eq!((print.file.as_str(), print.ppi.round()), ("fine.png", ppi));
    let changes = compare(&fine, &coarse).0;
    assert!(changes.iter().any(|change| change.says == "fine.png → coarse.png"), "{changes:#?}");
    let mut same = coarse.clone();
    let kite = same.elements.iter_mut().find(|element| element.name == "kite").expect("it is drawn");
    kite.pictures[0].file = "fine.png".to_owned();
    let changes = compare(&fine, &same).0;
    let reported = "fine.png is another file of the same name";
    assert!(changes.iter().any(|change| change.says == reported), "{changes:#?}");
}

/// What a spot looks like on a screen is reported once, whatever prints in it: words, an area, a gradient, a picture in its tones,
/// one in its alpha, a colour of a drawing. The plates are the same.
#[test]
fn how_a_spot_is_shown_is_no_change_of_what_prints_in_it() {
    let spot = changed(&[("swatch lamp m=34 y=88", "spot lamp ink=\"Lamp\" m=34 y=88")]);
    let kite = "image kite file=\"kite.svg\" {";
    let all = [
        ("band block { swatch night", "band block { gradient lamp night"),
        ("size 30; swatch night", "size 30; swatch lamp"),
        (kite, "image kite file=\"fine.png\" { tone lamp 0 10 100 90;"),
        (kite, "image kite file=\"fine.png\" { tone lamp 0 10 100 90; tone black 0 0 100 60; fade left;"),
        (kite, "image kite file=\"fine.png\" { paint lamp percent=60;"),
        (kite, "image kite file=\"kite.svg\" { colour lamp \"#800\";"),
    ];
    for (from, to) in all {
        let old = spot.replace(from, to);
        let [old, new] =
            [old.clone(), old.replace("m=34 y=88", "m=40 y=60")].map(|text| CoverOutline::of(&built(&text)));
        let says: Vec<_> =
            compare(&old, &new).0.into_iter().filter(|change| change.topic.word() != "finding").collect();
        let says: Vec<String> = says.into_iter().map(|change| format!("{}: {}", change.place, change.says)).collect();
        let wanted =
            ["sheet: the plate Lamp is shown otherwise: m34 y88 → m40 y60", "sheet: no plate has to be made again"];
        assert_eq!(says, wanted, "{to}");
    }
}

#[test]
fn a_drawing_swapped_is_reported() {
    let stated = says(&[("kite.svg", "other.svg")]);
    assert_eq!(stated.len(), 1, "{stated:#?}");
    assert!(stated[0].starts_with("ink front / kite: "), "{stated:#?}");
}

#[test]
fn a_gradient_that_turns_is_noticed() {
    let gradient = |angle: u16| {
        changed(&[("band block { swatch night", &format!("band block {{ gradient night lamp angle={angle}"))])
    };
    let [flat, steep] = [0, 30].map(|angle| CoverOutline::of(&built(&gradient(angle))));
    let says: Vec<String> = compare(&flat, &steep).0.iter().map(|change| change.place.clone()).collect();
    assert_eq!(says, ["front / block", "sheet"], "and the plates that it stands on");
}

#[test]
fn elements_of_one_name_are_counted() {
    let quotes = |second: &str| {
        let book = format!("book {{ quote \"A marvel.\" by=\"E. Rowe\"; quote \"{second}\" by=\"T. Lind\"; ");
        let each = "panel back { each quote { left 10; right 10; top 20; group one { text said words=\"{quote} {quote.by}\" style=title { size 10; left 0; right 0; top 0 } } };";
        COVER.replacen("book {", &book, 1).replacen("panel back {", each, 1)
    };
    let [one, other] = ["Bold.", "True."].map(|second| CoverOutline::of(&built(&quotes(second))));
    let words: Vec<String> = compare(&one, &other).0.iter().map(|change| change.place.clone()).collect();
    assert_eq!(words, ["back / said 2", "sheet"], "and the plates that they stand on");
}

#[test]
fn findings_are_known_by_their_words_not_by_their_lines() {
    // Common practice: no words on a spine under 4 mm; 48 pages make one of 24 × 0.12 + 0.6 = 3.48.
    let all = changes(&[("pages 320", "pages 48"), ("book {", "\nbook {")]);
    let findings: Vec<_> = all.0.iter().filter(|change| change.topic.word() == "finding").collect();
    assert!(findings.iter().any(|change| change.place == "spine-too-thin" && change.was.is_none()), "{findings:#?}");
}

#[test]
fn the_other_way_round_the_sides_are_swapped() {
    let swaps: &[&[(&str, &str)]] = &[
        &[("pages 320", "pages 400"), ("left 30", "left 31"), ("Salt and Lanterns", "The Salt and old Lanterns")],
        &[("129 198", "135 216"), ("band patch", "band other"), ("k=42", "k=11")],
        &[("format paperback", "format flapped-paperback"), ("size 30", "size 28")],
        &[("pages 320", "pages 10pt")],
    ];
    for swaps in swaps {
        let (one, other) = (CoverOutline::of(&built(COVER)), CoverOutline::of(&built(&changed(swaps))));
        let key = |topic: &str, place: &str, was: &Option<String>, now: &Option<String>| {
            (topic.to_owned(), place.to_owned(), was.clone(), now.clone())
        };
        let there = compare(&one, &other).0;
        let mut there: Vec<_> = there.iter().map(|c| key(c.topic.word(), &c.place, &c.was, &c.now)).collect();
        let back = compare(&other, &one).0;
        let mut back: Vec<_> = back.iter().map(|c| key(c.topic.word(), &c.place, &c.now, &c.was)).collect();
        there.sort();
        back.sort();
        assert!(!there.is_empty());
        assert_eq!(there, back, "{swaps:?}");
    }
}

/// The frames drawn for a change, on the new sheet.
fn places(swaps: &[(&str, &str)]) -> Vec<Rect> {
    let (old, new) = (built(COVER), built(&changed(swaps)));
    let resized = resized(&CoverOutline::of(&old), &CoverOutline::of(&new));
    let scenes = [&old, &new].map(|built| &built.design.as_ref().expect("it can be drawn").scene);
    let [one, other] = scenes.map(View::Drawn);
    let shown = picture(&one, &other, &resized, &Workshop::default().darkroom);
    shown.places.iter().map(|place| place.new).collect()
}

#[test]
fn frames_cover_what_changed_and_nothing_else() {
    let places = places(&[("band block { swatch night", "band block { swatch lamp percent=50")]);
    // The front begins at 129 + 19.8.
    let block = Rect::new(178.8, 90.0, 228.8, 110.0);
    assert_eq!(places.len(), 1, "{places:?}");
    let frame = places[0];
    assert!(
        frame.union(block) == frame && block.inflate(2.0, 2.0).union(frame) == block.inflate(2.0, 2.0),
        "{frame:?}"
    );
}

#[test]
fn a_spine_that_grew_frames_nothing() {
    assert_eq!(places(&[("pages 320", "pages 336")]), []);
}

#[test]
fn what_moved_is_framed_where_it_was_and_where_it_is() {
    let places = places(&[("left 30; top 90", "left 32; top 90"), ("pages 320", "pages 336")]);
    let strips = [(179.76, 181.76), (229.76, 231.76)];
    assert_eq!(places.len(), 2, "{places:?}");
    for (place, (left, right)) in places.iter().zip(strips) {
        assert!(place.x0 <= left + 0.3 && place.x1 >= right - 0.3 && place.width() < 5.0, "{place:?}");
    }
}
