//! Spaces: blanks that do not break, as broad as a language has them.

const NARROW: char = '\u{202F}';
const PLAIN: char = '\u{A0}';

/// Signs after a number that stay with it.
const UNITS: [&str; 14] = ["%", "€", "$", "£", "km", "m", "cm", "mm", "kg", "g", "°C", "kr", "zł", "Kč"];

/// The blank that stands here: instead of one that was typed, or before a sign that has none. The language's tag in small
/// letters.
pub fn space_between(letters: &[char], at: usize, language: &str) -> Option<char> {
    let before = at.checked_sub(1).map(|at| letters[at])?;
    let typed = letters[at] == ' ';
    let next = if typed { letters.get(at + 1).copied() } else { Some(letters[at]) };
    let french = language.starts_with("fr") && !language.starts_with("fr-ch");
    if french && let Some(space) = of_french(letters, at, (before, next?), typed) {
        return Some(space);
    }
    if !typed {
        return None;
    }
    let word = || letters[at + 1..].iter().take_while(|letter| !letter.is_whitespace()).take(4).collect::<String>();
    if before.is_ascii_digit() && UNITS.contains(&word().trim_end_matches(['.', ',', ';', ':', '!', '?', ')'])) {
        return Some(PLAIN);
    }
    // z. B., d. h., u. a.: abbreviations of two letters, each with its point.
    let single =
        |at: usize| letters.get(at).is_some_and(|letter| letter.is_alphabetic()) && letters.get(at + 1) == Some(&'.');
    let alone = at >= 2 && single(at - 2) && at.checked_sub(3).is_none_or(|at| !letters[at].is_alphanumeric());
    (language.starts_with("de") && alone && single(at + 1) && letters[at - 2].is_lowercase()).then_some(NARROW)
}

/// A narrow blank before `; ! ?`, a plain one before a colon and inside guillemets.
fn of_french(letters: &[char], at: usize, (before, next): (char, char), typed: bool) -> Option<char> {
    let inside = before == '«' && next != ' ';
    if inside && (typed || !before.is_whitespace() && next != NARROW && next != PLAIN) {
        return Some(PLAIN);
    }
    let wanted = match next {
        ';' | '!' | '?' => NARROW,
        ':' | '»' => PLAIN,
        _ => return None,
    };
    let sign = if typed { at + 1 } else { at };
    let ends = letters
        .get(sign + 1)
        .is_none_or(|after| after.is_whitespace() || matches!(after, '»' | ')' | '!' | '?' | ',' | '.'));
    let after_word = before.is_alphanumeric()
        || matches!(before, ')' | '»' | '…' | '’')
        || next == '»' && matches!(before, '.' | '!' | '?' | ',');
    if typed { ends.then_some(wanted) } else { (ends && after_word).then_some(wanted) }
}
