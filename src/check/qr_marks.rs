//! QR marks: a QR code as it stands on the sheet, measured off its marks.

use crate::check::visible::VisibleElement;
use crate::cover::QR_QUIET;
use crate::ground::{Ink, Paint, PathEl, Rect};
use crate::scene::{Kind, Mark};

pub struct QrMarks {
    /// The side of a module, in millimetres.
    pub module: f64,
    /// The symbol with its quiet zones.
    pub zone: Rect,
    pub ink: Ink,
}

impl QrMarks {
    /// `None` when the element has no dark modules to be found.
    pub fn of(element: &VisibleElement<'_>) -> Option<QrMarks> {
        if !element.is(Kind::QrCode) {
            return None;
        }
        // The last mark is the modules, each run of a row as a rectangle; the one below it, if any, is the ground.
        let shown = element.marks.last()?;
        let Mark::Fill { path, paint: Paint::Ink(ink), .. } = &shown.item.mark else { return None };
        let parts = path.elements().iter().filter(|part| matches!(part, PathEl::MoveTo(_))).count();
        if parts < 2 {
            return None;
        }
        // The upper left corner of every symbol is a dark run of seven modules (ISO/IEC 18004, the finder pattern).
        let mut points = path.elements().iter().filter_map(|part| match part {
            PathEl::MoveTo(point) | PathEl::LineTo(point) => Some(*point),
            _ => None,
        });
        let (first, second) = (points.next()?, points.next()?);
        let module = first.distance(second) / FINDER;
        let quiet = QR_QUIET as f64 * module;
        Some(QrMarks { module, zone: shown.bounds.inflate(quiet, quiet), ink: ink.clone() })
    }
}

const FINDER: f64 = 7.0;
