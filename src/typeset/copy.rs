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
    fn plain_text_has_paragraphs_and_chosen_breaks() {
        let copy = Copy::plain("Salt and\nLanterns\r\n\r\n  \n\nA novel ");
        assert_eq!(copy.text(), "Salt and\nLanterns\n\nA novel");
        assert_eq!(Copy::plain(" \n\n").paragraphs.len(), 0);
    }
}
