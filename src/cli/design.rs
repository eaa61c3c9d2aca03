//! Design: one side of a comparison: a cover of now or of a revision, or a report of an earlier build.

use crate::assets::{Picture, Shelf};
use crate::cli::build::unread;
use crate::compare::Flat;
use crate::compile::{Workshop, build};
use crate::disk::Disk;
use crate::ground::{Finding, Severity};
use crate::record::{Commission, Outline};
use crate::scene::Scene;
use crate::targets::{Past, TRIED, Target};
use std::path::{Path, PathBuf};
use std::sync::Arc;

/// Where a design comes from.
#[derive(Clone, Debug, PartialEq)]
pub enum Source {
    Cover(Target),
    Past { past: Arc<Past>, commission: Commission, shown: String },
    Report { path: PathBuf, shown: String },
}

pub struct Design {
    pub shown: String,
    pub outline: Outline,
    pub sight: Sight,
    /// Why the facts that were tried out cannot be: as good as a slip of the command line.
    pub refused: Vec<String>,
}

/// What can be looked at.
pub enum Sight {
    Drawn(Box<Scene>),
    Flat(Box<Flat>),
    None,
}

impl Source {
    pub fn shown(&self) -> &str {
        match self {
            Source::Cover(target) => &target.name,
            Source::Past { shown, .. } | Source::Report { shown, .. } => shown,
        }
    }
}

impl Source {
    /// What its files are called.
    pub fn stem(&self) -> String {
        match self {
            Source::Cover(target) => target.stem.clone(),
            Source::Past { shown, .. } => shown.clone(),
            Source::Report { path, .. } => {
                let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default();
                name.strip_suffix(REPORT).unwrap_or(name).to_owned()
            }
        }
    }
}

/// How a report's name ends.
pub const REPORT: &str = "-report.json";

/// Builds it or reads it; `Err` says why it does not come.
pub fn load(workshop: &Workshop, source: &Source) -> Result<Design, String> {
    match source {
        Source::Cover(target) => {
            let disk = Disk::new(&target.folder);
            built(workshop, &disk, &target.commission, &target.name).map_err(|fault| unread(target, &fault))
        }
        Source::Past { past, commission, shown } => {
            built(workshop, &**past, commission, shown).map_err(|fault| format!("{shown}: {fault}"))
        }
        Source::Report { path, shown } => report(path, shown),
    }
}

fn built(
    workshop: &Workshop,
    shelf: &dyn Shelf,
    commission: &Commission,
    shown: &str,
) -> Result<Design, crate::assets::ShelfFault> {
    let built = build(workshop, shelf, commission)?;
    let outline = Outline::of(&built);
    let tried = |finding: &&Finding| built.files.path(finding.span.file).as_deref() == Some(TRIED);
    let refused = built.findings.iter().filter(tried).filter(|finding| finding.severity == Severity::Error);
    let refused = refused.map(|finding| finding.message.clone()).collect();
    let sight = built.design.map_or(Sight::None, |design| Sight::Drawn(Box::new(design.scene)));
    Ok(Design { shown: shown.to_owned(), outline, sight, refused })
}

/// The flat picture beside a report is what there is to look at.
fn report(path: &Path, shown: &str) -> Result<Design, String> {
    let folder = path.parent().unwrap_or(Path::new("."));
    let name = path.file_name().and_then(|name| name.to_str()).unwrap_or_default();
    let disk = Disk::new(folder);
    let bytes = disk.read(name).map_err(|fault| format!("{shown}: {fault}"))?;
    let outline = Outline::read(&bytes).map_err(|why| format!("{shown} is no report of this version: {why}"))?;
    let flat = name.strip_suffix(REPORT).map(|stem| format!("{stem}-flat.png"));
    let picture = flat.and_then(|flat| Picture::open(&flat, disk.read(&flat).ok()?).ok());
    let flat = picture.and_then(|picture| Flat::new(picture, &outline));
    let sight = flat.map_or(Sight::None, |flat| Sight::Flat(Box::new(flat)));
    Ok(Design { shown: shown.to_owned(), outline, sight, refused: Vec::new() })
}
