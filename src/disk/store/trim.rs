//! Trim: a store brought back within its limit. Only files that say they are ours are ever taken away.
#![expect(clippy::disallowed_methods, reason = "it tends the store's own folder, by the clock")]

use crate::disk::store::entry::{TEMPORARY, ours};
use std::fs::File;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};
use std::time::{Duration, SystemTime};

/// Letters of an entry's folder and of its name there.
const SHORT: usize = 2;
const LONG: usize = 62;
/// A temporary file this old belongs to a process that was killed.
const LEFTOVER: Duration = Duration::from_hours(24);
/// An empty file that says, by its age, when the store was last looked through.
const TRIMMED: &str = ".jaconet-trimmed";
const PAUSE: Duration = Duration::from_hours(1);

struct Old {
    used: SystemTime,
    path: PathBuf,
    length: u64,
}

/// Whether the store was looked through within the hour. A time to come is a clock set back: then it was not.
pub fn lately(folder: &Path) -> bool {
    let trimmed = std::fs::metadata(folder.join(TRIMMED)).and_then(|about| about.modified());
    trimmed.is_ok_and(|time| time.elapsed().is_ok_and(|age| age < PAUSE))
}

pub fn trim(folder: &Path, limit: u64) -> std::io::Result<()> {
    let mut entries = Vec::new();
    // Said first: two processes that end together need not both look.
    if folder.is_dir() {
        File::options().create(true).append(true).open(folder.join(TRIMMED))?.set_modified(SystemTime::now())?;
    }
    for within in names(folder)?.into_iter().filter(|name| is_hex(name, SHORT)) {
        let within = folder.join(within);
        // Another process may be at it too: what is gone is gone.
        for name in names(&within).unwrap_or_default() {
            let path = within.join(&name);
            let Ok(about) = std::fs::symlink_metadata(&path) else { continue };
            let used = about.modified().unwrap_or(SystemTime::UNIX_EPOCH);
            if !about.is_file() {
                continue;
            }
            if name.starts_with(TEMPORARY) {
                if used.elapsed().is_ok_and(|age| age > LEFTOVER) {
                    remove(&path);
                }
            } else if is_hex(&name, LONG) {
                entries.push(Old { used, path, length: about.len() });
            }
        }
    }
    let mut total: u64 = entries.iter().map(|entry| entry.length).sum();
    if total <= limit {
        return Ok(());
    }
    entries.sort_by(|one, other| (one.used, &one.path).cmp(&(other.used, &other.path)));
    for entry in entries {
        if total <= limit / 10 * 9 {
            break;
        }
        if remove(&entry.path) {
            total -= entry.length;
        }
    }
    Ok(())
}

fn remove(path: &Path) -> bool {
    ours(path) && std::fs::remove_file(path).is_ok()
}

fn is_hex(name: &str, length: usize) -> bool {
    name.len() == length && name.bytes().all(|letter| matches!(letter, b'0'..=b'9' | b'a'..=b'f'))
}

/// None where there is no folder yet.
fn names(folder: &Path) -> std::io::Result<Vec<String>> {
    match std::fs::read_dir(folder) {
        Ok(entries) => Ok(entries.flatten().filter_map(|entry| entry.file_name().into_string().ok()).collect()),
        Err(error) if matches!(error.kind(), ErrorKind::NotFound | ErrorKind::NotADirectory) => Ok(Vec::new()),
        Err(error) => Err(error),
    }
}
