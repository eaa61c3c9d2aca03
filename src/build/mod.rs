//! The stages in order, and their memory; the disk, the files written, the watch.

mod catalogue;
mod commission;
mod crew;
mod deliver;
mod disk;
mod follow;
mod known;
mod layers;
mod make;
mod marked;
mod pipeline;
mod rehearsal;
mod report;
mod roster;
mod seen;
mod stages;
mod store;
mod tabled;
mod testing;
mod tidy;
mod tried;
mod watch;
#[cfg(test)]
mod watch_tests;
mod write;

pub use commission::{Commission, Listed};
pub use crew::crew;
pub use deliver::{Delivered, Order, Written, deliver};
pub use disk::Disk;
pub use follow::{Followed, News, follow, shown};
pub use known::Look;
pub use layers::{TABLE, variants};
pub use make::{Made, Shop, make};
pub use pipeline::{Built, Workshop, build};
pub use rehearsal::Rehearsal;
pub use report::told;
pub use roster::{COVER, Roster, Shard, Target, Wish, roster};
pub use seen::Seen;
pub use stages::Design;
pub use store::{LIMIT, Store, place};
pub use tabled::{Tabled, tabled};
pub use testing::{Sheet, compare_findings, draw_plates};
pub use tidy::{Layout, tidied_text, tidy};
pub use tried::{Noted, Trial, Tried, language, rules};
pub use watch::{Wake, watch};
pub use write::{rewrite, write, write_new};
