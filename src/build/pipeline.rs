//! Pipeline: the text of a cover becomes a design and its findings, in one workshop kept between builds.

use crate::assets::{Darkroom, FontFault, Keep, Library, Shelf, ShelfFault, Tally, Work, tidy};
use crate::build::layers::{Reading, TABLE, layers};
use crate::build::stages::{Tools, design};
use crate::build::{Commission, Design};
use crate::cover::facts_in;
use crate::ground::{Digest, FileId, Finding, Findings, Memo, Severity, Span};
use crate::source::Files;
use crate::typeset::{TYPESETTERS, Typesetter};
use std::cell::RefCell;
use std::convert::Infallible;
use std::sync::Arc;

/// What is dear, kept between builds and shared between threads.
pub struct Workshop {
    pub darkroom: Darkroom,
    faces: Memo<Faces>,
    tally: Arc<Tally>,
    keep: Option<Arc<dyn Keep>>,
}

/// The fonts of a cover, and which of them are none: told of every cover, however many share them.
struct Faces {
    typesetter: Typesetter,
    faults: Vec<(String, FontFault)>,
}

/// Remembers for as long as it lives, and keeps nothing beyond.
impl Default for Workshop {
    fn default() -> Self {
        Workshop::new(None)
    }
}

/// A build of one cover: always whole, whatever was wrong.
pub struct Built {
    pub files: Files,
    /// Sorted by place.
    pub findings: Findings,
    /// `None` when the file could not be read as KDL, so that nothing is known of the cover.
    pub design: Option<Design>,
    /// What was asked for.
    pub commission: Commission,
}

impl Built {
    /// Row and column of the table: where a place lies in it, and else the title's own row, with the column that the
    /// place names: `file="art/{plate}.svg"` stands in the template, but what is wrong with it stands under `plate`; and
    /// a file that a cell names is wrong in that cell.
    pub fn cell(&self, span: Span) -> Option<(usize, Option<&str>)> {
        let listed = self.commission.listed.as_ref()?;
        if span.file == TABLE {
            return listed.sheet.table.cell_at(span);
        }
        let row = listed.row()?;
        let text = self.files.text(span.file).unwrap_or_default();
        let line = text.get(span.start..span.end).filter(|said| !said.contains('\n')).unwrap_or_default();
        let speaks = |column: &str| {
            row.cells.iter().find(|cell| cell.column.value == column && !cell.whole.value.trim().is_empty())
        };
        let path = self.files.path(span.file).unwrap_or_default();
        if let Some(cell) = row.cells.iter().find(|cell| self.files.resolve(&cell.whole) == path) {
            return Some((row.number, Some(&cell.column.value)));
        }
        let named = facts_in(line).into_iter().find_map(speaks);
        Some((row.number, named.map(|cell| cell.column.value.as_str())))
    }
}

impl Workshop {
    /// What is dear to make outlasts it in the keep.
    pub fn new(keep: Option<Arc<dyn Keep>>) -> Workshop {
        let tally = Arc::<Tally>::default();
        let darkroom = Darkroom::new(keep.clone(), tally.clone());
        Workshop { darkroom, faces: Memo::bounded(TYPESETTERS, |_| 1), tally, keep }
    }

    /// What was made so far, all covers together.
    pub fn work(&self) -> Work {
        self.tally.work()
    }

