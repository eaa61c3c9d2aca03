//! A die line that runs through words or a code, or words printed in its ink.
//!
//! The die line prints nothing: the finisher cuts the sheet along it. What it runs through is cut apart, and no picture of the
//! cover shows it. Words in the ink of a die line are cut out of the sheet.
//!
//! - a die line through a letter: error; through the bars or modules of a code: error. Both are ours.
//! - words in a die line's ink: error.
//!
//! Words and codes inside it or beside it pass. Of each element the first die line is reported. Where following all lines
//! takes more than 20 million steps a note says so.
//!
//! ```kdl
//! swatches { spot die ink="Die line" m=100 finishing=die-line }
//! panel front {
//!     text title words="{title}" { left 20; right 20; top 40; size 24 }
//!     oval window { stroke die weight=1; left 30; width 40; top 35; height 40 }
//! }
//! ```
//!
//! Way out: move one of the two.

use crate::check::exam::{Exam, TOUCH};
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::under::overlap;
use crate::check::visible::{VisibleElement, VisibleMark};
use crate::ground::{Colour, Finish, Path, PathEl, Point, Rect, Severity, Shape as _, TOLERANCE, flatten};
use crate::scene::{Kind, Mark, Media};

pub const RULE: CheckRule = CheckRule {
    name: "die-line-through",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[],
    source: include_str!("die_line_through.rs"),
    run,
};

/// How many pieces of lines are compared with pieces of outlines.
const STEPS: usize = 20_000_000;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let cuts: Vec<DieCut<'_>> = exam.elements.iter().filter_map(DieCut::of).collect();
    let mut left = STEPS;
    for element in exam.elements.iter().filter(|element| !matches!(element.origin.kind, Kind::Shape | Kind::Picture)) {
        let what = if element.is(Kind::Text) { "the words of " } else { "" };
        if element.is(Kind::Text) && element.marks.iter().any(is_die_line) {
            let message = format!("the words of {} are a die line, so they are cut out of the sheet", element.name());
            findings.element(Severity::Error, element, message, "print them in another ink");
            continue;
        }
        let over: Vec<&DieCut<'_>> = cuts.iter().filter(|cut| overlap(cut.bounds, element.bounds)).collect();
        let outlines = || element.marks.iter().filter_map(outline);
        let outlines: Vec<Path> = if over.is_empty() { Vec::new() } else { outlines().collect() };
        let mut through = None;
        for (cut, outline) in over.iter().flat_map(|cut| outlines.iter().map(move |outline| (cut, outline))) {
            match cut.runs_through(outline, &mut left) {
                Some(false) => {}
                Some(true) => {
                    through = Some(cut);
                    break;
                }
                None => {
                    let help = "draw die lines with fewer curves, or look at their plate yourself";
                    let message = "not all die lines were followed: there are too many curves and letters";
                    return findings.fact(Severity::Note, exam.facts().press.span, message, help);
                }
            }
        }
        if let Some(cut) = through {
            let message = format!("the die line {} runs through {what}{}", cut.element.name(), element.name());
            findings.element(
                Severity::Error,
                element,
                message,
                "move one of the two: what it runs through is cut apart",
            );
        }
    }
}

fn is_die_line(shown: &VisibleMark<'_>) -> bool {
    let mut found = false;
    shown.item.inks(&mut |ink| {
        found |= matches!(&ink.colour, Colour::Spot(spot, _) if spot.finish == Some(Finish::DieLine));
    });
    found
}

/// Where letters, bars or the ground of a code print; of words nothing that lies around them.
fn outline(shown: &VisibleMark<'_>) -> Option<Path> {
    match &shown.item.mark {
        Mark::Glyphs(run) => Some(run.outline()),
        Mark::Fill { path, .. } if shown.item.origin.kind != Kind::Text => Some(path.clone()),
        _ => None,
    }
}

/// The die lines of an element, in straight pieces.
struct DieCut<'a> {
    element: &'a VisibleElement<'a>,
    bounds: Rect,
    pieces: Vec<[Point; 2]>,
}

