//! Words: settings and lists do what one could write out by hand; on covers drawn at random, new ones in every run.

use jaconet::testing::{CoverTester, Scene, TestedCover};
use std::collections::BTreeSet;

#[path = "kit/chance.rs"]
#[expect(dead_code, reason = "formats and page counts are not drawn here")]
mod chance;
#[path = "kit/lots.rs"]
mod lots;
#[path = "kit/marks.rs"]
#[expect(dead_code, reason = "lines are counted here, and nothing else is asked of marks")]
mod marks;

use chance::Chance;
use lots::{rounds, try_law};
use std::cell::Cell;

const NONE: [(&str, &[u8]); 0] = [];
const BASE: &str = "format paperback { trim 129 198 }\n";

/// What is drawn on the front, without the names of elements.
fn drawn(tried: &TestedCover) -> Vec<String> {
    let outline = tried.scene.as_ref().expect("it is KDL").outline();
    let marks = outline.lines().filter_map(|line| line.strip_prefix("front/")?.split_once(": "));
    marks.map(|(_, mark)| mark.to_owned()).collect()
}

/// How many lines stand on the front.
fn lines(scene: &Scene) -> usize {
    let baselines: BTreeSet<i64> = marks::words(scene).iter().map(|run| (run.at[1] * 1e4).round() as i64).collect();
    baselines.len()
}

/// Of settings written each as a text of its own, the first that is sound and short enough is the one that is chosen.
#[test]
fn a_text_is_set_as_its_first_setting_that_fits() {
    let (trial, chosen) = (CoverTester::default(), Cell::new([0; 3]));
    let places =
        ["top 20; height 30", "top 20", "top 185", "cap-top 30; bottom 150", "cap-top 20", "bottom 10", "centre-y 90"];
    try_law("settings", rounds(100), |seed| {
        let mut chance = Chance::new(seed);
        let count = 2 + chance.below(9);
        let prose = chance.prose().split(' ').take(count).collect::<Vec<_>>().join(" ");
        let width = chance.between(15.0, 110.0);
        let place = format!("left 9; width {width:.1}; {}", chance.one(&places));
        let sizes: Vec<String> = (0..3)
            .map(|at| match chance.below(3) {
                0 => format!("size between {} {}", 18 - 6 * at, 24 - 6 * at),
                _ => format!("size {}", 24 - 8 * at),
            })
            .collect();
        let over = [chance.below(4), chance.below(4)];
        let limit = |lines: usize| if lines == 0 { String::new() } else { format!("lines-over={lines}") };
        let book = format!("book {{ title \"{prose}\"; author \"A\"; pages 320 }}\n{BASE}");
        let text = |inner: &str| format!("{book}panel front {{ text t words=\"{{title}}\" {{ {place}; {inner} }} }}");
        let together = format!(
            "{}; otherwise {} {{ {} }}; otherwise {} {{ {} }}",
            sizes[0],
            limit(over[0]),
            sizes[1],
            limit(over[1]),
            sizes[2]
        );
        let whole = trial.build(&text(&together), NONE);
        let alone: Vec<TestedCover> = sizes.iter().map(|size| trial.build(&text(size), NONE)).collect();
        // Where sizes find themselves they first try to keep to the lines; that is not to be had of a text alone.
        if sizes.iter().any(|size| size.contains("between")) && over != [0, 0] {
            return;
        }
        let fits = |at: usize| {
            let sound = !alone[at].notes.iter().any(|note| note.rule == "overmatter");
            sound && (over[at] == 0 || lines(alone[at].scene.as_ref().expect("it is KDL")) <= over[at])
        };
        let first = (0..2).find(|at| fits(*at)).unwrap_or(2);
        let mut counts = chosen.get();
        counts[first] += 1;
        chosen.set(counts);
        assert_eq!(drawn(&whole), drawn(&alone[first]), "{over:?}\n{}", text(&together));
        assert_eq!(whole.faulty(), alone[first].faulty(), "{:?}\n{}", whole.notes, text(&together));
    });
    assert!(chosen.get().iter().all(|count| *count > 0), "each setting is chosen by some lot: {chosen:?}");
}

