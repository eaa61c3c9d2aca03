//! Where things stand in a block: directions, initials, sizes.

use crate::assets::RunEnd;
use crate::ground::MM_PER_PT;
use crate::typeset::{
    Align, DropCap, Leading, Room, Size, Style,
    laws::{BLURB, HEBREW, OFF, WIDE, edges, set, spoken, styled},
};

#[test]
fn right_to_left_begins_at_the_right() {
    let block = set(HEBREW, &styled("Frank Ruhl Libre", "he", Align::Start), WIDE);
    let (left, right) = edges(&block.lines[block.lines.len() - 1]);
    assert!(left > 5.0 && right > 94.0, "{left} {right}");
    // UAX #9: letters run to the left, the latin words within them to the right.
    let run = |letter: char| {
        let runs = block.lines.iter().flat_map(|line| &line.runs);
        let run = runs.clone().find(|run| run.text.contains(letter)).expect("is set");
        run.glyphs.iter().filter(|glyph| !glyph.text.is_empty()).map(|glyph| glyph.text.start).collect::<Vec<_>>()
    };
    assert!(run('ב').is_sorted_by(|a, b| a > b));
    assert!(run('S').is_sorted());
}

#[test]
fn an_initial_fills_its_lines() {
    let cap = DropCap { lines: 3, letters: 1, snug: false };
    let text = "Having thought about it, she wrote again. ".repeat(6);
    let style =
        Style { leading: Leading::Points(14.5), drop_cap: Some(cap), align: Align::Justify, ..Style::default() };
    let block = set(&text, &style, WIDE);
    let first = &block.lines[0];
    let (initial, font) = (&first.runs[0], &first.runs[0].font);
    assert_eq!(&*initial.text, "H");
    let bounds = font.glyph_bounds(initial.glyphs[0].id).expect("is drawn");
    let foot = first.baseline + initial.glyphs[0].y;
    // The font's serifs are a little hollow: its baseline counts.
    assert!((foot - block.lines[2].baseline).abs() < 1e-9 && bounds.y1.abs() < 0.01);
    assert!((foot + bounds.y0 * initial.size - block.cap_top).abs() < 0.06);
    assert!((initial.glyphs[0].x + bounds.x0 * initial.size).abs() < 1e-9);
    let right = initial.glyphs[0].x + bounds.x1 * initial.size;
    for line in &block.lines[1..3] {
        let gap = edges(line).0 - right;
        assert!(gap > 0.9 && gap < 1.4, "{gap}");
    }
    assert!(edges(&block.lines[3]).0 < 0.5);
    let quoted = set(&format!("“{text}"), &style, WIDE);
    assert_eq!(&*quoted.lines[0].runs[0].text, "“");
    assert!(quoted.lines[0].runs[0].glyphs[0].x < 0.0);
    // A word of one letter keeps the blank behind it.
    let alone = set(&format!("A quiet {text}"), &style, WIDE);
    assert_eq!([&*alone.lines[0].runs[0].text, &alone.lines[0].runs[1].text[..5]], ["A ", "quiet"]);
    // A short paragraph still makes room for all of it.
    let short = set("Hush.\n\nThen more words came.", &style, WIDE);
    assert!((short.lines[1].baseline - short.lines[0].baseline - 3.0 * 14.5 * MM_PER_PT).abs() < 1e-9);
}

/// Lines that follow the contour of an initial: an A lets the upper ones in, an L keeps them off its foot alone. Signs
/// before it stand at the text's size, dashes within the measure.
#[test]
fn lines_stand_snug_to_an_initial() {
    let cap = |snug| DropCap { lines: 4, letters: 1, snug };
    let styled = |snug| Style { leading: Leading::Points(14.0), drop_cap: Some(cap(snug)), ..Style::default() };
    let lefts = |text: &str, snug: bool| -> Vec<f64> {
        let block = set(&format!("{text} {}", "words to stand beside it ".repeat(12)), &styled(snug), WIDE);
        block.lines[1..4].iter().map(|line| edges(line).0).collect()
    };
    let (plain, snug) = (lefts("A", false), lefts("A", true));
    assert!((plain[0] - plain[2]).abs() < 0.3 && snug[0] + 1.0 < snug[1] && snug[1] + 1.0 < snug[2], "{snug:?}");
    assert!((snug[2] - plain[2]).abs() < 0.6, "{snug:?} {plain:?}");
    let foot = lefts("L", true);
    assert!(foot[0] + 2.0 < foot[2] && (foot[0] - foot[1]).abs() < 0.3, "{foot:?}");
    for (opening, hangs) in [("«\u{a0}", true), ("— ", false), ("…", true), ("“", true)] {
        let block = set(&format!("{opening}Having thought about it, she wrote again."), &styled(false), WIDE);
        let [sign, initial] = [&block.lines[0].runs[0], &block.lines[0].runs[1]];
        assert_eq!((&*sign.text, &*initial.text), (opening, "H"), "{opening}");
        assert_eq!(sign.glyphs[0].x < -0.01, hangs, "{opening} {}", sign.glyphs[0].x);
        assert!(initial.size > 2.0 * sign.size);
    }
}

