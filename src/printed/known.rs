//! Known: the pages that were read last. A cover that names one is built again at every edit.

use crate::ground::{Digest, Memo};
use crate::printed::page::PrintedPage;
use crate::printed::read::read_page;
use std::sync::{Arc, LazyLock};

/// Bytes of pages that a process remembers, and about what their parts come to.
const PAGES: usize = 8 << 20;
const LINE: usize = 32;
const NAMED: usize = 128;
const PICTURE: usize = 256;
const PAGE: usize = 4096;

static KNOWN: LazyLock<Memo<PrintedPage>> = LazyLock::new(|| Memo::bounded(PAGES, weight));

fn weight(page: &PrintedPage) -> usize {
    let named = page.colours.len() + page.spots.len() + page.fonts.len();
    PAGE + page.lines.len() * LINE + page.pictures.len() * PICTURE + named * NAMED
}

/// What [`read_page`] gives, read once. The samples of its pictures are not read.
pub fn known_page(bytes: &[u8], at: usize) -> Result<Arc<PrintedPage>, String> {
    let key = Digest::of_all(&[bytes, &at.to_le_bytes()]);
    KNOWN.get_or(key, || read_page(bytes, at, false))
}
