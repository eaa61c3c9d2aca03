//! Byte budget: the bytes that a page may take while it is drawn. A page opens its streams wherever it names them, so each
//! opening counts again, and so does what is kept of it.

use crate::returned::keys::filters;
use hayro_syntax::object::Stream;
use std::borrow::Cow;

/// Bytes of all that is opened and kept for one page, and what counts for a stream or a picture that turns out damaged: nobody
/// knows how far it was followed.
const BYTES: u64 = 1 << 30;
const DAMAGED: u64 = BYTES / 4;

pub struct ByteBudget {
    left: u64,
}

impl Default for ByteBudget {
    fn default() -> ByteBudget {
        ByteBudget { left: BYTES }
    }
}

impl ByteBudget {
    pub const SPENT: &str = "more than 1 GB of streams and pictures, each counted where it is placed";

    pub fn is_spent(&self) -> bool {
        self.left == 0
    }

    pub fn take(&mut self, bytes: u64) -> Result<(), String> {
        self.left = self.left.saturating_sub(bytes);
        if self.is_spent() { Err(ByteBudget::SPENT.to_owned()) } else { Ok(()) }
    }

    pub fn take_damaged(&mut self) {
        self.left = self.left.saturating_sub(DAMAGED);
    }

    /// What a stream holds; only filters whose results were counted before the file was read are followed.
    pub fn decoded<'s>(&mut self, stream: &Stream<'s>) -> Result<Cow<'s, [u8]>, String> {
        if self.is_spent() {
            return Err(ByteBudget::SPENT.to_owned());
        }
        let filters = filters(stream);
        let known = |name: &String| matches!(name.as_str(), "FlateDecode" | "ASCIIHexDecode" | "ASCII85Decode");
        let expanding = filters.iter().filter(|name| *name == "FlateDecode").count();
        if expanding > 1 || !filters.iter().all(known) {
            return Err("streams compressed in a way that is not read".to_owned());
        }
        let Ok(bytes) = stream.decoded_data() else {
            self.take_damaged();
            return Err("streams that are damaged".to_owned());
        };
        self.take(bytes.len() as u64)?;
        Ok(bytes)
    }
}