/// A size that was found is one that fits: whoever writes it down instead of the range gets the same lines.
#[test]
fn a_size_between_accepts_its_own_answer() {
    const TITLES: [&str; 16] = [
        "Salt",
        "Lanterns",
        "Quarterbound",
        "Ashfall",
        "WATERMARK",
        "Fjord",
        "Toccata",
        "AVOWAL",
        "Ypsilon",
        "Offcut",
        "Tyne’s",
        "“Wyvern”",
        "Ætherlight",
        "Größe",
        "W",
        "Incomprehensibilities",
    ];
    let (mut asked, mut faults) = (0, Vec::new());
    for family in ["EB Garamond", "Playfair Display", "Libre Franklin"] {
        for title in TITLES {
            for (width, height) in
                [(23.0, None), (60.7, None), (60.7, Some(9.3)), (119.0, Some(31.0)), (41.3, Some(14.1))]
            {
                let between = Style {
                    size: Size::Between(4.0, 240.0),
                    hyphenation: OFF,
                    ..styled(family, "en-GB", Align::Centre)
                };
                let room = Room { width, height, close: height.is_none(), lines: None, holes: None };
                let found = set(title, &between, room);
                if found.overwide > 0.0 || found.overmatter.is_some() {
                    continue;
                }
                asked += 1;
                let again = set(title, &Style { size: Size::Fixed(found.size), ..between }, room);
                let same =
                    again.overwide <= 0.0 && again.overmatter.is_none() && again.lines.len() == found.lines.len();
                if !same || (again.width - found.width).abs() > 1e-9 {
                    faults.push(format!("{family} {title} in {width} × {height:?}: {} pt", found.size));
                }
            }
        }
    }
    assert!(asked >= 200, "only {asked} could be asked");
    assert!(faults.is_empty(), "{} of {asked}:\n{}", faults.len(), faults.join("\n"));
}

#[test]
fn sizes_between_and_what_stands_over() {
    let style = Style { size: Size::Between(8.0, 40.0), leading: Leading::Points(44.0), ..Style::default() };
    let room = Room { width: 60.0, height: Some(40.0), ..WIDE };
    let block = set(BLURB, &style, room);
    assert!(block.overmatter.is_none() && block.height <= 40.0 && block.size > 8.0 && block.size < 40.0);
    let next = Style {
        size: Size::Fixed(block.size + 0.25),
        leading: Leading::Points((block.size + 0.25) * 1.1),
        ..style.clone()
    };
    let over = set(BLURB, &next, room).overmatter.expect("a step larger stands over");
    assert!(over.lines >= 1 && over.mm > 0.0);
    // A spine title: one line as wide as it goes.
    let room = Room { width: 100.0, lines: Some(1), ..WIDE };
    let spine = set("Salt and Lanterns", &Style { hyphenation: OFF, ..style.clone() }, room);
    assert!(spine.lines.len() == 1 && spine.width <= 100.0 && (spine.size >= 40.0 || spine.width > 98.0));
    // Four lines of 12 points in the room of two.
    let fixed = Style { size: Size::Fixed(10.0), leading: Leading::Points(12.0), ..Style::default() };
    let all = set("a\nb\nc\nd", &fixed, WIDE);
    let height = all.height - 2.0 * 12.0 * MM_PER_PT;
    let cut = set("a\nb\nc\nd", &fixed, Room { height: Some(height), ..WIDE }).overmatter.expect("stands over");
    assert_eq!(cut.lines, 2);
    assert!((cut.mm - 24.0 * MM_PER_PT).abs() < 1e-9);
}

#[test]
fn a_centred_title_is_balanced_and_a_quote_ends_in_no_lone_word() {
    let title =
        Style { size: Size::Fixed(30.0), hyphenation: OFF, ..styled("Playfair Display", "en-GB", Align::Centre) };
    let block = set("The Ledger of the Drowned Harbour", &title, Room { width: 120.0, ..WIDE });
    let widths: Vec<f64> = block.lines.iter().map(|line| edges(line).1 - edges(line).0).collect();
    assert_eq!(widths.len(), 2);
    assert!((widths[0] - widths[1]).abs() < 30.0, "{widths:?}");
    for width in [50.0, 55.0, 60.0, 65.0, 70.0, 75.0, 80.0] {
        let style = Style { hyphenation: OFF, ..styled("EB Garamond", "en-GB", Align::Start) };
        let block = set(BLURB, &style, Room { width, ..WIDE });
        for line in block.lines.iter().filter(|line| line.end == RunEnd::Paragraph) {
            assert!(spoken(line, false).trim().contains(' '), "{width}");
        }
    }
}

