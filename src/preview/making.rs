//! Making: a cover built from its files for the page: its picture, or the mistake that is in the way of one.

use crate::assets::{Shelf, ShelfFault};
use crate::compile::{Workshop, build};
use crate::ground::Severity;
use crate::preview::account::{NumberedFinding, findings, typed_path};
use crate::preview::brief::{Mistake, TitleBrief};
use crate::preview::shown::{ShownCover, shown};
use crate::record::{Built, CoverRequest, LocatedFinding, LocatedSubject};
use crate::scene::PanelName;
use crate::targets::{Target, variants};
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::sync::Arc;

pub struct MadeCover {
    pub brief: TitleBrief,
    /// `None` when nothing could be drawn; then `mistake` says why.
    pub shown: Option<ShownCover>,
    pub mistake: Option<Mistake>,
    pub editions: Vec<String>,
    /// What came of it; `None` when it could not be read at all.
    pub built: Option<Arc<Built>>,
}

/// Builds a cover and draws nothing yet. A fault of the program itself stays with this cover.
pub fn make(workshop: &Workshop, shelf: &dyn Shelf, target: &Target, request: &CoverRequest) -> MadeCover {
    let work = || match build(workshop, shelf, request) {
        Err(fault) => failed(target, &request.path, &unread(&fault)),
        Ok(built) => {
            let own = CoverRequest { edition: None, trial: None, ..request.clone() };
            let editions = variants(shelf, &own).into_iter().flatten().collect();
            pictured(workshop, target, editions, Arc::new(built))
        }
    };
    catch_unwind(AssertUnwindSafe(work)).unwrap_or_else(|_| {
        let what = "the program itself met a fault in this cover; please report it, with the lines in the terminal";
        failed(target, &request.path, what)
    })
}

fn pictured(workshop: &Workshop, target: &Target, editions: Vec<String>, built: Arc<Built>) -> MadeCover {
    let mut brief = TitleBrief::counted(&built);
    let mistake = Mistake { findings: findings(target, &built) };
    let Some(shown) = shown(target, &editions, &built) else {
        return MadeCover { brief, shown: None, mistake: Some(mistake), editions, built: Some(built) };
    };
    let face = |panel| shown.face_name(panel, &workshop.darkroom).map(|name| name.to_string());
    (brief.front, brief.spine) = (face(PanelName::Front), face(PanelName::Spine));
    brief.title.clone_from(&shown.scene().job.title);
    brief.drawn = true;
    MadeCover { brief, shown: Some(shown), mistake: None, editions, built: Some(built) }
}

/// A cover of which nothing is known but why.
fn failed(target: &Target, path: &str, why: &str) -> MadeCover {
    let found = LocatedFinding {
        severity: Severity::Error,
        rule: "file",
        file: typed_path(target, path),
        line: 1,
        column: 1,
        message: why.to_owned(),
        help: None,
        place: None,
        subject: LocatedSubject::default(),
    };
    let findings = vec![NumberedFinding { number: 1, found, source: String::new() }];
    let brief = TitleBrief { errors: 1, ..TitleBrief::default() };
    MadeCover { brief, shown: None, mistake: Some(Mistake { findings }), editions: Vec::new(), built: None }
}

fn unread(fault: &ShelfFault) -> String {
    match fault {
        ShelfFault::Missing { nearest: Some(near) } => format!("{fault}; did you mean {near}?"),
        _ => fault.to_string(),
    }
}
