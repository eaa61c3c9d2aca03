//! Words that something printed later covers, or that other words run over.
//!
//! Later in the file lies on top. A title under a band, or a blurb that grew until it runs under the bar code, prints
//! faultlessly, and nobody can read it.
//!
//! - letters of which something hides half or more: error; letters of which it cuts off a fifth: warning. The sheet is
//!   composed with what is drawn later and without it, and every letter is measured. One letter of four or more may be
//!   meant, as when a sun stands for an O, and passes. Limits are ours.
//! - letters over more than a third of which other words run: warning. Common practice: none is fine. The same words a
//!   little aside are a shadow, and pass.
//!
//! Of each text the first 10 elements that hide its letters are reported, and the first 10 whose words run over it.
//!
//! Foil and varnish do not count, nor what lets the letters show through: see `low-contrast`. Where so much lies over words
//! that composing it takes more than 200 million pixels, a letter counts as hidden when its middle lies under an opaque
//! fill or picture.
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
use crate::check::limit::{OURS, PRACTICE, RuleLimit, in_percent};
use crate::check::proof::Patience;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::under::{inside, overlap};
use crate::check::visible::{VisibleElement, VisibleMark};
use crate::ground::{Point, Rect, Severity};
use crate::scene::{Kind, Mark, Media, Origin};

pub const RULE: CheckRule = CheckRule {
    name: "words-covered",
    severity: Severity::Error,
    media: Media::Both,
    limits: &[HIDDEN, CUT, GRAZE],
    source: include_str!("words_covered.rs"),
    run,
};

const HIDDEN: RuleLimit =
    in_percent("hidden", "a letter that has lost so much of its ink is hidden: an error", "50", OURS).most();
const CUT: RuleLimit =
    in_percent("cut", "a letter that has lost so much of its ink is cut into: a warning", "20", OURS).most();
const GRAZE: RuleLimit =
    in_percent("over", "other words over more of a letter's box than this are a warning", "33", PRACTICE).most();
/// Words of so many letters may lend one to a shape.
const PLAYED: usize = 4;
/// So many elements that hide letters of a text are reported, and as many that run over it.
const REPORTED: usize = 10;

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let mut patience = Patience::default();
    let shares = (findings.limit(&HIDDEN), findings.limit(&CUT));
    let graze = findings.limit(&GRAZE);
    let boxes = |element: &VisibleElement<'_>| element.runs().flat_map(|(run, _)| run.boxes()).collect();
    let letters: Vec<Vec<Rect>> = exam.elements.iter().map(boxes).collect();
    for (at, element) in exam.elements.iter().enumerate().filter(|(_, element)| element.is(Kind::Text)) {
        for (later, CoveredLetters { hidden, cut }) in covering(exam, &letters[at], at, shares, &mut patience) {
            let (severity, does, count) = match hidden {
                0 => (Severity::Warning, "cuts into", cut),
                _ => (Severity::Error, "hides", hidden),
            };
            let all = letters[at].len();
            let message = format!("{} {does} {count} of the {all} letters of {}", later.name(), element.name());
            let Origin { panel, element: name, .. } = element.origin;
            let of = if *panel == later.origin.panel { String::new() } else { format!(" of={panel}") };
            let help = format!("move one of them, or write `under {name}{of}` in {}", later.name());
            findings.element(severity, element, message, help);
        }
        if exam.is_shadow(element) {
            continue;
        }
        let over = exam.elements.iter().zip(&letters).skip(at + 1).filter(|(later, words)| {
            later.is(Kind::Text) && overlap(later.bounds, element.bounds) && runs_over(&letters[at], words, graze)
        });
        for (later, _) in over.take(REPORTED) {
            let message = format!("the words of {} run over those of {}", later.name(), element.name());
            let help = "move one of them, or give the upper a lower edge: `bottom` or `above NAME GAP`";
            findings.element(Severity::Warning, element, message, help);
        }
    }
}

/// How many letters of a text an element hides, and of how many more it cuts something off.
#[derive(Clone, Copy, Default)]
struct CoveredLetters {
    hidden: usize,
    cut: usize,
}

/// What lies over a text and covers letters of it, in the order of drawing.
fn covering<'a>(
    exam: &'a Exam<'_>,
    letters: &[Rect],
    at: usize,
    (gone, cut): (f64, f64),
    patience: &mut Patience,
) -> Vec<(&'a VisibleElement<'a>, CoveredLetters)> {
    let bounds = exam.elements[at].bounds;
    let is_over = |later: &&VisibleElement<'_>| !later.is(Kind::Text) && overlap(later.bounds, bounds);
    let later: Vec<&VisibleElement<'_>> = exam.elements[at + 1..].iter().filter(is_over).collect();
    let touched = |letter: &&Rect| later.iter().any(|later| later.marks.iter().any(|mark| touches(mark, **letter)));
    let touched: Vec<Rect> = letters.iter().filter(touched).copied().collect();
    if touched.is_empty() {
        return Vec::new();
    }
    let shares = exam.hidden_shares(&exam.elements[at], &touched, patience);
    let shares = shares.unwrap_or_else(|| vec![None; touched.len()]);
    let mut all: Vec<CoveredLetters> = vec![CoveredLetters::default(); later.len()];
    for (letter, share) in touched.iter().zip(shares) {
        let hides = |later: &&VisibleElement<'_>| later.marks.iter().any(|mark| hides(mark, letter.center()));
        let touches = |later: &&VisibleElement<'_>| later.marks.iter().any(|mark| touches(mark, *letter));
        let Some(by) = later.iter().position(hides).or_else(|| later.iter().rposition(touches)) else { continue };
        // A letter that does not show on its own ground hides where something opaque lies over it.
        match share.unwrap_or(if hides(&later[by]) { 1.0 } else { 0.0 }) {
            share if share >= gone => all[by].hidden += 1,
            share if share >= cut => all[by].cut += 1,
            _ => {}
        }
    }
    let count: usize = all.iter().map(|covered| covered.hidden + covered.cut).sum();
    if count == 1 && letters.len() >= PLAYED {
        return Vec::new();
    }
    let covering = later.into_iter().zip(all).filter(|(_, covered)| covered.hidden + covered.cut > 0);
    covering.take(REPORTED).collect()
}

