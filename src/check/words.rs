//! Words: what an element says, line by line.

use crate::check::visible::VisibleElement;
use crate::ground::Affine;

impl VisibleElement<'_> {
    /// Runs on one baseline make a line. Where a word was parted at its end, the line ends with a soft hyphen.
    pub fn lines(&self) -> Vec<String> {
        let mut lines: Vec<(Affine, Vec<&str>)> = Vec::new();
        for (run, _) in self.runs() {
            match lines.last_mut().filter(|(transform, _)| *transform == run.transform) {
                Some((_, texts)) => texts.push(&run.text),
                None => lines.push((run.transform, vec![&run.text])),
            }
        }
        let lines = lines.into_iter().map(|(_, mut texts)| {
            // Runs stand as they are seen, from the left; words that run leftwards are read from the last.
            if texts.iter().any(|text| text.chars().any(runs_leftwards)) {
                texts.reverse();
            }
            texts.concat()
        });
        lines.collect()
    }

    /// All its words in one, parted words joined; a break the author chose is a line feed.
    pub fn words(&self) -> String {
        let mut words = String::new();
        for line in self.lines() {
            if let Some(parted) = words.strip_suffix('\u{AD}') {
                words.truncate(parted.len());
            } else if !words.is_empty() && !words.ends_with(char::is_whitespace) {
                words.push('\n');
            }
            words.push_str(&line);
        }
        words.retain(|letter| !matches!(letter, '\u{AD}' | '\u{2060}' | '\u{200B}'));
        words
    }
}

/// Letters of Hebrew, Arabic and their kin (Unicode blocks 0590 to 08FF and their presentation forms).
pub fn runs_leftwards(letter: char) -> bool {
    matches!(letter, '\u{590}'..='\u{8FF}' | '\u{FB1D}'..='\u{FDFF}' | '\u{FE70}'..='\u{FEFC}')
}

/// Letters and figures alone, in small letters: for comparing words however they are set.
pub fn folded(words: &str) -> String {
    words.chars().filter(|letter| letter.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

/// Words short enough to stand in a message.
pub fn excerpt(words: &str) -> String {
    const LONGEST: usize = 40;
    let plain: String = words.split_whitespace().collect::<Vec<_>>().join(" ");
    if plain.chars().count() <= LONGEST {
        return plain;
    }
    plain.chars().take(LONGEST).collect::<String>().trim_end().to_owned() + "…"
}
