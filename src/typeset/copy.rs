//! Copy: the words of a text, from one line of a cover file or from Markdown.

use crate::ground::FileId;
use crate::ground::Findings;

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Copy {
    pub paragraphs: Vec<Paragraph>,
}

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Paragraph {
    pub words: Vec<Words>,
}

/// Words of one look. A line break the author chose is `\n`.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Words {
    pub text: String,
    pub emphasis: bool,
    pub strong: bool,
    pub small_caps: bool,
}

impl Copy {
    /// One paragraph a line break pair; single `\n` are chosen line breaks.
    pub fn plain(text: &str) -> Copy {
        let _ = text;
        unimplemented!()
    }

    /// Paragraphs, `*emphasis*`, `**strong**`, hard breaks, `<sc>small caps</sc>`. What Markdown has beyond that is
    /// reported at its place in `file` and set as plain words.
    pub fn markdown(findings: &mut Findings, file: FileId, text: &str) -> Copy {
        let _ = (findings, file, text);
        unimplemented!()
    }

    /// All words, paragraphs parted by a blank line.
    pub fn text(&self) -> String {
        let paragraphs: Vec<String> =
            self.paragraphs.iter().map(|p| p.words.iter().map(|words| words.text.as_str()).collect()).collect();
        paragraphs.join("\n\n")
    }
}