/// Whether something that is not clear lies over a part of a letter's box.
fn touches(mark: &VisibleMark<'_>, letter: Rect) -> bool {
    let mut clear = false;
    mark.item.inks(&mut |ink| clear |= ink.is_finishing());
    !clear && overlap(mark.bounds, letter)
}

/// Whether an opaque fill or picture lies over a point, without asking what cuts it.
fn hides(mark: &VisibleMark<'_>, point: Point) -> bool {
    if mark.mixed || mark.is_shaped || !mark.bounds.contains(point) {
        return false;
    }
    match &mark.item.mark {
        Mark::Fill { path, rule, paint } => !paint.overprints() && inside(path, *rule, point),
        Mark::Picture(placed) => placed.paint.is_none() && placed.picture.alpha().is_none(),
        _ => false,
    }
}

/// From left to right: two long texts have too many letters to compare each with each.
fn runs_over(letters: &[Rect], over: &[Rect], graze: f64) -> bool {
    let mut over = over.to_vec();
    over.sort_by(|a, b| a.x0.total_cmp(&b.x0));
    let widest = over.iter().map(Rect::width).fold(0.0, f64::max);
    letters.iter().any(|letter| {
        let first = over.partition_point(|other| other.x0 < letter.x0 - widest);
        over[first..].iter().take_while(|other| other.x0 <= letter.x1).any(|other| grazes(*letter, *other, graze))
    })
}

fn grazes(letter: Rect, other: Rect, graze: f64) -> bool {
    let shared = letter.intersect(other);
    shared.width() > 0.0 && shared.height() > 0.0 && shared.area() > graze * letter.area().min(other.area())
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
        let text = |at: usize| format!("text t{at} words=\"One {at}\" {{ left 20; right 20; top 40; size 24 }}\n");
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
            let graze = GRAZE.usual();
            let by_hand = letters.iter().any(|letter| over.iter().any(|other| grazes(*letter, *other, graze)));
            assert_eq!(runs_over(letters, over, graze), by_hand, "{lot}");
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

    /// A box over the feet of all letters, one over their middles, and one that only grazes them.
    #[test]
    fn a_word_cut_by_a_later_box() {
        let cover = |top: f64, height: f64, box_look: &str| {
            format!(
                "panel front {{ text title words=\"HHHHHH\" {{ left 20; right 20; cap-top 40; size 48; align left }}
                 band box {{ swatch unprinted; left 15; right 15; top {top}; height {height}; {box_look} }} }}"
            )
        };
        let said = |cover: String| {
            let found = reported(&RULE, &cover);
            found
                .first()
                .map(|found| (found.severity, found.message.split(" of").next().unwrap_or_default().to_owned()))
        };
        // Capitals of 48 pt are some 11.5 mm high.
        let cut = "`box` cuts into 6".to_owned();
        assert_eq!(said(cover(48.0, 10.0, "")), Some((Severity::Warning, cut)));
        assert_eq!(said(cover(43.0, 10.0, "")), Some((Severity::Error, "`box` hides 6".to_owned())));
        assert_eq!(said(cover(51.0, 10.0, "")), None);
        assert_eq!(said(cover(43.0, 0.5, "")), None);
        assert_eq!(said(cover(43.0, 10.0, "opacity 30")), None);
        assert_eq!(said(cover(43.0, 10.0, "opacity 95")).map(|said| said.0), Some(Severity::Error));
        assert_eq!(said(cover(43.0, 10.0, "blend multiply")), None);
    }

    #[test]
    fn a_shadow_of_the_words_passes_and_other_words_do_not() {
        let cover = |under: &str, aside: f64| {
            format!(
                "panel front {{
                    text shade words={under:?} {{ left 20; right 20; top {}; size 40; swatch black percent=30 }}
                    text title words=\"Lanterns\" {{ left 20; right 20; top 40; size 40 }} }}",
                40.0 + aside
            )
        };
        assert_eq!(reported(&RULE, &cover("Lanterns", 1.0)), []);
        assert_eq!(reported(&RULE, &cover("Lanterns", 6.0)).len(), 1);
        assert_eq!(reported(&RULE, &cover("Lattices", 1.0)).len(), 1);
    }

    /// A round window: the corners of its frame hide nothing.
    #[test]
    fn what_is_cut_round_covers_what_it_shows() {
        let cover = |left: i32| {
            format!(
                "panel front {{ text title words=\"HHHH\" {{ left 20; right 20; cap-top 40; size 14; align left }}
                 group g {{ left {left}; width 90; top 38; height 100; clip oval
                     band night {{ swatch black percent=50; left 0; right 0; top 0; bottom 0 }} }} }}"
            )
        };
        assert_eq!(reported(&RULE, &cover(18)), []);
        assert_eq!(reported(&RULE, &cover(-10)).len(), 1);
    }
}
