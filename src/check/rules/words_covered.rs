//! Words that something printed later covers, or that other words run over.
//!
//! Later in the file lies on top. A title under a band, or a blurb that grew until it runs under the bar code, prints
//! faultlessly, and nobody can read it.
//!
//! - letters whose middle lies under an opaque fill or picture: error. One letter of four or more may be meant, as when a
//!   sun stands for an O, and passes.
//! - letters over more than a third of which other words run: warning. Common practice: none is fine.
//!
//! Overprinting inks, finishing separations, thinned or multiplied groups and pictures with holes do not cover.
//!
//! ```kdl
//! panel front {
//!     text title words="{title}" { left 20; right 20; top 40; size 24 }
//!     band ground { swatch black; left 15; right 15; top 35; height 30 }
//! }
//! ```
//!
//! Way out: move one of the two, or write `under title` on what covers; for words that run into words, say a lower edge
//! with `bottom` or `above`.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::under::{inside, overlap};
use crate::check::visible::{VisibleElement, VisibleMark};
use crate::ground::{Point, Rect, Severity};
use crate::scene::{Kind, Mark, Media, Origin};

pub const RULE: CheckRule = CheckRule {
    name: "words-covered",
    severity: Severity::Error,
    media: Media::Both,
    source: include_str!("words_covered.rs"),
    run,
};

/// The share of a letter's box that other words may run over before it is reported.
const GRAZE: f64 = 0.33;
/// Words of so many letters may lend one to a shape.
const PLAYED: usize = 4;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    for (at, element) in exam.elements.iter().enumerate().filter(|(_, element)| element.is(Kind::Text)) {
        let letters: Vec<Rect> = element.runs().flat_map(|(run, _)| run.boxes()).collect();
        let later = exam.elements[at + 1..].iter().filter(|later| overlap(later.bounds, element.bounds));
        let over: Vec<(&VisibleElement<'_>, usize)> = later
            .map(|later| {
                let hides = |letter: &&Rect| later.marks.iter().any(|mark| hides(mark, letter.center()));
                (later, letters.iter().filter(hides).count())
            })
            .collect();
        let all: usize = over.iter().map(|(_, hidden)| hidden).sum();
        let meant = all == 1 && letters.len() >= PLAYED;
        for (later, hidden) in over {
            if hidden > 0 && !meant {
                let message =
                    format!("{} hides {hidden} of the {} letters of {}", later.name(), letters.len(), element.name());
                let Origin { panel, element: name, .. } = element.origin;
                let of = if *panel == later.origin.panel { String::new() } else { format!(" of={panel}") };
                let help = format!("move one of them, or write `under {name}{of}` in {}", later.name());
                findings.element(Severity::Error, element, message, help);
            } else if hidden == 0 && later.is(Kind::Text) && runs_over(&letters, later) {
                let message = format!("the words of {} run over those of {}", later.name(), element.name());
                let help = "move one of them, or give the upper a lower edge: `bottom` or `above NAME GAP`";
                findings.element(Severity::Warning, element, message, help);
            }
        }
    }
}

fn hides(mark: &VisibleMark<'_>, point: Point) -> bool {
    if mark.mixed || !mark.bounds.contains(point) {
        return false;
    }
    match &mark.item.mark {
        Mark::Fill { path, rule, paint } => !paint.overprints() && inside(path, *rule, point),
        Mark::Picture(placed) => placed.paint.is_none() && placed.picture.pixels().alpha.is_none(),
        _ => false,
    }
}

fn runs_over(letters: &[Rect], later: &VisibleElement<'_>) -> bool {
    let over: Vec<Rect> = later.runs().flat_map(|(run, _)| run.boxes()).collect();
    letters.iter().any(|letter| {
        over.iter().any(|other| {
            let shared = letter.intersect(*other);
            shared.width() > 0.0 && shared.height() > 0.0 && shared.area() > GRAZE * letter.area().min(other.area())
        })
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, told};

    #[test]
    fn a_band_over_a_title_offends() {
        assert_eq!(example(&RULE).len(), 1);
        let twice = "panel front { text a words=\"One\" { left 20; right 20; top 40; size 24 }; \
                     text b words=\"Two\" { left 20; right 20; top 41; size 24 } }";
        assert_eq!(told(&RULE, twice).len(), 1);
    }

    #[test]
    fn a_sun_for_an_o_passes_and_two_letters_do_not() {
        let cover = |width: u32, words: &str| {
            format!(
                "panel front {{ text title words={words:?} {{ left 20; right 20; top 40; size 48; align left }}
                 oval sun {{ swatch black; left 20; width {width}; top 43; height 12 }} }}"
            )
        };
        assert_eq!(told(&RULE, &cover(12, "OOOOO")), []);
        assert_eq!(told(&RULE, &cover(26, "OOOOO")).len(), 1);
        assert_eq!(told(&RULE, &cover(12, "OO")).len(), 1);
    }

    #[test]
    fn what_lies_under_or_lets_through_passes() {
        let under = "panel front { band ground { swatch black; left 15; right 15; top 35; height 30 }; \
                     text title words=\"T\" { left 20; right 20; top 40; size 24; swatch unprinted } }";
        assert_eq!(told(&RULE, under), []);
        let glass = "panel front { text title words=\"T\" { left 20; right 20; top 40; size 24 }; \
                     band veil { swatch black; opacity 20; left 15; right 15; top 35; height 30 } }";
        assert_eq!(told(&RULE, glass), []);
    }
}
