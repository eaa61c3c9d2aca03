//! A progressive JPEG taken apart: one of its components as a grey JPEG of its own. All coefficients of a file wait for its last
//! scan, two bytes each; apart, those of one component do.
//!
//! Scans of one component are copied. Those of several bring means of blocks alone, which are dealt out and written again, as
//! their blocks lie in another order (ITU-T T.81, A.2.3 and annex G).

use crate::assets::decode::jpeg::frame::{Component, FrameHead};
use crate::assets::decode::jpeg::huffman::{Bits, HuffmanTable};
use crate::assets::decode::jpeg::scan::{LONGEST_DC, Tables, difference};
use crate::assets::decode::jpeg::walk::{define, entropy_end, keep, segment};

pub struct LoneComponent {
    pub width: usize,
    pub height: usize,
    /// Samples of the finest component that one of its own stands for, across and down.
    pub step: (usize, usize),
    pub file: Vec<u8>,
}

/// The component of this number; `None` where the file is not progressive, or damaged before its end.
pub fn lone(bytes: &[u8], number: usize) -> Option<LoneComponent> {
    let mut tables = Tables::default();
    let mut frame: Option<FrameHead> = None;
    // Room for all of it, most of which is never touched: a file that outgrew its room would lie in memory twice.
    let mut file = Vec::with_capacity(bytes.len());
    file.extend([0xff, 0xd8]);
    let mut at = 2;
    loop {
        let (marker, stated, next) = segment(bytes, at)?;
        at = next;
        match marker {
            0xd9 => break,
            0xc2 if frame.is_none() => {
                let read = FrameHead::read(marker, stated)?;
                let own = read.components.get(number)?;
                let [(h1, h2), (w1, w2)] = [own.height, own.width].map(|side| ((side >> 8) as u8, side as u8));
                keep(&mut file, marker, &[8, h1, h2, w1, w2, 1, own.id, 0x11, own.quantiser]);
                frame = Some(read);
            }
            0xda => {
                let (frame, head) = (frame.as_ref()?, ScanHead::read(stated)?);
                let own = &frame.components[number];
                at = match (head.parts.contains(&own.id), &head.parts[..]) {
                    (false, _) => entropy_end(bytes, at)?,
                    (true, [_]) => {
                        let end = entropy_end(bytes, at)?;
                        keep(&mut file, marker, stated);
                        file.extend_from_slice(&bytes[at..end]);
                        end
                    }
                    (true, _) => {
                        let (means, end) = dealt_out(frame, &tables, &head, number, bytes, at)?;
                        write(&mut file, own, &head, &tables, &means)?;
                        end
                    }
                };
            }
            0xc4 | 0xdb | 0xdd => {
                match (marker, stated) {
                    (0xc4, tables_stated) => define(&mut tables, tables_stated)?,
                    (0xdd, [a, b]) => tables.interval = usize::from(u16::from_be_bytes([*a, *b])),
                    _ => {}
                }
                keep(&mut file, marker, stated);
            }
            0x01 | 0xe0..=0xef | 0xfe => {}
            _ => return None,
        }
    }
    file.extend([0xff, 0xd9]);
    let frame = frame?;
    let own = &frame.components[number];
    let step = (frame.most.0 / own.across, frame.most.1 / own.down);
    Some(LoneComponent { width: own.width, height: own.height, step, file })
}

/// What the head of a scan says.
struct ScanHead {
    /// The names of its components, and their tables.
    parts: Vec<u8>,
    tables: Vec<u8>,
    /// Its last three bytes.
    band: [u8; 3],
}

impl ScanHead {
    fn read(stated: &[u8]) -> Option<ScanHead> {
        let [count, listed @ .., from, to, bit] = stated else { return None };
        let (listed, rest) = listed.as_chunks::<2>();
        let fits = listed.len() == usize::from(*count) && rest.is_empty();
        let (parts, tables) = listed.iter().map(|[id, tables]| (*id, *tables)).unzip();
        fits.then_some(ScanHead { parts, tables, band: [*from, *to, *bit] })
    }

    /// A scan that adds one bit to what is known.
    fn refines(&self) -> bool {
        self.band[2] > 15
    }
}

