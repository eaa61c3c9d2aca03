//! Keyline: the drawing of trim and folds that a printer sent to design on, held against our sheet, in millimetres.

use crate::ground::{Severity, number};
use crate::printed::{PageLine, PdfDifference, PrintedPage};
use crate::scene::Sheet;

/// Millimetres by which a printer's numbers may differ from ours.
const SAME: f64 = 0.25;
/// A line further away belongs to something else.
const NEAR: f64 = 12.0;
/// A fold is drawn along at least this share of the height, marks at its ends included.
const LONG: f64 = 0.5;

/// Where the printer's page differs from our sheet. Its trim is its TrimBox.
pub fn against_keyline(sheet: &Sheet, page: &PrintedPage) -> Vec<PdfDifference> {
    let mut all = Vec::new();
    let mut tell = |severity, about, message: String| all.push(PdfDifference { severity, about, message });
    let Some(trim) = page.boxes.get("TrimBox").copied() else {
        tell(Severity::Warning, "boxes", "it has no TrimBox, so its folds cannot be measured from the trim".to_owned());
        return all;
    };
    let ours = sheet.trim;
    for (side, theirs, own) in [("wide", trim.width(), ours.width()), ("high", trim.height(), ours.height())] {
        if (theirs - own).abs() > SAME {
            tell(Severity::Error, "boxes", format!("its trim is {} {side}; ours is {}", mm(theirs), mm(own)));
        }
    }
    if let Some(bleed) = page.boxes.get("BleedBox") {
        let (theirs, own) = (trim.x0 - bleed.x0, ours.x0 - sheet.bleed.x0);
        if theirs > own + SAME {
            tell(Severity::Error, "boxes", format!("it asks for a bleed of {}; ours is {}", mm(theirs), mm(own)));
        }
    }
    let is_fold = |line: &&PageLine| line.upright && line.to - line.from >= LONG * trim.height();
    let lines: Vec<f64> = page.lines.iter().filter(is_fold).map(|line| line.at - trim.x0).collect();
    for fold in &sheet.folds {
        let own = fold.x - ours.x0;
        let nearest = lines.iter().copied().min_by(|a, b| (a - own).abs().total_cmp(&(b - own).abs()));
        match nearest.filter(|line| (line - own).abs() <= NEAR) {
            Some(line) if (line - own).abs() <= SAME => {}
            Some(line) => {
                let message = format!("it folds {} from the left of the trim; ours folds at {}", mm(line), mm(own));
                tell(Severity::Error, "folds", message);
            }
            None => {
                let message = format!("it has no line near our fold at {} from the left of the trim", mm(own));
                tell(Severity::Warning, "folds", message);
            }
        }
    }
    all
}

fn mm(value: f64) -> String {
    format!("{} mm", number((value * 100.0).round() / 100.0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Rect;
    use crate::scene::{Fold, FoldKind};

    /// A sheet of two pages of 129 mm and a spine of 20 mm, and the printer's page of it, with its folds.
    fn told(trim: f64, bleed: f64, folds: [f64; 2]) -> Vec<(Severity, String)> {
        let fold = |x| Fold { x, kind: FoldKind::Fold };
        let sheet = Sheet {
            trim: Rect::new(0.0, 0.0, 278.0, 198.0),
            bleed: Rect::new(-3.0, -3.0, 281.0, 201.0),
            panels: Vec::new(),
            folds: vec![fold(129.0), fold(149.0)],
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
        against_keyline(&sheet, &page).into_iter().map(|one| (one.severity, one.message)).collect()
    }

    #[test]
    fn trim_bleed_and_folds_within_a_quarter_of_a_millimetre() {
        assert_eq!(told(278.2, 3.0, [129.2, 148.8]), []);
        assert_eq!(
            told(280.0, 5.0, [129.0, 151.0]),
            [
                (Severity::Error, "its trim is 280 mm wide; ours is 278 mm".to_owned()),
                (Severity::Error, "it asks for a bleed of 5 mm; ours is 3 mm".to_owned()),
                (Severity::Error, "it folds 151 mm from the left of the trim; ours folds at 149 mm".to_owned()),
            ]
        );
        assert_eq!(told(278.0, 3.0, [129.0, 190.0]).len(), 1);
    }
}
