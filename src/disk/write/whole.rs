//! Whole: a file put in its place in one step. A process killed at any moment leaves the old file or the new one, and
//! beside it at most a whole hidden one, which the next write of that file takes away.
#![expect(clippy::disallowed_methods, reason = "this is the one hand that writes")]

use std::fs::{File, Permissions};
use std::io::{Read as _, Result, Write as _};
use std::path::{Path, PathBuf};
use std::sync::{Mutex, MutexGuard, PoisonError};

/// With these rights, or those of any new file. Its bytes are on the disk before its name is, so that a power cut, too, leaves
/// the old one or the new one. The folder is not waited for: that would only make sure which of the two.
pub fn place(folder: &Path, path: &Path, bytes: &[&[u8]], rights: Option<&Permissions>) -> Result<()> {
    if !unnamed(folder, path, bytes, rights)? {
        named(folder, path, bytes, rights)?;
        settle(path);
    }
    Ok(())
}

/// Takes away what a killed process left beside a file.
pub fn settle(path: &Path) {
    if let Some(hidden) = hidden(path) {
        let _ = std::fs::remove_file(hidden);
    }
}

/// Whether a file holds these bytes.
pub fn holds(path: &Path, bytes: &[&[u8]]) -> bool {
    let length: usize = bytes.iter().map(|piece| piece.len()).sum();
    let same_length = std::fs::metadata(path).is_ok_and(|about| about.is_file() && about.len() == length as u64);
    same_length && File::open(path).and_then(|old| same(old, bytes)).unwrap_or(false)
}

/// Whether a file of the same length holds these bytes, looked at in parts.
fn same(mut old: File, bytes: &[&[u8]]) -> Result<bool> {
    let mut part = vec![0; PART];
    for piece in bytes.iter().flat_map(|piece| piece.chunks(PART)) {
        let part = &mut part[..piece.len()];
        old.read_exact(part)?;
        if part != piece {
            return Ok(false);
        }
    }
    Ok(true)
}

const PART: usize = 1 << 16;

/// Files are written side by side and get their names one after the other, so that whatever ends the process, one hidden file is
/// left. Where a file needs a name to be written at all, its turn is as long as the writing.
fn turn() -> MutexGuard<'static, ()> {
    static TURN: Mutex<()> = Mutex::new(());
    TURN.lock().unwrap_or_else(PoisonError::into_inner)
}

/// The same name for every process that writes a file, so that one finds what another left.
fn hidden(path: &Path) -> Option<PathBuf> {
    let mut name = std::ffi::OsString::from(".");
    name.push(path.file_name()?);
    name.push(".jaconet");
    Some(path.with_file_name(name))
}

/// Writes a file that has no name until it is whole. False where that cannot be had.
#[cfg(target_os = "linux")]
fn unnamed(folder: &Path, path: &Path, bytes: &[&[u8]], rights: Option<&Permissions>) -> Result<bool> {
    use rustix::fs::{Mode, OFlags, open};
    use rustix::io::Errno;
    /// Processes that write one file at the same moment may get in each other's way so often.
    const TRIES: usize = 8;

    let Some(hidden) = hidden(path) else { return Ok(false) };
    for _ in 0..TRIES {
        // As any new file, by the user's mask.
        let Ok(file) = open(folder, OFlags::TMPFILE | OFlags::WRONLY | OFlags::CLOEXEC, Mode::from_raw_mode(0o666))
        else {
            return Ok(false);
        };
        let file = File::from(file);
        fill(&file, bytes, rights)?;
        let _turn = turn();
        let named = match name(&file, &hidden) {
            Err(Errno::EXIST) => {
                let _ = std::fs::remove_file(&hidden);
                name(&file, &hidden)
            }
            other => other,
        };
        match named {
            Ok(()) => {}
            Err(Errno::EXIST) => continue,
            Err(_) => return Ok(false),
        }
        match std::fs::rename(&hidden, path) {
            Ok(()) => return Ok(true),
            // Another process has put it in its place for us, or taken it for something left behind.
            Err(error) if error.kind() == std::io::ErrorKind::NotFound => {
                if holds(path, bytes) {
                    return Ok(true);
                }
            }
            Err(error) => {
                let _ = std::fs::remove_file(&hidden);
                return Err(error);
            }
        }
    }
    Ok(false)
}

