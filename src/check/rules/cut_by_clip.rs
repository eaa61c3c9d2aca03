//! Words or a code that a `clip` cuts into.
//!
//! `clip` shows of an element, or of all that is in a group, what lies within a shape. What stands beyond it is not printed: a
//! blurb that grew runs out of its round window, and a bar code loses its last bars.
//!
//! - letters of which a clip cuts away half or more: error; letters of which it cuts away a fifth: warning. Each is drawn
//!   whole and cut, and measured. Of four letters or more, one may be cut into: a title may touch its window. Limits are ours.
//! - a bar code or a QR code of which it cuts away more than a hundredth: error. Its ground and quiet zones may be cut.
//!
//! Where drawing them takes more than 200 million pixels a note says so.
//!
//! ```kdl
//! panel front {
//!     group window {
//!         left 20; width 90; top 40; height 3; clip frame
//!         text line words="LANTERNS" { left 0; right 0; cap-top 0; size 30 }
//!     }
//! }
//! ```
//!
//! Way out: a larger group, shorter words or a smaller size; or take `clip` away.

use crate::check::cut_away::{CutElement, cut_elements};
use crate::check::exam::Exam;
use crate::check::limit::{OURS, RuleLimit, in_percent};
use crate::check::proof::Patience;
use crate::check::rule::{CheckRule, RuleFindings, percent};
use crate::ground::{Rect, Severity};
use crate::scene::{Kind, Media, Origin};

pub const RULE: CheckRule = CheckRule {
    name: "cut-by-clip",
    severity: Severity::Error,
    media: Media::Both,
    limits: &[LOST, CUT],
    source: include_str!("cut_by_clip.rs"),
    run,
};

const LOST: RuleLimit =
    in_percent("lost", "a letter that has lost so much of itself is lost: an error", "50", OURS).most();
const CUT: RuleLimit =
    in_percent("cut", "a letter that has lost so much of itself is cut into: a warning", "20", OURS).most();
/// A code that has lost more than this is not read for certain. Ours.
const CODE: f64 = 0.01;
/// Words of so many letters may have one that is cut into.
const TOUCHED: usize = 4;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let (mut patience, mut unasked) = (Patience::default(), Vec::new());
    for element in cut_elements(exam.scene) {
        let Some(lost) = element.lost(exam, &mut patience) else {
            unasked.push(element.origin);
            continue;
        };
        let of = |least: f64| -> Vec<Rect> {
            let parts = element.parts.iter().zip(&lost).filter(|(_, lost)| lost.is_some_and(|lost| lost >= least));
            parts.map(|(part, _)| *part).collect()
        };
        if element.origin.kind == Kind::Text {
            let (gone, all) = (of(findings.limit(&LOST)), of(findings.limit(&CUT)));
            let touched = gone.is_empty() && all.len() == 1 && element.parts.len() >= TOUCHED;
            let (severity, does, parts) = if gone.is_empty() {
                (Severity::Warning, "cuts into", all)
            } else {
                (Severity::Error, "cuts off", gone)
            };
            if !touched && !parts.is_empty() {
                let what = format!("{does} {} of the {} letters of", parts.len(), element.parts.len());
                let by = element.by(exam, &mut patience);
                tell((&element, by), severity, &what, &parts, findings);
            }
        } else if let (parts @ [_, ..], Some(Some(share))) = (&*of(CODE), lost.first()) {
            let by = element.by(exam, &mut patience);
            tell((&element, by), Severity::Error, &format!("cuts off {} of", percent(*share)), parts, findings);
        }
    }
    if let Some(first) = unasked.first() {
        let (count, name, limit) = (unasked.len(), &first.element, Patience::LIMIT);
        let message = match count {
            1 => format!("`{name}` and what cuts it were not looked at: {limit}"),
            _ => format!("{count} texts and codes in clips were not looked at, `{name}` the first of them: {limit}"),
        };
        let help = "let simpler shapes cut fewer words, or look at the flat picture yourself";
        findings.place(Severity::Note, first.span, first.frame, message, help);
    }
}

