//! Places now: how places stand now, each looked at once however many covers share it.
#![expect(clippy::disallowed_methods, reason = "it compares files with what was read of them")]

use crate::assets::Glance;
use crate::disk::seen::PlaceState;
use crate::ground::Digest;
use std::collections::BTreeMap;
use std::fs::Metadata;
use std::path::{Path, PathBuf};
use std::sync::{Mutex, PoisonError};
use std::time::UNIX_EPOCH;

/// One look around: whatever changes after a place was looked at is seen by the next.
#[derive(Default)]
pub struct PlacesNow(Mutex<BTreeMap<(PathBuf, Glance), PlaceState>>);

impl PlacesNow {
    /// How a place stands.
    pub fn look(&self, place: &Path, glance: Glance) -> PlaceState {
        let key = (place.to_owned(), glance);
        if let Some(known) = self.0.lock().unwrap_or_else(PoisonError::into_inner).get(&key) {
            return known.clone();
        }
        let state = PlaceState::looked_at(place, glance);
        self.0.lock().unwrap_or_else(PoisonError::into_inner).insert(key, state.clone());
        state
    }
}

/// Whether a file holds such bytes.
pub fn holds(path: &Path, sha256: Digest, bytes: u64) -> bool {
    let same_length = std::fs::metadata(path).is_ok_and(|about| about.is_file() && about.len() == bytes);
    same_length && std::fs::read(path).is_ok_and(|read| Digest::of_file(&read) == sha256)
}

/// Length, and nanoseconds since 1970 of the last change of its bytes and of anything about it. Who edits a file may set
/// the first back, but not the second, where the system counts it.
pub fn times(path: &Path) -> Option<(u64, [i128; 2])> {
    let about = std::fs::metadata(path).ok().filter(Metadata::is_file)?;
    let modified = about.modified().ok()?.duration_since(UNIX_EPOCH).ok()?;
    Some((about.len(), [i128::try_from(modified.as_nanos()).ok()?, changed(&about)]))
}

#[cfg(unix)]
fn changed(about: &Metadata) -> i128 {
    use std::os::unix::fs::MetadataExt as _;
    i128::from(about.ctime()) * NANOS + i128::from(about.ctime_nsec())
}

#[cfg(unix)]
const NANOS: i128 = 1_000_000_000;

#[cfg(not(unix))]
fn changed(_: &Metadata) -> i128 {
    0
}
