//! Plain: a font's bytes without its coloured glyphs. A cover prints outlines, in its own colours.

use crate::assets::font::Font;
use std::borrow::Cow;

/// Tables of glyphs as drawings, layers and pictures (OpenType 1.9).
const COLOURED: [&[u8; 4]; 7] = [b"SVG ", b"COLR", b"CBDT", b"CBLC", b"EBDT", b"EBLC", b"sbix"];
/// A font's head, and each record of its table directory: tag, checksum, place, length.
const HEAD: usize = 12;
const RECORD: usize = 16;

impl Font {
    /// The same file with those tables empty; borrowed where it has none.
    pub fn without_colours(&self) -> Cow<'_, [u8]> {
        let bytes = self.bytes();
        let number = |at: usize| bytes.get(at..at + 4)?.try_into().ok().map(u32::from_be_bytes);
        let is_collection = bytes.starts_with(b"ttcf");
        let place = if is_collection { number(HEAD + 4 * self.index() as usize) } else { Some(0) };
        let Some(start) = place.map(|place| place as usize) else { return Cow::Borrowed(bytes) };
        let count = bytes.get(start + 4..start + 6).map_or(0, |two| usize::from(u16::from_be_bytes([two[0], two[1]])));
        let records = (0..count).map(|at| start + HEAD + RECORD * at).take_while(|at| at + RECORD <= bytes.len());
        let coloured: Vec<usize> =
            records.filter(|at| COLOURED.iter().any(|tag| bytes[*at..*at + 4] == tag[..])).collect();
        if coloured.is_empty() {
            return Cow::Borrowed(bytes);
        }
        let mut plain = bytes.to_vec();
        for record in coloured {
            plain[record + 12..record + RECORD].fill(0);
        }
        Cow::Owned(plain)
    }
}
