//! The disk: files read and written, what was seen of them, and the store that outlasts a run.

mod places_now;
mod plain;
mod seen;
mod shelf;
mod store;
mod system;
mod walk;
mod write;

pub use places_now::{PlacesNow, holds, times};
pub use plain::{plain, relative};
pub use seen::{PlaceState, Seen};
pub use shelf::Disk;
pub use store::{LIMIT, Store, place};
pub use system::in_words;
pub use walk::{OUT, below, walk};
pub use write::{WriteFault, rewrite, same, settle, withdraw, write, write_new, write_pieces};
