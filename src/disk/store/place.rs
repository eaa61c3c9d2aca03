//! Place: which folder the store is, by what was typed, what the environment says, and where the system keeps such things.

use std::ffi::OsStr;
use std::path::{Path, PathBuf};

/// `typed` is `--store`, `refused` is `--no-store`, `said` is `JACONET_STORE`, `cache` the user's folder for what can be
/// made again. `None`: there shall be no store, as when the environment says nothing, but says it.
pub fn place(typed: Option<&Path>, refused: bool, stated: Option<&OsStr>, cache: Option<&Path>) -> Option<PathBuf> {
    if refused {
        return None;
    }
    match (typed, stated) {
        (Some(typed), _) => Some(typed.to_owned()),
        (None, Some(stated)) => (!stated.is_empty()).then(|| PathBuf::from(stated)),
        (None, None) => cache.map(|cache| cache.join(NAME)),
    }
}

const NAME: &str = "jaconet";

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_typed_goes_before_what_is_stated_and_that_before_the_cache() {
        let (typed, stated, cache) = (Some(Path::new("typed")), Some(OsStr::new("said")), Some(Path::new("cache")));
        let found =
            |typed, refused, stated, cache| place(typed, refused, stated, cache).map(|path| path.display().to_string());
        assert_eq!(found(typed, false, stated, cache).as_deref(), Some("typed"));
        assert_eq!(found(None, false, stated, cache).as_deref(), Some("said"));
        assert_eq!(found(None, false, None, cache), Some(Path::new("cache").join("jaconet").display().to_string()));
        let empty = Some(OsStr::new(""));
        assert_eq!(found(None, false, empty, cache), None);
        assert_eq!(found(typed, false, empty, cache).as_deref(), Some("typed"));
        assert_eq!(found(typed, true, stated, cache), None);
        assert_eq!(found(None, false, None, None), None);
    }
}