/// An element, and whose clip cuts it.
fn tell(
    (element, by): (&CutElement<'_>, &Origin),
    severity: Severity,
    what: &str,
    parts: &[Rect],
    findings: &mut RuleFindings,
) {
    let origin = element.origin;
    let (name, around) = (&origin.element, &by.element);
    let is_text = origin.kind == Kind::Text;
    let (clip, larger) = if std::ptr::eq(origin, by) {
        let larger =
            if is_text { format!("give `{name}` a larger frame") } else { format!("take `clip` out of `{name}`") };
        ("its own `clip`".to_owned(), larger)
    } else {
        (format!("the `clip` of `{around}`"), format!("make `{around}` larger, or move `{name}` inwards"))
    };
    let meant = format!("where it is meant to be cut, write `waive cut-by-clip reason=\"…\"` in `{name}`");
    let help = if is_text { format!("{larger}; {meant}") } else { larger };
    let place = parts.iter().copied().reduce(|a, b| a.union(b)).unwrap_or(origin.frame);
    findings.place(severity, origin.span, place, format!("{clip} {what} `{name}`"), help);
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{drawn, example, reported, reported_with};
    use crate::ground::{FillRule, rect_path};
    use crate::scene::{Group, Item, Mark};

    fn said(marks: &str) -> Vec<(Severity, String)> {
        let found = reported(&RULE, &format!("panel back {{ {marks} }}"));
        found.into_iter().map(|found| (found.severity, found.message)).collect()
    }

    #[test]
    fn words_that_run_out_of_their_window() {
        let found = example(&RULE);
        assert_eq!((found.len(), found[0].severity), (1, Severity::Error), "{found:?}");
        assert!(found[0].message.starts_with("the `clip` of `window` cuts off "), "{found:?}");
        let own = said("text t words=\"HHHHHHHHHH\" { size 48; left 20; width 100; cap-top 40; clip oval }");
        assert!(own[0].1.starts_with("its own `clip` cuts off "), "{own:?}");
        // Wholly beyond it.
        let beyond = "group g { left 20; width 40; top 40; height 20; clip frame
            text t words=\"HHHH\" { size 14; left 0; right 0; top 30 } }";
        assert_eq!(
            said(beyond),
            [(Severity::Error, "the `clip` of `g` cuts off 4 of the 4 letters of `t`".to_owned())]
        );
    }

    /// Capitals of 48 pt are some 11.5 mm high.
    #[test]
    fn half_a_letter_is_lost_and_a_quarter_is_cut_into() {
        let cover = |height: f64, words: &str| {
            said(&format!(
                "group g {{ left 20; width 100; top 40; height {height}; clip frame
                 text t words={words:?} {{ size 48; left 0; right 0; cap-top 0; align left }} }}"
            ))
        };
        assert_eq!(cover(11.8, "HHHHH"), []);
        assert_eq!(cover(10.5, "HHHHH"), []);
        let (error, warning) = (Severity::Error, Severity::Warning);
        assert_eq!(
            cover(8.5, "HHHHH"),
            [(warning, "the `clip` of `g` cuts into 5 of the 5 letters of `t`".to_owned())]
        );
        assert_eq!(cover(4.0, "HHHHH"), [(error, "the `clip` of `g` cuts off 5 of the 5 letters of `t`".to_owned())]);
    }

    #[test]
    fn a_clip_around_all_of_it_passes() {
        let in_oval = "group g { left 20; width 80; top 40; height 60; clip oval
            text t words=\"Some lights\" { size 14; left 0; right 0; centre-y centre; align centre } }";
        assert_eq!(said(in_oval), []);
        // A blank line's end and a sign that only touches the edge.
        let frame =
            "text t words=\"Some lights are lit to be followed.\" { size 14; left 20; width 60; top 40; clip frame }";
        assert_eq!(said(frame), []);
        let picture = "group g { left 20; width 20; top 40; height 20; clip oval
            band b { swatch black; left -10; right -10; top 0; bottom 0 } }";
        assert_eq!(said(picture), []);
    }

    /// A wide oval that cuts nothing is not to blame for what a frame in it cuts, nor a wide one within a narrow one.
    #[test]
    fn the_clip_that_cuts_is_named() {
        let wide = "left 5; width 115; top 20; height 150; clip oval";
        for what in [
            "text t words=\"Some lights\" { left 0; right 0; top 0; size 24 }",
            "qr-code q words=\"https://lanternhouse.example/tides\" { left 0; top 0; width 20 }",
        ] {
            let found = said(&format!(
                "group outer {{ {wide}\n group inner {{ left 30; width 50; top 60; height 4; clip frame\n {what} }} }}"
            ));
            assert!(
                matches!(&found[..], [(_, said)] if said.starts_with("the `clip` of `inner` cuts off ")),
                "{found:?}"
            );
        }
        let found = said(
            "group outer { left 30; width 50; top 80; height 4; clip frame
             group inner { left -20; width 90; top -60; height 130; clip oval
             text t words=\"Some lights\" { left 20; right 20; top 60; size 24 } } }",
        );
        assert!(matches!(&found[..], [(_, said)] if said.starts_with("the `clip` of `outer` cuts off ")), "{found:?}");
    }

    /// Neighbouring marks of one text, the first in a clip around all of it, the second in one that leaves nothing.
    #[test]
    fn marks_in_different_clips_are_looked_at_apart() {
        let items = drawn("panel back { text t words=\"HHHH\" { size 14; left 20; width 60; top 30 } }").1.items;
        let origin = items[0].origin.clone();
        let cut = |side: f64| {
            let clip = (rect_path(Rect::new(0.0, 0.0, side, side)), FillRule::NonZero);
            Item { origin: origin.clone(), mark: Mark::Group(Group::cut(clip, items.clone())) }
        };
        let found = |sides: [f64; 2]| reported_with(&RULE, "", sides.map(cut).to_vec()).len();
        assert_eq!(found([900.0, 900.0]), 0);
        assert_eq!(found([900.0, 5.0]), 1);
        assert_eq!(found([5.0, 900.0]), 1);
    }

    #[test]
    fn codes_are_whole_or_reported() {
        let cover = |clip: &str, code: &str| {
            said(&format!("group g {{ left 20; width 60; top 40; height 50; {clip}\n {code} {{ left 0; top 0 }} }}"))
        };
        let qr = "qr-code q words=\"https://lanternhouse.example/tides\"";
        for code in ["barcode barcode", qr] {
            assert_eq!(cover("clip frame", code), [], "{code}");
            let found = cover("clip path data=\"M10 0H60V60H10Z\"", code);
            assert!(matches!(&found[..], [(Severity::Error, said)] if said.contains("cuts off ")), "{code}: {found:?}");
        }
        // Its quiet zone of four modules of half a millimetre may go.
        assert_eq!(cover("clip path data=\"M1.9 1.9H60V60H1.9Z\"", qr), []);
        let mark = said("qr-code q words=\"https://lanternhouse.example\" { left 20; top 20; width 20; clip oval }");
        assert!(mark[0].1.starts_with("its own `clip` cuts off "), "{mark:?}");
    }

    #[test]
    fn what_is_not_looked_at_is_said() {
        let line = "Lights ".repeat(14);
        let group = |at: usize| {
            format!(
                "group g{at} {{ left 10; width 110; top 10; height 190; clip oval
                 text t{at} words=\"{line} {line}\" {{ size 6; leading 500; left 0; width 110; top 0 }} }}\n"
            )
        };
        let found = said(&(0..60).map(group).collect::<String>());
        assert!(found.iter().any(|(severity, said)| *severity == Severity::Note && said.contains("not looked at")));
    }
}
