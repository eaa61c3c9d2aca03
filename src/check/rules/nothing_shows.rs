//! An element of which nothing shows on the printed sheet.
//!
//! It is off the sheet, something drawn later covers it, it has the colour of what lies under it, a frame cuts it away, it is
//! thinned so far that no ink is left, or it is a picture whose pixels are all clear. Either it should be seen, or it was
//! forgotten.
//!
//! - shapes, pictures and bar codes wholly off the sheet, cut away by a frame, without a pixel that prints, or under others
//!   and such that the composed sheet is the same without them: warning. Common practice. Words are
//!   `words-covered`, `outside-safe` and `low-contrast`.
//! - elements under so many others, or cut by so many shapes, that composing the sheet for each would take too long: a note
//!   says how many were not looked at.
//!
//! ```kdl
//! panel front {
//!     oval moon { swatch black percent=30; left 40; width 20; top 40; height 20 }
//!     band night { swatch black; left fold -1.5; right bleed; top bleed; bottom bleed }
//! }
//! ```
//!
//! Way out: move it, write `over NAME` so that it is drawn later, or take it out.

use crate::check::cut_away::{CutElement, cut_elements};
use crate::check::exam::Exam;
use crate::check::hidden::{Hidden, hidden};
use crate::check::proof::Patience;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::under::overlap;
use crate::check::visible::{VisibleElement, VisibleMark};
use crate::ground::{Blend, Severity};
use crate::scene::{Item, Kind, Mark, Media, Origin, Surface};
use std::collections::BTreeSet;

pub const RULE: CheckRule = CheckRule {
    name: "nothing-shows",
    severity: Severity::Warning,
    media: Media::Both,
    limits: &[],
    source: include_str!("nothing_shows.rs"),
    run,
};

/// A thinner group leaves no dot.
const THINNEST: f64 = 0.01;
const HELP: &str = "move it, draw it later with `over NAME`, or take it out";
const CUT_HELP: &str = "move it, make what cuts it larger, or take it out";
const BLANK_HELP: &str = "export it again with what it should show, or take it out; the press file leaves it out";

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let bleed = exam.sheet().bleed;
    let (mut patience, mut unasked) = (Patience::default(), Vec::new());
    // What runs round a printed cover may show elsewhere than on the front.
    let elsewhere = |element: &VisibleElement<'_>| exam.screen().is_some() && element.origin.panel == Surface::Wrap;
    let judged = |element: &VisibleElement<'_>| !element.is(Kind::Text) && !elsewhere(element);
    for (element, hidden) in exam.elements.iter().zip(hidden(exam)).filter(|(element, _)| judged(element)) {
        let mut help = HELP;
        let message = if !overlap(element.bounds, bleed) {
            format!("{} lies wholly off the sheet", element.name())
        } else if is_blank(element) {
            let message = format!("nothing of {} shows: all pixels of its picture are clear", element.name());
            findings.element(Severity::Warning, element, message, BLANK_HELP);
            continue;
        } else if hidden == Hidden::Wholly {
            format!("nothing of {} shows: what is drawn later covers it", element.name())
        } else if hidden == Hidden::Perhaps {
            match exam.shows(element, &mut patience) {
                Some(true) => continue,
                Some(false) if exam.adds(element, &mut patience) == Some(false) => {
                    format!("nothing of {} shows: it has the colour of what lies under it", element.name())
                }
                Some(false) => format!("nothing of {} shows: what is drawn later covers it", element.name()),
                None => {
                    unasked.push(element);
                    continue;
                }
            }
        } else if !element.marks.is_empty() && element.marks.iter().all(|mark| mark.is_shaped) {
            // Its box shows; what cuts it is no box.
            match exam.adds(element, &mut patience) {
                Some(true) => continue,
                Some(false) if is_cut_off(exam, element.origin, &mut patience) => continue,
                Some(false) => {
                    help = CUT_HELP;
                    format!(
                        "nothing of {} shows: it is cut away, or has the colour of what lies under it",
                        element.name()
                    )
                }
                None => {
                    unasked.push(element);
                    continue;
                }
            }
        } else {
            continue;
        };
        findings.element(Severity::Warning, element, message, help);
    }
    if let Some(first) = unasked.first() {
        let message = format!(
            "whether {} elements under others or cut by shapes show was not looked at, {} the first of them: {}",
            unasked.len(),
            first.name(),
            Patience::LIMIT,
        );
        findings.element(
            Severity::Note,
            first,
            message,
            "let fewer elements lie over each other, or draw them as one picture",
        );
    }
    let visible: BTreeSet<*const Origin> =
        exam.elements.iter().map(|element| std::ptr::from_ref(element.origin)).collect();
    let mut reported: BTreeSet<*const Origin> = BTreeSet::new();
    unseen(&exam.scene.items, false, &mut |origin, thin| {
        let seen = !thin && visible.contains(&std::ptr::from_ref(origin));
        let is_told = !thin && is_code(origin) && overlap(origin.frame, bleed);
        if origin.kind == Kind::Text || seen || is_told || !reported.insert(std::ptr::from_ref(origin)) {
            return;
        }
        let (cause, help) = if thin {
            ("it is thinned to nothing", "give it more `opacity`, or take it out")
        } else {
            ("a `clip` cuts it away", CUT_HELP)
        };
        let message = format!("nothing of `{}` shows: {cause}", origin.element);
        findings.place(Severity::Warning, origin.span, origin.frame, message, help);
    });
}

