//! Dashes: hyphens that stand for a dash, and dots that stand for an ellipsis.

/// Languages that set a dash as broad as an em: American English, and the Spanish raya. Common practice.
const BROAD: [&str; 2] = ["en-us", "es"];

/// How many letters stand for a sign here, and which one it is. The language's tag in small letters.
pub fn dash(letters: &[char], at: usize, language: &str) -> Option<(usize, char)> {
    let before = at.checked_sub(1).map(|at| letters[at]);
    let after = |from: usize| letters.get(at + from).copied();
    let is_kind = |rest: &str| rest.is_empty() || rest.starts_with('-');
    let broad = BROAD.iter().any(|broad| language.strip_prefix(broad).is_some_and(is_kind));
    let sign = if broad { '—' } else { '–' };
    let run = |sign: char| letters[at..].iter().take(4).take_while(|letter| **letter == sign).count();
    match letters[at] {
        // In an address hyphens, dots and strokes are what they are.
        '-' | '.' if before == Some('/') || before == Some(letters[at]) => None,
        '-' if run('-') == 2 && after(2) != Some('>') => Some((2, sign)),
        '-' if before == Some(' ') && after(1) == Some(' ') => Some((1, '–')),
        '-' if run('-') == 1 && years(letters, at) => Some((1, '–')),
        '.' if run('.') == 3 => Some((3, '…')),
        _ => None,
    }
}

/// `1914-1918` or `1914-18`, by itself.
fn years(letters: &[char], at: usize) -> bool {
    let digits =
        |letters: &mut dyn Iterator<Item = &char>| letters.take(5).take_while(|letter| letter.is_ascii_digit()).count();
    let before = digits(&mut letters[..at].iter().rev());
    let after = digits(&mut letters[at + 1..].iter());
    let bare = |letter: Option<&char>| {
        letter.is_none_or(|letter| !letter.is_alphanumeric() && !matches!(letter, '-' | '/' | '.' | ','))
    };
    let ends = letters.get(at + 1 + after);
    let last = ends.is_none_or(|letter| matches!(letter, '.' | ',') || bare(Some(letter)));
    before == 4 && matches!(after, 2 | 4) && bare(at.checked_sub(5).map(|at| &letters[at])) && last
}
