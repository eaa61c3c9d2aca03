//! Shadow: words that stand a little beside the same words, for their depth.

use crate::check::exam::Exam;
use crate::check::visible::VisibleElement;
use crate::check::words::folded;
use crate::scene::Kind;

/// How far a shadow may stand aside, in ems of its letters. Ours.
const ASIDE: f64 = 0.3;

impl Exam<'_> {
    /// Whether a later element says the same words nearly in the same place and size: then this one is their shadow, and is
    /// not meant to be read.
    pub fn is_shadow(&self, element: &VisibleElement<'_>) -> bool {
        let Some(em) = size(element) else { return false };
        let near = |later: &&VisibleElement<'_>| {
            let apart = later.bounds.origin() - element.bounds.origin();
            later.range.start >= element.range.end
                && apart.hypot() <= ASIDE * em
                && size(later).is_some_and(|other| (other - em).abs() < 0.05 * em)
        };
        let mut words = None;
        self.of(Kind::Text).filter(near).any(|later| {
            let words = words.get_or_insert_with(|| folded(&element.words()));
            !words.is_empty() && *words == folded(&later.words())
        })
    }
}

/// The em of its first run.
fn size(element: &VisibleElement<'_>) -> Option<f64> {
    element.runs().next().map(|(run, _)| run.size)
}
