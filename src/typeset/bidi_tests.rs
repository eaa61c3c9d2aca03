//! Unicode's own tests of bidirectional text, whole, through the calls that set our lines. Their files are those of Debian's
//! package `unicode-data`; `tests/run` installs it.

use crate::typeset::evidence::unicode;
use crate::typeset::itemise::{Level, Passage, levels, levels_from, script_runs};
use crate::typeset::place::{LineWords, visual};
use crate::typeset::spread::LineFit;

/// Level and bytes of all letters; the paragraph's direction is 0 or 1, or 2 where its first strong letter decides.
fn found(text: &str, direction: &str) -> (u8, Vec<u8>, Option<Vec<Level>>) {
    let levels = match direction {
        "0" => levels_from(text, Some(Level::ltr())),
        "1" => levels_from(text, Some(Level::rtl())),
        _ => levels(text, "en"),
    };
    match levels {
        None => (0, vec![0; text.len()], None),
        Some((base, levels)) => (base.number(), levels.iter().map(Level::number).collect(), Some(levels)),
    }
}

/// Letters of a line from left to right, by their numbers.
fn from_left(text: &str, base: u8, levels: Option<&[Level]>) -> Vec<usize> {
    let runs = script_runs(text, &[(0..text.len(), 0)], levels);
    let passage = Passage { text: text.to_owned(), script_runs: runs, rtl: base == 1, apart: Vec::new() };
    let kept = 0..text.trim_end_matches(' ').len();
    let words = LineWords { kept, next: text.len(), again: false, hyphen: false, measure: 1.0, fit: LineFit::AsDrawn };
    let number = |at: usize| text[..at].chars().count();
    let runs = visual(&passage, &words).into_iter().flat_map(|run| {
        let letters: Vec<usize> = (number(run.range.start)..number(run.range.end)).collect();
        if run.rtl() { letters.into_iter().rev().collect() } else { letters }
    });
    runs.collect()
}

/// What Unicode says of a case: levels (signs that steer directions have none), and numbers from left to right.
#[derive(Default)]
struct Stated {
    levels: Vec<Option<u8>>,
    order: Vec<usize>,
}

impl Stated {
    fn levels(listed: &str) -> Vec<Option<u8>> {
        listed.split_whitespace().map(|level| level.parse().ok()).collect()
    }

    fn order(listed: &str) -> Vec<usize> {
        listed.split_whitespace().map(|number| number.parse().expect("a number")).collect()
    }

    /// What ends a line has the paragraph's level (rule L1), which we give when lines are made: its order is compared, its
    /// levels are not. Signs that show nothing have no glyph, wherever they stand.
    fn agrees(&self, text: &str, direction: &str, base: Option<u8>) -> bool {
        let (ours, found, all) = found(text, direction);
        let whole = text.trim_end_matches(ends_line).len();
        let mut letters = text.char_indices().zip(&self.levels);
        let shown: Vec<bool> = text.chars().map(|letter| letter.is_whitespace() || !ends_line(letter)).collect();
        let same = letters.all(|((at, _), wanted)| at >= whole || wanted.is_none_or(|wanted| found[at] == wanted));
        let placed = from_left(text, ours, all.as_deref());
        let seen = |number: &&usize| self.levels[**number].is_some() && shown[**number];
        base.is_none_or(|base| base == ours) && same && placed.iter().filter(seen).eq(self.order.iter().filter(seen))
    }
}

/// Blanks and the signs of isolates at a line's end, which rule L1 sets back, and signs that show nothing.
fn ends_line(letter: char) -> bool {
    letter.is_whitespace()
        || matches!(letter, '\u{AD}' | '\u{200B}' | '\u{202A}'..='\u{202E}' | '\u{2066}'..='\u{2069}')
}

/// Unicode's `BidiCharacterTest.txt`. One case of its 91,707 has a tab; `clean.rs` makes a blank of it before.
#[test]
fn unicode_tests_of_letters_in_both_directions() {
    let (mut cases, mut others) = (0, Vec::new());
    for line in unicode("BidiCharacterTest.txt").lines().filter(|line| !line.starts_with('#') && !line.is_empty()) {
        let fields: Vec<&str> = line.split(';').collect();
        let letter = |code: &str| u32::from_str_radix(code, 16).ok().and_then(char::from_u32).expect("a letter");
        let text: String = fields[0].split(' ').map(letter).collect();
        let stated = Stated { levels: Stated::levels(fields[3]), order: Stated::order(fields[4]) };
        cases += 1;
        if !stated.agrees(&text, fields[1], fields[2].parse().ok()) {
            others.push(text);
        }
    }
    assert_eq!((cases, others), (91_707, vec!["\u{661}\t(\u{662})".to_owned()]));
}

/// A letter of every bidirectional class but B and S: `clean.rs` leaves no paragraph separator and no tab in a paragraph.
const CLASSES: [(&str, char); 21] = [
    ("L", 'a'),
    ("R", '\u{5D0}'),
    ("AL", '\u{627}'),
    ("EN", '1'),
    ("ES", '+'),
    ("ET", '%'),
    ("AN", '\u{661}'),
    ("CS", ','),
    ("NSM", '\u{300}'),
    ("BN", '\u{AD}'),
    ("WS", ' '),
    ("ON", '!'),
    ("LRE", '\u{202A}'),
    ("RLE", '\u{202B}'),
    ("PDF", '\u{202C}'),
    ("LRO", '\u{202D}'),
    ("RLO", '\u{202E}'),
    ("LRI", '\u{2066}'),
    ("RLI", '\u{2067}'),
    ("FSI", '\u{2068}'),
    ("PDI", '\u{2069}'),
];

/// Unicode's `BidiTest.txt`: classes in every order.
#[test]
fn unicode_tests_of_directions() {
    let (mut cases, mut left_out, mut others) = (0, 0, Vec::new());
    let file = unicode("BidiTest.txt");
    let mut stated = Stated::default();
    for line in file.lines().filter(|line| !line.starts_with('#') && !line.is_empty()) {
        if let Some(listed) = line.strip_prefix("@Levels:") {
            stated.levels = Stated::levels(listed);
        } else if let Some(listed) = line.strip_prefix("@Reorder:") {
            stated.order = Stated::order(listed);
        } else if let Some((classes, directions)) = line.split_once("; ") {
            let letter = |class: &str| CLASSES.iter().find(|known| known.0 == class).map(|known| known.1);
            let directions = u8::from_str_radix(directions, 16).expect("a set of directions");
            let text: Option<String> = classes.split(' ').map(letter).collect();
            for (bit, direction) in [(1, "2"), (2, "0"), (4, "1")] {
                match &text {
                    _ if directions & bit == 0 => {}
                    None => left_out += 1,
                    Some(text) => {
                        cases += 1;
                        if !stated.agrees(text, direction, None) {
                            others.push((classes, direction));
                        }
                    }
                }
            }
        }
    }
    // A blank before signs that show nothing, at a line's end: it stays where it stands.
    let ends = |classes: &str| {
        let shown = |class: &&str| ["L", "R", "AL", "EN", "ES", "ET", "AN", "CS", "NSM", "ON"].contains(class);
        let mut silent = classes.split(' ').rev().take_while(|class| !shown(class)).skip_while(|class| *class == "WS");
        silent.any(|class| class == "WS")
    };
    let faults: Vec<_> = others.iter().filter(|(classes, _)| !ends(classes)).take(20).collect();
    assert!(faults.is_empty(), "{faults:?}");
    assert_eq!((cases, left_out, others.len()), (613_155, 157_086, 1_414));
}