/// No mean of samples of 8 bits comes near it.
const BEYOND: i32 = 1 << 14;

/// Of a scan of several components, what it says of the blocks of one, row by row: its means, or the next bit of each; and where
/// the scan ends.
fn dealt_out(
    frame: &FrameHead,
    tables: &Tables,
    head: &ScanHead,
    number: usize,
    bytes: &[u8],
    start: usize,
) -> Option<(Vec<i32>, usize)> {
    if head.band[..2] != [0, 0] {
        return None;
    }
    let table = |chosen: u8| tables.dc.get(usize::from(chosen >> 4)).and_then(Option::as_ref);
    let parts = head.parts.iter().zip(&head.tables).map(|(id, chosen)| Some((frame.place(*id)?, table(*chosen))));
    let parts: Vec<(usize, Option<&HuffmanTable>)> = parts.collect::<Option<_>>()?;
    let own = &frame.components[number];
    let mut means = vec![0; own.columns * own.rows];
    let (across, down) = frame.units();
    let mut bits = Bits::new(bytes, start);
    let (mut restarts, mut mean) = (0_u8, 0);
    for unit in 0..across * down {
        if tables.interval > 0 && unit > 0 && unit % tables.interval == 0 {
            bits.restart(&mut restarts)?;
            mean = 0;
        }
        for (part, table) in &parts {
            let Component { across: wide, down: high, .. } = frame.components[*part];
            for inner in 0..wide * high {
                let said = if head.refines() { bits.take(1)?.cast_signed() } else { difference(&mut bits, (*table)?)? };
                if *part != number {
                    continue;
                }
                mean = if head.refines() { said } else { Some(mean + said).filter(|mean| mean.abs() < BEYOND)? };
                let (column, row) = (unit % across * wide + inner % wide, unit / across * high + inner / wide);
                // The last units hold blocks of no samples.
                if column < own.columns && row < own.rows {
                    means[row * own.columns + column] = mean;
                }
            }
        }
    }
    bits.at_marker().then_some((means, bits.at))
}

/// Codes of four bits for the lengths of differences, without the one that is all ones.
const CODE: u32 = 4;

/// The scan of one component that says the same. `None` where differences are longer than any can be.
fn write(file: &mut Vec<u8>, own: &Component, head: &ScanHead, tables: &Tables, means: &[i32]) -> Option<()> {
    let mut counts = [0; 16];
    counts[CODE as usize - 1] = LONGEST_DC + 1;
    let lengths: Vec<u8> = (0..=LONGEST_DC).collect();
    keep(file, 0xc4, &[&[0][..], &counts, &lengths].concat());
    keep(file, 0xdd, &[0, 0]);
    let [from, to, bit] = head.band;
    keep(file, 0xda, &[1, own.id, 0, from, to, bit]);
    let mut bits = BitsOut { file, hold: 0, count: 0 };
    let mut before = 0;
    for mean in means {
        if head.refines() {
            bits.put(mean.cast_unsigned(), 1);
            continue;
        }
        let difference: i32 = mean - before;
        before = *mean;
        let length = 32 - difference.unsigned_abs().leading_zeros();
        if length > u32::from(LONGEST_DC) {
            return None;
        }
        bits.put(length, CODE);
        let said = if difference < 0 { difference - 1 } else { difference };
        bits.put(said.cast_unsigned() & ((1 << length) - 1), length);
    }
    bits.put((1 << 7) - 1, 7);
    keep(file, 0xdd, &(tables.interval as u16).to_be_bytes());
    Some(())
}

/// Entropy-coded bits, written.
struct BitsOut<'a> {
    file: &'a mut Vec<u8>,
    hold: u32,
    count: u32,
}

impl BitsOut<'_> {
    /// The last bits that do not fill a byte are left.
    fn put(&mut self, bits: u32, length: u32) {
        self.hold = self.hold << length | bits;
        self.count += length;
        while self.count >= 8 {
            self.count -= 8;
            let byte = (self.hold >> self.count) as u8;
            self.file.push(byte);
            if byte == 0xff {
                self.file.push(0);
            }
        }
    }
}
