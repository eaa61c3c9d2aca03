//! Design: one side of a comparison: a cover of now or of a revision, or a report of an earlier build.

use crate::assets::{Picture, Shelf};
use crate::cli::reply::unread;
use crate::compare::FlatView;
use crate::compile::{Workshop, build};
use crate::disk::Disk;
use crate::ground::{Finding, Severity};
use crate::record::{CoverOutline, CoverRequest};
use crate::scene::Scene;
use crate::targets::{Past, TRIAL, Target};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Where a design comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum DesignSource {
    Cover(Target),
    Past { past: Arc<Past>, request: CoverRequest, shown: String },
    Report { path: PathBuf, shown: String },
}

pub struct LoadedDesign {
    pub shown: String,
    pub outline: CoverOutline,
    pub visible: Visible,
    /// Why facts that were tried cannot be: a mistake of the command line.
    pub refused: Vec<String>,
}

/// What can be looked at.
pub enum Visible {
    Drawn(Box<Scene>),
    Flat(Box<FlatView>),
    None,
}

impl DesignSource {
    pub fn shown(&self) -> &str {
        match self {
            DesignSource::Cover(target) => &target.name,
            DesignSource::Past { shown, .. } | DesignSource::Report { shown, .. } => shown,
        }
    }

    /// What its files are called.
    pub fn stem(&self) -> String {
        match self {
            DesignSource::Cover(target) => target.stem.clone(),
            DesignSource::Past { shown, .. } => shown.clone(),
            DesignSource::Report { path, .. } => {
                let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default();
                name.strip_suffix(REPORT).unwrap_or(name).to_owned()
            }
        }
    }
}

/// How a report's name ends.
pub const REPORT: &str = "-report.json";

/// Builds it or reads it; `Err` says why that is impossible.
pub fn load(workshop: &Workshop, source: &DesignSource) -> Result<LoadedDesign, String> {
    match source {
        DesignSource::Cover(target) => {
            let disk = Disk::new(&target.folder);
            built(workshop, &disk, &target.request, &target.name).map_err(|fault| unread(target, &fault))
        }
        DesignSource::Past { past, request, shown } => {
            built(workshop, &**past, request, shown).map_err(|fault| format!("{shown}: {fault}"))
        }
        DesignSource::Report { path, shown } => report(path, shown),
    }
}

fn built(
    workshop: &Workshop,
    shelf: &dyn Shelf,
    request: &CoverRequest,
    shown: &str,
) -> Result<LoadedDesign, crate::assets::ShelfFault> {
    let built = build(workshop, shelf, request)?;
    let outline = CoverOutline::of(&built);
    let of_trial = |finding: &&Finding| built.files.path(finding.span.file).as_deref() == Some(TRIAL);
    let refused = built.findings.iter().filter(of_trial).filter(|finding| finding.severity == Severity::Error);
    let refused = refused.map(|finding| finding.message.clone()).collect();
    let visible = built.design.map_or(Visible::None, |design| Visible::Drawn(Box::new(design.scene)));
    Ok(LoadedDesign { shown: shown.to_owned(), outline, visible, refused })
}

/// The flat picture beside a report is what there is to look at.
fn report(path: &Path, shown: &str) -> Result<LoadedDesign, String> {
    let folder = path.parent().unwrap_or(Path::new("."));
    let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default();
    let disk = Disk::new(folder);
    let bytes = disk.read(name).map_err(|fault| format!("{shown}: {fault}"))?;
    let outline =
        CoverOutline::read(&bytes).map_err(|why| format!("{shown} is not a report of this version: {why}"))?;
    let flat = name.strip_suffix(REPORT).map(|stem| format!("{stem}-flat.png"));
    let picture = flat.and_then(|flat| Picture::open(&flat, disk.read(&flat).ok()?).ok());
    let flat = picture.and_then(|picture| FlatView::new(picture, &outline));
    let visible = flat.map_or(Visible::None, |flat| Visible::Flat(Box::new(flat)));
    Ok(LoadedDesign { shown: shown.to_owned(), outline, visible, refused: Vec::new() })
}
