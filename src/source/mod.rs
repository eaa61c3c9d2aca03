//! KDL with places.

mod files;
mod parse;
mod reader;
mod tree;

pub use files::Files;
pub use parse::parse;
pub use reader::{Reader, Unit, offer};
pub use tree::{Datum, Node, Tree, Value};
