//! An element of which nothing shows on the printed sheet.
//!
//! It is off the sheet, something drawn later covers it, a frame cuts it away, or it is thinned so far that no ink is left.
//! Either it should be seen, or it was forgotten.
//!
//! - shapes, pictures and bar codes wholly off the sheet, cut away by a frame, or without which the composed sheet is the
//!   same: warning. Common practice. Words are `words-covered`, `outside-safe` and `low-contrast`.
//!
//! ```kdl
//! panel front {
//!     oval moon { swatch black percent=30; left 40; width 20; top 40; height 20 }
//!     band night { swatch black; left fold -1.5; right bleed; top bleed; bottom bleed }
//! }
//! ```
//!
//! Way out: move it, write `over NAME` so that it is drawn later, or take it out.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::under::{contains, overlap};
use crate::check::visible::VisibleElement;
use crate::ground::{Blend, Rect, Severity};
use crate::scene::{Item, Kind, Mark, Origin};
use std::collections::BTreeSet;

pub const RULE: CheckRule =
    CheckRule { name: "nothing-shows", severity: Severity::Warning, source: include_str!("nothing_shows.rs"), run };

/// A thinner group leaves no dot.
const THINNEST: f64 = 0.01;
/// More elements than this are a pattern, not a layout: whether each one shows is not asked.
const MOST: usize = 400;
/// How many places across and down must lie under something later, before the sheet is composed to know.
const PLACES: i32 = 4;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let bleed = exam.sheet().bleed;
    let is_layout = exam.elements.len() <= MOST;
    for element in exam.elements.iter().filter(|element| is_layout && !element.is(Kind::Text)) {
        let message = if !overlap(element.bounds, bleed) {
            format!("{} lies wholly off the sheet", element.name())
        } else if may_be_hidden(exam, element) && !exam.shows(element) {
            format!("nothing of {} shows: what is drawn later covers it", element.name())
        } else {
            continue;
        };
        findings.element(
            Severity::Warning,
            element,
            message,
            "move it, draw it later with `over NAME`, or take it out",
        );
    }
    let visible: BTreeSet<*const Origin> =
        exam.elements.iter().map(|element| std::ptr::from_ref(element.origin)).collect();
    let mut told: BTreeSet<*const Origin> = BTreeSet::new();
    unseen(&exam.scene.items, false, &mut |origin, thin| {
        let seen = !thin && visible.contains(&std::ptr::from_ref(origin));
        if origin.kind == Kind::Text || seen || !told.insert(std::ptr::from_ref(origin)) {
            return;
        }
        let cause = if thin { "it is thinned to nothing" } else { "its frame cuts it away" };
        let message = format!("nothing of `{}` shows: {cause}", origin.element);
        let help = "move it, give it more `opacity`, or take it out";
        findings.place(Severity::Warning, origin.span, origin.frame, message, help);
    });
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

/// Whether something later lies over every part of it.
fn may_be_hidden(exam: &Exam<'_>, element: &VisibleElement<'_>) -> bool {
    let later: Vec<Rect> = exam.marks[element.range.end..]
        .iter()
        .filter(|mark| !matches!(mark.item.mark, Mark::Glyphs(_) | Mark::Stroke { .. }) && !mark.mixed)
        .map(|mark| mark.bounds)
        .collect();
    let shown = element.bounds.intersect(exam.sheet().bleed);
    let share = |step: i32| (f64::from(step) + 0.5) / f64::from(PLACES);
    let spots = (0..PLACES).flat_map(|y| (0..PLACES).map(move |x| (share(x), share(y))));
    let mut spots = spots.map(|(x, y)| {
        let (x, y) = (shown.x0 + shown.width() * x, shown.y0 + shown.height() * y);
        Rect::new(x, y, x, y)
    });
    spots.all(|spot| later.iter().any(|later| contains(*later, spot)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, told};

    fn messages(cover: &str) -> Vec<String> {
        told(&RULE, cover).into_iter().map(|said| said.message).collect()
    }

    #[test]
    fn under_another() {
        let said = example(&RULE);
        assert_eq!(said.len(), 1, "{said:?}");
        assert_eq!(said[0].message, "nothing of `moon` shows: what is drawn later covers it");
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
        assert_eq!(messages(cut), ["nothing of `a` shows: its frame cuts it away"]);
        let thin = "panel front { band a { swatch black; opacity 0; left 20; width 20; top 20; height 20 } }";
        assert_eq!(messages(thin), ["nothing of `a` shows: it is thinned to nothing"]);
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
}
