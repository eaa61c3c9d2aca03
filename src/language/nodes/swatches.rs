//! `swatches`: every colour of the cover, stated in ink.
//!
//! ```kdl
//! swatches {
//!     swatch night c=92 m=74 y=38 k=42                    // percent of ink
//!     swatch text k=80
//!     tint haze of=night percent=40
//!     spot foil ink="Gold foil" c=20 m=30 y=70 k=0 finishing=foil
//!     rgb sea "#2f6f7e"                                   // converted through the press profile
//! }
//! ```
//!
//! Two swatches are always there: `unprinted`, which leaves the bare paper, and `black`, 100 % of black ink.
//!
//! A spot ink has a plate of its own, and in process inks the colour that pictures show it in. Its ink book may state its
//! colour in CIELAB, as measured for D50: `spot coral ink="Coral 17" lab="66 70 58"`. Then pictures show the nearest process
//! inks, unless others are stated, and `spot-look` says how near they are. With `finishing=` it is a
//! separation for the finisher: it lies on top and leaves everything under it printed. In pictures a foil hides what it
//! covers; varnish, embossing and debossing do not. In a `view` foil mirrors the room, varnish shines like gloss, and what
//! is embossed or debossed stands out or lies deeper. A cover may have 28 spot inks: with the four process inks they are as
//! many as one colour of a press file can name. The name of a plate has 127 bytes at the most, and must not be that of a
//! process ink, `All` or `None`; blanks side by side are one. A screen colour that no ink reaches is reported.
//!
//! `die-line` is where the finisher cuts the sheet other than along its trim, and `white` an underprint for coloured stock:
//! the press lays it first, so it leaves nothing out of the other inks and none of them leaves anything out of it, wherever
//! it stands in the file. Neither shows in pictures; `jaconet build --only plates` shows both. In a press file every finish
//! is a layer that says which processing step it is, by the keys of ISO 19593-1 as public code reads and writes them; they
//! are not checked against the standard itself.

mod plate_name;

use crate::cover::{Facts, ready_mixed, spot_of};
use crate::ground::{Finding, Finish, Ink, Process, Severity, Spanned, Spot, number};
use crate::language::context::Desk;
use crate::language::fillings::NONE as NOTHING;
use crate::language::headword::{Headword, NAME, Role};
use crate::language::nodes::swatches::plate_name::plate_name;
use crate::source::{Datum, KnownBy, Laid, Reader, Slot, Word, choice, name, percent, text, words_of};
use std::sync::Arc;

pub const HEADWORD: Headword = Headword::new(
    Word::new("swatches", "every colour of the cover").holds(&[&[SWATCH, TINT, SPOT, RGB]]).laid(Laid::Inside),
    include_str!("swatches.rs"),
    Role::Fact(read),
);

/// A swatch may become a tint, and a spot ink a swatch: the name is the same.
const fn colour(word: &'static str, says: &'static str) -> Word {
    Word::new(word, says).takes(NAME).known_by(KnownBy::AnyOfName)
}

pub const SWATCH: Word = colour("swatch", "a colour of process inks").properties(&INKS);
const SHARE: &[Slot] = &[percent(0.0, 100.0)];
const CYAN: Word = Word::new("c", "cyan").takes(SHARE).default("0");
const MAGENTA: Word = Word::new("m", "magenta").takes(SHARE).default("0");
const YELLOW: Word = Word::new("y", "yellow").takes(SHARE).default("0");
const BLACK: Word = Word::new("k", "black").takes(SHARE).default("0");
const LAB: Word = Word::new("lab", "its own colour, in CIELAB: lightness, from green to red, from blue to yellow")
    .takes(&[text("three numbers in quotes, such as \"66 70 58\"")]);
/// The process inks.
pub const INKS: [Word; 4] = [CYAN, MAGENTA, YELLOW, BLACK];
const TINT: Word = colour("tint", "a thinner one of another swatch").properties(&[OF, PERCENT]);
const OF: Word = Word::new("of", "the swatch that it is made of").takes(&[name("a swatch")]);
const PERCENT: Word = Word::new("percent", "how much of it").takes(SHARE).default("100");
const SPOT: Word =
    colour("spot", "an ink with a plate of its own").properties(&[INK, CYAN, MAGENTA, YELLOW, BLACK, LAB, FINISHING]);
const INK: Word = Word::new("ink", "what the printer calls the ink; by default its name here").takes(&[text("a name")]);
const FINISHING: Word =
    Word::new("finishing", "what the finisher makes of it").takes(&[choice("a finish", &words_of(&Finish::WORDS))]);
