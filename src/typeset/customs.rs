//! Customs of languages and of the web: where their lines may end, and which signs stand where.

use crate::typeset::laws::{TYPESETTER, WIDE, set, spoken, styled};
use crate::typeset::{Align, Copy, Room, Style};

/// The ends of all lines but the last, at many measures.
fn ends(text: &str, language: &str, align: Align) -> Vec<String> {
    let style = styled("EB Garamond", language, align);
    let widths = (0..60).map(|step| 20.0 + f64::from(step));
    let ends = widths.flat_map(|width| {
        let block = set(text, &style, Room { width, ..WIDE });
        let lines: Vec<String> = block.lines.iter().map(|line| spoken(line, false)).collect();
        lines[..lines.len() - 1].iter().map(|line| line.trim_end().to_owned()).collect::<Vec<String>>()
    });
    ends.collect()
}

#[test]
fn addresses_get_no_hyphen() {
    for (text, address) in [
        (
            "Information about the harbour at salzundlaternenverlag.example and elsewhere",
            "salzundlaternenverlag.example",
        ),
        (
            "Write to underwriting-department@lanternhouse.example about everything",
            "underwriting-department@lanternhouse.example",
        ),
        (
            "See https://www.salt-and-lanterns.example/extraordinary/instalments for more",
            "https://www.salt-and-lanterns.example/extraordinary/instalments",
        ),
    ] {
        for align in [Align::Start, Align::Justify] {
            for end in ends(text, "en-GB", align) {
                let word = end.split(' ').next_back().unwrap_or_default();
                let Some(part) = word.strip_suffix('\u{AD}') else { continue };
                assert!(!address.contains(part) || part.len() < 4, "{end:?}");
            }
        }
    }
}

/// Ortografía de la lengua española (RAE, 2010), on the raya: it is written close to the word that it opens. From memory.
#[test]
fn an_opening_dash_stays_with_its_word() {
    let text = "—Vendrá mañana —dijo ella sin mirarlo—. —No —contestó él—. Nadie vuelve del puerto en invierno.";
    for end in ends(text, "es", Align::Start) {
        let word = end.split(' ').next_back().unwrap_or_default();
        assert!(word != "—" && !end.ends_with(" —"), "{end:?}");
    }
}

/// Polish and Czech leave no one-letter preposition or conjunction at a line's end (common practice of both).
#[test]
fn lone_letters_go_on_to_the_next_line() {
    for (language, text) in [
        ("pl", "W porcie i na morzu, w ciszy i o zmroku, z latarnią u progu a potem w drodze do domu z ojcem."),
        ("cs", "V přístavu i na moři, v tichu a za soumraku, s lucernou u prahu a k ránu s otcem o samotě."),
    ] {
        for align in [Align::Start, Align::Justify, Align::Centre] {
            for end in ends(text, language, align) {
                let word = end.split(' ').next_back().unwrap_or_default();
                assert!(word.chars().count() != 1, "{language} {align:?} {end:?}");
            }
        }
    }
}

/// An Arabic line has one drawing of its quotation marks, whatever they quote, and they open towards their words.
#[test]
fn quotation_marks_of_a_line_are_of_one_drawing() {
    let style = Style { size: crate::typeset::Size::Fixed(12.0), ..styled("Amiri", "ar", Align::Start) };
    let block = set("قالت «نعم» ثم قالت «Salt» ومضت.", &style, WIDE);
    let marks = |mark: char| -> Vec<u16> {
        let glyphs = block.lines.iter().flat_map(|line| &line.runs).flat_map(|run| {
            run.glyphs
                .iter()
                .filter(move |glyph| run.text.get(glyph.text.clone()).is_some_and(|stated| stated.contains(mark)))
        });
        glyphs.map(|glyph| glyph.id).collect()
    };
    let (opening, closing) = (marks('«'), marks('»'));
    assert!(opening.len() == 2 && opening[0] == opening[1], "{opening:?}");
    assert!(closing.len() == 2 && closing[0] == closing[1] && closing[0] != opening[0], "{closing:?}");
}

/// Capitals as each language has them reach the glyphs: see `case.rs` for the sources.
#[test]
fn capitals_of_a_language_are_set() {
    for (family, language, text, capitals) in [
        ("EB Garamond", "el", "Η σιωπή της θάλασσας", "Η ΣΙΩΠΗ ΤΗΣ ΘΑΛΑΣΣΑΣ"),
        ("EB Garamond", "de", "Größe der Stille", "GRÖSSE DER STILLE"),
        ("Inter", "tr", "istanbul", "İSTANBUL"),
    ] {
        let style = Style { case: crate::typeset::Case::Upper, ..styled(family, language, Align::Start) };
        let block = TYPESETTER.set(&Copy::plain(text), &style, WIDE).expect("bundled");
        assert_eq!(spoken(&block.lines[0], false), capitals);
        assert!(block.missing.is_empty());
    }
}