fn fill(mut file: &File, bytes: &[&[u8]], rights: Option<&Permissions>) -> Result<()> {
    for piece in bytes {
        file.write_all(piece)?;
    }
    if let Some(rights) = rights {
        file.set_permissions(rights.clone())?;
    }
    file.sync_all()
}

/// Gives an unnamed file a name that is not taken.
#[cfg(target_os = "linux")]
fn name(file: &File, hidden: &Path) -> rustix::io::Result<()> {
    use rustix::fs::{AtFlags, CWD, linkat};
    use std::os::fd::AsRawFd as _;
    let open = format!("/proc/self/fd/{}", file.as_raw_fd());
    linkat(CWD, open, CWD, hidden, AtFlags::SYMLINK_FOLLOW)
}

#[cfg(not(target_os = "linux"))]
fn unnamed(_: &Path, _: &Path, _: &[&[u8]], _: Option<&Permissions>) -> Result<bool> {
    Ok(false)
}

/// Writes a file under a name of chance first. Dropped on the way out of an error, it takes itself away.
fn named(folder: &Path, path: &Path, bytes: &[&[u8]], rights: Option<&Permissions>) -> Result<()> {
    let _turn = turn();
    let mut builder = tempfile::Builder::new();
    builder.prefix(".jaconet-");
    #[cfg(unix)]
    builder.permissions(std::os::unix::fs::PermissionsExt::from_mode(0o666));
    let file = builder.tempfile_in(folder)?;
    fill(file.as_file(), bytes, rights)?;
    file.persist(path).map(drop).map_err(|error| error.error)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::disk::write::write;

    #[test]
    fn what_a_killed_process_left_goes_with_the_next_write() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let path = folder.path().join("a.pdf");
        let left = hidden(&path).expect("has a name");
        assert_eq!(left, folder.path().join(".a.pdf.jaconet"));
        // Whether the bytes are new or the same.
        for bytes in [&b"one"[..], b"two", b"two"] {
            std::fs::write(&left, b"whole, but never put in its place").expect("writes");
            write(&path, bytes).expect("writes");
            assert_eq!(std::fs::read(&path).expect("is there"), bytes);
            assert!(holds(&path, &[&bytes[..1], &bytes[1..]]) && !holds(&path, &[b"t", b"wi"]));
            assert_eq!(std::fs::read_dir(folder.path()).expect("a folder").count(), 1);
        }
        place(folder.path(), &path, &[b"th", b"", b"ree"], None).expect("writes");
        assert_eq!(std::fs::read(&path).expect("is there"), b"three");
        assert_eq!(std::fs::read_dir(folder.path()).expect("a folder").count(), 1);
    }

    #[test]
    fn a_name_too_long_to_hide_is_written_all_the_same() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let path = folder.path().join("n".repeat(250));
        write(&path, b"one").expect("writes");
        assert_eq!(std::fs::read(&path).expect("is there"), b"one");
        assert_eq!(std::fs::read_dir(folder.path()).expect("a folder").count(), 1);
    }

    #[test]
    fn writers_of_one_file_end_with_a_whole_one() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let path = folder.path().join("a");
        let version = |writer: u8| vec![writer; 20_000 + usize::from(writer)];
        std::thread::scope(|scope| {
            for writer in 0..6_u8 {
                let path = &path;
                scope.spawn(move || {
                    for _ in 0..20 {
                        write(path, &version(writer)).expect("writes");
                        let found = std::fs::read(path).expect("there is always one");
                        assert!(found == version(found[0]), "it is whole");
                    }
                });
            }
        });
        assert_eq!(std::fs::read_dir(folder.path()).expect("a folder").count(), 1);
    }
}
