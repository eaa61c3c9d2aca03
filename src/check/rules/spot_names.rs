//! Two spellings of one spot ink, or a name that presses read as one of their own.
//!
//! Every spelling becomes a plate of its own. Two plates where one was meant cost an extra plate and an extra press run,
//! or a phone call on the day of printing.
//!
//! - two plates whose names differ only in capitals, blanks, unseen letters and signs (but not a plus), or in letters of other
//!   scripts that look alike: error. Names that differ in the ending for a kind of paper (C, U, M) after a number: warning;
//!   both may be intended, but rarely are. An entry of the Ghent Workgroup's 2015 specification (its headings).
//! - a name that differs so from that of a process ink, such as `Black.`, or from `All` and `None`: error.
//! - a spot ink called `Registration` or `Process Black`, as other programs call all plates and the process inks: warning.
//!   Common practice.
//!
//! ```kdl
//! swatches {
//!     spot foil ink="Gold foil" c=20 m=30 y=70
//!     spot stamp ink="Gold Foil" c=20 m=30 y=70
//! }
//! panel front {
//!     band a { swatch foil; left 20; width 20; top 20; height 20 }
//!     band b { swatch stamp; left 60; width 20; top 20; height 20 }
//! }
//! ```
//!
//! Way out: state the ink once and make tints of it: `tint pale of=foil percent=40`.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::{Colour, PROCESS_PLATES, Severity};
use crate::scene::Media;
use crate::typeset::{composed, is_combining_mark};

pub const RULE: CheckRule = CheckRule {
    name: "spot-names",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[],
    source: include_str!("spot_names.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let spots = exam.facts().palette.iter().filter_map(|(_, ink)| match &ink.value.colour {
        Colour::Spot(spot, _) => Some((spot.name.as_str(), ink.span)),
        Colour::Process(_) => None,
    });
    let mut spots: Vec<_> = spots.collect();
    spots.sort_by_key(|(_, span)| *span);
    for (at, (name, span)) in spots.iter().enumerate() {
        if let Some((severity, meant)) = read_as(name) {
            let message = format!("presses may read the plate {} as {meant}", shown(name));
            findings.fact(severity, *span, message, "give the spot ink a name of its own");
        }
        let twins = spots[..at].iter().filter_map(|(other, _)| alike(name, other).map(|severity| (*other, severity)));
        let twin = twins.max_by_key(|(_, severity)| *severity);
        if let Some((other, severity)) = twin {
            let message = format!("the plates {} and {} seem to be one ink", shown(other), shown(name));
            findings.fact(severity, *span, message, "spell the ink one way, and make tints of one swatch");
        }
    }
}

/// What a press takes a name for. Those that are just so are refused where they are read.
fn read_as(name: &str) -> Option<(Severity, String)> {
    let plain = plain(name);
    let own = |ink: &str| {
        let plate = PROCESS_PLATES.into_iter().find(|plate| plate.eq_ignore_ascii_case(ink));
        plate.map(|plate| format!("its own {plate}"))
    };
    if let Some(meant) = own(&plain) {
        return Some((Severity::Error, meant));
    }
    match plain.as_str() {
        "all" => Some((Severity::Error, "all plates at once".to_owned())),
        "none" => Some((Severity::Error, "no plate".to_owned())),
        "registration" => Some((Severity::Warning, "all plates at once".to_owned())),
        _ => Some((Severity::Warning, own(plain.strip_prefix("process")?)?)),
    }
}

/// A name as it is read at a glance: its letters with their marks, figures and plus signs, small, and letters of Latin in
/// place of those that look like them.
fn plain(name: &str) -> String {
    let is_read = |letter: &char| letter.is_alphanumeric() || is_seen_mark(*letter) || *letter == '+';
    let letters = composed(name).chars().map(narrow).filter(is_read).collect::<String>();
    letters.to_lowercase().chars().map(latin).collect()
}

/// A mark on a letter that is drawn: a tone or a vowel. The others are those that Unicode lets a reader ignore, from memory of
/// its list of default ignorable code points.
fn is_seen_mark(letter: char) -> bool {
    let is_unseen = matches!(letter, '\u{34f}' | '\u{17b4}'..='\u{17b5}' | '\u{180b}'..='\u{180f}'
        | '\u{fe00}'..='\u{fe0f}' | '\u{e0100}'..='\u{e01ef}');
    is_combining_mark(letter) && !is_unseen
}

/// The name in quotation marks, what nobody sees in it by its number.
fn shown(name: &str) -> String {
    let letter = |letter: char| match letter {
        '\'' => letter.to_string(),
        _ if is_seen_mark(letter) => letter.to_string(),
        _ => letter.escape_debug().to_string(),
    };
    format!("\"{}\"", name.chars().map(letter).collect::<String>())
}

/// The full-width forms of Unicode, U+FF01 to U+FF5E, are the printable letters of ASCII in their order.
fn narrow(letter: char) -> char {
    const AWAY: u32 = 0xff01 - 0x21;
    if matches!(letter, '\u{ff01}'..='\u{ff5e}') {
        char::from_u32(u32::from(letter) - AWAY).unwrap_or(letter)
    } else {
        letter
    }
}

/// Cyrillic and Greek letters that are drawn as Latin ones, large or small. From memory of UTS 39, Unicode's list of those
/// that can be confused.
fn latin(letter: char) -> char {
    const ALIKE: [(&str, char); 21] = [
        ("аα", 'a'),
        ("вβ", 'b'),
        ("с", 'c'),
        ("ԁ", 'd'),
        ("еε", 'e'),
        ("нη", 'h'),
        ("іι", 'i'),
        ("ј", 'j'),
        ("кκ", 'k'),
        ("мμ", 'm'),
        ("ν", 'n'),
        ("оο", 'o'),
        ("рρ", 'p'),
        ("ԛ", 'q'),
        ("ѕ", 's'),
        ("тτ", 't'),
        ("ѵ", 'v'),
        ("ԝ", 'w'),
        ("хχ", 'x'),
        ("уυ", 'y'),
        ("ζ", 'z'),
    ];
    ALIKE.into_iter().find(|(others, _)| others.contains(letter)).map_or(letter, |(_, latin)| latin)
}

