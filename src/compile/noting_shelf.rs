//! Noting shelf: a shelf that notes what is read off it, and knows each file's digest once.

use crate::assets::{Shelf, ShelfFault};
use crate::disk::listing;
use crate::ground::Digest;
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};

pub struct NotingShelf<'a> {
    shelf: &'a dyn Shelf,
    notes: Mutex<Notes>,
}

#[derive(Default)]
struct Notes {
    digests: BTreeMap<String, Option<Digest>>,
    since: Vec<(String, Noted)>,
}

/// How a place was found.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Noted {
    /// `None` when it does not come.
    File(Option<Digest>),
    Folder(Digest),
    Covers(Digest),
}

impl<'a> NotingShelf<'a> {
    pub fn new(shelf: &'a dyn Shelf) -> NotingShelf<'a> {
        NotingShelf { shelf, notes: Mutex::default() }
    }

    /// What is made, and all that was looked at meanwhile.
    pub fn noting<T>(&self, make: impl FnOnce() -> T) -> (T, Vec<(String, Noted)>) {
        self.notes().since.clear();
        let made = make();
        (made, std::mem::take(&mut self.notes().since))
    }

    /// How a place stands now.
    pub fn again(&self, place: &str, noted: &Noted) -> Noted {
        match noted {
            Noted::File(_) => Noted::File(self.digest(place, &self.shelf.read(place))),
            Noted::Folder(_) => Noted::Folder(listing(&self.shelf.list(place))),
            Noted::Covers(_) => Noted::Covers(listing(&self.shelf.covers(place))),
        }
    }

    fn digest(&self, path: &str, read: &Result<Arc<[u8]>, ShelfFault>) -> Option<Digest> {
        if let Some(known) = self.notes().digests.get(path) {
            return *known;
        }
        let digest = read.as_ref().ok().map(|bytes| Digest::of(bytes));
        self.notes().digests.insert(path.to_owned(), digest);
        digest
    }

    fn note(&self, place: &str, noted: Noted) {
        self.notes().since.push((place.to_owned(), noted));
    }

    fn notes(&self) -> MutexGuard<'_, Notes> {
        self.notes.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

impl Shelf for NotingShelf<'_> {
    fn read(&self, path: &str) -> Result<Arc<[u8]>, ShelfFault> {
        let read = self.shelf.read(path);
        self.note(path, Noted::File(self.digest(path, &read)));
        read
    }

    fn list(&self, folder: &str) -> Vec<String> {
        let found = self.shelf.list(folder);
        self.note(folder, Noted::Folder(listing(&found)));
        found
    }

    fn covers(&self, folder: &str) -> Vec<String> {
        let found = self.shelf.covers(folder);
        self.note(folder, Noted::Covers(listing(&found)));
        found
    }
}
