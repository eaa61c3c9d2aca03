//! Two designs of a cover side by side: what changed, in words for a production manager, and as a picture.

mod alike;
mod axis;
mod change;
mod elements;
mod hunks;
mod matter;
mod movement;
mod picture;
mod plates;
mod regions;
mod remarks;
mod seen;
mod sheet;
#[cfg(test)]
mod tests;
mod text;
mod view;

pub use alike::resized;
pub use change::Changes;
pub use picture::picture;
pub use text::in_words;
pub use view::{FlatView, View};

use crate::record::CoverOutline;

/// Everything that differs, in the order in which it is reported.
pub fn compare(old: &CoverOutline, new: &CoverOutline) -> Changes {
    let mut changes = Changes::default();
    sheet::compare(old, new, &mut changes);
    let pairs = alike::pairs(old, new);
    movement::compare(old, new, &pairs, &mut changes);
    elements::compare(&pairs, &mut changes);
    matter::compare(old, new, &pairs, &mut changes);
    remarks::compare(&old.findings, &new.findings, &mut changes);
    plates::compare(&old.inks.plates, &new.inks.plates, &mut changes);
    changes.sort();
    changes
}
