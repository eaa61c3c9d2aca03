//! A shelf that is a map of files in memory.

use crate::assets::{Shelf, ShelfFault, is_cover, nearest, tidy};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Files in memory.
#[derive(Default)]
pub struct MapShelf(pub BTreeMap<String, Arc<[u8]>>);

impl MapShelf {
    #[must_use]
    pub fn with(mut self, path: &str, bytes: impl Into<Arc<[u8]>>) -> MapShelf {
        self.0.insert(path.to_owned(), bytes.into());
        self
    }
}

impl Shelf for MapShelf {
    fn read(&self, path: &str) -> Result<Arc<[u8]>, ShelfFault> {
        let nearest = || nearest(path, self.0.keys().map(String::as_str));
        self.0.get(&tidy(path)).cloned().ok_or_else(|| ShelfFault::Missing { nearest: nearest() })
    }

    fn list(&self, folder: &str) -> Vec<String> {
        let prefix = format!("{}/", tidy(folder));
        self.0.keys().filter(|path| path.starts_with(&prefix)).cloned().collect()
    }

    fn covers(&self, folder: &str) -> Vec<String> {
        let prefix = if folder.is_empty() { String::new() } else { format!("{}/", tidy(folder)) };
        self.0.keys().filter(|path| path.starts_with(&prefix) && is_cover(path)).cloned().collect()
    }
}
