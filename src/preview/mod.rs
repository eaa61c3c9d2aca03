//! The preview: a page in the browser that shows covers while they are written. It listens on this machine alone, serves no
//! file of the disk, and writes none unless `--out` says where.

mod account;
mod answer;
mod brief;
mod cover_id;
mod editor;
mod guard;
mod list_mistake;
mod live;
mod looks;
mod making;
mod news;
mod over;
mod page_element;
mod page_files;
mod patient_stream;
mod pictures;
mod reading;
mod routes;
mod scales;
mod serve;
mod shown;
mod studio;
mod tiles;
mod titles;
mod trying;
mod variant;

pub use live::{PreviewOptions, preview};
pub use serve::PORT;
