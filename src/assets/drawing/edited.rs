//! Edited: the text of a drawing with pieces of it replaced.

use std::ops::Range;

/// A place in the text, and what stands there instead.
pub type Edit = (Range<usize>, String);

/// Of edits that overlap, the first in the text is made.
pub fn edited(text: &str, mut edits: Vec<Edit>) -> String {
    edits.sort_by_key(|(place, _)| place.start);
    let mut new = String::with_capacity(text.len() + edits.iter().map(|(_, added)| added.len()).sum::<usize>());
    let mut at = 0;
    for (place, added) in edits {
        if place.start >= at {
            new.push_str(&text[at..place.start]);
            new.push_str(&added);
            at = place.end;
        }
    }
    new + &text[at..]
}

/// As a text or an attribute of XML holds it.
pub fn escaped(part: &str) -> String {
    part.replace('&', "&amp;").replace('<', "&lt;").replace('"', "&quot;").replace('\'', "&apos;")
}
