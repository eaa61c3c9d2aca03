//! Make: one cover built and delivered, or known to stand as it was.

use crate::assets::ShelfFault;
use crate::compile::deliver::{Ready, deliver, ready};
use crate::compile::known;
use crate::compile::known::Look;
use crate::compile::{Delivered, Order, Workshop, build};
use crate::disk::WriteFault;
use crate::disk::{Disk, Seen, Store};
use crate::record::Built;
use crate::targets::Target;

/// What all covers of a run share.
pub struct Shop<'a> {
    pub workshop: &'a Workshop,
    pub store: Option<&'a Store>,
    pub order: &'a Order,
    pub look: &'a Look,
}

/// A cover's files, or why there are none.
pub enum Made {
    Built(Built, Delivered),
    /// Built, but not to be written.
    Unwritten(Built, WriteFault),
    Unread(ShelfFault),
}

/// A cover whose files are yet to be written.
pub enum Thought {
    /// As it was: nothing is left to do.
    Known(Built, Delivered, Seen),
    Ready {
        built: Built,
        files: Vec<Ready>,
        seen: Seen,
        guessed: bool,
    },
    Unread(ShelfFault, Seen),
}

/// All that takes a processor: a cover up to the bytes of its files.
pub fn think(shop: &Shop<'_>, target: &Target) -> Thought {
    if let Some(store) = shop.store
        && let Some((built, delivered, seen)) = known::recall(store, target, shop.order, shop.look)
    {
        return Thought::Known(built, delivered, seen);
    }
    let disk = Disk::new(&target.folder);
    match build(shop.workshop, &disk, &target.commission) {
        Err(fault) => Thought::Unread(fault, disk.seen()),
        Ok(built) => {
            let files = ready(&built, &disk.inputs(), &shop.workshop.darkroom, shop.order, target);
            Thought::Ready { built, files, seen: disk.seen(), guessed: disk.guessed() }
        }
    }
}

/// All that waits for the disk: writes the files, and says what was looked at.
pub fn finish(shop: &Shop<'_>, target: &Target, thought: Thought) -> (Made, Seen) {
    match thought {
        Thought::Known(built, delivered, seen) => (Made::Built(built, delivered), seen),
        Thought::Unread(fault, seen) => (Made::Unread(fault), seen),
        Thought::Ready { built, files, seen, guessed } => match deliver(&built, files, &seen, target, shop.store) {
            Err(fault) => (Made::Unwritten(built, fault), seen),
            Ok(delivered) => {
                if let Some(store) = shop.store.filter(|_| !guessed) {
                    known::remember(store, target, shop.order, &seen, &built, &delivered);
                }
                (Made::Built(built, delivered), seen)
            }
        },
    }
}
