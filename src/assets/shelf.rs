//! Shelf: the one window onto files; a disk, or a revision of a repository.

use crate::ground::Digest;
use std::fmt;
use std::path::{Component, Path, PathBuf};
use std::sync::Arc;

/// Files by path, relative to the folder of the cover file, `/` between names.
pub trait Shelf: Sync {
    fn read(&self, path: &str) -> Result<Arc<[u8]>, ShelfFault>;

    /// The files of a folder and of the folders in it, sorted; empty when there is no such folder.
    fn list(&self, folder: &str) -> Vec<String>;

    /// The files of the language in a folder and below it, sorted; what builds wrote is left out. The empty path is the
    /// cover's own folder.
    fn covers(&self, folder: &str) -> Vec<String>;

    /// A file and its digest, for one look at it: a shelf that keeps what it read need not keep this.
    fn read_once(&self, path: &str) -> Result<(Arc<[u8]>, Digest), ShelfFault> {
        let bytes = self.read(path)?;
        let digest = Digest::of_file(&bytes);
        Ok((bytes, digest))
    }

    /// The digest of a file, or of the names that a folder gives; `None` when no file comes.
    fn glance(&self, place: &str, glance: Glance) -> Option<Digest> {
        match glance {
            Glance::File => Some(self.read_once(place).ok()?.1),
            Glance::Folder => Some(listing(place, &self.list(place))),
            Glance::Covers => Some(listing(place, &self.covers(place))),
        }
    }
}

/// What of a place is looked at: the bytes of a file, the names in a folder, or its files of the language.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Glance {
    File,
    Folder,
    Covers,
}

/// The names that a folder gives, as one digest; each may begin with the folder.
pub fn listing(folder: &str, names: &[String]) -> Digest {
    let inner = format!("{folder}/");
    let mut names: Vec<&[u8]> = names.iter().map(|name| name.strip_prefix(&inner).unwrap_or(name).as_bytes()).collect();
    names.sort_unstable();
    Digest::of_all(&names)
}

/// Why a file did not come.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum ShelfFault {
    Missing {
        nearest: Option<String>,
    },
    /// A folder, no permission, an unreadable disk: what the system said.
    Unreadable(String),
    TooLarge {
        bytes: u64,
        limit: u64,
    },
    /// It was read before, and is another one now: two places of one cover would show two pictures.
    Changed,
}

/// No file of a cover may be larger: 1 GiB.
pub const FILE_LIMIT: u64 = 1 << 30;
/// Nor of the language: 256 KiB. A cover has 5 to 20, the file of a large series 100.
pub const KDL_LIMIT: u64 = 256 << 10;
/// Nor a table: 64 MiB.
pub const TABLE_LIMIT: u64 = 64 << 20;
/// Nor a drawing: 16 MiB.
pub const SVG_LIMIT: u64 = 16 << 20;
/// Nor a font: 128 MiB. The largest, collections of faces for Chinese, Japanese and Korean, have about 100.
const FONT_LIMIT: u64 = 128 << 20;
/// Nor a profile of a press: 16 MiB. Most have 1 to 3, those of the finest tables about 10.
pub const PROFILE_LIMIT: u64 = 16 << 20;
/// Smaller ones are read in any case: whoever reads them says more of what is in them.
const READ_ANYWAY: u64 = 16 << 20;

/// Why a file is not read that is so large: its length is known before it is opened, its kind by its name.
pub fn too_large(path: &Path, bytes: u64) -> Option<ShelfFault> {
    let kind = path.extension().unwrap_or_default().to_ascii_lowercase();
    let limit = match kind.to_str() {
        Some("kdl") => KDL_LIMIT,
        Some("svg") => SVG_LIMIT,
        Some("csv" | "json") => TABLE_LIMIT,
        Some("ttf" | "otf" | "ttc" | "otc") => FONT_LIMIT,
        Some("icc" | "icm") => PROFILE_LIMIT,
        _ => FILE_LIMIT,
    };
    (bytes > limit.max(READ_ANYWAY)).then_some(ShelfFault::TooLarge { bytes, limit })
}

impl fmt::Display for ShelfFault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            ShelfFault::Missing { .. } => write!(f, "there is no such file"),
            ShelfFault::Unreadable(why) => write!(f, "it cannot be read: {why}"),
            ShelfFault::TooLarge { bytes, limit } => {
                let limit =
                    if *limit < 1 << 20 { format!("{} KB", limit >> 10) } else { format!("{} MB", limit >> 20) };
                write!(f, "it is {} MB large; the limit is {limit}", bytes.div_ceil(1 << 20))
            }
            ShelfFault::Changed => write!(f, "it changed while the cover was built"),
        }
    }
}

/// Whether a file is of the language, by its name.
pub fn is_cover(path: impl AsRef<Path>) -> bool {
    path.as_ref().extension().is_some_and(|end| end == "kdl")
}

/// A path without `.` and inner `..`.
pub fn tidy(path: &str) -> String {
    let mut clean = PathBuf::new();
    for part in Path::new(path).components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir if clean.file_name().is_some_and(|name| name != "..") => {
                clean.pop();
            }
            other => clean.push(other),
        }
    }
    clean.to_string_lossy().into_owned()
}

/// Bytes of a name that is compared with others: more than any path or word that someone mistyped.
const LONGEST: usize = 1000;

/// The known name that looks most like the wanted one.
pub fn nearest<'a>(wanted: &str, known: impl Iterator<Item = &'a str>) -> Option<String> {
    if wanted.len() > LONGEST {
        return None;
    }
    known
        .map(|name| (strsim::jaro_winkler(&wanted.to_lowercase(), &name.to_lowercase()), name))
        .filter(|(likeness, _)| *likeness > 0.75)
        .max_by(|a, b| a.0.total_cmp(&b.0))
        .map(|(_, name)| name.to_owned())
}

/// What to say after an unknown word: the nearest known one, and all.
pub fn offer(word: &str, known: &[&str]) -> String {
    let mut all: Vec<&str> = known.to_vec();
    all.sort_unstable();
    all.dedup();
    let list =
        if all.is_empty() { "nothing is known here".to_owned() } else { format!("known here: {}", all.join(", ")) };
    match nearest(word, known.iter().copied()) {
        Some(near) => format!("did you mean `{near}`? {list}"),
        None => list,
    }
}
