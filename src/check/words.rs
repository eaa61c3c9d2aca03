//! Words: what an element says, line by line.

use crate::check::exam::Exam;
use crate::check::visible::VisibleElement;
use crate::scene::{GlyphRun, lines_of, words_of};
use crate::typeset::upper;

impl<'a> VisibleElement<'a> {
    /// Line by line. Where a word was split at its end, the line ends with a soft hyphen.
    pub fn lines(&self) -> Vec<String> {
        lines_of(self.said()).into_iter().map(|(line, _)| line).collect()
    }

    /// All its words in one, split words joined; a break the author chose is a line feed.
    pub fn words(&self) -> String {
        words_of(self.said())
    }

    fn said(&self) -> impl Iterator<Item = &'a GlyphRun> {
        self.runs().map(|(run, _)| run).chain(self.blanks.iter().copied())
    }
}

impl VisibleElement<'_> {
    /// The height of its letters in millimetres: the median of all, which is the x-height of words in small letters.
    pub fn letter_height(&self) -> f64 {
        let letters = self.runs().flat_map(|(run, _)| {
            let scale = run.size * run.transform.determinant().abs().sqrt();
            run.glyphs.iter().filter_map(move |glyph| {
                let letter = run.text.get(glyph.text.clone())?.chars().any(char::is_alphanumeric);
                let bounds = run.font.glyph_bounds(glyph.id).filter(|_| letter)?;
                Some(bounds.height() * scale)
            })
        });
        median(letters.collect()).unwrap_or_default()
    }
}

impl Exam<'_> {
    /// Whether an element says the whole of one of these facts.
    pub fn says_any(&self, element: &VisibleElement<'_>, facts: &[&str]) -> bool {
        let words = folded(&element.words());
        let found = facts.iter().filter_map(|fact| self.facts().book.word(fact)).map(folded);
        found.into_iter().any(|found| !found.is_empty() && words.contains(&found))
    }
}

pub fn median(mut all: Vec<f64>) -> Option<f64> {
    all.sort_by(f64::total_cmp);
    all.get(all.len() / 2).copied()
}

/// Letters of Hebrew, Arabic and their kin (Unicode blocks 0590 to 08FF and their presentation forms).
pub fn runs_leftwards(letter: char) -> bool {
    matches!(letter, '\u{590}'..='\u{8FF}' | '\u{FB1D}'..='\u{FDFF}' | '\u{FE70}'..='\u{FEFC}')
}

/// Letters and figures alone, in capitals: for comparing words however they are set. Greek capitals lose their accents,
/// ß and its capital ẞ are SS, and a Turkish i with its dot is the same as one without.
pub fn folded(words: &str) -> String {
    upper(&words.replace('ẞ', "ß"), "el").chars().filter(|letter| letter.is_alphanumeric()).map(undotted).collect()
}

fn undotted(letter: char) -> char {
    if letter == 'İ' { 'I' } else { letter }
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

#[cfg(test)]
mod tests {
    use crate::check::exam::Exam;
    use crate::check::testing::{DARKROOM, drawn};

    #[test]
    fn words_of_two_lines_do_not_run_into_each_other() {
        const WORDS: &str = "One two three four five six seven eight nine ten eleven twelve";
        let cover = format!(
            "panel back {{ text a words={WORDS:?} {{ font Inter; left 20; width 40; top 40; size 9; hyphenate #false }} }}"
        );
        let (cover, scene) = drawn(&cover);
        let exam = Exam::new(&cover, &scene, &DARKROOM);
        assert_eq!(exam.elements[0].words().trim_end(), WORDS);
        assert!(exam.elements[0].lines().len() > 1, "{:?}", exam.elements[0].lines());
    }
}
