//! Cover id: how the page names what it looks at: `0`, and of the same title `0~t1`, `0~last`, `0~r3f2a`.

use std::fmt;

#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct CoverId {
    pub title: u32,
    /// Empty for the title as its files say it.
    pub variant: String,
}

/// The build before the present one.
pub const LAST: &str = "last";

impl CoverId {
    /// `None` for what is no name of a cover.
    pub fn read(text: &str) -> Option<CoverId> {
        let (title, variant) = text.split_once('~').unwrap_or((text, ""));
        let plain = variant.len() < 80 && variant.chars().all(|letter| letter.is_ascii_alphanumeric());
        if !plain || (variant.is_empty() && text.ends_with('~')) || title.starts_with('+') {
            return None;
        }
        Some(CoverId { title: title.parse().ok()?, variant: variant.to_owned() })
    }
}

impl fmt::Display for CoverId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{}", self.title)?;
        if self.variant.is_empty() { Ok(()) } else { write!(f, "~{}", self.variant) }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ids_read_back_and_nothing_else_is_one() {
        for text in ["0", "17", "0~t1", "3~last", "0~r3f2a"] {
            assert_eq!(CoverId::read(text).map(|id| id.to_string()).as_deref(), Some(text));
        }
        for text in ["", "a", "-1", "+1", "0~", "0~../x", "0~a b", "99999999999", "0~t1~t2"] {
            assert!(CoverId::read(text).is_none(), "{text}");
        }
    }
}
