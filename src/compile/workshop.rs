//! Workshop: what builds share and keep: the list of outputs, opened fonts and pictures, set blocks, drawn tiles.

use crate::assets::{Darkroom, FontFault, Keep, Library, Shelf, Tally, Work, font_files, tidy};
use crate::compile::known_sizes::{KnownSizes, MOST_ALIKE};
use crate::ground::{Digest, FileId, Finding, Findings, Memo, Severity, Span};
use crate::output::{OUTPUTS, Output};
use crate::source::Files;
use crate::typeset::{TYPESETTERS, Typesetter};
use std::cell::RefCell;
use std::convert::Infallible;
use std::sync::Arc;

/// What is slow to make is kept between builds and shared between threads.
pub struct Workshop {
    /// What a cover can be delivered as.
    pub outputs: &'static [&'static Output],
    pub darkroom: Darkroom,
    faces: Memo<FontSet>,
    /// The sizes that other covers of a series find for their words.
    pub sizes: Memo<KnownSizes>,
    tally: Arc<Tally>,
    keep: Option<Arc<dyn Keep>>,
    laps: Option<Laps>,
}

/// Is called when a stage or a rule has ended, with its name: whoever has a clock may time them.
pub type Laps = Box<dyn Fn(&'static str) + Send + Sync>;

/// The fonts of a cover, and which of them cannot be used: every cover has to say so, however many share them.
pub struct FontSet {
    pub typesetter: Typesetter,
    faults: Vec<(String, FontFault)>,
}

/// Remembers for as long as it lives, and keeps nothing beyond.
impl Default for Workshop {
    fn default() -> Self {
        Workshop::new(None)
    }
}

impl Workshop {
    /// What is slow to make outlasts it in the keep.
    pub fn new(keep: Option<Arc<dyn Keep>>) -> Workshop {
        let tally = Arc::<Tally>::default();
        let darkroom = Darkroom::new(keep.clone(), tally.clone());
        let (faces, sizes) = (Memo::bounded(TYPESETTERS, |_| 1), Memo::bounded(16 * MOST_ALIKE, |_| 1));
        Workshop { outputs: OUTPUTS, darkroom, faces, sizes, tally, keep, laps: None }
    }

    /// The same, with somebody who times it.
    #[must_use]
    pub fn timed(self, laps: Laps) -> Workshop {
        Workshop { laps: Some(laps), ..self }
    }

    /// A stage or a rule has ended.
    pub fn lap(&self, name: &'static str) {
        if let Some(laps) = &self.laps {
            laps(name);
        }
    }

    /// Who times it, if anybody does.
    pub fn laps(&self) -> Option<&dyn Fn(&'static str)> {
        self.laps.as_ref().map(|laps| &**laps as &dyn Fn(&'static str))
    }

    /// What was made so far, all covers together.
    pub fn work(&self) -> Work {
        self.tally.work()
    }

    /// The bundled fonts and those of the `fonts` folders beside the files of the cover; opened once for as long as they
    /// stay the same.
    pub fn faces(&self, findings: &RefCell<Findings>, files: &Files, shelf: &dyn Shelf) -> Arc<FontSet> {
        let warn = |path: &str, why: String| {
            let message = format!("the font `{path}` is left out: {why}");
            let finding = Finding::new(Severity::Warning, "file", Span::new(FileId(0), 0..0), message);
            findings.borrow_mut().push(finding.help("replace it, or take it out of the folder"));
        };
        let found = files.folders().into_iter().flat_map(|folder| shelf.list(&tidy(&format!("{folder}fonts"))));
        let (fonts, left_out) = font_files(shelf, found);
        for (path, why) in left_out {
            warn(&path, why);
        }
        let parts: Vec<&[u8]> = fonts.iter().flat_map(|(path, bytes)| [path.as_bytes(), bytes]).collect();
        let key = Digest::of_all(&parts);
        let made = self.faces.get_or(key, || {
            let (library, faults) = Library::open(&fonts);
            let typesetter = Typesetter::new(Arc::new(library), self.tally.clone()).keeping(self.keep.clone(), key);
            Ok::<_, Infallible>(FontSet { typesetter, faults })
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
