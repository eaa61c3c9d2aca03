//! Noting shelf: a shelf that notes what is read off it, and keeps none of it.

use crate::assets::{Glance, Shelf, ShelfFault, listing};
use crate::ground::Digest;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

pub struct NotingShelf<'a> {
    shelf: &'a dyn Shelf,
    noted: Mutex<Vec<NotedPlace>>,
}

/// A place, how it was looked at, and its digest: `None` when no file came.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotedPlace {
    pub place: String,
    pub glance: Glance,
    pub digest: Option<Digest>,
}

impl<'a> NotingShelf<'a> {
    pub fn new(shelf: &'a dyn Shelf) -> NotingShelf<'a> {
        NotingShelf { shelf, noted: Mutex::default() }
    }

    /// What is made, and all that was looked at meanwhile.
    pub fn noting<T>(&self, make: impl FnOnce() -> T) -> (T, Vec<NotedPlace>) {
        self.noted().clear();
        let made = make();
        (made, std::mem::take(&mut self.noted()))
    }

    /// Whether a place stands as it did.
    pub fn stands(&self, noted: &NotedPlace) -> bool {
        self.shelf.glance(&noted.place, noted.glance) == noted.digest
    }

    fn note(&self, place: &str, glance: Glance, digest: Option<Digest>) {
        let noted = NotedPlace { place: place.to_owned(), glance, digest };
        self.noted().push(noted);
    }

    fn noted(&self) -> MutexGuard<'_, Vec<NotedPlace>> {
        self.noted.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Shelf for NotingShelf<'_> {
    fn read(&self, path: &str) -> Result<Arc<[u8]>, ShelfFault> {
        let read = self.shelf.read_once(path);
        self.note(path, Glance::File, read.as_ref().ok().map(|(_, digest)| *digest));
        Ok(read?.0)
    }

    fn list(&self, folder: &str) -> Vec<String> {
        let found = self.shelf.list(folder);
        self.note(folder, Glance::Folder, Some(listing(folder, &found)));
        found
    }

    fn covers(&self, folder: &str) -> Vec<String> {
        let found = self.shelf.covers(folder);
        self.note(folder, Glance::Covers, Some(listing(folder, &found)));
        found
    }
}
