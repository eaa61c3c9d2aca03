//! Words that something printed later covers, or that other words run over.
//!
//! Later in the file lies on top. A title under a band, or a blurb that grew until it runs under the bar code, prints
//! faultlessly, and nobody can read it.
//!
//! - letters whose middle lies under an opaque fill or picture: error. One letter of four or more may be meant, as when a
//!   sun stands for an O, and passes.
//! - letters over more than a third of which other words run: warning. Common practice: none is fine.
//!
//! Of each text the first 10 elements that hide its letters are reported, and the first 10 whose words run over it.
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
/// So many elements that hide letters of a text are reported, and as many that run over it.
const REPORTED: usize = 10;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let boxes = |element: &VisibleElement<'_>| element.runs().flat_map(|(run, _)| run.boxes()).collect();
    let letters: Vec<Vec<Rect>> = exam.elements.iter().map(boxes).collect();
    for (at, element) in exam.elements.iter().enumerate().filter(|(_, element)| element.is(Kind::Text)) {
        let over = over(exam, &letters, at);
        let letters = &letters[at];
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
            } else if hidden == 0 {
                let message = format!("the words of {} run over those of {}", later.name(), element.name());
                let help = "move one of them, or give the upper a lower edge: `bottom` or `above NAME GAP`";
                findings.element(Severity::Warning, element, message, help);
            }
        }
    }
}

/// What lies over a text: how many letters each hides, or none where its words run over them.
fn over<'a>(exam: &'a Exam<'_>, letters: &[Vec<Rect>], at: usize) -> Vec<(&'a VisibleElement<'a>, usize)> {
    let bounds = exam.elements[at].bounds;
    let (mut over, mut hiding) = (Vec::new(), 0);
    for (later, words) in exam.elements.iter().zip(letters).skip(at + 1) {
        if hiding == REPORTED {
            break;
        }
        if !overlap(later.bounds, bounds) {
            continue;
        }
        let hides = |letter: &&Rect| later.marks.iter().any(|mark| hides(mark, letter.center()));
        let hidden = letters[at].iter().filter(hides).count();
        let runs = || over.len() - hiding < REPORTED && later.is(Kind::Text) && runs_over(&letters[at], words);
        if hidden > 0 || runs() {
            over.push((later, hidden));
            hiding += usize::from(hidden > 0);
        }
    }
    over
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

/// From left to right: two long texts have too many letters to compare each with each.
fn runs_over(letters: &[Rect], over: &[Rect]) -> bool {
    let mut over = over.to_vec();
    over.sort_by(|a, b| a.x0.total_cmp(&b.x0));
    let widest = over.iter().map(Rect::width).fold(0.0, f64::max);
    letters.iter().any(|letter| {
        let first = over.partition_point(|other| other.x0 < letter.x0 - widest);
        over[first..].iter().take_while(|other| other.x0 <= letter.x1).any(|other| grazes(*letter, *other))
    })
}

fn grazes(letter: Rect, other: Rect) -> bool {
    let shared = letter.intersect(other);
    shared.width() > 0.0 && shared.height() > 0.0 && shared.area() > GRAZE * letter.area().min(other.area())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn a_band_over_a_title_offends() {
        assert_eq!(example(&RULE).len(), 1);
        let twice = "panel front { text a words=\"One\" { left 20; right 20; top 40; size 24 }; \
                     text b words=\"Two\" { left 20; right 20; top 41; size 24 } }";
        assert_eq!(reported(&RULE, twice).len(), 1);
    }

    #[test]
    fn of_a_heap_the_first_are_reported() {
        let text = |at: usize| format!("text t{at} words=\"One\" {{ left 20; right 20; top 40; size 24 }}\n");
        let heap: String = (0..30).map(text).collect();
        let band = "band lid { swatch black; left 15; right 15; top 35; height 30 }\n";
        // Each text has those above it: the lowest 20 more than are reported.
        let found = reported(&RULE, &format!("panel front {{ {heap} {band} }}"));
        let count = |severity| found.iter().filter(|found| found.severity == severity).count();
        assert_eq!(count(Severity::Warning), 20 * REPORTED + REPORTED * (REPORTED - 1) / 2);
        // Warnings keep no error from being found.
        assert_eq!(count(Severity::Error), 30);
    }

    /// Each letter compared with each gives the same.
    #[test]
    fn letters_are_found_wherever_they_stand() {
        let rect = |at: usize| {
            let (x, y) = ((at * at * 7919 % 997) as f64 / 12.0, (at * at * at % 991) as f64 / 12.0);
            Rect::new(x, y, x + 1.0 + (at % 7) as f64 / 3.0, y + 1.0 + (at % 5) as f64 / 3.0)
        };
        let (mut met, mut apart) = (0, 0);
        for lot in 0..400 {
            let all: Vec<Rect> = (lot * 40..lot * 40 + 40).map(rect).collect();
            let (letters, over) = all.split_at(20);
            let by_hand = letters.iter().any(|letter| over.iter().any(|other| grazes(*letter, *other)));
            assert_eq!(runs_over(letters, over), by_hand, "{lot}");
            if by_hand { met += 1 } else { apart += 1 }
        }
        assert!(met > 20 && apart > 20, "{met} {apart}");
    }

    #[test]
    fn a_sun_for_an_o_passes_and_two_letters_do_not() {
        let cover = |width: u32, words: &str| {
            format!(
                "panel front {{ text title words={words:?} {{ left 20; right 20; top 40; size 48; align left }}
                 oval sun {{ swatch black; left 20; width {width}; top 43; height 12 }} }}"
            )
        };
        assert_eq!(reported(&RULE, &cover(12, "OOOOO")), []);
        assert_eq!(reported(&RULE, &cover(26, "OOOOO")).len(), 1);
        assert_eq!(reported(&RULE, &cover(12, "OO")).len(), 1);
    }

    #[test]
    fn what_lies_under_or_lets_through_passes() {
        let under = "panel front { band ground { swatch black; left 15; right 15; top 35; height 30 }; \
                     text title words=\"T\" { left 20; right 20; top 40; size 24; swatch unprinted } }";
        assert_eq!(reported(&RULE, under), []);
        let glass = "panel front { text title words=\"T\" { left 20; right 20; top 40; size 24 }; \
                     band veil { swatch black; opacity 20; left 15; right 15; top 35; height 30 } }";
        assert_eq!(reported(&RULE, glass), []);
    }
}
