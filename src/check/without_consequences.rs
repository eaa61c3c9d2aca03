//! Without consequences: an element with a slip in its text is drawn as well as it can be, and what is less than an error
//! there follows from the slip. So does what is said of ink where a swatch could not be read.

use crate::cover::{Cover, Element};
use crate::ground::{Finding, Findings, Severity, Span};
use std::collections::BTreeSet;

/// Rules that judge ink.
const OF_INK: [&str; 16] = [
    "bar-code-colour",
    "black-not-overprinting",
    "colour-break-on-fold",
    "faint-tint",
    "finishing-detail",
    "finishing-plate",
    "gradient-steps",
    "ink-over-limit",
    "low-contrast",
    "many-plates",
    "nothing-shows",
    "plain-black-area",
    "small-type-in-several-inks",
    "spot-look",
    "white-overprint",
    "words-on-more-plates",
];

/// Leaves out warnings and notes of the elements with a slip, and those of ink where others stand in for it. A slip in what is
/// said of a group is the group's own, and not that of what stands in it.
pub fn without_consequences(cover: &Cover, stated: &Findings, all: &mut Vec<Finding>) {
    if cover.facts.palette.stands_in {
        all.retain(|finding| finding.severity == Severity::Error || !OF_INK.contains(&finding.rule));
    }
    let slips = stated.iter().filter(|finding| finding.severity == Severity::Error).map(|finding| finding.span);
    let faulty: BTreeSet<Span> = slips.filter_map(|slip| innermost(&cover.elements, slip)).collect();
    if faulty.is_empty() {
        return;
    }
    all.retain(|finding| {
        let own = || innermost(&cover.elements, finding.span);
        finding.severity == Severity::Error || !own().is_some_and(|element| faulty.contains(&element))
    });
}

/// The element that a place in the text belongs to.
fn innermost(elements: &[Element], place: Span) -> Option<Span> {
    elements.iter().find_map(|element| {
        innermost(element.body.inner(), place).or_else(|| within(place, element.span).then_some(element.span))
    })
}

fn within(inner: Span, outer: Span) -> bool {
    inner.file == outer.file && outer.start <= inner.start && inner.end <= outer.end
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::drawn;

    /// What is left of a warning at every word, where an error stands at one.
    fn left(slip: &str) -> Vec<&'static str> {
        const COVER: &str = "panel front {
            group both { opacity 90; left 20; width 80; top 20; height 80
                text one words=\"Salt\" { left 0; width 40; top 0 }
                text two words=\"Lanterns\" { left 0; width 40; top 30 }
            }
            text three words=\"Sea\" { left 20; width 40; top 120 }
        }";
        let (cover, _) = drawn(COVER);
        let first = cover.elements[0].span;
        let start = "group both".len();
        // The test's own lines before the cover move it.
        let base = first.start - COVER.find("group both").expect("it is there");
        let at = |word: &str| {
            let from = base + COVER.find(word).expect("it is there");
            Span::new(first.file, from..from + start.min(word.len()))
        };
        let mut stated = Findings::default();
        stated.error(at(slip), "a slip", "mend it");
        let words = ["opacity 90", "\"Salt\"", "\"Lanterns\"", "\"Sea\""];
        let mut all: Vec<Finding> =
            words.iter().map(|word| Finding::new(Severity::Warning, "rule", at(word), *word)).collect();
        without_consequences(&cover, &stated, &mut all);
        words.into_iter().filter(|word| all.iter().any(|finding| finding.message == *word)).collect()
    }

    #[test]
    fn rules_of_ink_have_their_names() {
        for rule in OF_INK {
            assert!(crate::check::names().any(|name| name == rule), "{rule}");
        }
    }

    #[test]
    fn a_slip_holds_back_its_own_element_and_no_other() {
        assert_eq!(left("opacity 90"), ["\"Salt\"", "\"Lanterns\"", "\"Sea\""], "a slip of the group itself");
        assert_eq!(left("\"Salt\""), ["opacity 90", "\"Lanterns\"", "\"Sea\""], "of what stands in it");
        assert_eq!(left("\"Sea\""), ["opacity 90", "\"Salt\"", "\"Lanterns\""]);
    }
}
