//! Keyline: the printer's page to design on, held against our sheet, in millimetres.

use crate::check::limit::{RuleLimit, in_mm};
use crate::check::rule::mm;
use crate::cover::Keyline;
use crate::ground::{Rect, Severity, Span};
use crate::printed::{PageLine, PdfDifference, PrintedPage};
use crate::scene::{FoldKind, Sheet};
use std::sync::Arc;

/// A quarter of what a cut may be off: what is drawn should be nearer than what is cut.
pub const SAME: RuleLimit = in_mm("same", "a trim, bleed or fold this far from ours differs", "0.25", "ours").most();
/// A line further away belongs to something else.
const NEAR: f64 = 12.0;
/// A fold is drawn along at least this share of the height, marks at its ends included.
const LONG: f64 = 0.5;

// Ways out.
const NO_TRIM: &str = "ask the printer for a PDF that states its TrimBox";
const MORE_BLEED: &str = "state the printer's bleed in `format`, such as `bleed 5`";
const OTHER_SIZE: &str =
    "state the printer's numbers in `format`, such as `spine 19.8`; or ask the printer for a new file";

/// Something that is otherwise on the printer's page.
pub struct KeylineDifference {
    pub difference: PdfDifference,
    pub help: &'static str,
    /// Where it shows on our sheet.
    pub place: Rect,
    /// Millimetres.
    pub off: f64,
}

/// Where a page differs from our sheet by more than usual.
pub fn keyline_differences(sheet: &Sheet, page: &Arc<PrintedPage>) -> Vec<PdfDifference> {
    let keyline = Keyline { page: page.clone(), span: Span::default() };
    against_keyline(sheet, &keyline, SAME.usual()).into_iter().map(|one| one.difference).collect()
}

