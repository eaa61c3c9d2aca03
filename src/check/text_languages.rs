//! Text languages: what texts are set in, by themselves or by their styles.

use crate::check::exam::Exam;
use crate::cover::Element;
use crate::ground::Span;
use std::collections::BTreeMap;

/// The languages of each text, by where its name stands; one whose size is sought may have styles in several.
pub fn text_languages<'a>(exam: &Exam<'a>) -> BTreeMap<Span, Vec<&'a str>> {
    let mut found = BTreeMap::new();
    gather(&exam.cover.elements, &mut found);
    found
}

fn gather<'a>(elements: &'a [Element], found: &mut BTreeMap<Span, Vec<&'a str>>) {
    for element in elements {
        found.insert(element.name.span, element.body.languages());
        gather(element.body.inner(), found);
    }
}
