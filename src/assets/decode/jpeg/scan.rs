//! One scan of a JPEG read to its end, code by code, to see whether it is whole (ITU-T T.81, annexes F and G).

use crate::assets::decode::jpeg::frame::FrameHead;
use crate::assets::decode::jpeg::huffman::{Bits, HuffmanTable, LONGEST_AC, Strides};

/// The tables in force, by their numbers.
#[derive(Default)]
pub struct Tables {
    pub dc: [Option<HuffmanTable>; 4],
    pub ac: [Option<HuffmanTable>; 4],
    /// Units between two restart markers; 0 without.
    pub interval: usize,
}

/// A scan that is not whole: how much of it could be read, 0 to 1.
#[derive(Debug, PartialEq)]
pub struct CutShort(pub f64);

/// Which coefficients a scan brings, and which of their bits.
#[derive(Clone, Copy)]
struct ScanBand {
    progressive: bool,
    from: u32,
    to: u32,
    /// A scan that adds one bit to what is known.
    refines: bool,
}

/// A component of a scan and its tables.
struct ScanPart<'a> {
    component: usize,
    dc: Option<&'a HuffmanTable>,
    ac: Option<&'a HuffmanTable>,
    /// Where all of a block comes in one scan, whose coefficients nobody asks about.
    strides: Option<Strides>,
}

/// Reads the scan whose entropy-coded part begins at `start`; where that part ends.
pub fn read(
    frame: &mut FrameHead,
    tables: &Tables,
    head: &[u8],
    bytes: &[u8],
    start: usize,
) -> Result<usize, CutShort> {
    let (parts, band) = open(frame, tables, head).ok_or(CutShort(0.0))?;
    let (across, down) = match &parts[..] {
        [only] => (frame.components[only.component].columns, frame.components[only.component].rows),
        _ => frame.units(),
    };
    if let ([only], true) = (&parts[..], band.progressive && band.from > 0) {
        frame.components[only.component].filled.resize(across * down, 0);
    }
    let mut bits = Bits::new(bytes, start);
    let (mut empty, mut restarts) = (0_u32, 0_u8);
    for unit in 0..across * down {
        let cut = || CutShort(unit as f64 / (across * down) as f64);
        if tables.interval > 0 && unit > 0 && unit % tables.interval == 0 {
            bits.restart(&mut restarts).ok_or_else(cut)?;
            empty = 0;
        }
        for part in &parts {
            let component = &mut frame.components[part.component];
            let (wide, high) = if parts.len() == 1 { (1, 1) } else { (component.across, component.down) };
            for _ in 0..wide * high {
                // Those that build on what is filled come in scans of one component.
                let filled = component.filled.get_mut(unit);
                block(&mut bits, part, band, filled, &mut empty).ok_or_else(cut)?;
            }
        }
    }
    if bits.at_marker() { Ok(bits.at) } else { Err(CutShort(1.0)) }
}

/// What a SOS segment says, when it fits what came before.
fn open<'a>(frame: &mut FrameHead, tables: &'a Tables, head: &[u8]) -> Option<(Vec<ScanPart<'a>>, ScanBand)> {
    let [count, rest @ ..] = head else { return None };
    let (listed, [from, to, bit]) = rest.split_at_checked(usize::from(*count) * 2)? else { return None };
    let band = ScanBand { progressive: frame.progressive, from: (*from).into(), to: (*to).into(), refines: *bit > 15 };
    let (high, low) = (bit >> 4, bit & 15);
    let fits = if frame.progressive {
        let dc = (*from, *to) == (0, 0);
        (dc || (*count == 1 && *from > 0 && from <= to && *to < 64)) && low < 14 && (high == 0 || high == low + 1)
    } else {
        (*from, *to, *bit) == (0, 63, 0)
    };
    if !fits || !(1..=4).contains(count) {
        return None;
    }
    let mut parts: Vec<ScanPart<'_>> = Vec::new();
    for [id, chosen] in listed.as_chunks::<2>().0 {
        let at = frame.place(*id)?;
        let table = |tables: &'a [Option<HuffmanTable>; 4], number: u8| tables.get(usize::from(number))?.as_ref();
        let (dc, ac) = (table(&tables.dc, chosen >> 4), table(&tables.ac, chosen & 15));
        let lacks = (band.from == 0 && !band.refines && dc.is_none()) || (band.to > 0 && ac.is_none());
        if lacks || parts.iter().any(|part| part.component == at) {
            return None;
        }
        // Every bit comes once, in its order.
        for known in &mut frame.components[at].known[usize::from(*from)..=usize::from(*to)] {
            if *known != (high > 0).then_some(high) {
                return None;
            }
            *known = Some(low);
        }
        let strides = ac.filter(|_| !frame.progressive).map(Strides::new);
        parts.push(ScanPart { component: at, dc, ac, strides });
    }
    Some((parts, band))
}

/// One block; `None` where its bits make no sense. `empty` counts blocks of which nothing more comes in this scan.
fn block(
    bits: &mut Bits<'_>,
    part: &ScanPart<'_>,
    band: ScanBand,
    filled: Option<&mut u64>,
    empty: &mut u32,
) -> Option<()> {
    if band.from == 0 {
        if band.refines {
            return bits.take(1).map(|_| ());
        }
        difference(bits, part.dc?)?;
        if band.progressive {
            return Some(());
        }
        return run(bits, part, ScanBand { from: 1, ..band }, &mut 0, empty);
    }
    let filled = filled?;
    if band.refines { refine(bits, part.ac?, band, filled, empty) } else { run(bits, part, band, filled, empty) }
}

