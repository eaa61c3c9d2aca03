//! What holds of every block: no word is lost, no line outruns its measure, any letters can be set.

use crate::assets::{Library, RunEnd};
use crate::ground::{FileId, Findings};
use crate::typeset::{
    Align, Block, BlockLine, Case, Copy, DropCap, Hyphenation, Room, Size, Style, Typesetter, Unset, markdown,
};
use std::sync::{Arc, LazyLock};

pub const BLURB: &str = "On the night the harbour froze, Ines Marlowe lit every lantern on the quay and waited for the ships \
    that nobody else believed in. Forty years later her granddaughter finds the ledger in which she had written down \
    each of them: their names, their cargoes, and the price of silence.\n\n“I had thought,” she writes, “that the sea \
    returned everything.” It does not; it returns what it is paid to return – in well-known, extraordinarily \
    unremarkable instalments.";
pub const HEBREW: &str =
    "בראשית ברא אלהים את השמים ואת הארץ. הספר Salt and Lanterns יצא לאור בשנת 2026 (מהדורה ראשונה).";
const ARABIC: &str = "كان يا ما كان في قديم الزمان، في مدينة على شاطئ البحر، امرأة تضيء المصابيح كل ليلة.";
const JAPANESE: &str = "吾輩は猫である。名前はまだ無い。どこで生れたかとんと見当がつかぬ。";

pub static TYPESETTER: LazyLock<Typesetter> =
    LazyLock::new(|| Typesetter::new(Arc::new(Library::open(&[]).0), Arc::default()));

pub const WIDE: Room<'_> = Room { width: 95.0, close: false, height: None, lines: None, holes: None };

pub fn set(text: &str, style: &Style, room: Room) -> Arc<Block> {
    TYPESETTER.set(&Copy::plain(text), style, room).expect("the family is bundled")
}

pub fn styled(family: &str, language: &str, align: Align) -> Style {
    Style { family: family.to_owned(), language: language.to_owned(), align, ..Style::default() }
}

/// A line's words in reading order, put together from its glyphs' texts.
pub fn spoken(line: &BlockLine, rtl: bool) -> String {
    // Level runs of the tests' texts: numbers and latin words keep their order within a right-to-left line.
    let mut stated = String::new();
    let mut runs: Vec<_> = line.runs.iter().collect();
    if rtl {
        runs.reverse();
    }
    for run in runs {
        let mut ranges: Vec<_> = run.glyphs.iter().map(|glyph| glyph.text.clone()).filter(|r| !r.is_empty()).collect();
        ranges.sort_by_key(|range| range.start);
        let mut end = 0;
        for range in ranges {
            assert_eq!(range.start, end, "{:?} {:?}", run.text, range);
            end = range.end;
            stated.push_str(&run.text[range]);
        }
        assert_eq!(end, run.text.len(), "{:?}", run.text);
    }
    stated
}

pub fn words(text: &str) -> Vec<String> {
    let mut words: Vec<String> = text.split_whitespace().map(str::to_owned).collect();
    words.sort();
    words
}

#[test]
fn no_word_is_lost_and_no_line_outruns_its_measure() {
    for (family, language, text) in [
        ("EB Garamond", "en-GB", BLURB),
        ("Inter", "en-US", BLURB),
        ("Zilla Slab", "en-GB", BLURB),
        ("Frank Ruhl Libre", "he", HEBREW),
        ("Amiri", "ar", ARABIC),
        ("Shippori Mincho", "ja", JAPANESE),
    ] {
        for align in [Align::Start, Align::End, Align::Centre, Align::Justify] {
            for width in [38.0, 61.0, 95.0] {
                let mut style = styled(family, language, align);
                style.hanging = false;
                style.tracking = if width > 90.0 { 15.0 } else { 0.0 };
                let block = set(text, &style, Room { width, ..WIDE });
                let rtl = ["he", "ar"].contains(&language);
                let stated: Vec<String> = block.lines.iter().map(|line| spoken(line, rtl)).collect();
                let ends = block.lines.iter().map(|line| if line.end == RunEnd::Paragraph { " " } else { "" });
                let stated = stated.iter().map(|line| line.strip_suffix('\u{AD}').unwrap_or(line));
                let all: String = stated.zip(ends).flat_map(|(line, end)| [line, end]).collect();
                assert_eq!(words(&all), words(text), "{family} {align:?} {width}");
                assert!(block.missing.is_empty() && block.overwide == 0.0, "{family} {width} {}", block.overwide);
                for line in &block.lines {
                    for glyph in line.runs.iter().flat_map(|run| &run.glyphs) {
                        assert!(
                            glyph.x > -0.2 && glyph.x + glyph.advance < width + 0.2,
                            "{family} {align:?} {glyph:?}"
                        );
                    }
                }
            }
        }
    }
}

