//! Laws: what holds of every cover, tried on covers drawn at random. Every run draws new lots; `JACONET_LONG=1` draws more.
#![expect(clippy::disallowed_methods, reason = "it reads the covers that it spoils")]

use jaconet::testing::{CoverTester, PanelName, TestedFinding};

#[path = "kit/chance.rs"]
mod chance;
#[path = "laws/longer_spine.rs"]
mod longer_spine;
#[path = "kit/lots.rs"]
mod lots;
#[path = "kit/marks.rs"]
mod marks;
#[path = "kit/mutate.rs"]
mod mutate;

use chance::Chance;
use lots::{rounds, try_law};
use marks::{frames, words};

const NONE: [(&str, &[u8]); 0] = [];

fn close(is: f64, should: f64) -> bool {
    (is - should).abs() < 1e-6
}

#[test]
fn panels_tile_the_sheet() {
    let trial = CoverTester::default();
    try_law("panels", rounds(60), |seed| {
        let mut chance = Chance::new(seed);
        let format = chance.format();
        let language = *chance.one(&["en-GB", "he", "de"]);
        let text = format!("book {{ title \"Salt\"; pages {}; language {language} }}\n{format}", chance.pages());
        let scene = trial.build(&text, NONE).scene.expect("it is KDL");
        let sheet = &scene.sheet;
        let mut x = sheet.trim.x0;
        for panel in &sheet.panels {
            assert!(close(panel.rect.x0, x), "{} leaves a gap\n{text}", panel.name);
            assert!(close(panel.rect.y0, sheet.trim.y0) && close(panel.rect.y1, sheet.trim.y1), "{text}");
            x = panel.rect.x1;
        }
        assert!(close(x, sheet.trim.x1), "{text}");
        // Every inner edge is a fold, and every fold an inner edge, scores aside.
        for pair in sheet.panels.windows(2) {
            assert!(sheet.folds.iter().any(|fold| close(fold.x, pair[0].rect.x1)), "{text}");
        }
        assert!(sheet.folds.windows(2).all(|pair| pair[0].x <= pair[1].x), "{text}");
        let ring = sheet.trim.x0 - sheet.bleed.x0;
        assert!(close(sheet.bleed.x1 - sheet.trim.x1, ring) && close(sheet.trim.y0 - sheet.bleed.y0, ring), "{text}");
    });
}

/// A cover whose marks stand on every panel.
fn spread(pages: u32) -> String {
    format!(
        r#"book {{ title "Salt"; author "Mirela Anand"; pages {pages} }}
format paperback {{ trim 129 198 }}
panel back {{
    band b {{ swatch black; left safe; right fold 3; top 10; height 20 }}
    text bt words="{{title}}" {{ left safe; right safe; top 50 }}
}}
panel spine {{
    band s {{ swatch black; across 3; foot 20; height 6 }}
    text st words="{{title}}" {{ head safe; foot 60; size 10; font "Libre Franklin" weight=bold }}
}}
panel front {{
    band f {{ swatch black; left fold 3; right bleed; top 10; height 20 }}
    text ft words="{{author}}" {{ left safe; right safe; cap-top 80 }}
}}
"#
    )
}

#[test]
fn more_pages_move_the_front_and_leave_the_back() {
    let trial = CoverTester::default();
    let before = trial.build(&spread(320), NONE).scene.expect("it is KDL");
    try_law("pages", rounds(6), |seed| {
        let mut chance = Chance::new(seed);
        let pages = chance.pages();
        let after = trial.build(&spread(pages), NONE).scene.expect("it is KDL");
        // A leaf of 80 g/m² at 1.5 cm³/g is 0.12 mm and has two pages.
        let moved = (f64::from(pages) - 320.0) / 2.0 * 0.12;
        let (old, new) = (frames(&before), frames(&after));
        assert_eq!(old.len(), 6);
        for (name, frame) in &old {
            let shift = new[name].x0 - frame.x0;
            let should = match name.split('/').next() {
                Some("back") => 0.0,
                Some("front") => moved,
                // A band is centred on the spine; words fill what lies between the clearances of the folds.
                _ if name == "spine/s" => moved / 2.0,
                _ => continue,
            };
            assert!(close(shift, should), "{name} moved by {shift}, should by {should}");
            assert!(close(new[name].width(), frame.width()) && close(new[name].y0, frame.y0), "{name}");
        }
    });
}

