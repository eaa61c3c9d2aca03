//! Customs of languages and of the web: where their lines may end, and which signs stand where.

use crate::typeset::laws::{OFF, TYPESETTER, WIDE, set, spoken, styled, words};
use crate::typeset::{Align, Copy, Lack, Room, Style};

/// The ends of all lines but the last, at many measures.
fn ends(text: &str, language: &str, align: Align) -> Vec<String> {
    ends_of(text, &styled("EB Garamond", language, align), 20)
}

fn ends_of(text: &str, style: &Style, narrowest: i32) -> Vec<String> {
    let widths = (narrowest..80).map(f64::from);
    let ends = widths.flat_map(|width| {
        let block = set(text, style, Room { width, ..WIDE });
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

/// Lexique des règles typographiques en usage à l’Imprimerie nationale (from memory): high signs and guillemets stay with
/// their words. That a spaced dash or ellipsis never begins a line is common practice.
#[test]
fn signs_stay_with_the_words_before_them() {
    for (language, text) in [
        ("fr", "Qui donc a éteint les lanternes ? demande-t-elle ; personne ne répond : « La mer » ! dit-il enfin."),
        ("fr", "Elle écrit « Demain » puis attend … et encore – toujours – le bateau du soir, dit « Ivo » au port."),
        ("de", "Sie schrieb – wie immer – in das alte Heft … und wartete – lange – auf das Boot im Hafen der Stadt."),
    ] {
        for align in [Align::Start, Align::Justify] {
            let style = styled("EB Garamond", language, align);
            for width in 20..80 {
                let block = set(text, &style, Room { width: f64::from(width), ..WIDE });
                for line in &block.lines[1..] {
                    let stated = spoken(line, false);
                    assert!(!stated.starts_with(['?', ';', ':', '!', '»', '–', '…']), "{width} {stated:?}");
                }
                for line in &block.lines {
                    assert!(!spoken(line, false).trim_end().ends_with('«'), "{width}");
                }
            }
        }
    }
}

#[test]
fn abbreviations_stay_with_their_names_and_numbers() {
    for (language, text, torn) in [
        (
            "en-GB",
            "They sent for Dr. Vale and Mrs. Orme, who read No. 7 and vol. 12 aloud to Mr. Tobin of St. Anne.",
            "Dr. Mrs. No. vol. Mr. St.",
        ),
        (
            "de",
            "Man rief Dr. Vale und Prof. Orme, die Nr. 7 und Bd. 12 lasen, bis St. Anna schlug.",
            "Dr. Prof. Nr. Bd. St.",
        ),
        ("fr", "On fit venir M. Vale et Mme Orme, qui lurent le n° 7 et le vol. 12 à Mgr Tobin.", "M. Mme n° vol. Mgr"),
    ] {
        for end in ends(text, language, Align::Justify).into_iter().chain(ends(text, language, Align::Start)) {
            let word = end.split(' ').next_back().unwrap_or_default();
            assert!(!torn.split(' ').any(|torn| torn == word), "{end:?}");
        }
    }
}

/// Acordo Ortográfico de 1990, base XX, 6: a hyphen that is broken at is written again on the next line. Whoever copies the
/// words finds it once.
#[test]
fn hyphens_of_words_keep_to_their_language() {
    let text = "Diz-se que o guarda-chuva ficou no porto e que o barco-farol, conta-se ainda, foi em breve buscá-lo.";
    let address = "Tudo em https://porto.example/farol-e-barco/porto-de-sal/guarda-chuva";
    let pairs = |text: &str, language: &str, align: Align| -> Vec<(String, String)> {
        let style = Style { hyphenation: OFF, ..styled("EB Garamond", language, align) };
        let lines = (18..60).flat_map(|width| {
            let block = set(text, &style, Room { width: f64::from(width), ..WIDE });
            let lines: Vec<String> = block.lines.iter().map(|line| spoken(line, false)).collect();
            assert_eq!(words(&lines.concat().replace('\u{AD}', "")), words(text), "{width}");
            lines.windows(2).map(|pair| (pair[0].clone(), pair[1].clone())).collect::<Vec<_>>()
        });
        lines.filter(|(before, _)| before.ends_with('-')).collect()
    };
    for align in [Align::Start, Align::Justify] {
        for (language, again) in [("pt", true), ("pl", true), ("cs", true), ("sk", true), ("hr", true), ("es", false)] {
            let broken = pairs(text, language, align);
            assert!(broken.len() > 3, "{language} {align:?} {broken:?}");
            for (before, after) in broken {
                assert_eq!(after.starts_with('\u{AD}'), again, "{language} {before:?} {after:?}");
            }
        }
        let broken = pairs(address, "pt", align);
        assert!(broken.iter().all(|(_, after)| !after.starts_with('\u{AD}')), "{broken:?}");
    }
    // One letter by itself is too little on either side.
    let text = "The T-shirt and the x-ray, vitamin-C and plan-B: an e-mail from A-town said so over and over again.";
    for end in ends(text, "en-GB", Align::Justify) {
        let word = end.split(' ').next_back().unwrap_or_default();
        assert!(!["T-", "x-", "vitamin-", "plan-", "e-", "A-"].contains(&word), "{end:?}");
    }
}

/// Titles in even lines tear no small word from the next.
#[test]
fn even_titles_tear_nothing_apart() {
    const TITLES: [(&str, &str); 14] = [
        ("en-GB", "The Ledger of the Drowned Harbour"),
        ("en-GB", "A Lantern for the Winter of 1911"),
        ("en-US", "What the Tide Owes to J. R. Marlowe"),
        ("de", "Die Laternen im Hafen der Stille"),
        ("de", "Ein Winter ohne Salz und ohne dich"),
        ("fr", "Le Registre des lanternes de la mer"),
        ("fr", "Une nuit au phare avec les morts"),
        ("es", "La casa de los faroles en el puerto"),
        ("it", "Il registro delle lanterne di una notte"),
        ("nl", "Het huis van de laatste lantaarns aan zee"),
        ("pt", "O livro dos faróis e da noite no porto"),
        ("sv", "En lykta för den sista vintern i hamnen"),
        ("pl", "Latarnie w porcie i w domu na skale"),
        ("cs", "Lucerny v přístavu a v domě na skále"),
    ];
    let (mut torn, mut asked) = (Vec::new(), 0);
    for (language, title) in TITLES {
        for align in [Align::Start, Align::Centre] {
            for lines in [(2, 2), (3, 3), (2, 4)] {
                let size = crate::typeset::Size::Fixed(30.0);
                let style = Style { even: true, lines: Some(lines), size, ..styled("EB Garamond", language, align) };
                let style = Style { hyphenation: crate::typeset::laws::OFF, ..style };
                let block = set(title, &style, Room { width: 150.0, ..WIDE });
                let count = block.lines.len();
                assert!((lines.0..=lines.1).contains(&count), "{title} {count}");
                for line in &block.lines[..count - 1] {
                    asked += 1;
                    let stated = spoken(line, false);
                    let word = stated.trim().split(' ').next_back().unwrap_or_default().to_lowercase();
                    if word.chars().count() < 3
                        || ["the", "for", "die", "der", "des", "les", "las", "los", "het", "van", "den"]
                            .contains(&word.as_str())
                    {
                        torn.push(stated);
                    }
                }
            }
        }
    }
    assert!(asked > 100 && torn.is_empty(), "{} of {asked}: {torn:?}", torn.len());
}

#[test]
fn held_words_stay_together() {
    let style = Style { hold: vec!["drowned harbour".to_owned()], ..styled("EB Garamond", "en-GB", Align::Start) };
    let text = "Nobody in all the drowned harbour knew what the Drowned Harbour had once been called.";
    for end in ends_of(text, &style, 32) {
        assert!(!end.to_lowercase().ends_with("drowned"), "{end:?}");
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

/// What a family has not is reported, and something stands in its place.
#[test]
fn what_a_family_lacks_is_known() {
    let copy = crate::typeset::markdown(
        &mut crate::ground::Findings::default(),
        crate::ground::FileId(0),
        "plain *slanted* **strong** <sc>small</sc>",
        &mut |_, words, _| words.to_owned(),
    );
    let lacks = |family: &str| {
        let features = vec![(*b"onum", 1), (*b"ss20", 1)];
        let style = Style { family: family.to_owned(), features, ..Style::default() };
        TYPESETTER.set(&copy, &style, WIDE).expect("bundled").lacks.clone()
    };
    assert_eq!(lacks("EB Garamond"), [Lack::Feature(*b"ss20")]);
    let gothic = lacks("League Gothic");
    assert!([Lack::Emphasis, Lack::Strong, Lack::SmallCaps].iter().all(|lack| gothic.contains(lack)), "{gothic:?}");
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
