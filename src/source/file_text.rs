//! File text: a text that is shared, and where its lines begin, found once however many places are looked up in it.

use std::borrow::Cow;
use std::sync::{Arc, OnceLock};

#[derive(Clone, Debug)]
pub struct FileText {
    text: Arc<str>,
    starts: Arc<OnceLock<Vec<usize>>>,
}

impl FileText {
    pub fn text(&self) -> &Arc<str> {
        &self.text
    }

    /// Line and column of a byte, from 1; columns count characters.
    pub fn line_column(&self, byte: usize) -> (usize, usize) {
        let starts = self
            .starts
            .get_or_init(|| std::iter::once(0).chain(self.text.match_indices('\n').map(|(at, _)| at + 1)).collect());
        let byte = self.text.floor_char_boundary(byte);
        let line = starts.partition_point(|start| *start <= byte);
        let start = starts[line - 1];
        (line, self.text[start..byte].chars().count() + 1)
    }
}

impl PartialEq for FileText {
    fn eq(&self, other: &FileText) -> bool {
        self.text == other.text
    }
}

impl From<Arc<str>> for FileText {
    fn from(text: Arc<str>) -> FileText {
        FileText { text, starts: Arc::default() }
    }
}

impl From<&str> for FileText {
    fn from(text: &str) -> FileText {
        FileText::from(Arc::<str>::from(text))
    }
}

impl From<String> for FileText {
    fn from(text: String) -> FileText {
        FileText::from(Arc::<str>::from(text))
    }
}

impl From<Cow<'_, str>> for FileText {
    fn from(text: Cow<'_, str>) -> FileText {
        FileText::from(Arc::<str>::from(text))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_place_has_its_line_and_column() {
        let text = FileText::from("ab\n\nçd\r\ne");
        let places: Vec<(usize, usize)> = (0..=text.text().len() + 2).map(|byte| text.line_column(byte)).collect();
        let (first, third) = ([(1, 1), (1, 2), (1, 3), (2, 1)], [(3, 1), (3, 1), (3, 2), (3, 3), (3, 4)]);
        assert_eq!(places[..4], first);
        // The ç takes two bytes.
        assert_eq!(places[4..9], third);
        assert_eq!(places[9..], [(4, 1), (4, 2), (4, 2), (4, 2)]);
        assert_eq!(FileText::from("").line_column(7), (1, 1));
    }
}
