//! Text that would take minutes to set: each is refused by a message that says why; and what is just within is set.

use crate::assets::drawing::hostile::chain;
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
    refused(&text("", &runs(9000, 500)), "one times the other");
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
