//! Tidied: a text in the one layout.

use crate::ground::{FileId, Findings};
use crate::source::{Untidied, tidied};

/// A text in the one layout. `None` when it is no KDL; a layout that cannot be given out is empty.
pub fn tidied_text(text: &str) -> Option<String> {
    match tidied(&mut Findings::default(), FileId(0), text) {
        Ok(laid) => Some(laid),
        Err(Untidied::Faulty) => None,
        Err(_) => Some(String::new()),
    }
}
