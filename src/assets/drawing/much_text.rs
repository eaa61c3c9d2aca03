//! Text that would take minutes to set: each is refused by a message that says why; and what is just within is set.

use crate::assets::drawing::hostile::chain;
use crate::assets::drawing::lettering::set;
use std::fmt::Write as _;

/// What is set here takes up to 0.4 s, measured.
#[test]
fn text_has_bounds() {
    let open = |body: &str| {
        let text = format!("<svg xmlns='http://www.w3.org/2000/svg' width='400' height='200'>{body}</svg>");
        super::open("a.svg", text.as_bytes()).map(|drawing| drawing.parts.len()).map_err(|fault| fault.message)
    };
    let refused = |body: &str, expected: &str| {
        let message = open(body).expect_err(expected);
        assert!(message.contains(expected), "expected `{expected}`, said `{message}`");
    };
    let text =
        |said: &str, words: &str| format!("<text font-family='EB Garamond' font-size='4' y='9' {said}>{words}</text>");
    let words = |count: usize| "Salt and ".repeat(count / 9);
    refused(&text("", &words(1_000_000)), "letters of text");
    let set = |body: &str| assert_eq!(open(body).unwrap_or_else(|why| panic!("{why}: {body:.90}")), 1);
    // Outlines have a bound of their own: a letter has some thirty corners and curves.
    refused(&text("", &words(9999)), "corners and curves");
    set(&text("", &words(5000)));
    let places = chain(5000, |at, _| format!("{at} "));
    set(&text(&format!("x='{places}'"), &words(5000)));
    refused(&text(&format!("dx='{places}'"), &words(5000)), "farther out");
    let runs = |letters: usize, runs: usize| format!("<tspan>{}</tspan>", words(letters / runs)).repeat(runs);
    refused(&text("", &runs(9000, 500)), "letters times pieces may be");
    set(&text("", &runs(4500, 100)));
    let mixed = |letters: usize, runs: usize| {
        chain(runs, |at, _| format!("<tspan font-size='{at}'>{}</tspan>", words(letters / runs)))
    };
    set(&text("", &mixed(4500, 100)));
    set(&text("text-decoration='underline'", &mixed(4500, 100)));
    set(&text("letter-spacing='1' textLength='900'", &words(5000)));
    let mut path = "M0 0".to_owned();
    (0..3000).for_each(|at| write!(path, "q{at} 9 9 0").expect("a string takes it"));
    let along = |letters: usize, path: &str| {
        format!(
            "<path id='p' d='{path}'/><text font-family='EB Garamond' font-size='1'><textPath href='#p'>{}</textPath></text>",
            words(letters)
        )
    };
    set(&along(400, &path));
    refused(&along(9000, &path), "path of too many");
    set(&along(5000, "M0 0C900000 0 0 9 9 900000"));
    refused(&format!("<g transform='scale(1e6)'>{}</g>", along(2000, "M0 0C900 0 0 9 9 900")), "farther out");
    refused(&text("stroke='red' stroke-width='1' style='font-size:1e9px'", &words(900)), "reach very far");
    refused(&text("stroke='red' style='font-size:9e6px'", &words(900)), "reach very far");
    refused(&text("stroke='red' style='font-size:90000px'", &words(900)), "reach very far");
    let nested =
        |deep: usize| format!("{}A{}", "<tspan font-size='3em' dx='1'>a".repeat(deep), "</tspan>".repeat(deep));
    refused(&text("stroke='red'", &nested(180)), "reach very far");
    refused(&text("", &nested(250)), "deep");
    let uses = format!("<g id='u'>{}</g>{}", text("", &words(500)), "<use href='#u'/>".repeat(400));
    refused(&uses, "100000 elements");
    let uses = format!("<g id='u'>{}</g>{}", text("", &words(500)), "<use href='#u'/>".repeat(90));
    refused(&uses, "corners and curves");
    let list = "League Gothic, Inter, Alegreya, Barlow Condensed, Caveat, Zilla Slab, Libre Franklin, Bodoni Moda, "
        .repeat(50);
    set(&format!("<text y='9' font-size='1' font-family='{list} Amiri'>{}</text>", "\u{92e}".repeat(3000)));
}

