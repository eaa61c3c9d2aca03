//! Shelf: the one window onto files; a disk, or a map in tests.

use std::collections::BTreeMap;
use std::fmt;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

/// Files by path, relative to the folder of the cover file, `/` between names.
pub trait Shelf: Sync {
    fn read(&self, path: &str) -> Result<Arc<[u8]>, ShelfFault>;

    /// The files of a folder and of the folders in it, sorted; empty when there is no such folder.
    fn list(&self, folder: &str) -> Vec<String>;
}

/// Why a file did not come.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ShelfFault {
    Missing {
        nearest: Option<String>,
    },
    /// A folder, no permission, an unreadable disk: what the system said.
    Unreadable(String),
    TooLarge {
        bytes: u64,
    },
}

/// No file of a cover may be larger: 1 GiB.
pub const FILE_LIMIT: u64 = 1 << 30;

impl fmt::Display for ShelfFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ShelfFault::Missing { .. } => write!(f, "there is no such file"),
            ShelfFault::Unreadable(why) => write!(f, "it cannot be read: {why}"),
            ShelfFault::TooLarge { bytes } => {
                write!(f, "it is {} MB large; the limit is {} MB", bytes >> 20, FILE_LIMIT >> 20)
            }
        }
    }
}

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
}

/// A path without `.` and inner `..`.
pub fn tidy(path: &str) -> String {
    let mut clean = PathBuf::new();
    for part in Path::new(path).components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir if clean.file_name().is_some_and(|name| name != "..") => {
                clean.pop();
            }
            other => clean.push(other),
        }
    }
    clean.to_string_lossy().into_owned()
}

/// The known name that looks most like the wanted one.
pub fn nearest<'a>(wanted: &str, known: impl Iterator<Item = &'a str>) -> Option<String> {
    known
        .map(|name| (strsim::jaro_winkler(&wanted.to_lowercase(), &name.to_lowercase()), name))
        .filter(|(likeness, _)| *likeness > 0.75)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, name)| name.to_owned())
}
