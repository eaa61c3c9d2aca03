//! Store: what is slow to make, in a folder that many processes may share. Whatever does not verify is a miss.
#![expect(clippy::disallowed_methods, reason = "this is the one hand on the store's folder")]

mod entry;
mod place;
#[cfg(test)]
mod tests;
mod trim;

pub use place::place;

use crate::assets::Keep;
use crate::disk::system::in_words;
use crate::ground::{Digest, Pieces};
use entry::{EntryHead, EntryRead};
use serde::{Serialize, de::DeserializeOwned};
use std::io::{ErrorKind, Write as _};
use std::path::{Path, PathBuf};
use std::sync::atomic::{AtomicU64, Ordering};
use std::sync::{Mutex, PoisonError};

/// Never fails: a disk that is full, read-only or gone makes everything a miss, and that is reported once, at the end.
pub struct Store {
    folder: PathBuf,
    limit: u64,
    /// Bytes that this process has put into it.
    written: AtomicU64,
    /// Bytes of finished files among them.
    finished: AtomicU64,
    trouble: Mutex<Option<String>>,
}

/// Bytes that a store may hold, by default: 2 GiB.
pub const LIMIT: u64 = 2 << 30;
/// This part of the limit is much to put into it at once.
const MUCH: u64 = 20;
/// One run puts no more finished files into it than this part of the limit: they stand beside the covers already, and a
/// thousand of them would drive out the pictures that all share.
const FINISHED: u64 = 4;
/// What this program is made of. Another one's blocks and pictures are never taken for its own.
const FINGERPRINT: &str = env!("JACONET_FINGERPRINT");
/// Kinds of entries, beside those of the rooms that keep something.
const FILE: &str = "file";
const RECORD: &str = "record";

impl Store {
    /// The folder is made when something is first put into it.
    pub fn open(folder: impl Into<PathBuf>, limit: u64) -> Store {
        Store {
            folder: folder.into(),
            limit,
            written: AtomicU64::new(0),
            finished: AtomicU64::new(0),
            trouble: Mutex::default(),
        }
    }

    /// A finished file, found again by its SHA-256 whatever program made it.
    pub fn file_put(&self, bytes: &Pieces, digest: Digest) {
        let head = EntryHead { kind: FILE, name: Digest::of_all(&[FILE.as_bytes(), digest.bytes()]), sum: digest };
        let length = bytes.length();
        // A damaged one has been taken away when it was asked for.
        if entry::stands(&self.path(head.name), length as usize) {
            return;
        }
        let before = self.finished.fetch_add(length, Ordering::Relaxed);
        if before + length <= self.limit / FINISHED {
            self.write(&head, &bytes.slices().collect::<Vec<_>>());
        }
    }

    pub fn file_get(&self, digest: Digest, length: u64) -> Option<Vec<u8>> {
        let name = Digest::of_all(&[FILE.as_bytes(), digest.bytes()]);
        self.read(FILE, name).filter(|bytes| bytes.len() as u64 == length && Digest::of_file(bytes) == digest)
    }

    /// A small value, by all that it depends on; this program alone will find it.
    pub fn record_put(&self, key: Digest, value: &impl Serialize) {
        if let Ok(bytes) = postcard::to_stdvec(value) {
            self.put(RECORD, key, &bytes);
        }
    }

    pub fn record_get<T: DeserializeOwned>(&self, key: Digest) -> Option<T> {
        postcard::from_bytes(&self.get(RECORD, key)?).ok()
    }

    /// At the end of a run: down to nine tenths of the limit if it is exceeded, what was used longest ago first. To look
    /// through a large store takes longer than a small build: it is done when this process has put much into it, or
    /// when nobody has done it for an hour.
    pub fn trim(&self) {
        self.finished.store(0, Ordering::Relaxed);
        let much = self.written.load(Ordering::Relaxed) >= self.limit / MUCH;
        if !much && trim::lately(&self.folder) {
            return;
        }
        if let Err(error) = trim::trim(&self.folder, self.limit) {
            self.complain("trimmed", &error);
        }
    }

    /// What kept it from working, if anything did: the first such thing.
    pub fn trouble(&self) -> Option<String> {
        self.trouble.lock().unwrap_or_else(PoisonError::into_inner).clone()
    }

    fn path(&self, name: Digest) -> PathBuf {
        let name = name.to_string();
        let (folder, file) = name.split_at(2);
        self.folder.join(folder).join(file)
    }

    fn read(&self, kind: &'static str, name: Digest) -> Option<Vec<u8>> {
        let path = self.path(name);
        match entry::read(&path, kind, name) {
            Ok(EntryRead::Whole(bytes)) => Some(bytes),
            Ok(EntryRead::Damaged) => {
                let _ = std::fs::remove_file(&path);
                None
            }
            Ok(EntryRead::Nothing) => None,
            Err(error) => {
                self.complain("read", &error);
                None
            }
        }
    }

    fn write(&self, head: &EntryHead, bytes: &[&[u8]]) {
        if let Err(error) = self.place(head, bytes) {
            self.complain("written", &error);
        }
    }

    fn place(&self, head: &EntryHead, bytes: &[&[u8]]) -> std::io::Result<()> {
        let path = self.path(head.name);
        let folder = path.parent().unwrap_or(Path::new("."));
        let mut file = match entry::temporary(folder) {
            Err(error) if error.kind() == ErrorKind::NotFound => {
                std::fs::create_dir_all(folder)?;
                entry::temporary(folder)?
            }
            other => other?,
        };
        let length: usize = bytes.iter().map(|piece| piece.len()).sum();
        file.write_all(&head.bytes(length))?;
        for piece in bytes {
            file.write_all(piece)?;
        }
        self.written.fetch_add(length as u64, Ordering::Relaxed);
        // Not synchronised: after a power cut it may be anything, and does not verify.
        file.persist(&path).map(drop).map_err(|error| error.error)
    }

    fn complain(&self, what: &str, error: &std::io::Error) {
        let mut trouble = self.trouble.lock().unwrap_or_else(PoisonError::into_inner);
        trouble.get_or_insert_with(|| {
            format!("the store {} cannot be {what}: {}", self.folder.display(), in_words(error))
        });
    }
}

impl Keep for Store {
    fn get(&self, kind: &'static str, key: Digest) -> Option<Vec<u8>> {
        self.read(kind, name(kind, key))
    }

    fn put(&self, kind: &'static str, key: Digest, bytes: &[u8]) {
        self.write(&EntryHead { kind, name: name(kind, key), sum: Digest::of_file(bytes) }, &[bytes]);
    }
}

fn name(kind: &str, key: Digest) -> Digest {
    Digest::of_all(&[FINGERPRINT.as_bytes(), kind.as_bytes(), key.bytes()])
}
