//! Words: all copy comes back from the press file, word for word and in order, as poppler reads it.

use crate::kit::{Built, ask, cover, examples, shown};

/// How poppler goes through a page.
#[derive(Clone, Copy)]
enum Order {
    /// As it was printed: text that is turned or tracked stays in one piece.
    Printed,
    /// As it is read: right-to-left lines come in the order of speech.
    Read,
}

#[test]
fn the_copy_of_salt_and_lanterns_comes_back() {
    let built = example("salt-and-lanterns");
    let printed = words(built, Order::Printed);
    let quote = "‘A sea-dark, salt-bright marvel. I finished it by lamplight and did not want the morning.’";
    // The title is set in capitals; author and title stand on the front and on the spine.
    for (copy, times) in [
        ("SALT AND LANTERNS", 2),
        ("Mirela Anand", 2),
        (quote, 1),
        ("Elspeth Rowe, The Osselby Review", 1),
        ("Some lights are lit to be followed.", 1),
        (&copy(built, "blurb.md"), 1),
        ("£10.90", 1),
        ("Fiction", 1),
        ("ISBN 978-1-83742-615-7", 1),
    ] {
        holds(&built.stem, &printed, copy, times);
    }
}

/// Letters of another size or ink, after blanks that are not plain ones, and along a line.
#[test]
fn words_with_letters_set_apart_come_back_whole() {
    let text = "book { title \"Apart\"; author \"A. Reader\"; language en-GB; pages 200 state=confirmed }
        format paperback { trim 152 229; paper caliper=0.1; cover-stock caliper=0.3; bleed 3; safe 5 }
        swatches { spot foil ink=\"Foil\" c=20 m=30 finishing=foil }
        panel front {
            text one words=\"Band\u{a0}Null\" { left 10; top 20; width 100; size 30; letter \"u\" { size percent=130 } }
            text two words=\"Salt and Lantern\" {
                left 10; top 60; width 120; size 24; along arc rise=12; letter \"a\" only=3 { size percent=140 }
            }
            text three words=\"Silver\" { left 10; top 120; width 120; size 24; letter \"S\" { size percent=150; swatch foil } }
        }";
    let built = cover("letters-apart", text, &[], &["--only", "press", "--surround", "trim"]);
    let printed = words(&built, Order::Printed);
    for copy in ["Band Null", "Salt and Lantern"] {
        holds(&built.stem, &printed, copy, 1);
    }
    // The foil's layer holds its letter, and not the black ones.
    let layer = ask("qpdf", &["--qdf", "--object-streams=disable", &shown(&built.press()), "-"]);
    let inside = layer.split("/OC ").nth(1).and_then(|rest| rest.split("EMC").next()).expect("a layer");
    assert_eq!(inside.matches(" Tf").count(), 1, "{inside}");
}

#[test]
fn the_copy_of_the_quiet_instruments_comes_back() {
    let built = example("the-quiet-instruments");
    let printed = words(built, Order::Printed);
    for (copy, times) in [
        ("THE QUIET INSTRUMENTS", 3),
        ("Ottilie Fenwarden", 3),
        ("‘A book that makes you hold your breath, and then makes you hear it.’", 1),
        ("Jonas Abelard-Wick, The Quillfeather Quarterly", 1),
        ("others write about love: exactly, ruefully, and with scars.’", 1),
        ("Maud Okonjo-Hale, author of The Glass Haystack", 1),
        ("‘The finest history of science I have read in a decade. It is also the kindest.’", 1),
        ("Piers Tolland, The Dunmarrow Ledger", 1),
        ("History of science", 1),
        ("£25.00", 1),
        (&copy(built, "flap-front.md"), 1),
        (&copy(built, "author.md"), 1),
        ("ISBN 978-1-83651-284-4", 1),
    ] {
        holds(&built.stem, &printed, copy, times);
    }
}

