//! Rehearsal: the stages one by one, for measurements.

use crate::assets::{Darkroom, Library};
use crate::check::{check, measured_plates};
use crate::cover::{self, Cover};
use crate::disk::Disk;
use crate::ground::{FileId, Findings};
use crate::language;
use crate::language::{Desk, usual_settings};
use crate::output::{OUTPUTS, OutputFile, OutputJob, Particulars};
use crate::scene::Scene;
use crate::source::{Files, Tree, parse};
use crate::typeset::Typesetter;
use std::cell::RefCell;
use std::path::Path;
use std::sync::Arc;

/// One cover and all that its stages need; nothing is remembered between calls but what the workshop remembers.
pub struct Rehearsal {
    disk: Disk,
    text: String,
    darkroom: Darkroom,
    library: Arc<Library>,
    typesetter: Typesetter,
    files: Files,
    findings: RefCell<Findings>,
}

impl Rehearsal {
    pub fn new(folder: &Path, text: String) -> Rehearsal {
        let (library, _) = Library::open(&[]);
        let library = Arc::new(library);
        Rehearsal {
            disk: Disk::new(folder),
            text,
            darkroom: Darkroom::default(),
            typesetter: Typesetter::new(library.clone(), Arc::default()),
            library,
            files: Files::default(),
            findings: RefCell::default(),
        }
    }

    pub fn parse(&self) -> Tree {
        parse(&mut self.findings.borrow_mut(), FileId(0), &self.text)
    }

    /// With the pictures remembered, or opened again.
    pub fn read(&self, tree: &Tree, again: bool) -> Cover {
        let fresh = Darkroom::default();
        let darkroom = if again { &fresh } else { &self.darkroom };
        let desk = Desk::new(&self.disk, darkroom, &self.library, &self.files, &self.findings);
        language::read(&desk, tree)
    }

    /// Draws: with its words remembered, or set again.
    pub fn draw(&self, cover: &Cover, again: bool) -> Scene {
        let fresh = Typesetter::new(self.library.clone(), Arc::default());
        cover::draw(&self.findings, cover, if again { &fresh } else { &self.typesetter })
    }

    /// Asks every rule; returns how many findings there are.
    pub fn check(&self, cover: &Cover, scene: &Scene) -> usize {
        let found = RefCell::default();
        let measured = scene.sheet.pixels.is_none().then(|| measured_plates(scene, &self.darkroom));
        check(&found, cover, scene, measured.as_ref(), &self.darkroom, None);
        found.into_inner().len()
    }

    /// One output, such as `press`, `flat` or `view`: with everything remembered, or made again.
    pub fn write(&self, scene: &Scene, output: &str, again: bool) -> Vec<OutputFile> {
        let fresh = Darkroom::default();
        let darkroom = if again { &fresh } else { &self.darkroom };
        let wanted = OUTPUTS.iter().filter(|known| known.word.name == output);
        let findings = &self.findings.borrow();
        let made = wanted.flat_map(|output| {
            (output.write)(&OutputJob {
                scene,
                findings,
                particulars: &Particulars::default(),
                settings: &usual_settings(&output.word),
                darkroom,
            })
        });
        made.collect()
    }
}