fn is_code(origin: &Origin) -> bool {
    matches!(origin.kind, Kind::BarCode | Kind::QrCode)
}

/// A code that clips take away: `cut-by-clip` says so.
fn is_cut_off(exam: &Exam<'_>, origin: &Origin, patience: &mut Patience) -> bool {
    let is_lost = |cut: &CutElement<'_>, patience: &mut Patience| {
        let lost = cut.lost(exam, patience).unwrap_or_default();
        lost.iter().flatten().any(|share| *share > 0.99)
    };
    is_code(origin)
        && cut_elements(exam.scene).iter().any(|cut| std::ptr::eq(cut.origin, origin) && is_lost(cut, patience))
}

/// Pictures alone, none of which has a pixel that prints.
fn is_blank(element: &VisibleElement<'_>) -> bool {
    let blank = |shown: &VisibleMark<'_>| matches!(&shown.item.mark, Mark::Picture(placed) if placed.is_blank());
    element.is(Kind::Picture) && !element.marks.is_empty() && element.marks.iter().all(blank)
}

/// Every mark with what its groups leave of it.
fn unseen<'a>(items: &'a [Item], thin: bool, visit: &mut impl FnMut(&'a Origin, bool)) {
    for item in items {
        match &item.mark {
            Mark::Group(group) => {
                let thin = thin || (group.opacity < THINNEST && group.blend == Blend::Normal);
                unseen(&group.items, thin, visit);
            }
            _ if item.bounds().is_some() => visit(&item.origin, thin),
            _ => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    fn messages(cover: &str) -> Vec<String> {
        reported(&RULE, cover).into_iter().map(|found| found.message).collect()
    }

    #[test]
    fn under_another() {
        let found = example(&RULE);
        assert_eq!(found.len(), 1, "{found:?}");
        assert_eq!(found[0].message, "nothing of `moon` shows: what is drawn later covers it");
        // Two bands side by side cover as one does.
        let two = "panel front {
            oval moon { swatch black percent=30; left 40; width 20; top 40; height 20 }
            band a { swatch black; left 20; width 31; top 20; height 60 }
            band b { swatch black; left 50; width 30; top 20; height 60 }
        }";
        assert_eq!(messages(two).len(), 1);
    }

    #[test]
    fn off_the_sheet_cut_away_and_thinned_to_nothing() {
        let off = "panel front { band a { swatch black; left 300; width 20; top 20; height 20 } }";
        assert_eq!(messages(off), ["`a` lies wholly off the sheet"]);
        let cut = "panel front { group g { left 20; width 40; top 20; height 40; clip frame
            band a { swatch black; left 50; width 20; top 0; height 20 } } }";
        assert_eq!(messages(cut), ["nothing of `a` shows: a `clip` cuts it away"]);
        // In a corner of the box around an oval.
        let shaped = |left: u32| {
            format!(
                "panel front {{ group g {{ left 20; width 40; top 20; height 40; clip oval
                band a {{ swatch black; left {left}; width 5; top 0; height 5 }} }} }}"
            )
        };
        assert_eq!(
            messages(&shaped(0)),
            ["nothing of `a` shows: it is cut away, or has the colour of what lies under it"]
        );
        assert_eq!(messages(&shaped(5)), [""; 0], "a corner of it shows");
        let thin = "panel front { band a { swatch black; opacity 0; left 20; width 20; top 20; height 20 } }";
        assert_eq!(messages(thin), ["nothing of `a` shows: it is thinned to nothing"]);
    }

    // `cut-by-clip` says how much of a code is cut off: once is enough. Off the sheet it does not look.
    #[test]
    fn codes_that_are_cut_away_are_reported_once() {
        for clip in ["clip frame", "clip oval"] {
            let code = |left: u32, top: u32| {
                let cover = format!(
                    "panel back {{ group g {{ left 10; width 60; top 20; height 60; {clip}
                     qr-code q words=\"tides\" {{ left {left}; top {top}; width 8 }} }} }}"
                );
                [&RULE, &crate::check::rules::cut_by_clip::RULE].map(|rule| reported(rule, &cover).len())
            };
            assert_eq!(code(80, 0), [0, 1], "{clip}");
            assert_eq!(code(0, 0), [0, usize::from(clip == "clip oval")], "{clip}");
            assert_eq!(code(800, 0), [1, 0], "{clip}");
        }
    }

    #[test]
    fn a_picture_whose_pixels_are_all_clear() {
        let cover =
            |file: &str| format!("panel front {{ image d file=\"art/{file}\" {{ left 20; width 40; top 20 }} }}");
        assert_eq!(messages(&cover("clear.png")), ["nothing of `d` shows: all pixels of its picture are clear"]);
        assert_eq!(messages(&cover("soft.png")), [""; 0]);
    }

    #[test]
    fn the_colour_of_the_ground_is_told_from_what_covers() {
        let cover = |percent: u32| {
            format!(
                "panel front {{
                    band ground {{ swatch black percent=40; left fold; right bleed; top bleed; bottom bleed }}
                    band patch {{ swatch black percent={percent}; left 30; width 20; top 30; height 20 }}
                    oval ring {{ stroke black; left 20; width 40; top 20; height 40 }}
                    path frame data=\"M0 0L40 0L40 40L0 40Z M5 5L5 35L35 35L35 5Z\" {{
                        swatch black; left 20; width 40; top 20; height 40
                    }}
                }}"
            )
        };
        assert_eq!(messages(&cover(40)), ["nothing of `patch` shows: it has the colour of what lies under it"]);
        assert_eq!(messages(&cover(60)), [""; 0]);
    }

    #[test]
    fn what_peeps_out_passes() {
        let cover = |left: u32, more: &str| {
            format!(
                "panel front {{
                    oval moon {{ swatch black percent=30; left 40; width 20; top 40; height 20 }}
                    band night {{ swatch black; left {left}; right bleed; top bleed; bottom bleed; {more} }}
                }}"
            )
        };
        assert_eq!(messages(&cover(45, "")), [""; 0]);
        assert_eq!(messages(&cover(20, "opacity 50")), [""; 0]);
    }

    #[test]
    fn a_pattern_is_looked_at_element_by_element() {
        let dot = |at: u32| {
            let (left, top) = (at % 100, at / 100);
            format!("oval o{at} {{ swatch black; left {left}; width 0.8; top {top}; height 0.8 }}\n")
        };
        let dots: String = (0..2000).map(dot).collect();
        let off = "band off { swatch black; left 300; width 20; top 20; height 20 }";
        assert_eq!(messages(&format!("panel front {{ {dots} {off} }}")), ["`off` lies wholly off the sheet"]);
        let lid = "band lid { swatch black; left -1; width 102; top -1; height 9.9 }";
        assert_eq!(messages(&format!("panel front {{ {dots} {lid} }}")).len(), 900);
        // A round lid is composed: what peeps out at its corners is seen.
        let lid = "oval lid { swatch black; left 20; width 20; top 2; height 16 }";
        let under = messages(&format!("panel front {{ {dots} {lid} }}")).len();
        assert!((200..260).contains(&under), "{under}: an ellipse of 20 by 16 holds 251 dots");
    }

    #[test]
    fn what_is_not_looked_at_is_counted() {
        let oval =
            |at: u32| format!("oval o{at} {{ swatch black; left fold -1.5; right bleed; top bleed; bottom bleed }}\n");
        let ovals: String = (0..600).map(oval).collect();
        let found = reported(&RULE, &format!("panel front {{ {ovals} }}"));
        let last = found.iter().find(|finding| finding.severity == Severity::Note).expect("a note");
        assert!(
            last.message.contains("elements under others or cut by shapes show was not looked at"),
            "{}",
            last.message
        );
    }
}