/// A size that finds itself is made smaller before another setting is tried, and no smaller than need be.
#[test]
fn sizes_are_lowered_before_settings_are_changed() {
    let trial = CoverTester::default();
    let build = |inner: &str| {
        let title = "Salt and Lanterns at the End of the Sea";
        let text = format!(
            "book {{ title \"{title}\"; author \"A\"; pages 320 }}\n{BASE}panel front {{ text t words=\"{{title}}\" {{ left 9; width 60; top 20; {inner} }} }}"
        );
        trial.build(&text, NONE)
    };
    let whole = build("size between 10 30; otherwise lines-over=2 { size 5 }");
    let quarter = |at: u32| 10.0 + f64::from(at) / 4.0;
    let set = |size: f64| build(&format!("size {size}; leading {}", size * 1.2));
    let largest = (0..=80).rev().map(quarter).find(|size| lines(set(*size).scene.as_ref().expect("it is KDL")) <= 2);
    let largest = largest.expect("ten points are few");
    assert!(largest > 10.0 && largest < 30.0, "{largest}");
    assert_eq!(drawn(&whole), drawn(&set(largest)));
    let small = build("size between 24 30; otherwise lines-over=2 { size 5 }");
    assert_eq!(drawn(&small), drawn(&build("size 5")));
}

/// What is repeated is what one could have written item by item.
#[test]
fn a_list_is_drawn_as_if_written_out() {
    let trial = CoverTester::default();
    try_law("lists", rounds(12), |seed| {
        let mut chance = Chance::new(seed);
        let count = chance.below(5);
        let (mut facts, mut items) = (Vec::new(), Vec::new());
        let (gap, within) = (chance.below(7), chance.below(4));
        for at in 0..count {
            let prose = chance.prose();
            let by = chance.below(2) == 0;
            let stated = if by { format!("by=\"B{at}\"") } else { String::new() };
            facts.push(format!("quote \"{prose}\" {stated}"));
            let by = if by { format!("; text b{at} words=\"B{at}\" {{ size 7 }}") } else { String::new() };
            items.push(format!("stack i{at} down gap={within} {{ text a{at} words=\"“{prose}”\"{by} }}"));
        }
        let book = format!("book {{ title \"T\"; author \"A\"; pages 320\n{} }}\n{BASE}", facts.join("\n"));
        let place = "left 12; width 70; top 20";
        let head = format!("{book}panel front {{ band head {{ swatch black; left 12; width 9; top 17; height 3 }}\n");
        let band = |top: &str| format!("band foot {{ swatch black; left 12; width 9; {top}; height 3 }} }}");
        let listed = format!(
            "{head}each quote gap={gap} within={within} {{ {place}; text said words=\"“{{quote}}”\"; text by words=\"{{quote.by}}\" when=quote.by {{ size 7 }} }}\n{}",
            band("below quote 4")
        );
        let written = match count {
            0 => format!("{head}{}", band("top 24")),
            _ => format!("{head}stack all down gap={gap} {{ {place}; {} }}\n{}", items.join("\n"), band("below all 4")),
        };
        let (listed, written) = (trial.build(&listed, NONE), trial.build(&written, NONE));
        assert!(!listed.notes.iter().any(|note| note.rule == "language"), "{:?}", listed.notes);
        assert_eq!(drawn(&listed), drawn(&written), "{facts:?}");
    });
}

/// However lists and parts stand in each other, elements have an end, and it is reported once.
#[test]
fn lists_in_lists_have_an_end() {
    let facts = (2..=20).map(|at| format!("fact a.{at} \"x\"")).collect::<Vec<_>>().join("\n");
    let text = format!(
        "book {{ title \"T\"; author \"A\"; pages 320; fact a \"x\"\n{facts} }}\n{BASE}panel front {{ each a {{ left 0; right 0; top 0\neach a {{ each a {{ band b {{ swatch black; height 1 }} }} }} }} }}"
    );
    let tried = CoverTester::default().build(&text, NONE);
    let reported = tried.notes.iter().filter(|note| note.message.contains("more than 5000 elements")).count();
    assert_eq!(reported, 1, "{:?}", tried.notes.iter().take(5).collect::<Vec<_>>());
}

/// However often a long text stands on a cover, its letters have an end, and it is reported once.
#[test]
fn letters_have_an_end() {
    let panel = |count: usize| {
        let texts = (0..count).map(|at| format!("text t{at} copy=\"a.md\" {{ left 5; right 5; top 5; bottom 5 }}\n"));
        format!("book {{ title \"T\"; pages 320 }}\n{BASE}panel front {{ {} }}", texts.collect::<String>())
    };
    let copy = "salt and sea ".repeat(800);
    let ends = |count: usize| {
        let tried = CoverTester::default().build(&panel(count), [("a.md", copy.as_bytes())]);
        tried.notes.iter().filter(|note| note.message.contains("more than 60000 letters together")).count()
    };
    assert_eq!([ends(5), ends(9)], [0, 1]);
}