/// By how much the mean of a block differs from the one before (T.81, F.2.2.1).
pub fn difference(bits: &mut Bits<'_>, table: &HuffmanTable) -> Option<i32> {
    let length = bits.decode(table).filter(|length| *length <= LONGEST_DC)?;
    let said = bits.take(u32::from(length))?.cast_signed();
    let most = 1 << length;
    Some(if said < most >> 1 { said - most + 1 } else { said })
}

/// Bits of a difference, for samples of 8 bits.
pub const LONGEST_DC: u8 = 11;

/// Coefficients as runs of nothing and what ends them.
fn run(bits: &mut Bits<'_>, part: &ScanPart<'_>, band: ScanBand, filled: &mut u64, empty: &mut u32) -> Option<()> {
    if *empty > 0 {
        *empty -= 1;
        return Some(());
    }
    let table = part.ac?;
    let mut at = band.from;
    while at <= band.to {
        if let Some(strides) = &part.strides {
            let Some(next) = bits.pass(strides, at) else { return Some(()) };
            at = next;
        }
        let code = bits.decode(table)?;
        let (zeros, length) = (u32::from(code >> 4), code & 15);
        if length > 0 {
            at += zeros;
            bits.take(u32::from(length)).filter(|_| length <= LONGEST_AC && at <= band.to)?;
            *filled |= 1 << at;
            at += 1;
        } else if zeros == 15 {
            at += 16;
        } else {
            return end_of_band(bits, zeros, band, empty);
        }
    }
    Some(())
}

/// The rest of this block is empty, and of so many blocks after it.
fn end_of_band(bits: &mut Bits<'_>, zeros: u32, band: ScanBand, empty: &mut u32) -> Option<()> {
    if zeros > 0 && !band.progressive {
        return None;
    }
    *empty = (1 << zeros) - 1 + bits.take(zeros)?;
    Some(())
}

/// One bit more for what is not empty, and coefficients that are new.
fn refine(bits: &mut Bits<'_>, table: &HuffmanTable, band: ScanBand, filled: &mut u64, empty: &mut u32) -> Option<()> {
    let mut at = band.from;
    if *empty == 0 {
        while at <= band.to {
            let code = bits.decode(table)?;
            let (mut zeros, length) = (u32::from(code >> 4), code & 15);
            if length == 0 && zeros < 15 {
                end_of_band(bits, zeros, band, empty)?;
                *empty += 1;
                break;
            }
            if length > 1 {
                return None;
            }
            bits.take(u32::from(length))?;
            while at <= band.to {
                if *filled >> at & 1 == 1 {
                    bits.take(1)?;
                } else if zeros == 0 {
                    break;
                } else {
                    zeros -= 1;
                }
                at += 1;
            }
            if length == 1 {
                if at > band.to {
                    return None;
                }
                *filled |= 1 << at;
            }
            at += 1;
        }
    }
    if *empty > 0 {
        while at <= band.to {
            bits.take(u32::from(*filled >> at & 1 == 1))?;
            at += 1;
        }
        *empty -= 1;
    }
    Some(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// How many codes there are of each length, and what they stand for; of 4 bits and fewer the beginning of T.81's table K.5,
    /// then places that are wrong in such a scan, and codes longer than one look.
    fn table() -> HuffmanTable {
        let counts = [0, 2, 1, 2, 1, 1, 0, 1, 0, 1, 0, 1, 2, 0, 0, 0];
        let bytes = [0x01, 0x02, 0x03, 0x00, 0x11, 0xf0, 0x1a, 0x20, 0x4b, 0x71, 0x0a, 0xf1];
        HuffmanTable::new(&counts, &bytes).expect("codes that fit")
    }

    /// Strides only save time: on noise, each block ends at the same bit, sound or not, as when it is read code by code.
    #[test]
    fn several_codes_at_a_time_are_what_they_are_one_by_one() {
        let (table, band) = (table(), ScanBand { progressive: false, from: 1, to: 63, refines: false });
        let part = |strides| ScanPart { component: 0, dc: None, ac: Some(&table), strides };
        let (slow, quick) = (part(None), part(Some(Strides::new(&table))));
        let (mut seed, mut sound, mut wrong) = (1_u32, 0, 0);
        for _ in 0..20_000 {
            let bytes: [u8; 40] = std::array::from_fn(|_| {
                seed = seed.wrapping_mul(1_664_525).wrapping_add(1_013_904_223);
                (seed >> 24) as u8 & 0xbf
            });
            let ends = [&slow, &quick].map(|part| {
                let mut bits = Bits::new(&bytes, 0);
                let is_sound = run(&mut bits, part, band, &mut 0, &mut 0).is_some();
                (is_sound, is_sound.then(|| std::iter::from_fn(|| bits.take(1)).count()))
            });
            assert_eq!(ends[0], ends[1], "{bytes:?}");
            if ends[0].0 { sound += 1 } else { wrong += 1 }
        }
        assert!(sound > 1000 && wrong > 1000, "{sound} sound, {wrong} wrong");
    }
}
