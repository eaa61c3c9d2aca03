//! How letters stand in lines that run from head to foot: those of East Asia upright, words of other scripts turned with the
//! line, one or two figures across it. By UAX 50 (Unicode Vertical Text Layout); figures by JLREQ 3.2.5, tate-chu-yoko.

use crate::typeset::script::{Script, script_of};
use std::ops::Range;

#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub enum Stance {
    /// Along the line, as lines that run from left to right have all their letters.
    #[default]
    Along,
    Upright,
    /// A short figure, upright in the room of one letter.
    Across,
}

/// Figures and signs that stand side by side in the room of one letter.
const SIDE_BY_SIDE: usize = 2;

/// How a letter stands by itself.
pub fn stand_of(letter: char) -> Stance {
    let upright = match letter {
        // Half-width forms and some full-width ones run with the line.
        '\u{FF61}'..='\u{FFDF}' | '\u{FFE8}'..='\u{FFEF}' | '－' | '＜' | '＝' | '＞' => false,
        // Dashes and leaders have forms for such lines in the fonts of East Asia.
        '—'
        | '―'
        | '‥'
        | '…'
        | '‖'
        | '†'
        | '‡'
        | '゠'
        | '・'
        | 'ー'
        | '\u{3000}'..='\u{303F}'
        | '\u{FF01}'..='\u{FF60}'
        | '\u{FFE0}'..='\u{FFE7}' => true,
        letter => matches!(
            script_of(letter),
            Some(Script::Han | Script::Hiragana | Script::Katakana | Script::Bopomofo | Script::Hangul)
        ),
    };
    if upright { Stance::Upright } else { Stance::Along }
}

/// The short figure that a byte belongs to: digits by themselves, not of a longer number or a word, and `!?`.
pub fn short_figure(text: &str, at: usize) -> Option<Range<usize>> {
    let length = |letters: &mut dyn Iterator<Item = char>| -> usize {
        letters.take(SIDE_BY_SIDE + 1).take_while(|letter| part_of_figure(*letter)).map(char::len_utf8).sum()
    };
    let figure = at - length(&mut text[..at].chars().rev())..at + length(&mut text[at..].chars());
    let letters = &text[figure.clone()];
    let all = |of: fn(char) -> bool| letters.chars().all(of);
    let digits = (1..=SIDE_BY_SIDE).contains(&letters.len()) && all(|letter| letter.is_ascii_digit());
    let calls = letters.len() == SIDE_BY_SIDE && all(|letter| matches!(letter, '!' | '?'));
    // A figure among Latin words runs with them.
    let beside = [text[..figure.start].chars().next_back(), text[figure.end..].chars().next()];
    let among = |letter: Option<char>| letter.is_none_or(|letter| stand_of(letter) == Stance::Upright);
    let is_short = (digits || calls) && beside.into_iter().all(among);
    is_short.then_some(figure).filter(|figure| figure.contains(&at))
}

fn part_of_figure(letter: char) -> bool {
    letter.is_ascii() && !letter.is_ascii_whitespace() && !letter.is_ascii_control()
        || script_of(letter).is_some() && stand_of(letter) == Stance::Along
}

/// Whether words have letters that stand upright.
pub fn has_upright(text: &str) -> bool {
    text.chars().any(|letter| script_of(letter).is_some() && stand_of(letter) == Stance::Upright)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Unicode's `VerticalOrientation.txt` (Debian's `unicode-data`): U and Tu stand upright, R runs along, and Tr has a form
    /// of its own where the font draws one. We keep to it for letters of East Asia and of Latin, but for dashes and leaders:
    /// they run along (R), and are drawn by the font's form for such lines where it has one.
    #[test]
    fn letters_stand_as_unicode_says() {
        let file = crate::typeset::evidence::unicode("VerticalOrientation.txt");
        let (mut compared, mut others) = (0, Vec::new());
        for line in file.lines().filter(|line| !line.starts_with('#') && line.contains(';')) {
            let mut fields = line.split('#').next().unwrap_or_default().split(';').map(str::trim);
            let (range, value) = (fields.next().unwrap_or_default(), fields.next().unwrap_or_default());
            let (from, to) = range.split_once("..").unwrap_or((range, range));
            let code = |code: &str| u32::from_str_radix(code, 16).expect("a code");
            for letter in (code(from)..=code(to)).filter_map(char::from_u32) {
                let ours = matches!(letter, '\u{20}'..='\u{24F}' | '\u{2010}'..='\u{2027}' | '\u{3000}'..='\u{30FF}'
                    | '\u{3400}'..='\u{9FFF}' | '\u{AC00}'..='\u{D7A3}' | '\u{FF01}'..='\u{FFEE}');
                // Letters that other scripts of those blocks share, and what no font of text has.
                if !ours
                    || (script_of(letter).is_none()
                        && !matches!(letter, ' '..='~' | '\u{2010}'..='\u{303F}' | '\u{FF01}'..))
                {
                    continue;
                }
                compared += 1;
                if (stand_of(letter) == Stance::Upright) != (value != "R") {
                    others.push(letter);
                }
            }
        }
        assert_eq!(others.iter().collect::<String>(), "—―‥…");
        assert!(compared > 39_000, "{compared}");
    }

    #[test]
    fn short_figures_stand_across() {
        let found = |text: &'static str| {
            let mut found: Vec<_> = text.char_indices().filter_map(|(at, _)| short_figure(text, at)).collect();
            found.dedup();
            found.into_iter().map(|at| &text[at]).collect::<Vec<_>>()
        };
        assert_eq!(found("12月3日、2026年、A4判、3.5版、第1巻！"), ["12", "3", "1"]);
        assert_eq!(found("何!?　7 days 5"), ["!?"]);
        assert_eq!(found("24"), ["24"]);
    }
}