/// A size that was found for words holds for them: they fit, and stand as they are drawn.
#[test]
fn a_size_that_finds_itself_is_true() {
    let words = ["Salzlaternen", "Extraordinarily", "WAVE", "Ferry", "Ålesund", "“Toll”", "Minimum", "Affluence"];
    let families = ["EB Garamond", "Inter", "Playfair Display", "Alegreya", "League Gothic"];
    for family in families {
        for word in words {
            for width in [30.0, 47.5, 61.25, 88.0] {
                let size = Size::Between(8.0, 120.0);
                let style = Style { size, hyphenation: OFF, ..styled(family, "en-GB", Align::Start) };
                let block = set(word, &style, Room { width, ..WIDE });
                let runs = block.lines.iter().flat_map(|line| &line.runs);
                assert!(block.overwide == 0.0 && block.width <= width + 1e-3, "{family} {word} {width}");
                assert!(runs.clone().all(|run| (run.stretch - 1.0).abs() < 1e-12), "{family} {word} {width}");
                if block.size < 120.0 {
                    let next = Style { size: Size::Fixed(block.size + 0.5), ..style };
                    assert!(set(word, &next, Room { width, ..WIDE }).width > width, "{family} {word} {width}");
                }
            }
        }
    }
}

/// Lines that keep to the widest of them fill just its width.
#[test]
fn a_block_may_be_as_wide_as_its_words() {
    for (align, text, family) in [
        (Align::Centre, "Salt\nand Lanterns", "EB Garamond"),
        (Align::End, "Salt\nand Lanterns", "EB Garamond"),
        (Align::Start, "מלח\nועששיות", "Frank Ruhl Libre"),
    ] {
        let language = if family == "EB Garamond" { "en-GB" } else { "he" };
        let style = Style { hanging: false, ..styled(family, language, align) };
        let block = set(text, &style, Room { close: true, ..WIDE });
        let (left, right) = edges(&block.lines[1]);
        assert!(left.abs() < 1e-6 && (right - block.width).abs() < 1e-6 && block.width < 40.0, "{left} {right}");
        let (first, _) = edges(&block.lines[0]);
        let spare = block.width - (edges(&block.lines[0]).1 - first);
        assert!((first - spare * align.share(language == "he")).abs() < 1e-6);
    }
}

/// Words on a spine stand in the middle by their letters: capitals by their height, small letters lower, others by what
/// most of them have.
#[test]
fn the_middle_of_letters() {
    let middle = |text: &str, style: &Style| {
        let block = set(text, style, WIDE);
        let font = block.lines[0].runs[0].font.clone();
        let em = block.size * MM_PER_PT;
        (crate::typeset::letters_middle(&block).expect("letters") - block.first_baseline, *font.metrics(), em)
    };
    let plain = styled("EB Garamond", "en-GB", Align::Start);
    let upper = Style { case: crate::typeset::Case::Upper, ..plain.clone() };
    for (text, style) in [("Salt and Lanterns", &upper), ("SALT & LANTERNS, ÅÇÉQ", &plain)] {
        let (middle, metrics, em) = middle(text, style);
        assert!((middle + metrics.cap_height * em / 2.0).abs() < 0.05, "{middle}");
    }
    let (mixed, metrics, em) = middle("Salt and Lanterns", &plain);
    assert!((mixed + f64::midpoint(metrics.cap_height, metrics.x_height) * em / 2.0).abs() < 0.05, "{mixed}");
    // Old-style figures stand among small letters, lining ones as high as they are drawn.
    let old = Style { features: vec![(*b"onum", 1)], ..plain.clone() };
    let (figures, metrics, em) = middle("1790 – 1832", &old);
    assert!((figures + metrics.x_height * em / 2.0).abs() < 0.05, "{figures}");
    let block = set("1", &plain, WIDE);
    let ink = block.lines[0].runs[0].font.glyph_bounds(block.lines[0].runs[0].glyphs[0].id).expect("ink");
    let (lining, _, em) = middle("1790 – 1832", &plain);
    assert!((lining - ink.y0 * em / 2.0).abs() < 0.05, "{lining}");
    let small = Style { features: vec![(*b"c2sc", 1), (*b"smcp", 1)], ..plain.clone() };
    let block = set("H", &small, WIDE);
    let ink = block.lines[0].runs[0].font.glyph_bounds(block.lines[0].runs[0].glyphs[0].id).expect("ink");
    let (capitals, _, em) = middle("SALT", &small);
    assert!((capitals - ink.y0 * em / 2.0).abs() < 0.05, "{capitals}");
    // Square and right-to-left letters: the middle of their ink (one letter has nothing else).
    for (family, language, text) in
        [("Frank Ruhl Libre", "he", "ה"), ("Shippori Mincho", "ja", "猫"), ("Amiri", "ar", "ب")]
    {
        let style = styled(family, language, Align::Start);
        let block = set(text, &style, WIDE);
        let run = &block.lines[0].runs[0];
        let ink = run.font.glyph_bounds(run.glyphs[0].id).expect("ink");
        let (middle, _, _) = middle(text, &style);
        assert!((middle - f64::midpoint(ink.y0, ink.y1) * run.size).abs() < 0.05, "{family} {middle}");
    }
}
