//! Disk: the shelf that is a folder. It reads each file once a build and notes what it gave and what it missed.
#![expect(clippy::disallowed_methods, reason = "this is the one window onto the disk")]

use crate::assets::{FILE_LIMIT, Shelf, ShelfFault, nearest};
use crate::disk::seen::{PlaceState, Seen, listing};
use crate::disk::system::in_words;
use crate::disk::walk::{below, covers, names, walk};
use crate::ground::Digest;
use std::collections::BTreeMap;
use std::fs::File;
use std::io::{ErrorKind, Read as _};
use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex, PoisonError};

pub struct Disk {
    root: PathBuf,
    noted: Mutex<ShelfNotes>,
}

#[derive(Default)]
struct ShelfNotes {
    seen: Seen,
    read: BTreeMap<String, (Arc<[u8]>, Digest)>,
    guessed: bool,
}

impl Disk {
    /// A shelf for one build, rooted at the cover's folder.
    pub fn new(root: impl Into<PathBuf>) -> Disk {
        let root = root.into();
        // A bare file name has the empty folder, which the system does not know.
        let root = if root.as_os_str().is_empty() { PathBuf::from(".") } else { root };
        Disk { root, noted: Mutex::default() }
    }

    /// What was read, missed and listed so far.
    pub fn seen(&self) -> Seen {
        self.noted().seen.clone()
    }

    /// The files that came, by the path that asked for them, and their SHA-256.
    pub fn inputs(&self) -> Vec<(String, Digest)> {
        self.noted().read.iter().map(|(path, (_, digest))| (path.clone(), *digest)).collect()
    }

    /// Whether it looked around for the name of a missing file: what it then says hangs on names that are not noted.
    pub fn guessed(&self) -> bool {
        self.noted().guessed
    }

    fn noted(&self) -> std::sync::MutexGuard<'_, ShelfNotes> {
        self.noted.lock().unwrap_or_else(PoisonError::into_inner)
    }

    fn note(&self, path: &Path, state: PlaceState) {
        let seen = &mut self.noted().seen.0;
        // A folder that was listed, and then taken for a file, is still known by its names.
        let listed = matches!(seen.get(path), Some(PlaceState::Folder(_) | PlaceState::Covers(_)));
        if !(listed && state == PlaceState::Closed) {
            seen.insert(path.to_owned(), state);
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
        if let Some((bytes, _)) = self.noted().read.get(path) {
            return Ok(bytes.clone());
        }
        if Path::new(path).is_absolute() {
            let why = "the path begins at the root of one machine; write it from the cover's folder";
            return Err(ShelfFault::Unreadable(why.to_owned()));
        }
        let place = self.root.join(path);
        match read(&place) {
            Ok(bytes) => {
                let digest = Digest::of_file(&bytes);
                self.note(&place, PlaceState::File(digest));
                let mut noted = self.noted();
                Ok(noted.read.entry(path.to_owned()).or_insert((bytes, digest)).0.clone())
            }
            Err(fault) => {
                self.note(&place, PlaceState::now(&place));
                Err(fault.unwrap_or_else(|| self.missing(path)))
            }
        }
    }

    fn list(&self, folder: &str) -> Vec<String> {
        let place = self.root.join(folder);
        let found = walk(&place);
        self.note(&place, PlaceState::Folder(listing(&found)));
        let mut found: Vec<String> = found.iter().map(|name| format!("{folder}/{name}")).collect();
        found.sort();
        found
    }

    fn covers(&self, folder: &str) -> Vec<String> {
        let place = if folder.is_empty() { self.root.clone() } else { self.root.join(folder) };
        let found = covers(&place);
        self.note(&place, PlaceState::Covers(listing(&found)));
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
    if about.len() > FILE_LIMIT {
        return Err(Some(ShelfFault::TooLarge { bytes: about.len() }));
    }
    let mut bytes = Vec::with_capacity(about.len() as usize);
    let file = File::open(place).map_err(|error| fault(&error))?;
    file.take(FILE_LIMIT + 1).read_to_end(&mut bytes).map_err(|error| fault(&error))?;
    if bytes.len() as u64 > FILE_LIMIT {
        return Err(Some(ShelfFault::TooLarge { bytes: bytes.len() as u64 }));
    }
    Ok(bytes.into())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder() -> (tempfile::TempDir, Disk) {
        let folder = tempfile::tempdir().expect("a temporary folder");
        std::fs::create_dir_all(folder.path().join("book/art")).expect("a folder");
        std::fs::write(folder.path().join("book/art/lantern.tif"), b"tif").expect("writes");
        std::fs::write(folder.path().join("series.kdl"), b"series").expect("writes");
        let disk = Disk::new(folder.path().join("book"));
        (folder, disk)
    }

    #[test]
    fn reads_within_and_above_its_folder() {
        let (_folder, disk) = folder();
        assert_eq!(disk.read("art/lantern.tif").as_deref(), Ok(b"tif".as_slice()));
        assert_eq!(disk.read("../series.kdl").as_deref(), Ok(b"series".as_slice()));
        assert_eq!(disk.list("art"), ["art/lantern.tif"]);
        assert!(disk.list("fonts").is_empty());
        assert_eq!(disk.seen().0.len(), 4);
        let listed = disk.seen();
        assert!(disk.read("art").is_err());
        assert_eq!(disk.seen(), listed, "the names in the folder count, whatever else it is taken for");
        assert_eq!(disk.inputs()[0].0, "../series.kdl");
    }

    #[test]
    fn says_why_a_file_does_not_come() {
        let (folder, disk) = folder();
        let near = |wanted: &str| match disk.read(wanted) {
            Err(ShelfFault::Missing { nearest }) => nearest,
            other => panic!("{other:?}"),
        };
        assert_eq!(near("art/lantren.tif").as_deref(), Some("art/lantern.tif"));
        assert_eq!(near("lantern.tif").as_deref(), Some("art/lantern.tif"));
        std::fs::create_dir_all(folder.path().join("book/out")).expect("a folder");
        std::fs::write(folder.path().join("book/out/book-front.png"), b"png").expect("writes");
        assert_eq!(near("book-front.png"), None, "what a build wrote is no file of the author's");
        assert_eq!(near("art/lantern.tif/x").as_deref(), None);
        assert_eq!(near("nul\0"), None);
        assert_eq!(disk.read("art"), Err(ShelfFault::Unreadable("it is a folder".to_owned())));
        assert!(matches!(disk.read("/etc/hostname"), Err(ShelfFault::Unreadable(_))));
        #[cfg(unix)]
        {
            let device = Disk::new("/dev");
            assert!(matches!(device.read("zero"), Err(ShelfFault::Unreadable(_))));
        }
    }

    #[cfg(unix)]
    #[test]
    fn follows_links_and_survives_their_circles() {
        let (folder, disk) = folder();
        std::os::unix::fs::symlink(folder.path().join("book"), folder.path().join("book/art/round")).expect("links");
        std::os::unix::fs::symlink("lantern.tif", folder.path().join("book/art/link.tif")).expect("links");
        assert_eq!(disk.read("art/link.tif").as_deref(), Ok(b"tif".as_slice()));
        assert!(disk.list("art").len() < 100);
    }
}