/// Thousands of places to break in one measure, and then a word that no measure holds.
#[test]
fn a_word_too_long_takes_no_other_with_it() {
    let text = "a ".repeat(4500) + &"m".repeat(10_000) + " and on it goes";
    for (width, align) in [(6000.0, Align::Start), (6000.0, Align::Justify), (450.0, Align::Centre)] {
        let style = Style { hyphenation: OFF, ..styled("EB Garamond", "en-GB", align) };
        let block = set(&text, &style, Room { width, ..WIDE });
        let stated: String = block.lines.iter().map(|line| spoken(line, false)).collect();
        assert_eq!(words(&stated), words(&text), "{width} {align:?}");
        assert!(block.overwide > 0.0);
    }
}

/// Soft hyphens and word joiners are the setter's: whoever copies the words finds none of the latter.
#[test]
fn word_joiners_stay_out_of_the_words() {
    let block = set("\u{2060}Salt and \u{2060}extra\u{2060}ordinarily fine \u{2060}officers", &Style::default(), WIDE);
    let stated: String = block.lines.iter().map(|line| spoken(line, false)).collect();
    assert_eq!(stated, "Salt and extraordinarily fine officers");
}

pub fn edges(line: &BlockLine) -> (f64, f64) {
    let glyphs = line.runs.iter().flat_map(|run| &run.glyphs).filter(|glyph| glyph.advance > 0.0);
    glyphs.fold((f64::MAX, f64::MIN), |edge, glyph| (edge.0.min(glyph.x), edge.1.max(glyph.x + glyph.advance)))
}

#[test]
fn justified_lines_reach_both_edges() {
    for (family, language, text) in [("EB Garamond", "en-GB", BLURB), ("Frank Ruhl Libre", "he", HEBREW)] {
        let mut style = styled(family, language, Align::Justify);
        style.hanging = false;
        for line in set(text, &style, WIDE).lines.iter().filter(|line| line.end != RunEnd::Paragraph) {
            let (left, right) = edges(line);
            assert!(left.abs() < 1e-6 && (right - 95.0).abs() < 1e-6, "{left} {right}");
        }
    }
}

pub const OFF: Hyphenation = Hyphenation { on: false, before: 2, after: 3, in_row: 2 };

#[test]
fn hyphens_keep_their_rules() {
    let mut style = styled("EB Garamond", "en-GB", Align::Justify);
    for width in [30.0, 35.0, 40.0, 45.0, 50.0] {
        let block = set(BLURB, &style, Room { width, ..WIDE });
        let ends: String = block.lines.iter().map(|line| if line.hyphenated { '-' } else { '.' }).collect();
        assert!(!ends.contains("---"), "{ends}");
    }
    style.hyphenation = OFF;
    assert!(set(BLURB, &style, Room { width: 30.0, ..WIDE }).lines.iter().all(|line| !line.hyphenated));
    // One word kept whole, or split where the author says.
    style.hyphenation.on = true;
    let room = Room { width: 20.0, ..WIDE };
    let hyphenated = |text: &str| set(text, &style, room).lines.iter().filter(|line| line.hyphenated).count();
    assert!(hyphenated("internationalisation of everything") > 0);
    assert_eq!(hyphenated("\u{2060}internationalisation of everything"), 0);
    let soft = set("internationalisa\u{AD}tion of everything", &style, room);
    assert!(soft.lines[0].hyphenated && &*soft.lines[0].runs[0].text == "internationalisa\u{AD}");
}

#[test]
fn looks_reach_the_glyphs() {
    let mut findings = Findings::default();
    let copy = markdown(&mut findings, FileId(0), "plain *slanted* **strong** <sc>small</sc>", &mut |_, words, _| {
        words.to_owned()
    });
    let names = |family: &str| {
        let style = Style { family: family.to_owned(), ..Style::default() };
        let block = TYPESETTER.set(&copy, &style, WIDE).expect("bundled");
        let runs = block.lines[0].runs.iter();
        runs.map(|run| (run.font.name().to_owned(), run.text.trim().to_owned(), run.size)).collect::<Vec<_>>()
    };
    let garamond = names("EB Garamond");
    assert!(garamond.iter().any(|run| run.0 == "EBGaramond-Italic" && run.1 == "slanted"));
    assert!(garamond.iter().any(|run| run.0 == "EBGaramond-Bold" && run.1 == "strong"));
    assert!(garamond.iter().any(|run| run.1 == "small"));
    // A face without small capitals has its capitals scaled.
    let slab = names("League Gothic");
    assert!(slab.iter().any(|run| run.1 == "SMALL" && run.2 < slab[0].2), "{slab:?}");
    let upper = Style { case: Case::Upper, language: "tr".to_owned(), ..Style::default() };
    assert_eq!(&*set("istanbul", &upper, WIDE).lines[0].runs[0].text, "İSTANBUL");
}