const RGB: Word = colour("rgb", "a screen colour, converted through the press profile")
    .takes(&[name("a name"), text("a colour, such as \"#2f6f7e\"")]);

/// Beyond this CIEDE2000 the print visibly misses the screen colour. Common practice.
const VISIBLE: f64 = 5.0;

/// With the process inks 32, the most colorants that a PDF names together (ISO 32000-1, annex C).
const MOST_SPOTS: usize = 28;

fn read(reader: &Reader<'_>, facts: &mut Facts, _desk: &Desk<'_>) {
    let before = errors(reader);
    for word in reader.children(&SWATCH) {
        let Some(name) = word.text() else { continue };
        if let Some(Datum::Text(code)) = word.peek().map(|value| &value.datum) {
            let span = word.value().map_or(name.span, |value| value.span);
            let in_ink = || format!("write c= m= y= k=, or `rgb {} {code:?}`", name.value);
            let help = if ready_mixed(code) { spot_of(code) } else { in_ink() };
            word.error(span, format!("a swatch is stated in ink, not as {code:?}"), help);
        } else if let Some(span) = word.value().map(|value| value.span) {
            // Numbers in a row: all of them are one fault.
            word.skip();
            let help = format!("name the inks: `swatch {} c=89 m=70 y=24 k=72`", name.value);
            word.error(span, "the inks of a swatch have names", help);
        } else if ready_mixed(&name.value) {
            word.error(name.span, format!("{:?} is a ready-mixed ink", name.value), spot_of(&name.value));
        }
        let inks = process(&word);
        insert(&word, facts, name, Ink { colour: crate::ground::Colour::Process(inks), overprint: false });
    }
    for (number, word) in reader.children(&SPOT).into_iter().enumerate() {
        if number >= MOST_SPOTS {
            if number == MOST_SPOTS {
                let message = format!("more than {MOST_SPOTS} spot inks");
                word.error(word.span(), message, "no press has so many units: keep the inks that the cover uses");
            }
            word.skip();
            continue;
        }
        let Some(name) = word.text() else { continue };
        let colour = colour_of(&word);
        let look = look(&word, colour, facts);
        let stated = word.text_property(&INK).map_or_else(|| name.value.clone(), |ink| ink.value);
        let plate = match plate_name(&stated) {
            Ok(plate) => plate,
            Err((message, help)) => {
                word.error(name.span, message, help);
                insert(&word, facts, name, Ink::black(1.0));
                continue;
            }
        };
        let finish = word.choose_property(&FINISHING, &Finish::WORDS);
        let taken = facts
            .palette
            .iter()
            .any(|(_, ink)| matches!(&ink.value.colour, crate::ground::Colour::Spot(spot, _) if spot.name == plate));
        if taken {
            word.error(
                name.span,
                format!("the plate {plate:?} is defined already"),
                "use one swatch for one ink, and tints of it",
            );
        }
        if let Some(colour) = colour {
            facts.palette.state_colour(name.value.clone(), colour);
        }
        let spot = Spot { name: plate, look, finish };
        insert(&word, facts, name, Ink::spot(Arc::new(spot), 1.0));
    }
    for word in reader.children(&RGB) {
        rgb(&word, facts);
    }
    for word in reader.children(&TINT) {
        let share = word.percent_property(&PERCENT).unwrap_or(1.0);
        let name = if word.peek().is_some() { word.text() } else { None };
        let of = word.text_property(&OF);
        let (Some(name), Some(of)) = (&name, of) else {
            word.skip();
            word.lacks(word.span(), "a tint lacks a name or `of=`", "write `tint haze of=night percent=40`");
            if let Some(name) = name {
                insert(&word, facts, name, Ink::black(1.0));
            }
            continue;
        };
        if facts.palette.get(&of.value).is_none() && reader.node.holds(TINT.name, &of.value) {
            let message = format!("the tint `{}` stands further down", of.value);
            word.error(of.span, message, "put it above the tints made of it");
            insert(&word, facts, name.clone(), Ink::black(1.0));
            continue;
        }
        let ink = facts.palette.ink(&mut word.findings().borrow_mut(), &of).tinted(share);
        insert(&word, facts, name.clone(), ink);
    }
    misspelled(reader, facts);
    facts.palette.stands_in |= errors(reader) > before;
}

