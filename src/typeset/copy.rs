//! Copy: the words of a text, from one line of a cover file or from Markdown.
//!
//! A word with a U+2060 (word joiner, `&NoBreak;` in Markdown) in it is never hyphenated; a soft hyphen (U+00AD,
//! `&shy;`) says where a word may be split, and then it is split nowhere else; a no-break space (U+00A0, `&nbsp;`) keeps two
//! words on one line.

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Copy {
    pub paragraphs: Vec<Paragraph>,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Paragraph {
    pub phrases: Vec<Phrase>,
}

/// Words of one look. A line break the author chose is `\n`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Phrase {
    pub text: String,
    pub emphasis: bool,
    pub strong: bool,
    pub small_caps: bool,
}

impl Copy {
    /// One paragraph a line break pair; single `\n` are chosen line breaks.
    pub fn plain(text: &str) -> Copy {
        let mut copy = Copy::default();
        let mut lines: Vec<&str> = Vec::new();
        let mut close = |lines: &mut Vec<&str>| {
            if !lines.is_empty() {
                let phrase = Phrase { text: lines.join("\n"), ..Phrase::default() };
                copy.paragraphs.push(Paragraph { phrases: vec![phrase] });
                lines.clear();
            }
        };
        for line in text.lines() {
            match line.trim_matches([' ', '\t', '\r']) {
                "" => close(&mut lines),
                line => lines.push(line),
            }
        }
        close(&mut lines);
        copy
    }

    /// Sets the first words of the first paragraph in small capitals.
    pub fn small_caps_first(&mut self, mut count: usize) {
        let Some(paragraph) = self.paragraphs.first_mut().filter(|_| count > 0) else { return };
        let mut phrases = Vec::with_capacity(paragraph.phrases.len() + 1);
        for phrase in std::mem::take(&mut paragraph.phrases) {
            let mut within = false;
            let blanks = phrase.text.char_indices().filter(|(_, letter)| {
                let ends = letter.is_whitespace() && within;
                within = letter.is_alphanumeric() || within && !letter.is_whitespace();
                ends
            });
            let ends: Vec<usize> = blanks.map(|(at, _)| at).take(count).collect();
            let (end, whole) = match ends.last() {
                _ if count == 0 => (0, false),
                Some(end) if ends.len() == count => (*end, false),
                _ => (phrase.text.len(), true),
            };
            count -= if whole { ends.len() } else { count };
            let (first, rest) = phrase.text.split_at(end);
            let parts = [(first, true), (rest, phrase.small_caps)].map(|(text, small_caps)| Phrase {
                text: text.to_owned(),
                small_caps,
                ..phrase.clone()
            });
            phrases.extend(parts.into_iter().filter(|part| !part.text.is_empty()));
        }
        paragraph.phrases = phrases;
    }

    /// All words, paragraphs separated by a blank line.
    pub fn text(&self) -> String {
        let paragraphs: Vec<String> = self
            .paragraphs
            .iter()
            .map(|paragraph| paragraph.phrases.iter().map(|phrase| phrase.text.as_str()).collect())
            .collect();
        paragraphs.join("\n\n")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn first_words_stand_in_small_capitals() {
        let mut copy = Copy::plain("“On the night, the harbour froze");
        copy.small_caps_first(3);
        let parts: Vec<(&str, bool)> =
            copy.paragraphs[0].phrases.iter().map(|phrase| (phrase.text.as_str(), phrase.small_caps)).collect();
        assert_eq!(parts, [("“On the night,", true), (" the harbour froze", false)]);
    }

    #[test]
    fn plain_text_has_paragraphs_and_chosen_breaks() {
        let copy = Copy::plain("Salt and\nLanterns\r\n\r\n  \n\nA novel ");
        assert_eq!(copy.text(), "Salt and\nLanterns\n\nA novel");
        assert_eq!(Copy::plain(" \n\n").paragraphs.len(), 0);
    }
}
