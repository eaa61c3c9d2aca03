//! Look: how places stand now, each looked at once however many covers share it.
#![expect(clippy::disallowed_methods, reason = "it compares files with what was read of them")]

use crate::build::seen::State;
use crate::ground::Digest;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};
use std::time::UNIX_EPOCH;

/// One look round: whatever changes after a place was looked at is seen by the next.
#[derive(Default)]
pub struct Look(Mutex<BTreeMap<(PathBuf, bool), State>>);

impl Look {
    /// How a place stands, looked at as it was before: as a file, or as a folder.
    pub fn again(&self, place: &Path, was: &State) -> State {
        let key = (place.to_owned(), matches!(was, State::Folder(_)));
        if let Some(known) = self.0.lock().unwrap_or_else(PoisonError::into_inner).get(&key) {
            return known.clone();
        }
        let state = was.again(place);
        self.0.lock().unwrap_or_else(PoisonError::into_inner).insert(key, state.clone());
        state
    }
}

/// Whether a file holds such bytes.
pub fn holds(path: &Path, sha256: Digest, bytes: u64) -> bool {
    let same_length = std::fs::metadata(path).is_ok_and(|about| about.is_file() && about.len() == bytes);
    same_length && std::fs::read(path).is_ok_and(|read| Digest::of_file(&read) == sha256)
}

/// Length, and nanoseconds since 1970.
pub fn modified(path: &Path) -> Option<(u64, u128)> {
    let about = std::fs::metadata(path).ok().filter(std::fs::Metadata::is_file)?;
    let modified = about.modified().ok()?.duration_since(UNIX_EPOCH).ok()?;
    Some((about.len(), modified.as_nanos()))
}
