//! Make: one cover built and delivered, or known to stand as it was.

use crate::assets::ShelfFault;
use crate::build::known::{self, Look};
use crate::build::write::WriteFault;
use crate::build::{Built, Delivered, Disk, Order, Seen, Store, Target, Workshop, build, deliver};

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

/// Makes a cover, and says what was looked at.
pub fn make(shop: &Shop<'_>, target: &Target) -> (Made, Seen) {
    if let Some(store) = shop.store
        && let Some((built, delivered, seen)) = known::recall(store, target, shop.order, shop.look)
    {
        return (Made::Built(built, delivered), seen);
    }
    let disk = Disk::new(&target.folder);
    let made = match build(shop.workshop, &disk, &target.commission) {
        Err(fault) => Made::Unread(fault),
        Ok(built) => match deliver(&built, &disk.inputs(), &shop.workshop.darkroom, shop.order, target, shop.store) {
            Ok(delivered) => {
                if let Some(store) = shop.store
                    && !disk.guessed()
                {
                    known::remember(store, target, shop.order, &disk.seen(), &built, &delivered);
                }
                Made::Built(built, delivered)
            }
            Err(fault) => Made::Unwritten(built, fault),
        },
    };
    (made, disk.seen())
}
