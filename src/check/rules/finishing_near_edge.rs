//! A foil, varnish or embossing that ends beside a cut or a fold.
//!
//! The finisher registers the block to the printed sheet, and the bindery cuts and folds it later; each strays a little. An
//! edge of the finish that runs along a cut or a fold shows how much: the border beside it is broad on one cover and gone on
//! the next.
//!
//! - an edge closer than 1.5 mm to the trim that does not run into the bleed, or closer than that to a fold: warning. Common
//!   practice: foil and varnish register to 0.5 to 1 mm, and cuts and folds stray as far again.
//!
//! A die line and a white underprint may end where they like.
//!
//! ```kdl
//! swatches { spot gold ink="Gold foil" c=20 m=30 y=70 finishing=foil; }
//! panel front { band frame { stroke gold weight=3; left trim 1; right trim 1; top trim 1; bottom trim 1 } }
//! ```
//!
//! Way out: 1.5 mm or more between them, let the finish run into the bleed, or let it reach as far past the fold.

use crate::check::exam::{Exam, SheetSide, TOUCH};
use crate::check::limit::{PRACTICE, RuleLimit, in_mm};
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::check::visible::VisibleMark;
use crate::ground::{Colour, Finish, Rect, Severity};
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "finishing-near-edge",
    severity: Severity::Warning,
    media: Media::Print,
    limits: &[REGISTER],
    source: include_str!("finishing_near_edge.rs"),
    run,
};

const REGISTER: RuleLimit =
    in_mm("warning", "edges of a finish keep away from cuts and folds by this", "1.5", PRACTICE);

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let register = findings.limit(&REGISTER);
    for element in &exam.elements {
        let finished = element.marks.iter().filter(|shown| is_finished(shown)).map(|shown| shown.bounds);
        let Some(bounds) = finished.reduce(|all, bounds| all.union(bounds)) else { continue };
        let near = near(exam, bounds, register - TOUCH);
        let Some(first) = near.first() else { continue };
        let all = said(&near);
        let all = match &all[..] {
            [before @ .., last] if !before.is_empty() => format!("{} and {last}", before.join(", ")),
            _ => all.concat(),
        };
        let ways = [
            near.iter().any(|line| line.cut.is_some()).then(|| "run into the bleed".to_owned()),
            near.iter().any(|line| line.cut.is_none()).then(|| format!("reach {} past the fold", mm(register))),
        ];
        let ways: Vec<String> = ways.into_iter().flatten().collect();
        let them = if near.len() == 1 { "it" } else { "them" };
        let message = format!("the finish of {} ends {}", element.name(), all);
        let help = format!("keep {} away from {them}, or {}", mm(register), ways.join(" and "));
        findings.element(Severity::Warning, element, message, help);
        findings.measured(first.away, &REGISTER);
    }
}

fn is_finished(shown: &VisibleMark<'_>) -> bool {
    let mut found = false;
    shown.item.inks(&mut |ink| {
        if let Colour::Spot(spot, _) = &ink.colour {
            found |= spot.finish.is_some_and(|finish| !matches!(finish, Finish::DieLine | Finish::White));
        }
    });
    found
}

/// A cut, or a fold, that an edge runs along.
struct NearLine {
    away: f64,
    /// `None` is a fold.
    cut: Option<SheetSide>,
}

/// Where it ends. Folds at one distance are one entry.
fn said(near: &[NearLine]) -> Vec<String> {
    let mut all = Vec::new();
    for line in near {
        let away = mm(line.away);
        let folds = near.iter().filter(|other| other.cut.is_none() && mm(other.away) == away).count();
        let what = match line.cut {
            Some(side) => format!("the cut at the {}", side.word()),
            None if folds == 1 => "a fold".to_owned(),
            None if folds == 2 => "two folds".to_owned(),
            None => format!("{folds} folds"),
        };
        let text = if away == mm(0.0) { format!("on {what}") } else { format!("{away} from {what}") };
        if !all.contains(&text) {
            all.push(text);
        }
    }
    all
}

/// All of them that are nearer than so much, the nearest first.
fn near(exam: &Exam<'_>, bounds: Rect, least: f64) -> Vec<NearLine> {
    let sheet = exam.sheet();
    let cuts = SheetSide::ALL.into_iter().filter(|side| side.gap(bounds, sheet.bleed) > TOUCH);
    let cuts = cuts.map(|side| NearLine { away: side.gap(bounds, sheet.trim).abs(), cut: Some(side) });
    let edges = [bounds.x0, bounds.x1];
    let folds = sheet.folds.iter().flat_map(|fold| edges.map(|edge| (edge - fold.x).abs()));
    let folds = folds.map(|away| NearLine { away, cut: None });
    let mut near: Vec<NearLine> = cuts.chain(folds).filter(|line| line.away < least).collect();
    // Distances that read alike stay in the order of the sides.
    let hundredths = |line: &NearLine| (line.away * 100.0).round();
    near.sort_by(|a, b| hundredths(a).total_cmp(&hundredths(b)));
    near
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn a_frame_of_foil_a_millimetre_from_the_cut() {
        let stated = example(&RULE);
        assert_eq!(stated.len(), 1, "{stated:?}");
        assert_eq!(
            stated[0].message,
            "the finish of `frame` ends 1 mm from the cut at the right, 1 mm from the cut at the head, \
             1 mm from the cut at the foot and 1 mm from a fold"
        );
        let help = "keep 1.5 mm away from them, or run into the bleed and reach 1.5 mm past the fold";
        assert_eq!(stated[0].help.as_deref(), Some(help));
    }

    #[test]
    fn bleeding_distant_and_cut_ones_pass() {
        let cover = |finish: &str, place: &str| {
            format!(
                "swatches {{ spot gold ink=\"Gold\" c=20 m=30 y=70 finishing={finish} }}
                panel front {{ band mark {{ swatch gold; {place} }} }}"
            )
        };
        let near = "left 30; width 20; top trim 1; height 20";
        assert_eq!(reported(&RULE, &cover("foil", near)).len(), 1);
        assert_eq!(reported(&RULE, &cover("die-line", near)), []);
        assert_eq!(reported(&RULE, &cover("varnish", "left 30; width 20; top trim 2; height 20")), []);
        assert_eq!(reported(&RULE, &cover("foil", "left 30; width 20; top bleed; height 20")), []);
        let folded = reported(&RULE, &cover("foil", "left fold 1; width 20; top 30; height 20"));
        assert_eq!(folded[0].help.as_deref(), Some("keep 1.5 mm away from it, or reach 1.5 mm past the fold"));
        let spine = |from: i32| {
            let cover = cover("foil", "left 30; width 20; top 30; height 20");
            let band = format!("band bar {{ swatch gold; left fold {from}; right fold {from}; top 40; height 20 }}");
            reported(&RULE, &format!("{cover}\npanel spine {{ {band} }}"))[0].message.clone()
        };
        assert_eq!(spine(-1), "the finish of `bar` ends 1 mm from two folds");
        assert_eq!(spine(0), "the finish of `bar` ends on two folds");
    }
}
