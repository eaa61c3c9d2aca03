//! Seen: what a build looked at on the disk, and whether it is still so.
#![expect(clippy::disallowed_methods, reason = "it compares files with what was read of them")]

use crate::build::disk::{covers, walk};
use crate::ground::Digest;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};

/// Every place a build looked at, as it found it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Seen(pub BTreeMap<PathBuf, State>);

#[derive(Clone, Debug, PartialEq, Eq, serde::Serialize, serde::Deserialize)]
pub enum State {
    File(Digest),
    /// A folder that was listed, by its names.
    Folder(Digest),
    /// A folder that was searched for files of the language, by their names.
    Covers(Digest),
    Missing,
    /// There, but not to be read.
    Closed,
    /// Two looks found it in two states: it is as none of them any more.
    Torn,
}

impl State {
    pub fn of(bytes: &[u8]) -> State {
        State::File(Digest::of_file(bytes))
    }

    /// How a place stands now, looked at as a file.
    pub fn now(place: &Path) -> State {
        match std::fs::metadata(place) {
            Err(_) => State::Missing,
            Ok(about) if !about.is_file() => State::Closed,
            Ok(_) => std::fs::read(place).map_or(State::Closed, |bytes| State::of(&bytes)),
        }
    }

    pub fn again(&self, place: &Path) -> State {
        match self {
            State::Folder(_) => State::Folder(listing(&walk(place))),
            State::Covers(_) => State::Covers(listing(&covers(place))),
            _ => State::now(place),
        }
    }
}

impl Seen {
    /// Takes in what else was seen.
    pub fn join(&mut self, other: &Seen) {
        for (place, state) in &other.0 {
            let known = self.0.entry(place.clone()).or_insert_with(|| state.clone());
            if known != state {
                *known = State::Torn;
            }
        }
    }

    /// The same places as they stand now.
    #[must_use]
    pub fn again(&self) -> Seen {
        Seen(self.0.iter().map(|(place, state)| (place.clone(), state.again(place))).collect())
    }

    /// The places that no longer stand as they were seen.
    pub fn changed(&self) -> Vec<PathBuf> {
        let changed = self.0.iter().filter(|(place, state)| state.again(place) != **state);
        changed.map(|(place, _)| place.clone()).collect()
    }

    /// Whether a file that was there is gone.
    pub fn lost(&self, place: &Path) -> bool {
        matches!(self.0.get(place), Some(State::File(_))) && State::now(place) == State::Missing
    }

    /// The folders in which a change to any of the places would show. A folder that is not there yet is awaited in
    /// the nearest one that is; a link is followed to where its file lies.
    pub fn folders(&self) -> Vec<PathBuf> {
        let mut folders = Vec::new();
        for (place, state) in &self.0 {
            if let State::Folder(_) | State::Covers(_) = state {
                folders.extend(within(place));
            }
            folders.extend(holding(place));
            if let Ok(real) = std::fs::canonicalize(place) {
                folders.extend(holding(&real));
            }
        }
        folders.sort();
        folders.dedup();
        folders
    }
}

/// The nearest folder above a place that exists, as the system names it.
fn holding(place: &Path) -> Option<PathBuf> {
    let above = place.ancestors().skip(1);
    let above = above.map(|folder| if folder.as_os_str().is_empty() { Path::new(".") } else { folder });
    above.filter(|folder| folder.is_dir()).find_map(|folder| std::fs::canonicalize(folder).ok())
}

/// A listed folder and those in it.
fn within(place: &Path) -> Vec<PathBuf> {
    let files = walk(place);
    let inner = files.iter().filter_map(|file| place.join(file).parent().map(Path::to_owned));
    let all = inner.chain(place.is_dir().then(|| place.to_owned()));
    all.filter_map(|folder| std::fs::canonicalize(folder).ok()).collect()
}

/// The names in a folder, as one digest.
pub fn listing(names: &[String]) -> Digest {
    let names: Vec<&[u8]> = names.iter().map(String::as_bytes).collect();
    Digest::of_all(&names)
}
