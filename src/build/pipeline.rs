//! Pipeline: the text of a cover becomes a design and its findings, in one workshop kept between builds.

use crate::assets::{Darkroom, Library, Shelf, ShelfFault};
use crate::build::Design;
use crate::build::stages::{Tools, design};
use crate::ground::{Digest, FileId, Finding, Findings, Memo, Severity, Span};
use crate::source::{Files, parse};
use crate::typeset::Typesetter;
use std::cell::RefCell;
use std::convert::Infallible;
use std::sync::Arc;

/// What is dear, kept between builds and shared between threads.
#[derive(Default)]
pub struct Workshop {
    pub darkroom: Darkroom,
    typesetters: Memo<Typesetter>,
}

/// A build of one cover: always whole, whatever was wrong.
pub struct Built {
    pub files: Files,
    /// Sorted by place.
    pub findings: Findings,
    /// `None` when the file could not be read as KDL, so that nothing is known of the cover.
    pub design: Option<Design>,
}

impl Workshop {
    /// After a round of builds: forget what none of them asked for.
    pub fn sweep(&self) {
        self.darkroom.sweep();
        self.typesetters.sweep();
    }

    /// The bundled fonts and those of the cover's `fonts` folder; opened once for as long as they stay the same.
    fn typesetter(&self, findings: &RefCell<Findings>, file: FileId, shelf: &dyn Shelf) -> Arc<Typesetter> {
        let warn = |path: &str, why: String| {
            let message = format!("the font `{path}` is left out: {why}");
            let finding = Finding::new(Severity::Warning, "file", Span::new(file, 0..0), message);
            findings.borrow_mut().push(finding.help("replace it, or take it out of the folder"));
        };
        let mut fonts: Vec<(String, Arc<[u8]>)> = Vec::new();
        for path in shelf.list("fonts").into_iter().filter(|path| is_font(path)) {
            match shelf.read(&path) {
                Ok(bytes) => fonts.push((path, bytes)),
                Err(fault) => warn(&path, fault.to_string()),
            }
        }
        let parts: Vec<&[u8]> = fonts.iter().flat_map(|(path, bytes)| [path.as_bytes(), bytes]).collect();
        let made = self.typesetters.get_or(Digest::of_all(&parts), || {
            let (library, faults) = Library::open(&fonts);
            for (path, fault) in faults {
                warn(&path, fault.0);
            }
            Ok::<_, Infallible>(Typesetter::new(Arc::new(library)))
        });
        match made {
            Ok(typesetter) => typesetter,
            Err(never) => match never {},
        }
    }
}

/// Builds the cover that stands at `path` on the shelf. Only a file that does not come is a fault.
pub fn build(workshop: &Workshop, shelf: &dyn Shelf, path: &str) -> Result<Built, ShelfFault> {
    let bytes = shelf.read(path)?;
    let files = Files::default();
    let findings = RefCell::new(Findings::default());
    let (file, sound) = text(&findings, &files, path, &bytes);
    let tree = sound.then(|| {
        let text = files.text(file).unwrap_or_default();
        let tree = parse(&mut findings.borrow_mut(), file, &text);
        if tree.nodes.is_empty() && findings.borrow().is_empty() {
            let help = "`jaconet new` writes a cover to start from";
            findings.borrow_mut().error(Span::new(file, 0..0), "the file says nothing", help);
        }
        tree
    });
    // A file that is not KDL says nothing: asking it for its facts would bury its one fault under their absence.
    let understood = tree.filter(|_| !findings.borrow().has_errors());
    let design = understood.and_then(|tree| {
        let typesetter = workshop.typesetter(&findings, file, shelf);
        let tools = Tools { findings: &findings, files: &files, shelf, workshop, typesetter: &typesetter };
        design(&tools, &tree)
    });
    let mut findings = findings.into_inner();
    findings.sort();
    Ok(Built { files, findings, design })
}

/// Numbers the file. Its bytes must be UTF-8; what is not becomes a finding at its line.
pub fn text(findings: &RefCell<Findings>, files: &Files, path: &str, bytes: &[u8]) -> (FileId, bool) {
    match std::str::from_utf8(bytes) {
        Ok(text) => (files.add(path, text), true),
        Err(fault) => {
            let file = files.add(path, &String::from_utf8_lossy(bytes));
            let at = fault.valid_up_to();
            let wide = bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]);
            let help = if wide { "it looks like UTF-16; save it as UTF-8" } else { "save the file as UTF-8" };
            let message = format!("the byte 0x{:02x} here is no UTF-8", bytes[at]);
            findings.borrow_mut().error(
                Span::new(file, at..at + char::REPLACEMENT_CHARACTER.len_utf8()),
                message,
                help,
            );
            (file, false)
        }
    }
}

fn is_font(path: &str) -> bool {
    let ending = path.rsplit('.').next().unwrap_or_default().to_lowercase();
    matches!(ending.as_str(), "ttf" | "otf" | "ttc" | "otc")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::MapShelf;

    fn told(bytes: &[u8]) -> Vec<(String, Option<(usize, usize)>)> {
        let shelf = MapShelf::default().with("cover.kdl", bytes);
        let built = build(&Workshop::default(), &shelf, "cover.kdl").expect("the file is there");
        let told = built.findings.iter();
        told.map(|finding| (finding.message.clone(), built.files.line_column(finding.span))).collect()
    }

    #[test]
    fn bytes_that_are_no_text_are_told_at_their_line() {
        let said = told(b"book {\n  title \"Caf\xe9\"\n}\n");
        assert_eq!(said, [("the byte 0xe9 here is no UTF-8".to_owned(), Some((2, 13)))]);
        assert_eq!(told(b"\xff\xfeb\0")[0].1, Some((1, 1)));
    }

    #[test]
    fn a_file_that_is_not_kdl_has_one_finding_and_no_design() {
        let said = told(b"book {\n  pages 10pt\n}\n");
        assert_eq!(said, [("`10pt` is no number".to_owned(), Some((2, 9)))]);
    }

    #[test]
    fn an_empty_file_is_an_error() {
        assert_eq!(told(b"// nothing yet\n"), [("the file says nothing".to_owned(), Some((1, 1)))]);
    }

    #[test]
    fn a_missing_cover_is_a_fault() {
        let fault = build(&Workshop::default(), &MapShelf::default(), "cover.kdl").err();
        assert_eq!(fault, Some(ShelfFault::Missing { nearest: None }));
    }
}