impl<'a> DieCut<'a> {
    fn of(element: &'a VisibleElement<'a>) -> Option<DieCut<'a>> {
        let mut pieces = Vec::new();
        let mut bounds: Option<Rect> = None;
        for shown in element.marks.iter().filter(|shown| !element.is(Kind::Text) && is_die_line(shown)) {
            let (Mark::Fill { path, .. } | Mark::Stroke { path, .. }) = &shown.item.mark else { continue };
            let inside = straight(path).into_iter().filter(|piece| overlap(around(*piece), shown.bounds));
            pieces.extend(inside);
            bounds = Some(bounds.map_or(shown.bounds, |bounds| bounds.union(shown.bounds)));
        }
        Some(DieCut { element, bounds: bounds?, pieces })
    }

    /// Whether it crosses an outline or ends in it. `None` when that takes more steps than are left.
    fn runs_through(&self, outline: &Path, left: &mut usize) -> Option<bool> {
        *left = left.checked_sub(self.pieces.len())?;
        let bounds = outline.bounding_box();
        let near: Vec<&[Point; 2]> = self.pieces.iter().filter(|piece| overlap(around(**piece), bounds)).collect();
        if near.is_empty() {
            return Some(false);
        }
        let sides = straight(outline);
        *left = left.checked_sub(near.len() * (sides.len() + 1))?;
        let crosses = |piece: &[Point; 2]| sides.iter().any(|side| meet(*piece, *side));
        Some(near.into_iter().any(|piece| outline.winding(piece[0]) != 0 || crosses(piece)))
    }
}

fn straight(path: &Path) -> Vec<[Point; 2]> {
    let (mut pieces, mut first, mut last) = (Vec::new(), Point::ZERO, Point::ZERO);
    flatten(path, TOLERANCE, |element| {
        let to = match element {
            PathEl::MoveTo(point) => {
                (first, last) = (point, point);
                return;
            }
            PathEl::ClosePath => first,
            other => other.end_point().unwrap_or(last),
        };
        pieces.push([last, to]);
        last = to;
    });
    pieces
}

/// Around a piece, and a little more, since a rectangle of no width meets none.
fn around([a, b]: [Point; 2]) -> Rect {
    Rect::from_points(a, b).inflate(TOUCH, TOUCH)
}

/// Whether two pieces cross.
fn meet([a, b]: [Point; 2], [c, d]: [Point; 2]) -> bool {
    let side = |from: Point, to: Point, of: Point| (to - from).cross(of - from);
    side(a, b, c) * side(a, b, d) < 0.0 && side(c, d, a) * side(c, d, b) < 0.0
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    fn said(marks: &str) -> Vec<String> {
        let die = "swatches { spot die ink=\"Die line\" m=100 finishing=die-line; spot uv ink=\"UV\" c=10 finishing=varnish }";
        let found = reported(&RULE, &format!("{die}\npanel back {{ {marks} }}"));
        found.into_iter().map(|found| found.message).collect()
    }

    #[test]
    fn a_window_through_a_title() {
        let stated = example(&RULE);
        assert_eq!(stated.len(), 1, "{stated:?}");
        assert_eq!(stated[0].message, "the die line `window` runs through the words of `title`");
    }

    #[test]
    fn codes_and_filled_shapes() {
        let line = "path cut data=\"M0 0L60 0\" { left 10; top 30; stroke die weight=1 }";
        for code in [
            "barcode code { left 20; top 20 }",
            "qr-code code words=\"https://l.example\" { left 20; top 20; width 20 }",
        ] {
            assert_eq!(said(&format!("{code}\n{line}")), ["the die line `cut` runs through `code`"]);
        }
        let shape = "band cut { swatch die; left 30; width 10; top 10; height 60 }\nbarcode code { left 20; top 20 }";
        assert_eq!(said(shape), ["the die line `cut` runs through `code`"]);
        let letters = said("text t words=\"Window\" { size 40; left 20; width 80; top 40; swatch die }");
        assert_eq!(letters, ["the words of `t` are a die line, so they are cut out of the sheet"]);
    }

    #[test]
    fn lines_around_beside_and_between_pass() {
        let words = "text t words=\"Lantern\" { size 24; left 30; width 60; top 40 }\nbarcode code { left 30; top 80 }";
        let around = "band tag { stroke die weight=1; left 10; right 10; top 10; bottom 10; radius 8 }";
        assert_eq!(said(&format!("{words}\n{around}")), [""; 0]);
        let beside = "oval hole { stroke die weight=1; left 5; width 20; top 40; height 20 }";
        assert_eq!(said(&format!("{words}\n{beside}")), [""; 0]);
        let between = "path cut data=\"M0 0L90 0\" { left 10; top 70; stroke die weight=1 }";
        assert_eq!(said(&format!("{words}\n{between}")), [""; 0]);
        let varnish = "oval spot { swatch uv; left 20; width 60; top 30; height 40 }";
        assert_eq!(said(&format!("{words}\n{varnish}")), [""; 0]);
    }
}
