//! Lut16: the tables of ICC's `lut16Type`, as they are written: curves, a grid, curves.

/// Numbers are 0 to `MOST`.
pub struct Lut16<const FROM: usize, const TO: usize> {
    /// Nodes along each axis of the grid.
    pub grid: usize,
    /// For each channel in: from even steps to its place along an axis.
    pub into: [Vec<f32>; FROM],
    /// The first channel in goes slowest.
    pub nodes: Vec<[f32; TO]>,
    /// For each channel out, from even steps; nothing where they leave it as it is.
    pub out: Option<[Vec<f32>; TO]>,
}

pub const MOST: f32 = 65_535.0;
const HEAD: usize = 128;
/// ICC.1, lut16Type: where channels are counted, entries of the tables before and after the grid, and the tables.
const CHANNELS: usize = 8;
const ENTRIES: usize = 48;
const TABLES: usize = 52;

impl<const FROM: usize, const TO: usize> Lut16<FROM, TO> {
    /// The tables of a tag, such as `B2A1`, of a CMYK profile that connects by CIELAB; `None` where it is of another kind or
    /// damaged.
    pub fn read(profile: &[u8], tag: [u8; 4]) -> Option<Lut16<FROM, TO>> {
        if profile.get(16..24)? != b"CMYKLab " {
            return None;
        }
        let count = long(profile, HEAD)?.min(100);
        let entry = (0..count).map(|tag| HEAD + 4 + 12 * tag).find(|at| profile.get(*at..at + 4) == Some(&tag[..]))?;
        let (start, length) = (long(profile, entry + 4)?, long(profile, entry + 8)?);
        let bytes = profile.get(start..start.checked_add(length)?)?;
        if bytes.get(..4)? != b"mft2" || bytes.get(CHANNELS..CHANNELS + 2)? != [FROM as u8, TO as u8] {
            return None;
        }
        let grid = usize::from(*bytes.get(CHANNELS + 2)?);
        let (before, after) = (short(bytes, ENTRIES)?, short(bytes, ENTRIES + 2)?);
        if grid < 2 || before < 2 || after < 2 {
            return None;
        }
        let words: Vec<f32> =
            bytes.get(TABLES..)?.as_chunks().0.iter().map(|word| f32::from(u16::from_be_bytes(*word))).collect();
        let (into, rest) = words.split_at_checked(FROM * before)?;
        let (nodes, rest) = rest.split_at_checked(TO * grid.pow(FROM as u32))?;
        let out = rest.get(..TO * after)?;
        let straight = |table: &[f32]| {
            let step = MOST / (after - 1) as f32;
            table.iter().enumerate().all(|(at, own)| (own - at as f32 * step).abs() <= 1.0)
        };
        let kept = out.chunks(after).all(straight);
        Some(Lut16 {
            grid,
            into: std::array::from_fn(|axis| into[axis * before..(axis + 1) * before].to_vec()),
            nodes: nodes.as_chunks().0.to_vec(),
            out: (!kept).then(|| std::array::from_fn(|channel| out[channel * after..(channel + 1) * after].to_vec())),
        })
    }
}

/// A table of even steps at a share of its length. Processors turn 32 bits into numbers and back faster than 64.
pub fn between(table: &[f32], share: f32) -> f32 {
    let place = share * (table.len() - 1) as u32 as f32;
    let whole = (place as u32 as usize).min(table.len() - 2);
    table[whole] + (table[whole + 1] - table[whole]) * (place - whole as u32 as f32)
}

/// A table of two entries or more, at a place that is counted in its own steps, from 0 on.
pub fn between_steps(table: &[f32], place: f32) -> f32 {
    let step = whole(place).min(table.len() - 2);
    let two = &table[step..][..2];
    two[0] + (two[1] - two[0]) * (place - step as u32 as f32)
}

/// The whole number below a place, which is 0 or more and less than 2²¹; of a whole number, itself or the one before: either
/// is right to look between two entries, one of which is met exactly. A processor turns numbers into whole ones more slowly.
pub fn whole(place: f32) -> usize {
    /// Numbers round this one are a whole apart, and their lowest bits count on from it.
    const WHOLES: f32 = (3 << 22) as f32;
    ((place - 0.5 + WHOLES).to_bits() & 0x3F_FFFF) as usize
}

fn long(bytes: &[u8], at: usize) -> Option<usize> {
    Some(u32::from_be_bytes(*bytes.get(at..)?.first_chunk()?) as usize)
}

fn short(bytes: &[u8], at: usize) -> Option<usize> {
    Some(u16::from_be_bytes(*bytes.get(at..)?.first_chunk()?).into())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::profile::COATED;

    #[test]
    fn the_bundled_tables_are_read_and_damaged_ones_are_not() {
        let inks = Lut16::<3, 4>::read(COATED, *b"B2A1").expect("the bundled profile is of this kind");
        assert_eq!(inks.nodes.len(), inks.grid.pow(3));
        // White of the connection space is bare paper.
        let white = (inks.grid - 1) * inks.grid.pow(2);
        assert!(inks.nodes[white..white + inks.grid.pow(2)].iter().any(|node| node.iter().all(|ink| *ink < 128.0)));
        let colours = Lut16::<4, 3>::read(COATED, *b"A2B1").expect("and the other way");
        // Bare paper is white: L 100 is FF00, a and b 0 are 8000 (ICC.1, legacy 16-bit encoding of CIELAB).
        assert_eq!(colours.nodes[0].map(|code| code as u16), [0xFF00, 0x8000, 0x8000]);
        assert!(Lut16::<3, 4>::read(COATED, *b"A2B1").is_none(), "it has four channels in");
        assert!(Lut16::<3, 4>::read(COATED, *b"none").is_none());
        for end in (0..COATED.len()).step_by(997) {
            let _ = Lut16::<3, 4>::read(&COATED[..end], *b"B2A1");
            let _ = Lut16::<4, 3>::read(&COATED[..end], *b"A2B1");
        }
        assert!(Lut16::<3, 4>::read(&COATED[..5000], *b"B2A1").is_none());
    }
}
