//! Watched: every place that a watch observes, and which of them changed. A file that cannot have changed since it was
//! digested is not read again; builds never rely on that.
#![expect(clippy::disallowed_methods, reason = "it compares files, and their times with the clock")]

use crate::disk::PlaceState;
use crate::disk::Seen;
use crate::disk::below;
use std::collections::{BTreeMap, BTreeSet};
use std::fs::Metadata;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

/// Places with the states in which they were found. One that was found in two states has changed, unless it was looked
/// at in two ways, as a file and as a folder, and both are still true.
#[derive(Clone, Debug, Default)]
pub struct WatchedPlaces(BTreeSet<(PathBuf, PlaceState)>);

pub struct ChangedPlace {
    pub place: PathBuf,
    /// A file that was there is gone.
    pub lost: bool,
}

/// What a watch remembers of files between two looks.
#[derive(Default)]
pub struct FileMemory(BTreeMap<PathBuf, (FileState, PlaceState)>);

/// A file of which all this is as it was holds the same bytes, if it was already old when it was read.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
struct FileState {
    length: u64,
    /// The later of the time of its content and, where the system has one, of whatever else is noted of it, which
    /// nobody can set.
    times: [SystemTime; 2],
    /// Device and number on it: another file of its name has others.
    identity: [u64; 2],
}

/// File systems count time in steps, some in steps of two seconds: a file so young may be written once more in the very
/// step in which it was read.
const YOUNG: Duration = Duration::from_secs(3);

impl WatchedPlaces {
    pub fn add(&mut self, seen: &Seen) {
        self.0.extend(seen.0.iter().map(|(place, state)| (place.clone(), state.clone())));
    }

    /// What no longer stands as it was seen.
    pub fn changes(&self, memory: &mut FileMemory) -> Vec<ChangedPlace> {
        let mut changes: Vec<ChangedPlace> = Vec::new();
        for (place, state) in &self.0 {
            let now = match state {
                PlaceState::Folder(_) | PlaceState::Covers(_) => state.again(place),
                PlaceState::File(_) | PlaceState::Missing | PlaceState::Closed => memory.look(place, SystemTime::now()),
            };
            if now != *state && changes.last().is_none_or(|last| last.place != *place) {
                let lost = matches!(state, PlaceState::File(_)) && now == PlaceState::Missing;
                changes.push(ChangedPlace { place: place.clone(), lost });
            }
        }
        changes
    }

    /// The folders in which a change to any of the places would show. A folder that is not there yet is expected in
    /// the nearest one that is; a link is followed to where its file lies.
    pub fn folders(&self) -> BTreeSet<PathBuf> {
        let mut folders = BTreeSet::new();
        for (place, state) in &self.0 {
            match state {
                PlaceState::Folder(_) => folders.extend(within(place, true)),
                PlaceState::Covers(_) => folders.extend(within(place, false)),
                PlaceState::File(_) | PlaceState::Missing | PlaceState::Closed => {}
            }
            folders.extend(holding(place));
            if let Ok(real) = std::fs::canonicalize(place) {
                folders.extend(holding(&real));
            }
        }
        let between: Vec<PathBuf> = folders.iter().flat_map(|folder| between(folder, &folders)).collect();
        folders.extend(between);
        folders
    }
}

/// A folder between two of them may be exchanged for another, which neither shows.
fn between(folder: &Path, folders: &BTreeSet<PathBuf>) -> Vec<PathBuf> {
    let above: Vec<&Path> = folder.ancestors().skip(1).collect();
    let highest = above.iter().rposition(|above| folders.contains(*above)).unwrap_or(0);
    above[..highest].iter().map(|above| above.to_path_buf()).collect()
}

/// The nearest folder above a place that exists, as the system names it.
fn holding(place: &Path) -> Option<PathBuf> {
    let above = place.ancestors().skip(1);
    let above = above.map(|folder| if folder.as_os_str().is_empty() { Path::new(".") } else { folder });
    above.filter(|folder| folder.is_dir()).find_map(|folder| std::fs::canonicalize(folder).ok())
}

/// A folder that was looked through and those in it, also those that hold nothing yet.
fn within(place: &Path, with_written: bool) -> Vec<PathBuf> {
    let inner = below(place, with_written).folders.into_iter().map(|folder| place.join(folder));
    let all = inner.chain(place.is_dir().then(|| place.to_owned()));
    all.filter_map(|folder| std::fs::canonicalize(folder).ok()).collect()
}

impl FileMemory {
    /// How a place stands, looked at as a file at this moment.
    fn look(&mut self, place: &Path, moment: SystemTime) -> PlaceState {
        let before = stamp(place);
        if let Some(stamp) = before
            && let Some((known, state)) = self.0.get(place)
            && *known == stamp
        {
            return state.clone();
        }
        let state = PlaceState::now(place);
        match before.filter(|stamp| stamp.is_old(moment)) {
            // What was written while it was read shows in its times.
            Some(before) if stamp(place) == Some(before) => {
                self.0.insert(place.to_owned(), (before, state.clone()));
            }
            _ => {
                self.0.remove(place);
            }
        }
        state
    }
}

impl FileState {
    fn is_old(&self, moment: SystemTime) -> bool {
        self.times.iter().all(|time| time.checked_add(YOUNG).is_some_and(|grown| grown < moment))
    }
}

