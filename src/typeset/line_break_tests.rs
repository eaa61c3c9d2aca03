//! Unicode's own tests of line breaks, whole, through the call that finds our chances. Their file is the one that the line
//! segmenter is published with.

use crate::typeset::Style;
use crate::typeset::chances::opportunities;
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
    ("Thai, Lao, Khmer and Myanmar wait for a dictionary: the segmenter leaves rule LB1 out", |before, after, _| {
        let waits =
            |letter: char| matches!(letter, '\u{E00}'..='\u{EFF}' | '\u{1000}'..='\u{109F}' | '\u{1780}'..='\u{17FF}');
        after.starts_with(waits) || before.trim_end_matches('\u{308}').ends_with(waits)
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
    assert_eq!((cases, same, tailored), (19_338, 19_165, [117, 35, 11, 10]));
}