fn errors(reader: &Reader<'_>) -> usize {
    reader.findings().borrow().iter().filter(|finding| finding.severity == Severity::Error).count()
}

/// What a misspelled word was meant to define is reported there, and not again wherever it is used.
fn misspelled(reader: &Reader<'_>, facts: &mut Facts) {
    for child in &reader.node.children {
        let name = child.values.first().and_then(|value| Some(Spanned::new(value.text()?.to_owned(), value.span)));
        if let Some(name) = name.filter(|name| facts.palette.get(&name.value).is_none()) {
            facts.palette.stands_in = true;
            facts.palette.insert(name.value, Spanned::new(Ink::black(1.0), name.span));
        }
    }
}

fn insert(word: &Reader<'_>, facts: &mut Facts, name: Spanned<String>, ink: Ink) {
    if name.value == NOTHING {
        let help = "give the ink another name; words of which only the outline shows say `swatch none`, and a gradient fades to `none`";
        return word.error(
            name.span,
            format!("`{NOTHING}` cannot name a swatch: it means that nothing is filled"),
            help,
        );
    }
    let known =
        facts.palette.iter().any(|(known, ink)| known == name.value && ink.span != crate::ground::Span::default());
    if known {
        word.error(name.span, format!("the swatch `{}` is defined already", name.value), "give it another name");
    }
    facts.palette.insert(name.value, Spanned::new(ink, name.span));
}

fn process(word: &Reader<'_>) -> Process {
    [&CYAN, &MAGENTA, &YELLOW, &BLACK].map(|ink| word.percent_property(ink).unwrap_or(0.0))
}

/// The colour that a spot ink states for itself.
fn colour_of(word: &Reader<'_>) -> Option<[f64; 3]> {
    let stated = word.text_property(&LAB)?;
    let numbers: Vec<f64> = stated.value.split_whitespace().filter_map(|number| number.parse().ok()).collect();
    match numbers[..] {
        [l, a, b] if (0.0..=100.0).contains(&l) && [a, b].iter().all(|side| (-128.0..=128.0).contains(side)) => {
            Some([l, a, b])
        }
        _ => {
            let message = format!("{:?} is not a colour in CIELAB", stated.value);
            let help = "write three numbers as the ink book has them, 0 to 100 and twice -128 to 128: lab=\"66 70 58\"";
            word.error(stated.span, message, help);
            None
        }
    }
}

/// In process inks as stated, or else as near to its own colour as they come.
fn look(word: &Reader<'_>, colour: Option<[f64; 3]>, facts: &Facts) -> Process {
    let stated = process(word);
    match colour {
        Some(colour) if stated.iter().all(|ink| *ink <= 0.0) => facts.press.profile.nearest(colour).0,
        _ => stated,
    }
}

fn rgb(word: &Reader<'_>, facts: &mut Facts) {
    let (Some(name), Some(code)) = (word.text(), word.text()) else { return };
    let Some(rgb) = hexadecimal(&code.value) else {
        let message = format!("{:?} is not a colour", code.value);
        let help = if ready_mixed(&code.value) {
            spot_of(&code.value)
        } else {
            "write six hexadecimal digits: \"#2f6f7e\"".to_owned()
        };
        word.error(code.span, message, help);
        return insert(word, facts, name, Ink::black(1.0));
    };
    let (inks, difference) = facts.press.profile.press_colour(rgb);
    let [c, m, y, k] = inks.map(|ink| number((ink * 100.0).round()));
    let printed = format!("printed as c={c} m={m} y={y} k={k}");
    let (severity, message) = if difference > VISIBLE {
        (Severity::Warning, format!("no ink of this press reaches `{}`: {printed}, ΔE00 {difference:.1}", name.value))
    } else {
        (Severity::Note, format!("`{}` is {printed}, ΔE00 {difference:.1}", name.value))
    };
    let finding = Finding::new(severity, "rgb-converted", code.span, message);
    word.findings().borrow_mut().push(finding.help("state the swatch in ink to choose for yourself"));
    insert(word, facts, name, Ink { colour: crate::ground::Colour::Process(inks), overprint: false });
}

/// `#2f6f7e`.
pub fn hexadecimal(text: &str) -> Option<[u8; 3]> {
    let digits = text.strip_prefix('#').unwrap_or(text);
    if digits.len() != 6 || !digits.is_ascii() {
        return None;
    }
    let byte = |at: usize| u8::from_str_radix(&digits[at..at + 2], 16).ok();
    Some([byte(0)?, byte(2)?, byte(4)?])
}
