//! Two designs of a cover side by side: what changed, in words for a production manager, and as a picture.

mod alike;
mod axis;
mod change;
mod elements;
mod hunks;
mod matter;
mod movement;
mod remarks;
mod sheet;
mod text;

pub use change::{Change, Changes, Topic};
pub use text::told;

use crate::build::Outline;

/// Everything that differs, in the order in which it is told.
pub fn compare(old: &Outline, new: &Outline) -> Changes {
    let mut changes = Changes::default();
    sheet::compare(old, new, &mut changes);
    let pairs = alike::pairs(old, new);
    movement::compare(old, new, &pairs, &mut changes);
    elements::compare(&pairs, &mut changes);
    matter::compare(old, new, &pairs, &mut changes);
    remarks::compare(&old.findings, &new.findings, &mut changes);
    changes.sort();
    changes
}