#[test]
fn strange_rooms_and_texts_are_no_trouble() {
    let far = Copy::plain(&"word ".repeat(2_000_000));
    assert_eq!(TYPESETTER.set(&far, &Style::default(), WIDE).err(), Some(Unset::TooLong { limit: 20_000 }));
    let unknown = Style { family: "EB Garamont".to_owned(), ..Style::default() };
    let nearest = Some("EB Garamond".to_owned());
    let unset = Unset::Family { wanted: unknown.family.clone(), nearest };
    assert_eq!(TYPESETTER.set(&Copy::plain("a"), &unknown, WIDE).err(), Some(unset));
    assert!(set("", &Style::default(), WIDE).lines.is_empty());
    // What was set once is not set again.
    assert!(Arc::ptr_eq(&set(BLURB, &Style::default(), WIDE), &set(BLURB, &Style::default(), WIDE)));
    assert_eq!(set("Salt 猫", &Style::default(), WIDE).missing, ['猫']);
    assert!(
        set("incomprehensibilities", &Style { hyphenation: OFF, ..Style::default() }, Room { width: 9.0, ..WIDE })
            .overwide
            > 1.0
    );
    for text in
        ["\n", "\u{AD}", "\u{2060}", "\u{301}", "a\n\n\u{202E}b\u{202C}", "\u{1F469}\u{200D}\u{1F680}", "- – —", "…"]
    {
        for width in [0.0, 1.0, -5.0, 1e9, f64::NAN] {
            for align in [Align::Justify, Align::Centre] {
                for size in [Size::Fixed(0.0), Size::Between(30.0, 5.0), Size::Fixed(f64::NAN), Size::Fixed(12.0)] {
                    let cap = Some(DropCap { lines: 3, letters: 2, snug: false });
                    let style = Style { align, size, drop_cap: cap, ..Style::default() };
                    set(
                        text,
                        &style,
                        Room { width, close: size == Size::Fixed(12.0), height: Some(width), lines: Some(1), ..WIDE },
                    );
                }
            }
        }
    }
}

#[test]
fn any_letters_can_be_set() {
    const LETTERS: &[&str] = &[
        "a",
        "fi",
        "ffl",
        "W",
        "é",
        "e\u{301}",
        "ß",
        "İ",
        " ",
        " ",
        " ",
        "\u{A0}",
        "-",
        "—",
        "…",
        "“",
        "”",
        "’",
        ".",
        "1",
        "\u{AD}",
        "\u{2060}",
        "\u{200B}",
        "\u{200D}",
        "\u{2028}",
        "\u{2029}",
        "\t",
        "\n",
        "\u{0}",
        "א",
        "ב\u{5B0}",
        "س",
        "لا",
        "م",
        "٣",
        "猫",
        "、",
        "ー",
        "क",
        "\u{94D}",
        "ष",
        "ไ",
        "\u{202E}",
        "\u{202C}",
        "\u{2067}",
        "\u{2069}",
        "(",
        ")",
        "😀",
        "\u{301}",
        "word ",
    ];
    let families = ["EB Garamond", "Amiri", "Frank Ruhl Libre", "Shippori Mincho", "Inter", "Zilla Slab"];
    let languages = ["en-GB", "ar", "he", "ja", "de", "tr", "pl", "", "x"];
    let aligns = [Align::Start, Align::End, Align::Centre, Align::Justify];
    // A linear congruence, Knuth's MMIX constants: the same texts every time.
    let mut seed = 11_u64;
    let mut dice = |sides: usize| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1_442_695_040_888_963_407);
        (seed >> 33) as usize % sides
    };
    for _ in 0..400 {
        let text: String = (0..dice(60)).map(|_| LETTERS[dice(LETTERS.len())]).collect();
        let mut style = styled(families[dice(6)], languages[dice(9)], aligns[dice(4)]);
        style.case = [Case::AsWritten, Case::Upper, Case::SmallCaps][dice(3)];
        style.drop_cap =
            (dice(2) == 0).then(|| DropCap { lines: 1 + dice(4), letters: 1 + dice(3), snug: dice(2) == 0 });
        style.tracking = [0.0, 40.0, -15.0][dice(3)];
        let width = 1.0 + dice(60) as f64;
        let block = set(&text, &style, Room { width, ..WIDE });
        for line in &block.lines {
            for run in &line.runs {
                for glyph in &run.glyphs {
                    assert!(run.text.get(glyph.text.clone()).is_some(), "{text:?} {style:?} {width}");
                    assert!(glyph.x.is_finite() && glyph.advance.is_finite(), "{text:?} {style:?} {width}");
                }
            }
        }
    }
}
