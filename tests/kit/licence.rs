//! Licence: a font whose maker forbids to embed it, made of one that allows it.

/// Sets `fsType` of the `OS/2` table to 2, restricted licence embedding, and the checksum again (OpenType, `OS/2`).
pub fn restricted(font: &[u8]) -> Vec<u8> {
    let mut font = font.to_vec();
    let word = |font: &[u8], at: usize| u32::from_be_bytes([font[at], font[at + 1], font[at + 2], font[at + 3]]);
    let tables = usize::from(u16::from_be_bytes([font[4], font[5]]));
    let record = (0..tables).map(|table| 12 + 16 * table).find(|at| &font[*at..*at + 4] == b"OS/2");
    let record = record.expect("every font has the table");
    let (start, length) = (word(&font, record + 8) as usize, word(&font, record + 12) as usize);
    font[start + 8..start + 10].copy_from_slice(&2_u16.to_be_bytes());
    let mut padded = font[start..start + length].to_vec();
    padded.resize(length.next_multiple_of(4), 0);
    let sum = padded.chunks(4).fold(0_u32, |sum, chunk| sum.wrapping_add(word(chunk, 0)));
    font[record + 4..record + 8].copy_from_slice(&sum.to_be_bytes());
    font
}
