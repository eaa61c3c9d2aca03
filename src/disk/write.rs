//! Files written whole or not at all.
#![expect(clippy::disallowed_methods, reason = "this is the one hand that writes")]

mod whole;

pub use whole::settle;

use crate::disk::system::in_words;
use crate::ground::Pieces;
use std::fs::File;
use std::io::ErrorKind;
use std::path::{Path, PathBuf};

/// Why a file was not written.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct WriteFault {
    pub path: PathBuf,
    pub why: String,
}

impl std::fmt::Display for WriteFault {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} cannot be written: {}", self.path.display(), self.why)
    }
}

/// Puts a file in its place in one step: who looks sees the old one or the new one. A file that holds these bytes
/// already is left alone.
pub fn write(path: &Path, bytes: &[u8]) -> Result<(), WriteFault> {
    write_slices(path, &[bytes])
}

/// The same for a file in pieces.
pub fn write_pieces(path: &Path, pieces: &Pieces) -> Result<(), WriteFault> {
    write_slices(path, &pieces.slices().collect::<Vec<_>>())
}

fn write_slices(path: &Path, bytes: &[&[u8]]) -> Result<(), WriteFault> {
    if whole::holds(path, bytes) {
        settle(path);
        return Ok(());
    }
    let folder = folder_of(path);
    std::fs::create_dir_all(folder).map_err(|error| fault(folder, &error))?;
    whole::place(folder, path, bytes, None).map_err(|error| fault(path, &error))
}

/// Takes an older file away, so that it does not keep a good file's name. True when there was one.
pub fn withdraw(path: &Path) -> Result<bool, WriteFault> {
    settle(path);
    match std::fs::remove_file(path) {
        Ok(()) => Ok(true),
        Err(error) if matches!(error.kind(), ErrorKind::NotFound | ErrorKind::NotADirectory) => Ok(false),
        Err(error) => Err(fault(path, &error)),
    }
}

/// Writes a file only where none stands.
pub fn write_new(path: &Path, bytes: &[u8]) -> Result<(), WriteFault> {
    // A link that leads nowhere stands there too.
    if path.symlink_metadata().is_ok() {
        return Err(WriteFault { path: path.to_owned(), why: "it is there already, and is left as it is".to_owned() });
    }
    write(path, bytes)
}

/// Writes a file of the author's again: where a link leads, with the rights that it had, and only if it may be written.
pub fn rewrite(path: &Path, bytes: &[u8]) -> Result<(), WriteFault> {
    let real = std::fs::canonicalize(path).map_err(|error| fault(path, &error))?;
    // A file that may not be written could still be replaced, where its folder may be.
    let old = File::options().write(true).open(&real).map_err(|error| fault(path, &error))?;
    let rights = old.metadata().map_err(|error| fault(path, &error))?.permissions();
    whole::place(folder_of(&real), &real, &[bytes], Some(&rights)).map_err(|error| fault(path, &error))
}

/// Whether two paths lead to one file that is there.
pub fn same(one: &Path, other: &Path) -> bool {
    let real = |path: &Path| std::fs::canonicalize(path).ok();
    real(one).is_some_and(|one| real(other) == Some(one))
}

fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|folder| !folder.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

fn fault(path: &Path, error: &std::io::Error) -> WriteFault {
    let why = match error.kind() {
        ErrorKind::PermissionDenied => "you may not write there".to_owned(),
        ErrorKind::ReadOnlyFilesystem => "the disk is read-only".to_owned(),
        ErrorKind::StorageFull => "the disk is full".to_owned(),
        ErrorKind::AlreadyExists | ErrorKind::NotADirectory => "a file stands where a folder should".to_owned(),
        ErrorKind::IsADirectory => "a folder of that name stands there".to_owned(),
        _ => in_words(error),
    };
    WriteFault { path: path.to_owned(), why }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(folder: &Path) -> Vec<String> {
        let entries = std::fs::read_dir(folder).expect("a folder").flatten();
        let mut names: Vec<String> = entries.map(|entry| entry.file_name().to_string_lossy().into_owned()).collect();
        names.sort();
        names
    }

    #[test]
    fn writes_replaces_and_withdraws() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let path = folder.path().join("out/a.pdf");
        write(&path, b"one").expect("writes");
        write(&path, b"two").expect("replaces");
        assert_eq!(std::fs::read(&path).expect("is there"), b"two");
        assert_eq!(names(&folder.path().join("out")), ["a.pdf"]);
        assert!(write_new(&path, b"three").is_err());
        assert_eq!(withdraw(&path), Ok(true));
        assert_eq!(withdraw(&path), Ok(false));
    }

    #[cfg(unix)]
    #[test]
    fn an_authors_file_keeps_its_place_and_its_rights() {
        use std::os::unix::fs::PermissionsExt as _;
        let folder = tempfile::tempdir().expect("a temporary folder");
        let (path, link) = (folder.path().join("a"), folder.path().join("b"));
        write(&path, b"one").expect("writes");
        std::fs::set_permissions(&path, std::fs::Permissions::from_mode(0o640)).expect("sets rights");
        std::os::unix::fs::symlink("a", &link).expect("links");
        rewrite(&link, b"two").expect("rewrites");
        assert_eq!(std::fs::read(&path).expect("is there"), b"two");
        assert!(link.symlink_metadata().is_ok_and(|about| about.is_symlink()));
        let rights = std::fs::metadata(&path).expect("is there").permissions();
        assert_eq!(rights.mode() & 0o777, 0o640);
        assert!(rewrite(&folder.path().join("none"), b"x").is_err());
    }

    #[test]
    fn a_file_that_holds_the_bytes_is_left_alone() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let path = folder.path().join("a");
        write(&path, b"same").expect("writes");
        let before = std::fs::metadata(&path).and_then(|about| about.modified()).expect("has a time");
        write(&path, b"same").expect("writes");
        assert_eq!(std::fs::metadata(&path).and_then(|about| about.modified()).expect("has a time"), before);
    }

    #[test]
    fn a_failure_leaves_nothing_behind() {
        let folder = tempfile::tempdir().expect("a temporary folder");
        let path = folder.path().join("taken");
        std::fs::create_dir_all(path.join("inside")).expect("a folder");
        let fault = write(&path, b"bytes").expect_err("a folder stands there");
        assert!(fault.why.contains("folder"), "{fault}");
        assert_eq!(names(folder.path()), ["taken"]);
        std::fs::write(folder.path().join("file"), b"x").expect("writes");
        let fault = write(&folder.path().join("file/a"), b"bytes").expect_err("a file stands there");
        assert!(fault.why.contains("folder"), "{fault}");
    }

    #[cfg(unix)]
    #[test]
    fn others_may_read_what_their_mask_allows() {
        use std::os::unix::fs::PermissionsExt as _;
        let folder = tempfile::tempdir().expect("a temporary folder");
        std::fs::write(folder.path().join("plain"), b"x").expect("writes");
        write(&folder.path().join("ours"), b"x").expect("writes");
        let mode = |name: &str| std::fs::metadata(folder.path().join(name)).expect("is there").permissions().mode();
        assert_eq!(mode("ours"), mode("plain"));
    }
}
