//! Differences: what was lost or changed between a PDF that was sent and one that came back.

use crate::ground::{Rect, Severity, number};
use crate::printed::difference::{PdfDifference, Tell};
use crate::printed::page::{BOXES, PrintedPage};
use crate::printed::plates::plates;
use std::collections::BTreeSet;

/// Millimetres that rounding may move a box.
const SAME: f64 = 0.05;

pub fn differences(ours: &PrintedPage, returned: &PrintedPage) -> Vec<PdfDifference> {
    let mut all = Vec::new();
    let mut tell = |severity, about, message: String| all.push(PdfDifference { severity, about, message });
    if ours.pages != returned.pages {
        let message = format!("it has {} pages; ours has {}", returned.pages, ours.pages);
        tell(Severity::Warning, "pages", message);
    }
    boxes(ours, returned, &mut tell);
    for spot in ours.spots.difference(&returned.spots) {
        tell(Severity::Error, "spots", format!("nothing is printed in the spot ink {spot:?} any more"));
    }
    for spot in returned.spots.difference(&ours.spots) {
        tell(Severity::Warning, "spots", format!("it prints in a spot ink {spot:?} that ours does not have"));
    }
    fonts(ours, returned, &mut tell);
    overprint(ours, returned, &mut tell);
    plates(ours, returned, &mut tell);
    if ours.condition != returned.condition {
        let shown = |name: &Option<String>| name.as_ref().map_or_else(|| "none".to_owned(), |name| format!("{name:?}"));
        let message =
            format!("its output condition is {}; ours is {}", shown(&returned.condition), shown(&ours.condition));
        tell(Severity::Warning, "condition", message);
    }
    if ours.is_cut_short || returned.is_cut_short {
        let message = "one of the pages holds more than is looked at; not all of it was compared";
        tell(Severity::Note, "pages", message.to_owned());
    }
    all
}

/// Sizes, and the place of the others from the trim: a page may have been given more paper around it.
fn boxes(ours: &PrintedPage, returned: &PrintedPage, tell: &mut Tell<'_>) {
    for name in BOXES {
        match (ours.boxes.get(name), returned.boxes.get(name)) {
            (Some(own), Some(other)) => {
                let (own_size, size) = ((own.width(), own.height()), (other.width(), other.height()));
                let differs = |a: f64, b: f64| (a - b).abs() > SAME;
                if differs(own_size.0, size.0) || differs(own_size.1, size.1) {
                    let severity =
                        if matches!(name, "TrimBox" | "BleedBox") { Severity::Error } else { Severity::Note };
                    tell(severity, "boxes", format!("its {name} is {}; ours is {}", shown(*other), shown(*own)));
                }
            }
            (Some(own), None) => {
                let severity = if name == "TrimBox" { Severity::Error } else { Severity::Warning };
                tell(severity, "boxes", format!("it has no {name}; ours is {}", shown(*own)));
            }
            _ => {}
        }
    }
    let gaps = |page: &PrintedPage| {
        let (trim, bleed) = (page.boxes.get("TrimBox")?, page.boxes.get("BleedBox")?);
        Some([trim.x0 - bleed.x0, trim.y0 - bleed.y0])
    };
    if let (Some(own), Some(other)) = (gaps(ours), gaps(returned))
        && own.iter().zip(other).any(|(own, other)| (own - other).abs() > SAME)
    {
        tell(Severity::Error, "boxes", "its trim lies elsewhere in the bleed than ours".to_owned());
    }
}

/// `129 × 198 mm`
fn shown(rect: Rect) -> String {
    let hundredths = |mm: f64| number((mm * 100.0).round() / 100.0);
    format!("{} × {} mm", hundredths(rect.width()), hundredths(rect.height()))
}

fn fonts(ours: &PrintedPage, returned: &PrintedPage, tell: &mut Tell<'_>) {
    if ours.texts > 0 && returned.texts == 0 {
        tell(Severity::Warning, "text", "its words are outlines or pixels: it has no text any more".to_owned());
        return;
    }
    let names = |page: &PrintedPage| page.fonts.keys().cloned().collect::<BTreeSet<String>>();
    for font in names(ours).difference(&names(returned)) {
        tell(Severity::Warning, "fonts", format!("the font {font} is gone"));
    }
    for font in names(returned).difference(&names(ours)) {
        tell(Severity::Warning, "fonts", format!("the font {font} is new"));
    }
    for (font, _) in returned.fonts.iter().filter(|(_, inside)| !**inside) {
        tell(Severity::Error, "fonts", format!("the font {font} is not inside the file"));
    }
}

fn overprinting(count: usize) -> String {
    if count == 1 { "1 thing overprints".to_owned() } else { format!("{count} things overprint") }
}

fn overprint(ours: &PrintedPage, returned: &PrintedPage, tell: &mut Tell<'_>) {
    let (own, other) = (ours.overprinted, returned.overprinted);
    if own > 0 && other == 0 {
        tell(Severity::Error, "overprint", format!("overprint is lost: ours has it in {own} places"));
    } else if own == 0 && other > 0 {
        tell(
            Severity::Error,
            "overprint",
            format!("{} that knock{} out in ours", overprinting(other), if other == 1 { "s" } else { "" }),
        );
    } else if own != other {
        tell(Severity::Warning, "overprint", format!("{}; in ours {own}", overprinting(other)));
    }
}
