//! Known: the pages that were read last. A cover that names one is built again at every edit.

use crate::ground::{Digest, Memo};
use crate::printed::page::PrintedPage;
use crate::printed::read::read_page;
use std::sync::{Arc, LazyLock};

/// Bytes of pages that a process remembers, and those that a line and a page come to.
const PAGES: usize = 8 << 20;
const LINE: usize = 32;
const PAGE: usize = 4096;

static KNOWN: LazyLock<Memo<PrintedPage>> = LazyLock::new(|| Memo::bounded(PAGES, weight));

fn weight(page: &PrintedPage) -> usize {
    PAGE + page.lines.len() * LINE
}

/// What [`read_page`] gives, read once. The samples of its pictures are not read.
pub fn known_page(bytes: &[u8], at: usize) -> Result<Arc<PrintedPage>, String> {
    let key = Digest::of_all(&[bytes, &at.to_le_bytes()]);
    KNOWN.get_or(key, || read_page(bytes, at, false))
}
