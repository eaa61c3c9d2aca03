//! Unicode's own tests of line breaks, whole, through the call that finds our chances. Their file is the one that the line
//! segmenter is published with.

use crate::typeset::Style;
use crate::typeset::chances::{is_unspaced, opportunities};
use crate::typeset::evidence::package_file;

/// A text, and the bytes where a line may end.
fn case(line: &str) -> (String, Vec<usize>) {
    let (mut text, mut breaks) = (String::new(), Vec::new());
    for part in line.split('#').next().unwrap_or_default().split_whitespace() {
        match part {
            "×" => {}
            "÷" => breaks.push(text.len()),
            code => text.extend(u32::from_str_radix(code, 16).ok().and_then(char::from_u32)),
        }
    }
    (text, breaks)
}

type Tailoring = fn(&str, &str, bool) -> bool;

/// Where we differ, and why: signs before and after a place, whether we break there.
const TAILORED: [(&str, Tailoring); 4] = [
    ("no line begins with a dash that is close to its word (book setting)", |_, after, ours| {
        !ours && after.starts_with('—')
    }),
    ("a dash that opens what is said stays with its word (the Spanish raya)", |before, _, ours| {
        !ours && before.ends_with('—')
    }),
    ("no hyphen of a word's own leaves a single letter on either side (common practice)", |before, _, ours| {
        !ours && before.trim_end_matches('\u{308}').ends_with(['-', '\u{2010}', '\u{5BE}'])
    }),
    ("Thai, Lao, Khmer and Burmese go by a dictionary (UAX #14, LB1 leaves them to it)", |before, after, _| {
        after.starts_with(is_unspaced) || before.trim_end_matches('\u{308}').ends_with(is_unspaced)
    }),
];

#[test]
fn unicode_tests_of_line_breaks() {
    let style = Style::default();
    let (mut cases, mut same, mut tailored) = (0, 0, [0; TAILORED.len()]);
    let mut found = Vec::new();
    let mut faults = Vec::new();
    for line in package_file("icu_segmenter", "tests/testdata/LineBreakTest_17.txt")
        .lines()
        .filter(|line| !line.starts_with('#') && !line.is_empty())
    {
        let (text, breaks) = case(line);
        found.clear();
        opportunities(&text, 0, &style, &mut found);
        let ours: Vec<usize> = found.iter().map(|chance| chance.next).filter(|at| *at > 0).collect();
        cases += 1;
        same += usize::from(ours == breaks);
        let apart = ours.iter().filter(|at| !breaks.contains(at)).chain(breaks.iter().filter(|at| !ours.contains(at)));
        for at in apart {
            let (before, after) = text.split_at(*at);
            match TAILORED.iter().position(|(_, holds)| holds(before, after, ours.contains(at))) {
                Some(reason) => tailored[reason] += 1,
                None => faults.push(format!("{before:?} | {after:?}")),
            }
        }
    }
    assert!(faults.is_empty(), "{} {faults:#?}", faults.len());
    assert_eq!((cases, same, tailored), (19_338, 19_163, [117, 35, 11, 12]));
}

/// The tests of dictionaries that the line segmenter is published with: those of them that are words of scripts without
/// blanks, with the blanks, brackets and foreign words around them. Their authors compare them with another program's.
#[test]
fn words_of_scripts_without_blanks() {
    let tests = package_file("icu_segmenter", "tests/testdata/LineBreakDictionary.txt");
    let (words, _) = tests.split_once("# Rule-based tests").expect("has two parts");
    let mut cases = 0;
    for line in words.lines().map(|line| line.split('#').next().unwrap_or_default()).filter(|line| !line.is_empty()) {
        let mut at = 0;
        let ends = line.split('|').map(|part| {
            at += part.len();
            at
        });
        let ends: Vec<usize> = ends.collect();
        let text = line.replace('|', "");
        let mut found = Vec::new();
        opportunities(&text, 0, &Style::default(), &mut found);
        assert_eq!(found.iter().map(|chance| chance.next).collect::<Vec<_>>(), ends, "{line}");
        cases += 1;
    }
    assert_eq!(cases, 24);
    // A word joiner keeps what the dictionary would part; a chosen place parts what it keeps.
    let mut found = Vec::new();
    opportunities("ภาษา\u{2060}ไทย\u{200B}แพน\u{200B}ด้า", 0, &Style::default(), &mut found);
    assert_eq!(found.len(), 3);
}