    /// The bundled fonts and those of the `fonts` folders beside the files of the cover; opened once for as long as they
    /// stay the same.
    fn faces(&self, findings: &RefCell<Findings>, files: &Files, shelf: &dyn Shelf) -> Arc<Faces> {
        let warn = |path: &str, why: String| {
            let message = format!("the font `{path}` is left out: {why}");
            let finding = Finding::new(Severity::Warning, "file", Span::new(FileId(0), 0..0), message);
            findings.borrow_mut().push(finding.help("replace it, or take it out of the folder"));
        };
        let mut fonts: Vec<(String, Arc<[u8]>)> = Vec::new();
        let found = files.folders().into_iter().flat_map(|folder| shelf.list(&tidy(&format!("{folder}fonts"))));
        for path in found.filter(|path| is_font(path)) {
            match shelf.read(&path) {
                Ok(bytes) => fonts.push((path, bytes)),
                Err(fault) => warn(&path, fault.to_string()),
            }
        }
        let parts: Vec<&[u8]> = fonts.iter().flat_map(|(path, bytes)| [path.as_bytes(), bytes]).collect();
        let key = Digest::of_all(&parts);
        let made = self.faces.get_or(key, || {
            let (library, faults) = Library::open(&fonts);
            let typesetter = Typesetter::new(Arc::new(library), self.tally.clone()).keeping(self.keep.clone(), key);
            Ok::<_, Infallible>(Faces { typesetter, faults })
        });
        let faces = match made {
            Ok(faces) => faces,
            Err(never) => match never {},
        };
        for (path, fault) in &faces.faults {
            warn(path, fault.0.clone());
        }
        faces
    }
}

/// Builds a cover from a shelf. Only a file that does not come is a fault.
pub fn build(workshop: &Workshop, shelf: &dyn Shelf, commission: &Commission) -> Result<Built, ShelfFault> {
    let files = Files::default();
    let findings = RefCell::new(Findings::default());
    let laid = layers(Reading { shelf, files: &files, findings: &findings }, commission)?;
    let design = laid.and_then(|laid| {
        let faces = workshop.faces(&findings, &files, shelf);
        let tools = Tools { findings: &findings, files: &files, shelf, workshop, typesetter: &faces.typesetter };
        design(&tools, &laid.tree)
    });
    let mut findings = findings.into_inner();
    findings.sort();
    Ok(Built { files, findings, design, commission: commission.clone() })
}

fn is_font(path: &str) -> bool {
    let ending = path.rsplit('.').next().unwrap_or_default().to_lowercase();
    matches!(ending.as_str(), "ttf" | "otf" | "ttc" | "otc")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::MapShelf;
    use crate::build::catalogue::catalogue;

    fn told(bytes: &[u8]) -> Vec<(String, Option<(usize, usize)>)> {
        let shelf = MapShelf::default().with("cover.kdl", bytes);
        let built = build(&Workshop::default(), &shelf, &Commission::of("cover.kdl")).expect("the file is there");
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
    fn a_font_that_is_none_is_told_of_every_cover() {
        let shelf = MapShelf::default().with("cover.kdl", *b"book { pages 100 }").with("fonts/a.ttf", *b"no font");
        let workshop = Workshop::default();
        for _ in 0..2 {
            let built = build(&workshop, &shelf, &Commission::of("cover.kdl")).expect("the cover is there");
            assert!(built.findings.iter().any(|finding| finding.message.contains("`fonts/a.ttf` is left out")));
        }
    }

    #[test]
    fn a_title_adds_neither_series_nor_edition() {
        let shelf = MapShelf::default()
            .with("c.kdl", *b"catalogue { template \"t.kdl\"; titles \"t.csv\" }")
            .with("t.kdl", *b"book { pages 100 }\nformat paperback { trim 120 180 }\nedition us { book { pages 90 } }")
            .with("t.csv", *b"title,overrides\nA,o.kdl\n")
            .with("o.kdl", *b"series \"s.kdl\"\nedition us { book { pages 80 } }\nedition uk { book { pages 70 } }");
        let Ok(mut catalogue) = catalogue(&shelf, "c.kdl") else { panic!("the file is there") };
        let commission = Commission { listed: catalogue.titles.pop(), ..Commission::of(&catalogue.template) };
        let built = build(&Workshop::default(), &shelf, &commission).expect("the template is there");
        let errors: Vec<&str> = built.findings.iter().map(|finding| finding.message.as_str()).collect();
        let series = "a file of overrides lies over the template, and has no series of its own";
        assert_eq!(errors, [series, "the template has no edition `uk`"]);
    }

    #[test]
    fn a_missing_cover_is_a_fault() {
        let fault = build(&Workshop::default(), &MapShelf::default(), &Commission::of("cover.kdl")).err();
        assert_eq!(fault, Some(ShelfFault::Missing { nearest: None }));
    }
}