#[test]
fn capitals_stay_centred_between_the_folds() {
    // Libre Franklin's capitals are 742 of 1000 units high (its OS/2 table, read with ttf-parser).
    let face = ttf_parser::Face::parse(include_bytes!("../fonts-open/LibreFranklin/LibreFranklin-Bold.ttf"), 0);
    let face = face.expect("the font is whole");
    let height = f64::from(face.capital_height().expect("it says")) / f64::from(face.units_per_em());
    let trial = CoverTester::default();
    try_law("capitals", rounds(8), |seed| {
        let mut chance = Chance::new(seed);
        let pages = chance.pages().max(100);
        for (reads, side) in [("down", -1.0), ("up", 1.0)] {
            let text = spread(pages).replace("panel spine {", &format!("panel spine {{\n    reads {reads}"));
            let text = text.replace("{title}", "SALT");
            let scene = trial.build(&text, NONE).scene.expect("it is KDL");
            let runs = words(&scene);
            let run = runs.iter().find(|run| run.element == "spine/st").expect("the spine speaks");
            let spine = scene.sheet.panel(PanelName::Spine).expect("a paperback has one").rect;
            let capitals = height * 10.0 * 25.4 / 72.0;
            // The baseline lies half the capitals' height off the middle, on the side where their feet are.
            let should = spine.center().x + side * capitals / 2.0;
            assert!((run.at[0] - should).abs() < 0.01, "{reads}, {pages} pages: {} not {should}", run.at[0]);
        }
    });
}

#[test]
fn first_lines_stand_where_they_are_reported() {
    let trial = CoverTester::default();
    let scene = trial.build(include_str!("covers/text-first-line.kdl"), NONE).scene.expect("it is KDL");
    let runs = words(&scene);
    let at = |element: &str| runs.iter().find(|run| run.element == element).expect("it is set").at[1];
    // How high the capitals of a font are, in millimetres, by another reader of fonts (ttf-parser).
    let capitals = |font: &[u8], points: f64| {
        let face = ttf_parser::Face::parse(font, 0).expect("the font is whole");
        let h = face.glyph_index('H').and_then(|h| face.glyph_bounding_box(h)).expect("it has an H");
        let share = f64::from(h.y_max) / f64::from(face.units_per_em());
        share * points * 25.4 / 72.0
    };
    let franklin = include_bytes!("../fonts-open/LibreFranklin/LibreFranklin-Regular.ttf");
    let garamond = include_bytes!("../fonts-open/EBGaramond/EBGaramond-Regular.ttf");
    for (element, should) in [
        ("front/stands", 70.0),
        ("front/hangs", 100.0 + capitals(franklin, 24.0)),
        ("front/both", 120.0 + capitals(garamond, 30.0)),
    ] {
        assert!((at(element) - should).abs() < 0.01, "{element}: {} not {should}", at(element));
    }
}

#[test]
fn no_word_is_lost_and_no_line_outruns_its_measure() {
    let trial = CoverTester::default();
    try_law("words", rounds(25), |seed| {
        let mut chance = Chance::new(seed);
        let (stated, width) = (chance.prose(), chance.between(18.0, 110.0));
        let align = *chance.one(&["left", "right", "centre", "justify", "start", "end"]);
        let hyphens = *chance.one(&["#true", "#false"]);
        let size = chance.between(6.0, 14.0);
        let text = format!(
            "book {{ title \"Salt\"; pages 320 }}\nformat paperback {{ trim 129 1000 }}\npanel front {{ text a words={stated:?} \
             {{ left safe; width {width:.2}; top safe; size {size:.2}; align {align}; hyphenate {hyphens} }} }}\n"
        );
        let longest = stated.split(' ').map(|word| word.chars().count()).max().unwrap_or(0) as f64;
        let narrow = longest * size * 25.4 / 72.0 > width;
        let tried = trial.build(&text, NONE);
        // A word wider than the measure and loose lines are reported; nothing else is wrong.
        let other = |note: &&TestedFinding| {
            note.rule != "loose-line" && !(narrow && note.message.contains("wider than its frame"))
        };
        assert_eq!(tried.notes.iter().filter(other).count(), 0, "{:?}\n{text}", tried.notes);
        let scene = tried.scene.expect("it is KDL");
        let set: String = words(&scene).iter().map(|run| run.text.as_str()).collect();
        let letters = |text: &str| text.chars().filter(|c| c.is_alphanumeric()).collect::<String>();
        assert_eq!(letters(&set), letters(&stated), "{text}");
        for run in words(&scene) {
            // Letters may hang into the margin by a part of themselves; a word wider than the measure has no choice.
            let end = run.at[0] + run.reach - 153.8;
            assert!(narrow || end < width + size * 0.2, "`{}` reaches {end:.2} of {width:.2}\n{text}", run.text);
        }
    });
}

