//! Disk: the shelf that is a folder. It notes what it gave and what it missed; a file that changes during a build is not given twice.
#![expect(clippy::disallowed_methods, reason = "this is the one window onto the disk")]

#[cfg(test)]
mod tests;

use crate::assets::{FILE_LIMIT, Glance, Shelf, ShelfFault, listing, nearest, too_large};
use crate::disk::places_now::PlacesNow;
use crate::disk::seen::{PlaceState, Seen};
use crate::disk::system::in_words;
use crate::disk::walk::{below, covers, names, walk};
use crate::ground::Digest;
use std::collections::BTreeMap;
use std::fs::File;
use std::io::{ErrorKind, Read};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

pub struct Disk {
    root: PathBuf,
    places: Arc<PlacesNow>,
    noted: Mutex<ShelfNotes>,
}

#[derive(Default)]
struct ShelfNotes {
    seen: Seen,
    read: BTreeMap<String, ReadFile>,
    guessed: bool,
}

struct ReadFile {
    digest: Digest,
    /// Of a file that may be asked for again.
    kept: Option<Arc<[u8]>>,
}

impl Disk {
    /// A shelf for one build, rooted at the cover's folder.
    pub fn new(root: impl Into<PathBuf>) -> Disk {
        Disk::among(root, Arc::default())
    }

    /// The same for one of several covers: what they only glance at is looked at once for all.
    pub fn among(root: impl Into<PathBuf>, places: Arc<PlacesNow>) -> Disk {
        let root = root.into();
        // A bare file name has the empty folder, which the system does not know.
        let root = if root.as_os_str().is_empty() { PathBuf::from(".") } else { root };
        Disk { root, places, noted: Mutex::default() }
    }

    /// What was read, missed and listed so far.
    pub fn seen(&self) -> Seen {
        self.noted().seen.clone()
    }

    /// The files that came, by the path that asked for them, and their SHA-256.
    pub fn inputs(&self) -> Vec<(String, Digest)> {
        self.noted().read.iter().map(|(path, file)| (path.clone(), file.digest)).collect()
    }

    /// Whether it looked around for the name of a missing file: what it then says hangs on names that are not noted.
    pub fn guessed(&self) -> bool {
        self.noted().guessed
    }

    fn noted(&self) -> std::sync::MutexGuard<'_, ShelfNotes> {
        self.noted.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn place(&self, path: &str) -> PathBuf {
        if path.is_empty() { self.root.clone() } else { self.root.join(path) }
    }

    fn note(&self, path: &Path, state: PlaceState) {
        let seen = &mut self.noted().seen.0;
        // A folder that was listed, and then taken for a file, is still known by its names. A file that changed since it
        // was first read is known as it was then: whoever compares finds it changed.
        let stays = match seen.get(path) {
            Some(PlaceState::Folder(_) | PlaceState::Covers(_)) => state == PlaceState::Closed,
            Some(PlaceState::File(_)) => true,
            Some(PlaceState::Missing | PlaceState::Closed) | None => false,
        };
        if !stays {
            seen.insert(path.to_owned(), state);
        }
    }

    /// The bytes of a file, and their digest.
    fn open(&self, path: &str) -> Result<(Arc<[u8]>, Digest), ShelfFault> {
        if Path::new(path).is_absolute() {
            let why = "the path begins at the root of one machine; write it from the cover's folder";
            return Err(ShelfFault::Unreadable(why.to_owned()));
        }
        let place = self.place(path);
        match read(&place) {
            Ok(bytes) => {
                let digest = Digest::of_file(&bytes);
                self.note(&place, PlaceState::File(digest));
                Ok((bytes, digest))
            }
            Err(fault) => {
                self.note(&place, PlaceState::now(&place));
                Err(fault.unwrap_or_else(|| self.missing(path)))
            }
        }
    }

    fn missing(&self, path: &str) -> ShelfFault {
        self.noted().guessed = true;
        let (folder, name) = path.rsplit_once('/').map_or(("", path), |(folder, name)| (folder, name));
        let within = |name: &str| if folder.is_empty() { name.to_owned() } else { format!("{folder}/{name}") };
        let beside = names(&self.root.join(folder)).into_iter().filter(|name| self.root.join(within(name)).is_file());
        let beside: Vec<String> = beside.collect();
        let near = nearest(name, beside.iter().map(String::as_str)).map(|name| within(&name));
        // The right name in the wrong folder is as common as a wrong name.
        let elsewhere = || {
            // What builds wrote is there or not, by whether they have been.
            let all = below(&self.root, false).files;
            all.into_iter().find(|other| other.rsplit('/').next() == Some(name))
        };
        ShelfFault::Missing { nearest: near.or_else(elsewhere) }
    }
}