fn alike(a: &str, b: &str) -> Option<Severity> {
    let (a_plain, b_plain) = (plain(a), plain(b));
    if a == b {
        return None;
    }
    if a_plain == b_plain {
        return Some(Severity::Error);
    }
    let base = |name: &str| {
        let kind = name.trim_end_matches(['c', 'u', 'm']);
        kind.ends_with(|c: char| c.is_ascii_digit()).then(|| kind.to_owned())
    };
    (base(&a_plain).is_some() && base(&a_plain) == base(&b_plain)).then_some(Severity::Warning)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn capitals_and_papers() {
        assert_eq!(example(&RULE).len(), 1);
        assert_eq!(alike("Warm red 032 C", "Warm Red 032 U"), Some(Severity::Warning));
        assert_eq!(alike("Ink-12", "ink 12"), Some(Severity::Error));
    }

    #[test]
    fn a_likely_twin_does_not_hide_a_certain_one() {
        let cover =
            "swatches { spot a ink=\"Red 32 C\" c=20; spot b ink=\"Red 32 U\" c=20; spot d ink=\"red 32 u\" c=20 }
            panel front { band a { swatch a; left 20; width 20; top 20; height 20 }
                          band b { swatch b; left 20; width 20; top 20; height 20 }
                          band d { swatch d; left 20; width 20; top 20; height 20 } }";
        let severities: Vec<Severity> = reported(&RULE, cover).iter().map(|found| found.severity).collect();
        assert_eq!(severities, [Severity::Warning, Severity::Error]);
    }

    #[test]
    fn names_that_presses_read_as_their_own() {
        let said = |ink: &str| {
            let found = reported(&RULE, &format!("swatches {{ spot a ink={ink:?} c=20 }}"));
            found.into_iter().map(|found| (found.severity, found.message)).collect::<Vec<_>>()
        };
        let warned = |message: &str| vec![(Severity::Warning, message.to_owned())];
        assert_eq!(said("Registration"), warned("presses may read the plate \"Registration\" as all plates at once"));
        assert_eq!(said("process  black"), warned("presses may read the plate \"process black\" as its own Black"));
        assert_eq!(said("process-cyan"), warned("presses may read the plate \"process-cyan\" as its own Cyan"));
        assert_eq!(said("Process red"), []);
        assert_eq!(said("Registration blue"), []);
    }

    #[test]
    fn names_that_only_look_other() {
        // Unseen letters, Cyrillic and full-width ones, signs.
        for name in ["Cyan\u{200b}", "Cy\u{ad}an", "Сyan", "Ｃｙａｎ", "Cy an", "Black.", "-All-", "Nоne"] {
            let found = reported(&RULE, &format!("swatches {{ spot a ink=\"{name}\" c=20 }}"));
            assert!(matches!(&found[..], [one] if one.severity == Severity::Error), "{name:?}: {found:?}");
        }
        assert_eq!(alike("Gold", "Gоld"), Some(Severity::Error), "a Cyrillic o");
        assert_eq!(alike("Caf\u{e9}", "Cafe\u{301}"), Some(Severity::Error));
        assert_eq!(alike("Gold\u{200b}foil", "Gold foil"), Some(Severity::Error));
        // Names in other scripts, and near the press's own.
        for name in ["Золото", "Χρυσός", "金箔", "Cyan 2", "Cian", "Allegro", "Nonesuch", "Key", "K"] {
            assert_eq!(reported(&RULE, &format!("swatches {{ spot a ink=\"{name}\" c=20 }}")), [], "{name}");
        }
        assert_eq!(alike("Золото", "Серебро"), None);
        assert_eq!(alike("Café", "Cafe"), None);
        assert_eq!(alike("金箔", "銀箔"), None);
    }

    /// Tone marks and vowel signs are letters of a name: white and rice in Thai, for one. So is a plus.
    #[test]
    fn marks_on_letters_tell_names_apart() {
        assert_eq!(alike("ขาว", "ข้าว"), None);
        assert_eq!(alike("Red+", "Red-"), None);
        assert_eq!(alike("Gold", "Gold\u{fe0f}"), Some(Severity::Error), "an unseen mark");
        assert_eq!(alike("Gold", "Go\u{34f}ld"), Some(Severity::Error), "an unseen mark");
        assert_eq!(alike("Red-", "Red"), Some(Severity::Error));
        let found = reported(&RULE, "swatches { spot a ink=\"ข้าว\" c=20; spot b ink=\"ข้าว.\" c=40 }");
        assert_eq!(found[0].message, "the plates \"ข้าว\" and \"ข้าว.\" seem to be one ink");
        let found = reported(&RULE, "swatches { spot a ink=\"Gold\" c=20; spot b ink=\"Gold\u{200b}\" c=40 }");
        assert_eq!(found[0].message, "the plates \"Gold\" and \"Gold\\u{200b}\" seem to be one ink");
    }

    #[test]
    fn different_inks_and_tints_pass() {
        assert_eq!(alike("Ink 12", "Ink 13"), None);
        let cover = "swatches { spot foil ink=\"Gold foil\" c=20; spot varnish ink=\"Spot varnish\" c=10; tint pale of=foil percent=40; }";
        assert_eq!(reported(&RULE, cover), []);
    }
}
