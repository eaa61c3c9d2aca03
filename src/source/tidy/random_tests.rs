//! Random texts, laid out: nothing is lost, the second time changes nothing.

use crate::ground::kept::kept;
use crate::ground::{FileId, Findings};
use crate::source::tidy::tidied::{Untidied, laid_out, tidied};
use proptest::prelude::*;
use proptest::strategy::ValueTree as _;

/// Choices drawn beforehand, so that a failing text can be made smaller. After the last one, always the first of all.
struct Lot(Vec<u8>);

impl Lot {
    fn one<'a>(&mut self, all: &[&'a str]) -> &'a str {
        all[self.below(all.len())]
    }

    fn below(&mut self, end: usize) -> usize {
        usize::from(self.0.pop().unwrap_or(0)) % end
    }
}

const NAMES: [&str; 5] = ["a", "band", "\"two words\"", "#\"raw\"#", "é-1"];
const BLANKS: [&str; 9] =
    [" ", "  ", "\t", "\u{a0}", " /* c */ ", "/* c /* d */ */", " /* m\n n */ ", " \\\n  ", " \\ /* i */ // j\n\t"];
const VALUES: [&str; 14] = [
    "1",
    "b",
    "-0.50",
    "1_000",
    "#true",
    "(in)5",
    "( pt ) 5",
    "\"x \\\" // { ; é\"",
    "\"on \\\n   and\"",
    "#\"r \\ \" /* \"#",
    "##\"r \"# \"##",
    "\"\"\"\n  m\n\n   \"n\" // \t\n  \"\"\"",
    "#\"\"\"\n \\ \n \"\"\"#",
    "\"a word that fills the measure of a line soon, as words of blurbs do\"",
];
const ENDS: [&str; 8] =
    ["\n", ";", " ; ", "\n\n\n", "\r\n", " // behind\n", " // one\n   // two\r\n", "; /* last */\n"];
const SLASHES: [&str; 4] = ["/-", "/- ", "/-\n ", "/- // taken\n"];

fn nodes(lot: &mut Lot, depth: usize) -> String {
    let mut text = String::new();
    for _ in 0..lot.below(5) {
        text += lot.one(&["", "  ", "\n\n", "// own\n", "/* before */", "\t"]);
        text += if lot.below(6) == 5 { lot.one(&SLASHES) } else { "" };
        text += lot.one(&NAMES);
        for _ in 0..lot.below(5) {
            text += lot.one(&BLANKS);
            text += if lot.below(6) == 5 { lot.one(&SLASHES) } else { "" };
            text += lot.one(&["", "", "key=", "\"k y\" = "]);
            text += lot.one(&VALUES);
        }
        for _ in 0..lot.below(3).min(depth) {
            text += lot.one(&BLANKS);
            text += lot.one(&["", "/-"]);
            text += lot.one(&["{", "{ ", "{ // head\n"]);
            text += &nodes(lot, depth - 1);
            text += "}";
            // A second block of what is not taken away is no KDL.
            if !text.contains("/-{") {
                break;
            }
        }
        text += lot.one(&["", " ", " /* behind */"]);
        text += lot.one(&ENDS);
    }
    text
}

/// Every letter that is no blank and parts nothing.
fn letters(text: &str) -> String {
    text.chars().filter(|letter| !letter.is_whitespace() && !matches!(letter, ';' | '\\')).collect()
}

fn holds(text: &str) {
    match tidied(&mut Findings::default(), FileId(0), text) {
        Ok(laid) => {
            assert_eq!(letters(text.trim_start_matches('\u{feff}')), letters(&laid), "{text}");
            let again = tidied(&mut Findings::default(), FileId(0), &laid);
            assert_eq!(again.as_deref(), Ok(&*laid), "the second time:\n{text}");
        }
        Err(Untidied::Faulty | Untidied::TooLarge) => {}
        Err(Untidied::Changed) => panic!("it would say something else:\n{text}\n{}", laid_out(text)),
    }
}

#[test]
fn most_random_texts_are_sound() {
    let mut runner = proptest::test_runner::TestRunner::deterministic();
    let choices = proptest::collection::vec(any::<u8>(), 0..200);
    let mut sound = 0;
    for _ in 0..200 {
        let drawn = choices.new_tree(&mut runner).expect("a list of numbers").current();
        let text = nodes(&mut Lot(drawn), 3);
        sound += usize::from(tidied(&mut Findings::default(), FileId(0), &text) != Err(Untidied::Faulty));
    }
    assert!(sound > 100, "only {sound} of 200 are KDL");
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 1_500, failure_persistence: kept("tests/lots/source-tidy.txt"), ..ProptestConfig::default() })]

    #[test]
    fn nothing_is_lost(choices in proptest::collection::vec(any::<u8>(), 0..200)) {
        holds(&nodes(&mut Lot(choices), 3));
    }

    #[test]
    fn no_text_breaks_it(text in "[a-c0-9 \n\t\r;{}=()/*\\\\\"#\u{feff}\u{85}\u{2028}-]{0,60}") {
        holds(&text);
        // The layout itself also stands texts that the parser refuses.
        let _ = laid_out(&text);
    }
}