impl Shelf for Disk {
    fn read(&self, path: &str) -> Result<Arc<[u8]>, ShelfFault> {
        if let Some(ReadFile { kept: Some(bytes), .. }) = self.noted().read.get(path) {
            return Ok(bytes.clone());
        }
        let (bytes, digest) = self.open(path)?;
        let mut noted = self.noted();
        let file = noted.read.entry(path.to_owned()).or_insert(ReadFile { digest, kept: None });
        if file.kept.is_none() {
            file.digest = digest;
        }
        Ok(file.kept.get_or_insert(bytes).clone())
    }

    fn read_once(&self, path: &str) -> Result<(Arc<[u8]>, Digest), ShelfFault> {
        if let Some(ReadFile { kept: Some(bytes), digest }) = self.noted().read.get(path) {
            return Ok((bytes.clone(), *digest));
        }
        let (bytes, digest) = self.open(path)?;
        let known = self.noted().read.entry(path.to_owned()).or_insert(ReadFile { digest, kept: None }).digest;
        if known == digest { Ok((bytes, digest)) } else { Err(ShelfFault::Changed) }
    }

    fn glance(&self, place: &str, glance: Glance) -> Option<Digest> {
        if let (Glance::File, Some(file)) = (glance, self.noted().read.get(place)) {
            return Some(file.digest);
        }
        if Path::new(place).is_absolute() {
            return None;
        }
        let at = self.place(place);
        let state = self.places.look(&at, glance);
        self.note(&at, state.clone());
        if let PlaceState::File(digest) = state {
            self.noted().read.entry(place.to_owned()).or_insert(ReadFile { digest, kept: None });
        }
        state.digest()
    }

    fn list(&self, folder: &str) -> Vec<String> {
        let place = self.place(folder);
        let found = walk(&place);
        self.note(&place, PlaceState::Folder(listing("", &found)));
        let mut found: Vec<String> = found.iter().map(|name| format!("{folder}/{name}")).collect();
        found.sort();
        found
    }

    fn covers(&self, folder: &str) -> Vec<String> {
        let place = self.place(folder);
        let found = covers(&place);
        self.note(&place, PlaceState::Covers(listing("", &found)));
        let within = |name: String| if folder.is_empty() { name } else { format!("{folder}/{name}") };
        found.into_iter().map(within).collect()
    }
}

/// The bytes of a file; `Err(None)` when there is none.
fn read(place: &Path) -> Result<Arc<[u8]>, Option<ShelfFault>> {
    let fault = |error: &std::io::Error| match error.kind() {
        ErrorKind::NotFound | ErrorKind::NotADirectory | ErrorKind::InvalidInput | ErrorKind::InvalidFilename => None,
        ErrorKind::PermissionDenied => Some(ShelfFault::Unreadable("you may not read it".to_owned())),
        _ => Some(ShelfFault::Unreadable(in_words(error))),
    };
    // Asked before opening: a pipe or a device would never end.
    let about = std::fs::metadata(place).map_err(|error| fault(&error))?;
    if !about.is_file() {
        let what = if about.is_dir() { "it is a folder" } else { "it is not a plain file" };
        return Err(Some(ShelfFault::Unreadable(what.to_owned())));
    }
    if let Some(fault) = too_large(place, about.len()) {
        return Err(Some(fault));
    }
    let file = File::open(place).map_err(|error| fault(&error))?;
    let bytes = whole(file.take(FILE_LIMIT + 1), about.len() as usize).map_err(|error| fault(&error))?;
    match too_large(place, bytes.len() as u64) {
        Some(fault) => Err(Some(fault)),
        None => Ok(bytes),
    }
}

/// Read where they stay: a large file lies in memory once. It may have grown or shrunk since its length was asked.
fn whole(mut file: impl Read, length: usize) -> std::io::Result<Arc<[u8]>> {
    let mut bytes: Arc<[u8]> = std::iter::repeat_n(0, length).collect();
    let mut read = 0;
    let room = Arc::get_mut(&mut bytes).expect("nobody else has it yet");
    while let count @ 1.. = file.read(&mut room[read..])? {
        read += count;
    }
    let mut more = Vec::new();
    file.read_to_end(&mut more)?;
    if read == length && more.is_empty() {
        return Ok(bytes);
    }
    Ok([&bytes[..read], &more].concat().into())
}
