//! Ink tables: what a press profile of ICC's `lut16Type` lays down for a colour of the connection space, as it is written.

/// From CIELAB to CMYK.
pub struct InkTables {
    /// Nodes along each axis of the grid.
    pub grid: usize,
    /// For L, a and b: from even steps to places along the axis of the grid.
    pub into: [Vec<f32>; 3],
    /// Inks at the nodes, 255 a solid, L slowest.
    pub nodes: Vec<[f32; 4]>,
    /// For each ink: from even steps to ink, 255 a solid; nothing where they leave the ink as it is.
    pub out: Option<[Vec<f32>; 4]>,
}

const HEAD: usize = 128;
/// ICC.1, lut16Type: three channels in, four out; entries of the tables before and after the grid; tables.
const CHANNELS: [u8; 2] = [3, 4];
const ENTRIES: usize = 48;
const TABLES: usize = 52;
const MOST: f32 = 65_535.0;

impl InkTables {
    /// The tables of a tag, such as `B2A1`; `None` where it is of another kind or damaged.
    pub fn read(profile: &[u8], tag: [u8; 4]) -> Option<InkTables> {
        if profile.get(16..24)? != b"CMYKLab " {
            return None;
        }
        let count = long(profile, HEAD)?.min(100);
        let entry = (0..count).map(|tag| HEAD + 4 + 12 * tag).find(|at| profile.get(*at..at + 4) == Some(&tag[..]))?;
        let (start, length) = (long(profile, entry + 4)?, long(profile, entry + 8)?);
        let bytes = profile.get(start..start.checked_add(length)?)?;
        if bytes.get(..4)? != b"mft2" || bytes.get(8..10)? != CHANNELS {
            return None;
        }
        let grid = usize::from(*bytes.get(10)?);
        let (before, after) = (short(bytes, ENTRIES)?, short(bytes, ENTRIES + 2)?);
        if grid < 2 || before < 2 || after < 2 {
            return None;
        }
        let words: Vec<f32> =
            bytes.get(TABLES..)?.as_chunks().0.iter().map(|word| f32::from(u16::from_be_bytes(*word))).collect();
        let (into, rest) = words.split_at_checked(3 * before)?;
        let (nodes, rest) = rest.split_at_checked(4 * grid.pow(3))?;
        let out = rest.get(..4 * after)?;
        let straight = |table: &[f32]| {
            let step = MOST / (after - 1) as f32;
            table.iter().enumerate().all(|(at, ink)| (ink - at as f32 * step).abs() <= 1.0)
        };
        let kept = out.chunks(after).all(straight);
        let scale = |words: &[f32], most: f32| words.iter().map(|word| word / MOST * most).collect::<Vec<f32>>();
        Some(InkTables {
            grid,
            into: std::array::from_fn(|axis| scale(&into[axis * before..(axis + 1) * before], (grid - 1) as f32)),
            nodes: nodes.as_chunks().0.iter().map(|node: &[f32; 4]| node.map(|ink| ink / MOST * 255.0)).collect(),
            out: (!kept).then(|| std::array::from_fn(|ink| scale(&out[ink * after..(ink + 1) * after], 255.0))),
        })
    }
}

/// The most ink that the tables of any intent lay down, 1 a solid, to the nearest per cent. `None` where they are of another
/// kind, and where they bend their inks after the grid: only without that is there never more between its nodes than at one
/// of them.
pub fn most_ink(profile: &[u8]) -> Option<f64> {
    let tables = [b"B2A0", b"B2A1", b"B2A2"].into_iter().filter_map(|tag| InkTables::read(profile, *tag));
    most_of(&tables.collect::<Vec<_>>())
}

fn most_of(tables: &[InkTables]) -> Option<f64> {
    if tables.iter().any(|tables| tables.out.is_some()) {
        return None;
    }
    let sums = tables.iter().flat_map(|tables| &tables.nodes).map(|node| node.iter().sum::<f32>());
    let most = sums.reduce(f32::max)?;
    (most > 0.0).then(|| (f64::from(most) / 2.55).round() / 100.0)
}

/// A table of even steps at a share of its length.
pub fn between(table: &[f32], share: f32) -> f32 {
    let place = share * (table.len() - 1) as f32;
    let whole = (place as usize).min(table.len() - 2);
    table[whole] + (table[whole + 1] - table[whole]) * (place - whole as f32)
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

    /// Two nodes of 200 per cent: halfway between them a table that doubles inks up to a half lays down 400.
    #[test]
    fn bent_inks_say_nothing_of_the_most() {
        let nodes = vec![[255.0, 255.0, 0.0, 0.0], [0.0, 0.0, 255.0, 255.0]];
        let tables =
            |out| InkTables { grid: 2, into: std::array::from_fn(|_| vec![0.0, 1.0]), nodes: nodes.clone(), out };
        assert_eq!(most_of(&[tables(None)]), Some(2.0));
        let bent = std::array::from_fn(|_| vec![0.0, 255.0, 255.0]);
        let halfway: f32 = bent.iter().map(|table: &Vec<f32>| between(table, 0.5)).sum();
        assert!((halfway - 4.0 * 255.0).abs() < 0.1, "{halfway}");
        assert_eq!(most_of(&[tables(None), tables(Some(bent))]), None);
    }

    #[test]
    fn the_bundled_tables_are_read_and_damaged_ones_are_not() {
        let tables = InkTables::read(COATED, *b"B2A1").expect("the bundled profile is of this kind");
        assert_eq!(tables.nodes.len(), tables.grid.pow(3));
        // White of the connection space is bare paper.
        let white = (tables.grid - 1) * tables.grid.pow(2);
        assert!(tables.nodes[white..white + tables.grid.pow(2)].iter().any(|node| node.iter().all(|ink| *ink < 0.5)));
        assert!(InkTables::read(COATED, *b"A2B1").is_none(), "it has four channels in");
        assert!(InkTables::read(COATED, *b"none").is_none());
        // The separation was computed within 300 per cent (profiles/README.md).
        assert_eq!(most_ink(COATED), Some(3.0));
        assert_eq!(most_ink(&COATED[..5000]), None);
        for end in (0..COATED.len()).step_by(997) {
            let _ = InkTables::read(&COATED[..end], *b"B2A1");
        }
        assert!(InkTables::read(&COATED[..5000], *b"B2A1").is_none());
    }
}