#[test]
fn the_hebrew_copy_comes_back_in_the_order_of_speech() {
    let built = example("birzei-hapardes");
    let read = words(built, Order::Read);
    for (copy, times) in [
        ("ברזי הפרדס", 3),
        ("נעמה בן־סחלב", 4),
        ("רומן", 2),
        ("מי פותח את הברזים בלילה?", 1),
        (&copy(built, "blurb.md"), 1),
        (&copy(built, "author.md"), 1),
        ("ISBN 978-965-597-318-1", 1),
    ] {
        holds(&built.stem, &read, copy, times);
    }
}

#[test]
fn hyphens_ligatures_capitals_and_turned_words_come_back() {
    let files = [
        ("narrow.md", include_bytes!("words/narrow.md").as_slice()),
        ("german.md", include_bytes!("words/german.md")),
        ("small.md", include_bytes!("words/small.md")),
    ];
    let built = cover("words", include_str!("words/cover.kdl"), &files, &["--only", "press"]);
    let printed = words(&built, Order::Printed);
    for copy in [
        &copy(&built, "narrow.md"),
        &copy(&built, "german.md"),
        "Set in small capitals and then in italics, and 1,234 figures.",
        "TIDE TABLES",
        "Office affluent, fjord first: baffled fisherfolk offer efficient waffles",
        "Turned by a quarter",
    ] {
        holds("words", &printed, copy, 1);
    }
    holds("words", &words(&built, Order::Read), "מי פותח את הברזים בלילה", 1);
    // The narrow measures did part words.
    let stated = ask("pdftotext", &["-raw", &shown(&built.press()), "-"]);
    assert!(stated.contains("\u{ad}\n"), "{stated}");
}

fn example(stem: &str) -> &'static Built {
    examples().iter().find(|built| built.stem == stem).expect("the example is there")
}

/// A copy file without the marks of emphasis.
fn copy(built: &Built, file: &str) -> String {
    std::fs::read_to_string(built.source.join(file)).expect("the copy is there").replace('*', "")
}

fn words(built: &Built, order: Order) -> Vec<String> {
    let press = shown(&built.press());
    let stated = match order {
        Order::Printed => ask("pdftotext", &["-raw", &press, "-"]),
        Order::Read => ask("pdftotext", &[&press, "-"]),
    };
    plain(&stated)
}

/// The words of a text. Three things are levelled, for they belong to lines and not to words: a hyphen at a line's end
/// (added, and soft; or written, and kept), the hyphen that does not break, and poppler's marks of direction.
fn plain(text: &str) -> Vec<String> {
    let text = text.replace("\u{ad}\n", "").replace("-\n", "-").replace('\u{2011}', "-");
    in_order_of_speech(&text).split_whitespace().map(str::to_owned).collect()
}

const LEFT_TO_RIGHT: char = '\u{202a}';
const RIGHT_TO_LEFT: char = '\u{202b}';
const END: char = '\u{202c}';

/// Poppler puts right-to-left lines between marks of direction. Points and spaces within, which have no direction, it
/// marks as left to right and gives as they stand on paper: the space first, then the comma. Those are turned.
fn in_order_of_speech(text: &str) -> String {
    let mut turned = String::new();
    for (at, part) in text.split(LEFT_TO_RIGHT).enumerate() {
        let (inside, after) = part.split_once(END).filter(|_| at > 0).unwrap_or(("", part));
        if inside.chars().any(char::is_alphanumeric) {
            turned.push_str(inside);
        } else {
            turned.extend(inside.chars().rev());
        }
        turned.push_str(after);
    }
    turned.replace([RIGHT_TO_LEFT, END], "")
}

/// The words of `copy` stand in a row, at least so many times.
fn holds(stem: &str, words: &[String], copy: &str, times: usize) {
    let wanted = plain(copy);
    let found = words.windows(wanted.len()).filter(|window| *window == wanted).count();
    assert!(found >= times, "{stem}: found {found} of {times} times: {copy:?}\nin {words:?}");
}
