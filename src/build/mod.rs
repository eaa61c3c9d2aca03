//! The stages in order, and their memory; the disk, the files written, the watch.

mod attempt;
mod commission;
mod deliver;
mod disk;
mod layers;
mod marked;
mod outline;
mod past;
mod pipeline;
mod rehearsal;
mod report;
mod seen;
mod stages;
mod store;
mod testing;
mod tidy;
mod tried;
mod watch;
#[cfg(test)]
mod watch_tests;
mod write;

pub use attempt::attempt;
pub use commission::{Commission, Title};
pub use deliver::{Delivered, Order, deliver};
pub use disk::Disk;
pub use layers::{TABLE, variants};
pub use outline::{Amount, Area, Element, Face, Outline, Plate, Print, Remark, Tone};
pub use past::Past;
pub use pipeline::{Built, Workshop, build};
pub use rehearsal::Rehearsal;
pub use report::told;
pub use seen::Seen;
pub use stages::Design;
pub use store::{LIMIT, Store, place};
pub use testing::{Sheet, compare_findings, draw_plates};
pub use tidy::{Layout, tidy};
pub use tried::{Noted, Trial, Tried, language, rules};
pub use watch::{Turn, Wake, watch};
pub use write::{rewrite, write, write_new};
