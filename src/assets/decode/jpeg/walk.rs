//! A JPEG walked from marker to marker: what a press file needs of it, and whether its scans are whole.

use crate::assets::decode::jpeg::frame::FrameHead;
use crate::assets::decode::jpeg::huffman::HuffmanTable;
use crate::assets::decode::jpeg::scan::{CutShort, Tables, read};

/// What a walk found.
pub struct Walked {
    /// The file with its frame, tables, scans and APP14 alone; `None` where it is not whole.
    pub plain: Option<Vec<u8>>,
    /// How much of the picture can be read, 0 to 1.
    pub whole: f64,
}

/// The signature of an APP14 segment that says how the channels are to be read (ITU-T T.872, 6.5.3), and the length of
/// all it says.
pub const APP14: &[u8] = b"Adobe";
const APP14_LENGTH: usize = 12;

/// A marker, what its segment says, and where the next one is looked for.
pub fn segment(bytes: &[u8], from: usize) -> Option<(u8, &[u8], usize)> {
    let start = from + bytes.get(from..)?.iter().position(|byte| *byte == 0xff)?;
    let at = start + bytes[start..].iter().position(|byte| *byte != 0xff)?;
    let marker = bytes[at];
    if matches!(marker, 0x01 | 0xd0..=0xd9) {
        return Some((marker, &[], at + 1));
    }
    let length = usize::from(u16::from_be_bytes(*bytes.get(at + 1..)?.first_chunk()?));
    Some((marker, bytes.get(at + 3..at + 1 + length)?, at + 1 + length))
}

/// Where the entropy-coded bytes from here end: at the first marker that restarts nothing.
pub fn entropy_end(bytes: &[u8], mut at: usize) -> Option<usize> {
    loop {
        at += bytes.get(at..)?.iter().position(|byte| *byte == 0xff)?;
        match bytes.get(at + 1)? {
            0 | 0xd0..=0xd7 => at += 2,
            _ => return Some(at),
        }
    }
}

/// Walks a file. Its plain one is as large, and left empty unless it is `wanted`.
pub fn walk(bytes: &[u8], wanted: bool) -> Walked {
    let mut plain = PlainFile { bytes: vec![0xff, 0xd8], wanted };
    match steps(bytes, &mut plain) {
        Ok(()) => Walked { plain: Some(plain.bytes), whole: 1.0 },
        Err(CutShort(whole)) => Walked { plain: None, whole },
    }
}

/// What a press file needs of a file, as it is put together.
struct PlainFile {
    bytes: Vec<u8>,
    wanted: bool,
}

impl PlainFile {
    fn keep(&mut self, marker: u8, stated: &[u8]) {
        if self.wanted {
            keep(&mut self.bytes, marker, stated);
        }
    }

    fn extend(&mut self, bytes: &[u8]) {
        if self.wanted {
            self.bytes.extend_from_slice(bytes);
        }
    }
}

fn steps(bytes: &[u8], plain: &mut PlainFile) -> Result<(), CutShort> {
    let mut tables = Tables::default();
    let mut frame: Option<FrameHead> = None;
    let (mut at, mut scans, mut quantisers) = (2, 0, 0_u8);
    loop {
        // What was read before is a picture, if a coarse one.
        let cut = || CutShort(if scans == 0 { 0.0 } else { 1.0 });
        let (marker, stated, next) = segment(bytes, at).ok_or_else(cut)?;
        at = next;
        match marker {
            0xd9 if frame.as_ref().is_some_and(FrameHead::is_complete) => {
                plain.extend(&[0xff, 0xd9]);
                return Ok(());
            }
            0xc0..=0xc2 if frame.is_none() => frame = Some(FrameHead::read(marker, stated).ok_or_else(cut)?),
            0xc4 => define(&mut tables, stated).ok_or_else(cut)?,
            0xdb => quantisers |= quantised(stated).ok_or_else(cut)?,
            0xdd => match stated {
                [a, b] => tables.interval = usize::from(u16::from_be_bytes([*a, *b])),
                _ => return Err(cut()),
            },
            0xee if stated.starts_with(APP14) && stated.len() >= APP14_LENGTH => {
                plain.keep(marker, &stated[..APP14_LENGTH]);
                continue;
            }
            0xda => {
                let frame = frame.as_mut().ok_or_else(cut)?;
                let defined = frame.components.iter().all(|own| quantisers >> own.quantiser & 1 == 1);
                let end = if defined { read(frame, &tables, stated, bytes, at) } else { Err(CutShort(0.0)) };
                let end = end.map_err(|own| if scans == 0 { own } else { CutShort(1.0) })?;
                plain.keep(marker, stated);
                plain.extend(&bytes[at..end]);
                (at, scans) = (end, scans + 1);
                continue;
            }
            0x01 | 0xe0..=0xef | 0xfe => continue,
            _ => return Err(cut()),
        }
        plain.keep(marker, stated);
    }
}

pub fn keep(plain: &mut Vec<u8>, marker: u8, stated: &[u8]) {
    plain.extend([0xff, marker]);
    plain.extend((stated.len() as u16 + 2).to_be_bytes());
    plain.extend_from_slice(stated);
}

/// Takes up the Huffman tables of a DHT segment.
pub fn define(tables: &mut Tables, mut stated: &[u8]) -> Option<()> {
    while let [kind, rest @ ..] = stated {
        let (counts, rest) = rest.split_first_chunk::<16>()?;
        let length = counts.iter().map(|count| usize::from(*count)).sum();
        let (bytes, rest) = rest.split_at_checked(length)?;
        let class = if kind >> 4 == 0 { &mut tables.dc } else { &mut tables.ac };
        if *kind > 0x1f {
            return None;
        }
        *class.get_mut(usize::from(kind & 15))? = Some(HuffmanTable::new(counts, bytes)?);
        stated = rest;
    }
    Some(())
}

/// The numbers of the quantisers that a DQT segment brings, a bit each; for samples of 8 bits theirs have 8 bits as well,
/// or 16.
fn quantised(mut stated: &[u8]) -> Option<u8> {
    let mut numbers = 0;
    while let [kind, rest @ ..] = stated {
        let (steps, rest) = rest.split_at_checked(if kind >> 4 == 0 { 64 } else { 128 })?;
        if kind >> 4 > 1
            || kind & 15 > 3
            || steps.chunks(steps.len() / 64).any(|step| step.iter().all(|byte| *byte == 0))
        {
            return None;
        }
        numbers |= 1 << (kind & 15);
        stated = rest;
    }
    Some(numbers)
}
