//! Seen: what a build looked at on the disk, and how it stands now.
#![expect(clippy::disallowed_methods, reason = "it compares files with what was read of them")]

use crate::assets::{Glance, listing, too_large};
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
            Ok(about) if !about.is_file() || too_large(place, about.len()).is_some() => PlaceState::Closed,
            Ok(_) => std::fs::read(place).map_or(PlaceState::Closed, |bytes| PlaceState::of(&bytes)),
        }
    }

    pub fn again(&self, place: &Path) -> PlaceState {
        PlaceState::looked_at(place, self.glance())
    }

    /// How a place stands now, looked at in one way.
    pub fn looked_at(place: &Path, glance: Glance) -> PlaceState {
        match glance {
            Glance::File => PlaceState::now(place),
            Glance::Folder => PlaceState::Folder(listing("", &walk(place))),
            Glance::Covers => PlaceState::Covers(listing("", &covers(place))),
        }
    }

    /// The way in which it was looked at.
    pub fn glance(&self) -> Glance {
        match self {
            PlaceState::Folder(_) => Glance::Folder,
            PlaceState::Covers(_) => Glance::Covers,
            PlaceState::File(_) | PlaceState::Missing | PlaceState::Closed => Glance::File,
        }
    }

    pub fn digest(&self) -> Option<Digest> {
        match self {
            PlaceState::File(digest) | PlaceState::Folder(digest) | PlaceState::Covers(digest) => Some(*digest),
            PlaceState::Missing | PlaceState::Closed => None,
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
