//! Plain: a place as one would type it from the folder where the command was typed.
#![expect(
    clippy::disallowed_methods,
    reason = "what `..` means after a link, the disk knows; nothing built depends on it"
)]

use std::path::{Component, Path, PathBuf};

/// Without `.` and inner `..`, and from this folder if it lies in it. It names the same file as before.
pub fn plain(place: &Path) -> PathBuf {
    let mut clean = PathBuf::new();
    for part in place.components() {
        match part {
            Component::CurDir => {}
            Component::ParentDir if clean.file_name().is_some() => {
                clean.pop();
            }
            other => clean.push(other),
        }
    }
    let here = std::env::current_dir().unwrap_or_default();
    if let Ok(within) = clean.strip_prefix(&here) {
        clean = PathBuf::from(within);
    }
    if clean.as_os_str().is_empty() {
        clean.push(".");
    }
    // After a link, `..` leads elsewhere.
    if std::fs::canonicalize(&clean).ok() == std::fs::canonicalize(place).ok() { clean } else { place.to_owned() }
}

/// The path of a file from a folder, with `/` between names; neither links nor `..` are left in it. `None` where there is
/// no such way. The folder need not be there yet.
pub fn relative(folder: &Path, file: &Path) -> Option<String> {
    let from = real(folder)?;
    let to = real(file)?;
    let shared = from.components().zip(to.components()).take_while(|(one, other)| one == other).count();
    // On other disks there is no way.
    if shared == 0 {
        return None;
    }
    let up = from.components().skip(shared).map(|_| Some(".."));
    let down = to.components().skip(shared).map(|part| part.as_os_str().to_str());
    Some(up.chain(down).collect::<Option<Vec<&str>>>()?.join("/"))
}

/// A place as the system names it, as far as it is there.
fn real(place: &Path) -> Option<PathBuf> {
    if let Ok(real) = std::fs::canonicalize(place) {
        return Some(real);
    }
    let above = place.parent().filter(|above| !above.as_os_str().is_empty()).unwrap_or(Path::new("."));
    Some(if above == place { None } else { real(above) }?.join(place.file_name()?))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn detours_are_left_out() {
        let named = |place: &str| plain(Path::new(place)).display().to_string();
        assert_eq!(named("./src/../Cargo.toml"), "Cargo.toml");
        assert_eq!(named("../../x/../y"), "../../y");
        assert_eq!(named("no/such/../file"), "no/file");
        assert_eq!(named("./"), ".");
        let here = std::env::current_dir().expect("there is a folder");
        assert_eq!(plain(&here.join("src/lib.rs")), Path::new("src/lib.rs"));
    }

    #[test]
    fn one_place_is_named_from_another() {
        let named = |folder: &str, file: &str| relative(Path::new(folder), Path::new(file)).expect("there is a way");
        assert_eq!(named("src/none/yet", "Cargo.toml"), "../../../Cargo.toml");
        assert_eq!(named(".", "./src/../src/lib.rs"), "src/lib.rs");
        assert_eq!(named("src/cli", "src/disk/none.rs"), "../disk/none.rs");
    }

    #[cfg(unix)]
    #[test]
    fn a_link_is_not_jumped_over() {
        let home = tempfile::tempdir().expect("a temporary folder");
        let root = home.path();
        std::fs::create_dir_all(root.join("far/book")).expect("folders");
        for name in ["series.kdl", "far/series.kdl"] {
            std::fs::write(root.join(name), name).expect("writes");
        }
        std::os::unix::fs::symlink("far/book", root.join("near")).expect("links");
        let place = root.join("near/../series.kdl");
        assert_eq!(plain(&place), place, "the series of the far book, not the one beside the link");
    }
}
