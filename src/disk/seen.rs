//! Seen: what a build looked at on the disk, and how it stands now.
#![expect(clippy::disallowed_methods, reason = "it compares files with what was read of them")]

use crate::assets::FILE_LIMIT;
use crate::disk::walk::{covers, walk};
use crate::ground::Digest;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// Every place a build looked at, as it found it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Seen(pub BTreeMap<PathBuf, PlaceState>);

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, serde::Serialize, serde::Deserialize)]
pub enum PlaceState {
    File(Digest),
    /// A folder that was listed, by its names.
    Folder(Digest),
    /// A folder that was searched for files of the language, by their names.
    Covers(Digest),
    Missing,
    /// There, but not to be read.
    Closed,
}

impl PlaceState {
    pub fn of(bytes: &[u8]) -> PlaceState {
        PlaceState::File(Digest::of_file(bytes))
    }

    /// How a place stands now, looked at as a file.
    pub fn now(place: &Path) -> PlaceState {
        match std::fs::metadata(place) {
            Err(_) => PlaceState::Missing,
            // What no build would read is not read to be looked at.
            Ok(about) if !about.is_file() || about.len() > FILE_LIMIT => PlaceState::Closed,
            Ok(_) => std::fs::read(place).map_or(PlaceState::Closed, |bytes| PlaceState::of(&bytes)),
        }
    }

    pub fn again(&self, place: &Path) -> PlaceState {
        match self {
            PlaceState::Folder(_) => PlaceState::Folder(listing(&walk(place))),
            PlaceState::Covers(_) => PlaceState::Covers(listing(&covers(place))),
            _ => PlaceState::now(place),
        }
    }
}

impl Seen {
    /// The places that are there, as the system names them.
    pub fn real(&self) -> impl Iterator<Item = PathBuf> {
        self.0.keys().filter_map(|place| std::fs::canonicalize(place).ok())
    }

    /// The same places as they stand now.
    #[must_use]
    pub fn again(&self) -> Seen {
        Seen(self.0.iter().map(|(place, state)| (place.clone(), state.again(place))).collect())
    }
}

/// The names in a folder, as one digest.
pub fn listing(names: &[String]) -> Digest {
    let names: Vec<&[u8]> = names.iter().map(String::as_bytes).collect();
    Digest::of_all(&names)
}
