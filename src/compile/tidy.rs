//! Tidy: a file from the shelf and its text in the one layout.

use crate::assets::{Shelf, ShelfFault};
use crate::ground::Findings;
use crate::record::{Built, CoverRequest};
use crate::source::{Files, Untidied, tidied};
use std::cell::RefCell;

/// What came of a file: its findings, without a design, and its layout.
pub struct Tidied {
    pub built: Built,
    pub layout: TidyResult,
}

#[derive(Clone, Debug, PartialEq, Eq)]
pub enum TidyResult {
    /// The file has it already.
    Kept,
    New(String),
    /// The file has errors, or the new text would not say the same, or be too large.
    None(Untidied),
}

/// Lays out the file at `path`, and writes nothing. Only a file that does not come is a fault.
pub fn tidy(shelf: &dyn Shelf, path: &str) -> Result<Tidied, ShelfFault> {
    let bytes = shelf.read(path)?;
    let files = Files::default();
    let findings = RefCell::new(Findings::default());
    let (file, sound) = files.add_bytes(&findings, path, &bytes);
    let mut findings = findings.into_inner();
    let old = files.text(file).unwrap_or_default();
    let laid = if sound { tidied(&mut findings, file, &old) } else { Err(Untidied::Faulty) };
    let layout = match laid {
        Ok(new) if new.as_bytes() == &*bytes => TidyResult::Kept,
        Ok(new) => TidyResult::New(new),
        Err(why) => TidyResult::None(why),
    };
    findings.sort();
    Ok(Tidied { built: Built { files, findings, design: None, request: CoverRequest::of(path) }, layout })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::MapShelf;

    fn layout(bytes: &[u8]) -> (TidyResult, bool) {
        let shelf = MapShelf::default().with("cover.kdl", bytes);
        let tidied = tidy(&shelf, "cover.kdl").expect("the file is there");
        (tidied.layout, tidied.built.findings.has_errors())
    }

    #[test]
    fn only_sound_files_are_laid_out() {
        assert_eq!(layout(b"bleed 3\n"), (TidyResult::Kept, false));
        for marked in [&b"\xef\xbb\xbfbleed   3\r\n"[..], b"\xef\xbb\xbfbleed 3\n"] {
            assert_eq!(layout(marked), (TidyResult::New("bleed 3\n".to_owned()), false));
        }
        assert_eq!(layout(b"bleed 10pt\n"), (TidyResult::None(Untidied::Faulty), true));
        assert_eq!(layout(b"title \"Caf\xe9\"\n"), (TidyResult::None(Untidied::Faulty), true));
    }
}
