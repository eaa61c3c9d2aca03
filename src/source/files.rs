//! Files: the texts of one build, numbered in the order of reading, so that a span finds its line again.

use crate::assets::{Shelf, ShelfFault, tidy};
use crate::ground::{Digest, FileId, Findings, Span, Spanned};
use crate::source::file_text::FileText;
use std::cell::RefCell;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

#[derive(Default)]
pub struct Files(Mutex<Vec<(String, FileText)>>);

impl Files {
    fn lock(&self) -> MutexGuard<'_, Vec<(String, FileText)>> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Numbers a text; the same path again gets the same number.
    pub fn add(&self, path: &str, text: impl Into<FileText>) -> FileId {
        let mut files = self.lock();
        if let Some(at) = files.iter().position(|(known, _)| known == path) {
            return FileId(at as u32);
        }
        files.push((path.to_owned(), text.into()));
        FileId(files.len() as u32 - 1)
    }

    /// Numbers a file. Its bytes must be UTF-8; what is not becomes a finding at its line, and the file is not sound.
    pub fn add_bytes(&self, findings: &RefCell<Findings>, path: &str, bytes: &[u8]) -> (FileId, bool) {
        let bytes = unmarked(bytes);
        let Err(fault) = std::str::from_utf8(bytes) else {
            return (self.add(path, &*String::from_utf8_lossy(bytes)), true);
        };
        let file = self.add(path, &*String::from_utf8_lossy(bytes));
        let at = fault.valid_up_to();
        let wide = bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]);
        let help = if wide { "it looks like UTF-16; save it as UTF-8" } else { "save the file as UTF-8" };
        let message = format!("the byte 0x{:02x} here is not UTF-8", bytes[at]);
        let place = Span::new(file, at..at + char::REPLACEMENT_CHARACTER.len_utf8());
        findings.borrow_mut().error(place, message, help);
        (file, false)
    }

    pub fn path(&self, file: FileId) -> Option<String> {
        self.lock().get(file.0 as usize).map(|(path, _)| path.clone())
    }

    pub fn text(&self, file: FileId) -> Option<Arc<str>> {
        self.lock().get(file.0 as usize).map(|(_, text)| text.text().clone())
    }

    /// The folders of all files, each once and with its `/`, in the order of reading; the cover's own is empty.
    pub fn folders(&self) -> Vec<String> {
        let mut folders: Vec<String> = Vec::new();
        for (path, _) in self.lock().iter() {
            let folder = path.rfind('/').map_or("", |end| &path[..=end]);
            if !folders.iter().any(|known| known == folder) {
                folders.push(folder.to_owned());
            }
        }
        folders
    }

    /// A path as the shelf knows it: it counts from the folder of the file that says it.
    pub fn resolve(&self, path: &Spanned<String>) -> String {
        let stated_in = self.path(path.span.file).unwrap_or_default();
        match stated_in.rsplit_once('/') {
            Some((folder, _)) if !path.value.starts_with('/') => tidy(&format!("{folder}/{}", path.value)),
            _ => path.value.clone(),
        }
    }

    /// A file's bytes; one that does not come is reported where it was named.
    pub fn bytes(&self, findings: &RefCell<Findings>, shelf: &dyn Shelf, path: &Spanned<String>) -> Option<Arc<[u8]>> {
        self.found(shelf.read(&self.resolve(path)), findings, path)
    }

    /// The same, and its SHA-256, of a file that is not kept once it has been read.
    pub fn bytes_once(
        &self,
        findings: &RefCell<Findings>,
        shelf: &dyn Shelf,
        path: &Spanned<String>,
    ) -> Option<(Arc<[u8]>, Digest)> {
        self.found(shelf.read_once(&self.resolve(path)), findings, path)
    }

    fn found<T>(&self, read: Result<T, ShelfFault>, findings: &RefCell<Findings>, path: &Spanned<String>) -> Option<T> {
        let fault = match read {
            Ok(found) => return Some(found),
            Err(fault) => fault,
        };
        let help = match &fault {
            ShelfFault::Missing { nearest: Some(near) } => {
                let near = self.as_stated_beside(path, near);
                if near == path.value {
                    "it lies beside the cover; paths count from the folder of the file that says them: say it in the cover"
                        .to_owned()
                } else if near.to_lowercase() == path.value.to_lowercase() {
                    format!("its name is {near:?}: capital and small letters count")
                } else {
                    format!("did you mean {near:?}?")
                }
            }
            ShelfFault::Missing { nearest: None } => {
                "paths are counted from the folder of the file that says them, with / between names".to_owned()
            }
            ShelfFault::Changed => "build the cover again".to_owned(),
            ShelfFault::Unreadable(_) => "check that it is a file and may be read".to_owned(),
            ShelfFault::TooLarge { .. } if path.value.to_ascii_lowercase().ends_with(".svg") => {
                "simplify it, or place it as a picture".to_owned()
            }
            ShelfFault::TooLarge { .. } => "make it smaller".to_owned(),
        };
        findings.borrow_mut().error(path.span, format!("{:?}: {fault}", path.value), help);
        None
    }

    /// A file's text, numbered so that findings point into it.
    pub fn read(
        &self,
        findings: &RefCell<Findings>,
        shelf: &dyn Shelf,
        path: &Spanned<String>,
    ) -> Option<(FileId, Arc<str>)> {
        let bytes = self.bytes(findings, shelf, path)?;
        let bytes = unmarked(&bytes);
        match std::str::from_utf8(bytes) {
            Ok(text) => {
                let text: Arc<str> = text.into();
                Some((self.add(&self.resolve(path), text.clone()), text))
            }
            Err(fault) => {
                let line = bytes[..fault.valid_up_to()].split(|byte| *byte == b'\n').count();
                let message = format!("{:?} is not UTF-8 text: see its line {line}", path.value);
                findings.borrow_mut().error(path.span, message, "save it as UTF-8");
                None
            }
        }
    }

    /// A path of the shelf as the file would write it that says another.
    fn as_stated_beside<'a>(&self, path: &Spanned<String>, near: &'a str) -> &'a str {
        let stated_in = self.path(path.span.file).unwrap_or_default();
        let folder = stated_in.rsplit_once('/').map_or("", |(folder, _)| folder);
        near.strip_prefix(folder).map_or(near, |rest| rest.trim_start_matches('/'))
    }

    /// Line and column, from 1; columns count characters.
    pub fn line_column(&self, span: Span) -> Option<(usize, usize)> {
        let files = self.lock();
        let (_, text) = files.get(span.file.0 as usize)?;
        Some(text.line_column(span.start))
    }
}

/// A text without the byte-order mark that some editors put before it: places are counted from its first letter.
pub fn unmarked(bytes: &[u8]) -> &[u8] {
    bytes.strip_prefix(b"\xef\xbb\xbf").unwrap_or(bytes)
}
