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
    let (mut read, mut full) = (0, false);
    for path in paths.filter(|path| is_font(path)) {
        // Those after the first that has no room are not looked at: whether they are read would hang on how large they are.
        let bytes = if full { None } else { Some(shelf.read_once(&path)) };
        match bytes {
            Some(Err(fault)) => left_out.push((path, fault.to_string())),
            Some(Ok((bytes, _))) if read + bytes.len() <= FONTS_LIMIT => {
                read += bytes.len();
                fonts.push((path, bytes));
            }
            Some(Ok(_)) | None => {
                full = true;
                let limit = FONTS_LIMIT >> 20;
                left_out.push((path, format!("with those before it the fonts are larger than {limit} MB, the limit")));
            }
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
        let large: Vec<(usize, Arc<[u8]>)> =
            [1, 2, 100, 127, 128].map(|size| (size, vec![0; size << 20].into())).into();
        for (sizes, taken) in [(vec![100; 7], 5), (vec![128, 128, 128, 128, 1], 4), (vec![128, 127, 128, 128, 2, 1], 4)]
        {
            let shelf = sizes.iter().enumerate().fold(MapShelf::default(), |shelf, (at, size)| {
                let (_, bytes) = large.iter().find(|(known, _)| known == size).expect("it is made");
                shelf.with(&format!("fonts/{at}.otf"), bytes.clone())
            });
            let (fonts, left_out) = font_files(&shelf, shelf.list("fonts").into_iter());
            assert_eq!((fonts.len(), left_out.len()), (taken, sizes.len() - taken), "{sizes:?}");
            assert!(fonts.iter().map(|(_, bytes)| bytes.len()).sum::<usize>() <= 512 << 20, "{sizes:?}");
            assert!(left_out.iter().all(|(_, why)| why.contains("larger than 512 MB")), "{left_out:?}");
            assert!(left_out[0].0.ends_with(&format!("{taken}.otf")), "{left_out:?}");
        }
    }
}
