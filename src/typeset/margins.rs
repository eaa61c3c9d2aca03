//! Edges of lines, pairs of letters: where ink stands, measured on outlines.

use crate::ground::MM_PER_PT;
use crate::typeset::{
    Align, BlockLine, Copy, Edges, Room, Size, Style, TextRun,
    laws::{OFF, TYPESETTER, WIDE, set, styled},
};

/// The ink of a line, from left to right, in millimetres.
fn ink(line: &BlockLine) -> (f64, f64) {
    let glyphs = line.runs.iter().flat_map(|run| run.glyphs.iter().map(move |glyph| (run, glyph)));
    glyphs.fold((f64::MAX, f64::MIN), |reach, (run, glyph): (&TextRun, _)| {
        let Some(bounds) = run.font.glyph_bounds(glyph.id) else { return reach };
        (reach.0.min(glyph.x + bounds.x0 * run.size), reach.1.max(glyph.x + bounds.x1 * run.size))
    })
}

fn spread(values: impl Iterator<Item = f64>) -> f64 {
    let (least, most) = values.fold((f64::MAX, f64::MIN), |(least, most), value| (least.min(value), most.max(value)));
    most - least
}

const LINES: &str = "Harbour\nOver\nAsh\nTide\nVale\nJetty\nWinter\nSalt\nYard\nCove";

/// Flush lines of 60 points: their ink by itself, and with what is let out for the eye (limits as a house would set them).
#[test]
fn edges_stand_by_ink_or_by_eye() {
    for family in ["EB Garamond", "Playfair Display", "Inter", "Barlow Condensed"] {
        for align in [Align::Left, Align::Right, Align::Centre] {
            let of = |edges: Edges| {
                let style =
                    Style { size: Size::Fixed(60.0), edges, hyphenation: OFF, ..styled(family, "en-GB", align) };
                let block = set(LINES, &style, Room { width: 200.0, ..WIDE });
                assert_eq!(block.lines.len(), 10);
                let edge = |line: &BlockLine| match (align, ink(line)) {
                    (Align::Left, (left, _)) => left,
                    (Align::Right, (_, right)) => right,
                    (_, (left, right)) => f64::midpoint(left, right),
                };
                spread(block.lines.iter().map(edge))
            };
            let (font, by_ink, eye) = (of(Edges::Font), of(Edges::Ink), of(Edges::Eye));
            assert!(font > 0.3 && by_ink < 0.01 && eye > 0.01 && eye < 0.4, "{family} {align:?} {font} {by_ink} {eye}");
        }
    }
}

/// A line as wide as its ink: what the breaker believes is what is set.
#[test]
fn edges_are_measured_as_they_are_set() {
    for edges in [Edges::Ink, Edges::Eye] {
        let style = Style { edges, hanging: false, ..styled("EB Garamond", "en-GB", Align::Justify) };
        let text = "Over the years the harbour kept its own accounts, and whatever was owed there stayed owed to the last tide.";
        let block = set(text, &style, Room { width: 62.0, ..WIDE });
        let lines = &block.lines[..block.lines.len() - 1];
        let (left, right) =
            (spread(lines.iter().map(|line| ink(line).0)), spread(lines.iter().map(|line| ink(line).1)));
        let em = 11.0 * MM_PER_PT;
        assert!(left < 0.02 * em && right < 0.02 * em && lines.len() > 1, "{edges:?} {left} {right}");
        assert!(block.overwide == 0.0);
    }
}

#[test]
fn pairs_are_kerned_and_remembered_at_breaks() {
    let width = |kerns: Vec<(char, char, f64)>, text: &str| {
        let style = Style { kerns, size: Size::Fixed(30.0), ..styled("EB Garamond", "en-GB", Align::Left) };
        set(text, &style, WIDE).width
    };
    let em = 30.0 * MM_PER_PT;
    let plain = width(Vec::new(), "What if? Off we go");
    assert!((width(vec![('f', '?', 60.0)], "What if? Off we go") - plain - 0.06 * em).abs() < 1e-9);
    assert!((width(vec![('f', '!', 60.0)], "What if? Off we go") - plain).abs() < 1e-9);
}

/// EB Garamond lets an f run into what follows; a hand that joins its letters is meant so.
#[test]
fn letters_that_touch_are_found() {
    let touching = |family: &str, size: f64, kerns: &[(char, char, f64)], text: &str| -> Vec<(String, f64)> {
        let style = Style { size: Size::Fixed(size), kerns: kerns.to_vec(), ..styled(family, "en-GB", Align::Left) };
        let block = TYPESETTER.set(&Copy::plain(text), &style, Room { width: 400.0, ..WIDE }).expect("bundled");
        block.touching.iter().map(|touch| (format!("{}{}", touch.pair.0, touch.pair.1), touch.kern)).collect()
    };
    let text = "What if? (A proof) of [half] Vänern’s elf’s";
    let found = touching("EB Garamond", 30.0, &[], text);
    assert!(found.iter().any(|(pair, _)| pair == "f?") && found.iter().any(|(pair, _)| pair == "f)"), "{found:?}");
    // What is advised sets them apart.
    let kerns: Vec<(char, char, f64)> = found
        .iter()
        .map(|(pair, kern)| {
            let mut letters = pair.chars();
            (letters.next().unwrap_or_default(), letters.next().unwrap_or_default(), *kern)
        })
        .collect();
    assert_eq!(touching("EB Garamond", 30.0, &kerns, text), []);
    assert_eq!(touching("EB Garamond", 11.0, &[], text), []);
    assert_eq!(touching("Dancing Script", 30.0, &[], "Salt and Lanterns"), []);
}

/// Every line as wide as the room, with the same gap between its capitals and the line above.
#[test]
fn each_line_finds_its_size() {
    for (family, title, lines) in [
        ("League Gothic", "THE LEDGER OF THE DROWNED HARBOUR", Some((2, 5))),
        ("Playfair Display", "SALT\nAND LANTERNS\nA NOVEL", None),
        ("Inter", "HARBOUR", Some((1, 3))),
    ] {
        let size = Size::EachLine(10.0, 400.0);
        let leading = crate::typeset::Leading::Times(1.15);
        let style = Style {
            size,
            leading,
            lines,
            even: true,
            edges: Edges::Ink,
            hyphenation: OFF,
            ..styled(family, "en-GB", Align::Left)
        };
        let block = set(title, &style, Room { width: 90.0, height: Some(200.0), ..WIDE });
        assert!(block.overwide == 0.0 && block.overmatter.is_none(), "{family}");
        let mut gaps = Vec::new();
        for (at, line) in block.lines.iter().enumerate() {
            let (left, right) = ink(line);
            assert!(left.abs() < 1e-6 && (right - 90.0).abs() < 0.01, "{family} {left} {right}");
            let run = &line.runs[0];
            let capitals = run.font.metrics().cap_height * run.size;
            gaps.extend((at > 0).then(|| line.baseline - capitals - block.lines[at - 1].baseline));
        }
        assert!(gaps.is_empty() || spread(gaps.iter().copied()) < 0.05 && gaps[0] > 0.5, "{family} {gaps:?}");
    }
}