fn stamp(place: &Path) -> Option<FileState> {
    let about = std::fs::metadata(place).ok().filter(Metadata::is_file)?;
    let modified = about.modified().ok()?;
    let (noted, identity) = noted(&about, modified);
    Some(FileState { length: about.len(), times: [modified, noted], identity })
}

#[cfg(unix)]
fn noted(about: &Metadata, modified: SystemTime) -> (SystemTime, [u64; 2]) {
    use std::os::unix::fs::MetadataExt as _;
    let seconds = u64::try_from(about.ctime()).unwrap_or_default();
    let nanoseconds = u32::try_from(about.ctime_nsec()).unwrap_or_default();
    let since = Duration::new(seconds, nanoseconds);
    (SystemTime::UNIX_EPOCH.checked_add(since).unwrap_or(modified), [about.dev(), about.ino()])
}

#[cfg(not(unix))]
fn noted(_: &Metadata, modified: SystemTime) -> (SystemTime, [u64; 2]) {
    (modified, [0; 2])
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::fs::File;

    fn home() -> (tempfile::TempDir, PathBuf) {
        let home = tempfile::tempdir().expect("a temporary folder");
        let file = home.path().join("key.png");
        std::fs::write(&file, "one").expect("writes");
        (home, file)
    }

    fn later() -> SystemTime {
        SystemTime::now() + 2 * YOUNG
    }

    /// Same length, same time, often within one step of the system's clock.
    #[test]
    fn a_second_save_in_one_step_of_the_clock_is_seen() {
        let (_home, path) = home();
        let long_ago = SystemTime::UNIX_EPOCH + Duration::from_hours(300_000);
        let mut memory = FileMemory::default();
        for round in 0..2000 {
            let text = format!("{round:05}");
            std::fs::write(&path, &text).expect("writes");
            File::options().write(true).open(&path).and_then(|file| file.set_modified(long_ago)).expect("sets");
            assert_eq!(memory.look(&path, SystemTime::now()), PlaceState::of(text.as_bytes()), "round {round}");
        }
        assert!(memory.0.is_empty(), "nothing so young is remembered");
    }

    #[test]
    fn what_is_old_is_not_read_again_until_anything_of_it_changes() {
        let (home, path) = home();
        let mut memory = FileMemory::default();
        assert_eq!(memory.look(&path, later()), PlaceState::of(b"one"));
        // Remembered wrongly, it would be reported wrongly: it was not read.
        memory.0.get_mut(&path).expect("is remembered").1 = PlaceState::of(b"false");
        assert_eq!(memory.look(&path, later()), PlaceState::of(b"false"));
        // Another file of its name, length and time.
        let modified = std::fs::metadata(&path).and_then(|about| about.modified()).expect("has a time");
        let other = home.path().join("other.png");
        std::fs::write(&other, "two").expect("writes");
        File::options().write(true).open(&other).and_then(|file| file.set_modified(modified)).expect("sets");
        std::fs::rename(&other, &path).expect("renames over");
        assert_eq!(memory.look(&path, later()), PlaceState::of(b"two"));
        std::fs::remove_file(&path).expect("removes");
        assert_eq!(memory.look(&path, later()), PlaceState::Missing);
        std::fs::create_dir(&path).expect("a folder in its place");
        assert_eq!(memory.look(&path, later()), PlaceState::Closed);
    }

    #[test]
    fn a_place_may_be_looked_at_in_two_ways() {
        let (home, path) = home();
        let listed = PlaceState::Folder(crate::assets::listing("", &["key.png".to_owned()]));
        let mut watched = WatchedPlaces::default();
        for state in [PlaceState::Closed, listed] {
            watched.add(&Seen([(home.path().to_owned(), state)].into()));
        }
        watched.add(&Seen([(path.clone(), PlaceState::of(b"one"))].into()));
        let mut memory = FileMemory::default();
        assert!(watched.changes(&mut memory).is_empty());
        watched.add(&Seen([(path.clone(), PlaceState::of(b"two"))].into()));
        let changes = watched.changes(&mut memory);
        assert_eq!(changes.iter().map(|change| &change.place).collect::<Vec<_>>(), [&path]);
    }

    #[test]
    fn folders_hold_what_is_awaited_and_what_lies_between() {
        let (home, _) = home();
        let root = std::fs::canonicalize(home.path()).expect("is there");
        std::fs::create_dir_all(root.join("art/deep/empty")).expect("folders");
        let seen = [
            ("cover.kdl", PlaceState::Missing),
            ("art/deep/key.png", PlaceState::Missing),
            ("no/such/x", PlaceState::Missing),
        ];
        let mut watched = WatchedPlaces::default();
        watched.add(&Seen(seen.map(|(name, state)| (root.join(name), state)).into()));
        let names = ["", "art", "art/deep"].map(|name| root.join(name));
        assert_eq!(watched.folders(), names.into_iter().map(|name| name.components().collect()).collect());
        watched.add(&Seen([(root.join("art"), PlaceState::Folder(crate::assets::listing("", &[])))].into()));
        assert!(watched.folders().contains(&root.join("art/deep/empty")), "a folder may get its first file");
    }
}
