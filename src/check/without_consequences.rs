//! Without consequences: an element with a slip in its text is drawn as well as it can be, and what is less than an error
//! there follows from the slip.

use crate::cover::{Cover, Element};
use crate::ground::{Finding, Findings, Severity, Span};

/// Leaves out warnings and notes of the elements with a slip. In a group that is the element itself, and not those beside it;
/// a slip in what is said of the group as a whole is one of all that stands in it.
pub fn without_consequences(cover: &Cover, stated: &Findings, all: &mut Vec<Finding>) {
    let slips = stated.iter().filter(|finding| finding.severity == Severity::Error).map(|finding| finding.span);
    let faulty: Vec<Span> = slips.filter_map(|slip| innermost(&cover.elements, slip)).collect();
    all.retain(|finding| {
        finding.severity == Severity::Error || !faulty.iter().any(|element| within(finding.span, *element))
    });
}

/// The element that a slip belongs to.
fn innermost(elements: &[Element], slip: Span) -> Option<Span> {
    elements.iter().find_map(|element| {
        innermost(element.body.inner(), slip).or_else(|| within(slip, element.span).then_some(element.span))
    })
}

fn within(inner: Span, outer: Span) -> bool {
    inner.file == outer.file && outer.start <= inner.start && inner.end <= outer.end
}