#[test]
fn a_group_draws_what_its_elements_would() {
    let trial = CoverTester::default();
    let art = include_bytes!("covers/art/kite.svg");
    let inner = r#"band a { swatch black; left 5; width 10; top 4; height 6 }
        oval b { swatch black percent=40; right 3; width 9; bottom 2 }
        text c words="Salt and Lanterns" { left 2; right 2; below a 2; size 9 }
        image d file="art/kite.svg" { left 1; width 12; above b 1 }
        rule e { swatch black; weight 1; left 0; right 0; top 0 }"#;
    let head = "book { title \"Salt\"; pages 320 }\nformat paperback { trim 129 198 }\n";
    let build = |body: &str| {
        let tried = trial.build(&format!("{head}{body}"), [("art/kite.svg", &art[..])]);
        assert!(!tried.faulty(), "{:?}", tried.notes);
        let outline = tried.scene.expect("it is KDL").outline();
        let marks = outline.lines().filter(|line| line.starts_with("front/"));
        marks
            .map(|line| line.replacen(": ", "\t", 1).split_once('\t').expect("a mark").1.to_owned())
            .collect::<Vec<_>>()
    };
    let grouped = build(&format!("panel front {{ group g {{ left 0; right 0; top 0; bottom 0\n{inner} }} }}"));
    assert_eq!(build(&format!("panel front {{ {inner} }}")), grouped);
    let placed = "left 0; right 0; top 0; bottom 0";
    assert_eq!(build(&format!("part p {{ {inner} }}\npanel front {{ use p as=g {{ {placed} }} }}")), grouped);
    assert_eq!(build(&format!("part p {{ {placed}; {inner} }}\npanel front {{ use p }}")), grouped);
    assert_eq!(grouped.len(), 5);
}

#[test]
fn neither_the_order_of_facts_nor_the_look_of_the_file_counts() {
    let trial = CoverTester::default();
    let facts = [
        "book { title \"Salt\"; author \"Mirela Anand\"; pages 320; isbn \"978-1-83742-615-7\" }",
        "format paperback { trim 129 198; bleed 4 }",
        "press uncoated",
        "swatches { swatch night c=90 k=40; rgb sea \"#2f6f7e\"; tint haze of=sea percent=30 }",
        "type { style t { size 20; swatch night } }",
        "levels { level eye top=60 }",
        "deliver { flat ppi=50 }",
    ];
    let panels = "panel front { band a { swatch haze; left fold; right bleed; top eye; height 20 }\n\
                  text t words=\"{title}\" style=t { left safe; right safe; cap-top eye 4 } }\n\
                  panel back { barcode b { right safe; bottom safe } }\n";
    let files = |text: &str| {
        let tried = trial.build(text, NONE);
        assert!(!tried.faulty(), "{:?}", tried.notes);
        trial.files(&tried.scene.expect("it is KDL"), 30.0)
    };
    let first = files(&(facts.join("\n") + "\n" + panels));
    assert!(first.len() >= 4, "press, flat and panels are written");
    try_law("order", rounds(3), |seed| {
        let mut chance = Chance::new(seed);
        let mut order = facts.to_vec();
        chance.shuffle(&mut order);
        let text = order.join("\n\n// a remark\n") + "\n/* another */\n" + panels;
        let text = text.replace("; ", "\n        ").replace("panel back", "\n\n// moved down\npanel back");
        assert!(files(&text) == first, "{text}");
    });
}

/// The sound covers of `covers/`, as the lot may spoil them.
fn sound_covers() -> Vec<String> {
    let folder = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/covers");
    let mut paths: Vec<_> =
        std::fs::read_dir(folder).expect("the covers are there").flatten().map(|entry| entry.path()).collect();
    paths.sort();
    let named = |path: &std::path::PathBuf| {
        let name = path.file_name().unwrap_or_default().to_string_lossy().into_owned();
        path.extension().is_some_and(|end| end == "kdl") && !name.starts_with("fault-")
    };
    paths
        .iter()
        .filter(|path| named(path))
        .map(|path| std::fs::read_to_string(path).expect("a cover can be read"))
        // Nothing is read of a cover whose series is not there.
        .filter(|text| !text.contains("\nseries "))
        .collect()
}

#[test]
fn no_spoiled_cover_breaks_the_program() {
    let (trial, covers) = (CoverTester::default(), sound_covers());
    assert!(covers.len() > 40);
    try_law("spoiled", rounds(120), |seed| {
        let mut chance = Chance::new(seed);
        let mut text = chance.one(&covers).clone();
        for _ in 0..=chance.below(4) {
            text = mutate::spoil(&text, &mut chance);
        }
        // A panic is all that it may not do; what it draws must be reported whole.
        let tried = trial.build(&text, NONE);
        assert!(tried.scene.is_some() || tried.faulty(), "nothing drawn, nothing said:\n{text}");
        for note in &tried.notes {
            assert!(!note.message.is_empty() && !note.help.is_empty(), "{note:?}\n{text}");
            assert!(note.line <= text.lines().count().max(1), "{note:?} lies beyond\n{text}");
        }
        if let Some(scene) = &tried.scene {
            for frame in frames(scene).values() {
                assert!(frame.is_finite() && frame.width() >= 0.0, "{frame:?}\n{text}");
            }
        }
    });
}

#[test]
fn no_unknown_word_passes() {
    let (trial, covers) = (CoverTester::default(), sound_covers());
    try_law("misspelt", rounds(120), |seed| {
        let mut chance = Chance::new(seed);
        let cover = chance.one(&covers);
        let text = mutate::misspell(cover, &mut chance);
        assert_ne!(&text, cover);
        let tried = trial.build(&text, NONE);
        let reported = tried.notes.iter().any(|note| note.severity == "error" && note.message.contains("zz`"));
        assert!(reported, "an unknown word passed: {:?}\n{text}", tried.notes);
    });
}
