//! Files: the texts of one build, numbered in the order of reading, so that a span finds its line again.

use crate::ground::{FileId, Span};
use std::cell::RefCell;
use std::sync::Arc;

#[derive(Default)]
pub struct Files(RefCell<Vec<(String, Arc<str>)>>);

impl Files {
    /// Numbers a text; the same path again gets the same number.
    pub fn add(&self, path: &str, text: &str) -> FileId {
        let mut files = self.0.borrow_mut();
        if let Some(at) = files.iter().position(|(known, _)| known == path) {
            return FileId(at as u32);
        }
        files.push((path.to_owned(), text.into()));
        FileId(files.len() as u32 - 1)
    }

    pub fn path(&self, file: FileId) -> Option<String> {
        self.0.borrow().get(file.0 as usize).map(|(path, _)| path.clone())
    }

    pub fn text(&self, file: FileId) -> Option<Arc<str>> {
        self.0.borrow().get(file.0 as usize).map(|(_, text)| text.clone())
    }

    /// Line and column, from 1; columns count characters.
    pub fn line_column(&self, span: Span) -> Option<(usize, usize)> {
        let text = self.text(span.file)?;
        let mut start = span.start.min(text.len());
        while !text.is_char_boundary(start) {
            start -= 1;
        }
        let before = &text[..start];
        let line = before.matches('\n').count() + 1;
        let column = before.rsplit('\n').next().unwrap_or_default().chars().count() + 1;
        Some((line, column))
    }
}