/// Where the printer's page differs from our sheet by more than `same`.
pub fn against_keyline(sheet: &Sheet, keyline: &Keyline, same: f64) -> Vec<KeylineDifference> {
    let (mut all, ours) = (Vec::new(), sheet.trim);
    let mut report = |severity, (about, help), place, off, message: String| {
        all.push(KeylineDifference { difference: PdfDifference { severity, about, message }, help, place, off });
    };
    let Some(trim) = keyline.trim(ours) else {
        let message = "the keyline has no TrimBox and no frame of our size, so nothing can be measured from its trim";
        report(Severity::Warning, ("boxes", NO_TRIM), ours, 0.0, message.to_owned());
        return all;
    };
    for (side, theirs, own) in [("wide", trim.width(), ours.width()), ("high", trim.height(), ours.height())] {
        let off = (theirs - own).abs();
        if off > same {
            let message = format!("the keyline's trim is {} {side}; ours is {}", mm(theirs), mm(own));
            report(Severity::Error, ("boxes", OTHER_SIZE), ours, off, message);
        }
    }
    // Where the whole page is repeated as every box, it says nothing of the bleed.
    let media = keyline.page.boxes.get("MediaBox");
    let bleed = keyline.page.boxes.get("BleedBox").filter(|bleed| media != Some(*bleed) || trim == **bleed);
    if let Some(bleed) = bleed {
        let sides = [trim.x0 - bleed.x0, trim.y0 - bleed.y0, bleed.x1 - trim.x1, bleed.y1 - trim.y1];
        let (theirs, own) = (sides.into_iter().fold(0.0, f64::max), ours.x0 - sheet.bleed.x0);
        if theirs > own + same {
            let message = format!("the keyline asks for a bleed of {}; ours is {}", mm(theirs), mm(own));
            report(Severity::Error, ("boxes", MORE_BLEED), sheet.bleed, theirs - own, message);
        }
    }
    let is_fold = |line: &&PageLine| line.upright && line.to - line.from >= LONG * trim.height();
    let lines = keyline.page.lines.iter().filter(is_fold).map(|line| line.at - trim.x0);
    let folds: Vec<f64> = sheet.folds.iter().map(|fold| fold.x - ours.x0).collect();
    let fits = |line: f64| folds.iter().any(|fold| (line - fold).abs() <= same);
    let is_edge = |line: f64| line.abs() <= same || (line - trim.width()).abs() <= same;
    let (fitting, others): (Vec<f64>, Vec<f64>) = lines.partition(|line| fits(*line));
    for (fold, own) in sheet.folds.iter().zip(&folds) {
        if fitting.iter().any(|line| (line - own).abs() <= same) {
            continue;
        }
        let near = others.iter().copied().filter(|line| !is_edge(*line) && (line - own).abs() <= NEAR);
        let place = Rect::new(fold.x, ours.y0, fold.x, ours.y1);
        if let Some(line) = near.min_by(|a, b| (a - own).abs().total_cmp(&(b - own).abs())) {
            let message =
                format!("the keyline folds {} from the left of the trim; ours folds at {}", mm(line), mm(*own));
            report(Severity::Error, ("folds", OTHER_SIZE), place, (line - own).abs(), message);
        } else {
            // Where a hinge is scored is often left to the bindery.
            let severity = if fold.kind == FoldKind::Fold { Severity::Warning } else { Severity::Note };
            let message = format!("the keyline has no line near our fold at {} from the left of the trim", mm(*own));
            report(severity, ("folds", OTHER_SIZE), place, NEAR, message);
        }
    }
    all
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::scene::Fold;

    /// A sheet of two pages of 129 mm and a spine of 20 mm, scored 7 mm from it, and the printer's page of it, with its
    /// folds.
    fn reported(trim: f64, bleed: f64, folds: &[f64]) -> Vec<(Severity, String)> {
        let fold = |x, kind| Fold { x, kind };
        let sheet = Sheet {
            trim: Rect::new(0.0, 0.0, 278.0, 198.0),
            bleed: Rect::new(-3.0, -3.0, 281.0, 201.0),
            panels: Vec::new(),
            folds: vec![
                fold(122.0, FoldKind::Score),
                fold(129.0, FoldKind::Fold),
                fold(149.0, FoldKind::Fold),
                fold(156.0, FoldKind::Score),
            ],
            bound_right: false,
            pixels: None,
        };
        let mut page = PrintedPage::default();
        page.boxes.insert("TrimBox", Rect::new(20.0, 20.0, 20.0 + trim, 218.0));
        page.boxes.insert("BleedBox", Rect::new(20.0 - bleed, 20.0 - bleed, 20.0 + trim + bleed, 218.0 + bleed));
        let line = |at: f64, to: f64| PageLine { upright: true, at, from: 20.0, to };
        page.lines = folds.iter().map(|fold| line(20.0 + fold, 218.0)).collect();
        // A short mark is no fold.
        page.lines.push(line(20.0 + 129.0, 25.0));
        keyline_differences(&sheet, &Arc::new(page)).into_iter().map(|one| (one.severity, one.message)).collect()
    }

    #[test]
    fn trim_bleed_and_folds_within_a_quarter_of_a_millimetre() {
        assert_eq!(reported(278.2, 3.0, &[122.0, 129.2, 148.8, 156.1]), []);
        assert_eq!(
            reported(280.0, 5.0, &[122.0, 129.0, 151.0, 156.0]),
            [
                (Severity::Error, "the keyline's trim is 280 mm wide; ours is 278 mm".to_owned()),
                (Severity::Error, "the keyline asks for a bleed of 5 mm; ours is 3 mm".to_owned()),
                (
                    Severity::Error,
                    "the keyline folds 151 mm from the left of the trim; ours folds at 149 mm".to_owned()
                ),
            ]
        );
        assert_eq!(reported(278.0, 3.0, &[122.0, 129.0, 190.0, 156.0])[0].0, Severity::Warning);
    }

    /// The lines of the folds are not taken for scores that stand somewhere else.
    #[test]
    fn scores_that_are_not_drawn_are_a_note() {
        let notes = reported(278.0, 3.0, &[0.0, 129.0, 149.0, 278.0]);
        assert_eq!(notes.len(), 2);
        assert!(notes.iter().all(|(severity, message)| {
            *severity == Severity::Note && message.starts_with("the keyline has no line near our fold at 1")
        }));
    }
}