/// What stands in the file once may be taken as often as anything asks for it.
#[test]
fn text_from_elsewhere_counts_where_it_is_taken() {
    let open = |body: &str| {
        let text = format!("<svg xmlns='http://www.w3.org/2000/svg' width='400' height='200'>{body}</svg>");
        super::open("a.svg", text.as_bytes()).map_err(|fault| fault.message)
    };
    let taken = |letters: usize, times: usize| {
        let group = format!("<g id='t'>{}</g>", "Salt and ".repeat(letters / 9));
        let text = "<text font-family='EB Garamond' font-size='4' y='9'><tref href='#t'/></text>".repeat(times);
        open(&format!("{group}{text}"))
    };
    for (letters, times) in [(1_000_000, 1), (9000, 200)] {
        let message = taken(letters, times).expect_err("too many");
        assert!(message.contains("letters of text"), "{message}");
    }
    let drawn = taken(90, 1).expect("it is read");
    assert!(drawn.parts.len() == 1 && drawn.left_out.is_empty(), "{:?}", drawn.left_out);
    // None of these has a letter, and each looks through the whole file.
    let nothing = "<g id='e'/>".to_owned() + &"<g/>".repeat(90_000);
    let message = open(&format!("{nothing}<text>{}</text>", "<tref href='#e'/>".repeat(9000))).expect_err("too many");
    assert!(message.contains("elements"), "{message}");
}

/// Each text was once compared with every element of the file, also where it has no letter.
#[test]
fn texts_without_letters_take_no_time() {
    let open = |body: &str| {
        let text = format!("<svg xmlns='http://www.w3.org/2000/svg' width='400' height='200'>{body}</svg>");
        super::open("a.svg", text.as_bytes()).map(|drawing| drawing.parts.len()).map_err(|fault| fault.message)
    };
    let other = "<rect width='9' height='9'/>";
    let empty = "<text><textPath href='#a'/></text>".repeat(40_000);
    assert_eq!(open(&format!("{other}{empty}")), Ok(1));
    let many = chain(40_000, |at, _| format!("<g id='i{at}'/><textPath href='#i{at}'/>"));
    assert_eq!(open(&format!("{other}<text>{many}</text>")), Ok(1));
    let more = "<text><textPath href='#a'/></text>".repeat(200_000);
    let message = open(&more).expect_err("too many");
    assert!(message.contains("400001 elements"), "{message}");
}

/// A name holds the letters of many units.
#[test]
fn names_of_fonts_are_not_sizes() {
    let open = |said: &str| {
        let text = format!("<text y='30' stroke='red' {said}>{}</text>", "Salt and ".repeat(20));
        let text =
            format!("<svg xmlns='http://www.w3.org/2000/svg' width='400' height='200'><g><g>{text}</g></g></svg>");
        super::open("a.svg", text.as_bytes()).map(|drawing| drawing.parts.len()).map_err(|fault| fault.message)
    };
    assert_eq!(open("style='font:600 24px \"Barlow Semi Condensed\", Inter'"), Ok(1));
    assert_eq!(open("style='font:24px \"EB Garamond\", Franklin'"), Ok(1));
    for far in ["90000em \"Inter\"", "600 9e5px Inter", "90000in/2 Inter"] {
        let message = open(&format!("style='font:{far}'")).expect_err(far);
        assert!(message.contains("reach very far"), "{message}");
    }
}

/// Pieces in two fonts by turns: as many as a text may have, and more, which stay as they are and are named.
#[test]
fn letters_are_cut_out_within_the_bounds_of_text() {
    let text = |times: usize| {
        let words = "a\u{5d0}".repeat(times);
        set(&format!("<text y='9' font-size='1' font-family='League Gothic, Frank Ruhl Libre'>{words}</text>"))
    };
    assert!(text(300).left_out.is_empty());
    let named = "letters in \"Frank Ruhl Libre\", though \"League Gothic\" is named before it and has them";
    assert_eq!(text(1000).left_out, [named]);
    let list = |at: usize| format!("<text font-family='League Gothic, No{at}, Frank Ruhl Libre'>\u{5d0}</text>");
    assert!(set(&chain(3000, |at, _| list(at))).left_out.is_empty());
}
