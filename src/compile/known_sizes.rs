//! Known sizes: what another cover finds for the words whose size is shared, and what that hangs on.

use crate::compile::noting_shelf::NotedPlace;
use crate::scene::Surface;
use std::collections::BTreeMap;

/// Covers that may share a size. A series has some dozens; each has to know them all.
pub const MOST_ALIKE: usize = 200;

/// The file that asks for one size, the panel and the element's name.
pub type SizeKey = (String, Surface, String);

/// The sizes that one cover found, the smallest of each, and all that it was made of.
pub struct KnownSizes {
    pub made_of: Vec<NotedPlace>,
    /// `None` when it cannot be read.
    pub sizes: Option<BTreeMap<SizeKey, f64>>,
}
