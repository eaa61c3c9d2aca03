//! Bytes: files spoiled as formats are hit worst: numbers at their ends, pieces cut, doubled and put elsewhere.

use crate::chance::Chance;

const WORDS: [u32; 9] = [0, 1, 0x7f, 0xff, 0x7fff, 0xffff, 0x7fff_ffff, 0x8000_0000, 0xffff_ffff];

/// One change, or a few.
pub fn spoil(bytes: &mut Vec<u8>, chance: &mut Chance) {
    for _ in 0..=chance.below(4) {
        one(bytes, chance);
    }
}

fn one(bytes: &mut Vec<u8>, chance: &mut Chance) {
    if bytes.is_empty() {
        return bytes.extend((0..chance.below(40)).map(|_| chance.next() as u8));
    }
    // Heads say more than what follows them.
    let reach = if chance.below(2) == 0 { bytes.len().min(400) } else { bytes.len() };
    let at = chance.below(reach);
    match chance.below(9) {
        0 => bytes[at] ^= 1 << chance.below(8),
        1 => bytes[at] = chance.next() as u8,
        2 | 3 => {
            let word = *chance.one(&WORDS);
            let word = if chance.below(2) == 0 { word.to_be_bytes() } else { word.to_le_bytes() };
            let part = &word[..*chance.one(&[2, 4])];
            let end = bytes.len().min(at + part.len());
            bytes[at..end].copy_from_slice(&part[..end - at]);
        }
        4 => bytes.truncate(at),
        5 => {
            let end = bytes.len().min(at + 1 + chance.below(64));
            bytes.drain(at..end);
        }
        6 => {
            let (from, length) = (chance.below(bytes.len()), 1 + chance.below(4000));
            let piece = bytes[from..bytes.len().min(from + length)].to_vec();
            bytes.splice(at..at, piece);
        }
        7 => {
            let (from, length) = (chance.below(bytes.len()), 1 + chance.below(64));
            let piece = bytes[from..bytes.len().min(from + length)].to_vec();
            let end = bytes.len().min(at + piece.len());
            bytes[at..end].copy_from_slice(&piece[..end - at]);
        }
        _ => {
            let end = bytes.len().min(at + 1 + chance.below(200));
            let fill = *chance.one(&[0, 0xff, b'0', b' ']);
            bytes[at..end].fill(fill);
        }
    }
}

/// A PNG whose chunks say the right sum again, so that what was spoiled is read at all (PNG, W3C Recommendation, 5.3).
pub fn summed(bytes: &mut [u8]) {
    let mut at = 8;
    while let Some(length) = bytes.get(at..at + 4).map(|four| u32::from_be_bytes([four[0], four[1], four[2], four[3]]))
    {
        let Some(end) = at.checked_add(8).and_then(|body| body.checked_add(length as usize)) else { return };
        if end + 4 > bytes.len() {
            return;
        }
        let sum = crc(&bytes[at + 4..end]);
        bytes[end..end + 4].copy_from_slice(&sum.to_be_bytes());
        at = end + 4;
    }
}

fn crc(bytes: &[u8]) -> u32 {
    let step = |crc: u32, _: u32| if crc & 1 == 1 { 0xEDB8_8320 ^ (crc >> 1) } else { crc >> 1 };
    !bytes.iter().fold(!0, |crc, byte| (0..8).fold(crc ^ u32::from(*byte), step))
}
