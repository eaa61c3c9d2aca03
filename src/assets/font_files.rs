//! Font files: those of `fonts` folders, as far as they may be read.

use crate::assets::shelf::Shelf;
use std::sync::Arc;

/// All of them together. Every weight of a family for Chinese or Japanese has 200 to 300 MB.
pub const FONTS_LIMIT: usize = 512 << 20;

/// A file by its path.
pub type NamedBytes = (String, Arc<[u8]>);

/// The fonts among some paths, and those that are left out, with the reason.
pub fn font_files(shelf: &dyn Shelf, paths: impl Iterator<Item = String>) -> (Vec<NamedBytes>, Vec<(String, String)>) {
    let (mut fonts, mut left_out): (Vec<NamedBytes>, _) = (Vec::new(), Vec::new());
    let mut read = 0;
    for path in paths.filter(|path| is_font(path)) {
        if read > FONTS_LIMIT {
            let limit = FONTS_LIMIT >> 20;
            left_out.push((path, format!("the fonts before it are more than {limit} MB large together, the limit")));
            continue;
        }
        match shelf.read(&path) {
            Ok(bytes) => {
                read += bytes.len();
                fonts.push((path, bytes));
            }
            Err(fault) => left_out.push((path, fault.to_string())),
        }
    }
    (fonts, left_out)
}

fn is_font(path: &str) -> bool {
    let ending = path.rsplit('.').next().unwrap_or_default().to_lowercase();
    matches!(ending.as_str(), "ttf" | "otf" | "ttc" | "otc")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::MapShelf;

    #[test]
    fn fonts_together_are_no_more_than_may_be_read() {
        let large: Arc<[u8]> = vec![0; (100 << 20) + 1].into();
        let shelf = (0..7).fold(MapShelf::default(), |shelf, at| shelf.with(&format!("fonts/{at}.otf"), large.clone()));
        let (fonts, left_out) = font_files(&shelf, shelf.list("fonts").into_iter());
        assert_eq!((fonts.len(), left_out.len()), (6, 1));
        assert!(left_out[0].0.ends_with("6.otf") && left_out[0].1.contains("512 MB"), "{left_out:?}");
    }
}
