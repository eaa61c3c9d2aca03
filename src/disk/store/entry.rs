//! Entry: a file of the store: a head that says what it is, then the bytes. Believed only when all of it agrees.
#![expect(clippy::disallowed_methods, reason = "it reads the store's own files")]

use crate::ground::Digest;
use std::fs::{File, FileTimes};
use std::io::{ErrorKind, Read as _};
use std::path::Path;
use std::time::SystemTime;

/// The last byte is the version of the format.
pub const MAGIC: [u8; 8] = *b"jaconet\x01";
/// What temporary files begin with.
pub const TEMPORARY: &str = ".jaconet-";
const WORD: usize = 8;
const SUM: usize = 32;
/// Bytes of an entry beside its head: as many as the largest picture has unpacked, and some for what describes it.
const LONGEST: usize = (256 << 20) + (1 << 20);
/// Magic, kind, name, length, SHA-256 of the bytes.
pub const HEAD: usize = WORD + WORD + SUM + WORD + SUM;

pub struct EntryHead {
    /// Eight letters at the most.
    pub kind: &'static str,
    pub name: Digest,
    /// SHA-256 of the bytes.
    pub sum: Digest,
}

pub enum EntryRead {
    Whole(Vec<u8>),
    /// Ours, but not what was put here.
    Damaged,
    /// No file, or none of ours: left alone, and replaced only by an entry.
    Nothing,
}

impl EntryHead {
    pub fn bytes(&self, length: usize) -> Vec<u8> {
        let mut kind = self.kind.as_bytes().to_vec();
        kind.resize(WORD, 0);
        [&MAGIC[..], &kind, self.name.bytes(), &(length as u64).to_le_bytes(), self.sum.bytes()].concat()
    }
}

/// Reads all, verifies all; what is whole counts as used now.
pub fn read(path: &Path, kind: &'static str, name: Digest) -> std::io::Result<EntryRead> {
    let Some((mut file, length)) = open(path)? else { return Ok(EntryRead::Nothing) };
    let mut head = [0; HEAD];
    let mut filled = 0;
    while filled < HEAD {
        match file.read(&mut head[filled..])? {
            0 => break,
            more => filled += more,
        }
    }
    if filled < MAGIC.len() || !head.starts_with(&MAGIC) {
        return Ok(EntryRead::Nothing);
    }
    let Some(length) = length.checked_sub(HEAD) else { return Ok(EntryRead::Damaged) };
    // Nothing is reserved or read before the head agrees: a damaged file may say any length.
    if length > LONGEST || head[..HEAD - SUM] != (EntryHead { kind, name, sum: name }).bytes(length)[..HEAD - SUM] {
        return Ok(EntryRead::Damaged);
    }
    let mut bytes = Vec::new();
    // Who writes at the wrong place, into a file that stands, may make it longer meanwhile.
    (&mut file).take(length as u64).read_to_end(&mut bytes)?;
    if bytes.len() != length || (EntryHead { kind, name, sum: Digest::of_file(&bytes) }).bytes(length) != head {
        return Ok(EntryRead::Damaged);
    }
    touch(&file);
    Ok(EntryRead::Whole(bytes))
}

/// Whether an entry of so many bytes stands there; if so it counts as used now.
pub fn stands(path: &Path, length: usize) -> bool {
    let Ok(Some((file, found))) = open(path) else { return false };
    let same = found == HEAD + length;
    if same {
        touch(&file);
    }
    same
}

/// Whether a file says that it is ours.
pub fn ours(path: &Path) -> bool {
    let mut magic = [0; MAGIC.len()];
    let opened = open(path).ok().flatten();
    opened.is_some_and(|(mut file, _)| file.read_exact(&mut magic).is_ok() && magic == MAGIC)
}

pub fn temporary(folder: &Path) -> std::io::Result<tempfile::NamedTempFile> {
    let mut builder = tempfile::Builder::new();
    builder.prefix(TEMPORARY);
    // By the user's mask, so that a folder may be shared.
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    builder.tempfile_in(folder)
}

/// A plain file and its length. A pipe is not opened, it would never end.
fn open(path: &Path) -> std::io::Result<Option<(File, usize)>> {
    let about = match std::fs::metadata(path) {
        Ok(about) if about.is_file() => about,
        Ok(_) => return Ok(None),
        Err(error) if gone(&error) => return Ok(None),
        Err(error) => return Err(error),
    };
    match File::open(path) {
        Ok(file) => Ok(Some((file, usize::try_from(about.len()).unwrap_or(usize::MAX)))),
        Err(error) if gone(&error) => Ok(None),
        Err(error) => Err(error),
    }
}

fn gone(error: &std::io::Error) -> bool {
    error.kind() == ErrorKind::NotFound
}

/// Its age decides who goes first. On a disk that does not take it, age counts from when it was written.
fn touch(file: &File) {
    let _ = file.set_times(FileTimes::new().set_modified(SystemTime::now()));
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A file may say that it has a terabyte, and have nothing: neither its length nor a head that agrees is believed.
    #[test]
    fn a_length_beyond_all_measure_is_damage() {
        const TERABYTE: u64 = 1 << 40;
        let folder = tempfile::tempdir().expect("a temporary folder");
        let (path, name) = (folder.path().join("entry"), Digest::of(b"name"));
        for length in [5, TERABYTE as usize - HEAD] {
            let head = EntryHead { kind: "stream", name, sum: Digest::of_file(b"bytes") };
            std::fs::write(&path, head.bytes(length)).expect("writes");
            File::options().write(true).open(&path).expect("opens").set_len(TERABYTE).expect("grows");
            assert!(matches!(read(&path, "stream", name), Ok(EntryRead::Damaged)));
        }
    }
}
