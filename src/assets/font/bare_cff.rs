//! Bare CFF: outlines that a PDF holds without the tables around them (Adobe Technical Note 5176), put into an OpenType file
//! so that the font reader takes them.

/// A file for the font reader.
pub struct BareCff {
    pub file: Vec<u8>,
    /// The number by which a text calls each glyph, where that is not its place.
    pub numbers: Option<Vec<u16>>,
}

/// Operators of a top dictionary; those of two bytes count from 0x0C00.
const CHARSET: u16 = 15;
const CHAR_STRINGS: u16 = 17;
const FONT_MATRIX: u16 = 0x0C07;
const CID_KEYED: u16 = 0x0C1E;
/// Operands of one operator.
const OPERANDS: usize = 48;

impl BareCff {
    pub fn read(cff: &[u8]) -> Option<BareCff> {
        let (_, names_end) = index(cff, usize::from(*cff.get(2)?))?;
        let (tops, _) = index(cff, names_end)?;
        let top = dictionary(cff.get(tops.first()?.clone())?)?;
        let value = |operator: u16| top.iter().find(|(known, _)| *known == operator).map(|(_, values)| values);
        let glyphs = index(cff, *value(CHAR_STRINGS)?.first()? as usize)?.0.len();
        let count = u16::try_from(glyphs).ok().filter(|count| *count > 0)?;
        let is_keyed = value(CID_KEYED).is_some();
        let charset = value(CHARSET).and_then(|values| values.first()).map_or(0, |offset| *offset as usize);
        let numbers = if is_keyed { Some(numbers(cff, charset, glyphs)?) } else { None };
        let scale = value(FONT_MATRIX).and_then(|values| values.first()).copied().unwrap_or(0.001);
        let em = if scale > 0.0 { (1.0 / scale).round().clamp(16.0, 16_384.0) as u16 } else { 1000 };
        Some(BareCff { file: file(cff, count, em), numbers })
    }
}

/// The entries of an index, and where it ends.
fn index(cff: &[u8], at: usize) -> Option<(Vec<std::ops::Range<usize>>, usize)> {
    let count = usize::from(word(cff, at)?);
    if count == 0 {
        return Some((Vec::new(), at + 2));
    }
    let size = usize::from(*cff.get(at + 2)?);
    let start = at + 3 + (count + 1) * size;
    let offset = |entry: usize| {
        let bytes = cff.get(at + 3 + entry * size..at + 3 + (entry + 1) * size)?;
        let offset = bytes.iter().fold(0_usize, |sum, byte| sum << 8 | usize::from(*byte));
        // Offsets count from the byte before the data.
        Some(start + offset.checked_sub(1)?)
    };
    if !(1..=4).contains(&size) {
        return None;
    }
    let entries = (0..count).map(|entry| Some(offset(entry)?..offset(entry + 1)?)).collect::<Option<Vec<_>>>()?;
    let sound = entries.iter().all(|entry| entry.start <= entry.end && entry.end <= cff.len());
    let end = entries.last().map_or(start, |last| last.end);
    sound.then_some((entries, end))
}

/// Operators and their operands.
fn dictionary(bytes: &[u8]) -> Option<Vec<(u16, Vec<f64>)>> {
    let (mut all, mut values, mut at) = (Vec::new(), Vec::new(), 0);
    while let Some(&byte) = bytes.get(at) {
        let next = |offset: usize| bytes.get(at + offset).copied().map(i32::from);
        let (value, length) = match byte {
            12 => {
                all.push((0x0C00 | next(1)? as u16, std::mem::take(&mut values)));
                at += 2;
                continue;
            }
            0..=21 => {
                all.push((u16::from(byte), std::mem::take(&mut values)));
                at += 1;
                continue;
            }
            28 => (f64::from((next(1)? << 8 | next(2)?) as i16), 3),
            29 => (f64::from(next(1)? << 24 | next(2)? << 16 | next(3)? << 8 | next(4)?), 5),
            30 => real(bytes, at + 1)?,
            32..=246 => (f64::from(i32::from(byte) - 139), 1),
            247..=250 => (f64::from((i32::from(byte) - 247) * 256 + next(1)? + 108), 2),
            251..=254 => (f64::from(-(i32::from(byte) - 251) * 256 - next(1)? - 108), 2),
            _ => return None,
        };
        if values.len() == OPERANDS {
            return None;
        }
        values.push(value);
        at += length;
    }
    Some(all)
}

/// A number in decimals, half a byte each; and how many bytes it takes, its first included.
fn real(bytes: &[u8], start: usize) -> Option<(f64, usize)> {
    let mut text = String::new();
    for (at, byte) in bytes.get(start..)?.iter().enumerate().take(16) {
        for half in [byte >> 4, byte & 15] {
            match half {
                0..=9 => text.push(char::from(b'0' + half)),
                10 => text.push('.'),
                11 => text.push('e'),
                12 => text.push_str("e-"),
                14 => text.push('-'),
                15 => return Some((text.parse().ok()?, at + 2)),
                _ => return None,
            }
        }
    }
    None
}

/// By which number each glyph is called; the first is always 0.
fn numbers(cff: &[u8], charset: usize, glyphs: usize) -> Option<Vec<u16>> {
    let (format, mut at, mut all) = (*cff.get(charset)?, charset + 1, vec![0]);
    while all.len() < glyphs {
        let first = word(cff, at)?;
        let more = match format {
            0 => 0,
            1 => u16::from(*cff.get(at + 2)?),
            2 => word(cff, at + 2)?,
            _ => return None,
        };
        at += [2, 3, 4][usize::from(format)];
        all.extend((0..=more).map(|step| first.wrapping_add(step)));
    }
    all.truncate(glyphs);
    Some(all)
}

fn word(bytes: &[u8], at: usize) -> Option<u16> {
    Some(u16::from_be_bytes([*bytes.get(at)?, *bytes.get(at + 1)?]))
}

/// The tables that every font has, with nothing in them but what outlines need.
fn file(cff: &[u8], glyphs: u16, em: u16) -> Vec<u8> {
    let mut head = vec![0; 54];
    head[..4].copy_from_slice(&[0, 1, 0, 0]);
    head[12..16].copy_from_slice(&[0x5F, 0x0F, 0x3C, 0xF5]);
    head[18..20].copy_from_slice(&em.to_be_bytes());
    let mut hhea = vec![0; 36];
    hhea[..4].copy_from_slice(&[0, 1, 0, 0]);
    hhea[35] = 1;
    let maxp = [&[0, 0, 0x50, 0][..], &glyphs.to_be_bytes()].concat();
    let hmtx = vec![0; 2 + 2 * usize::from(glyphs)];
    let tables: [(&[u8; 4], &[u8]); 5] =
        [(b"CFF ", cff), (b"head", &head), (b"hhea", &hhea), (b"hmtx", &hmtx), (b"maxp", &maxp)];
    let mut file = [&b"OTTO"[..], &[0, 5, 0, 64, 0, 2, 0, 16]].concat();
    let mut at = 12 + 16 * tables.len();
    for (name, table) in tables {
        file.extend(*name);
        file.extend([0; 4]);
        file.extend((at as u32).to_be_bytes());
        file.extend((table.len() as u32).to_be_bytes());
        at += table.len().next_multiple_of(4);
    }
    for (_, table) in tables {
        file.extend(table);
        file.resize(file.len().next_multiple_of(4), 0);
    }
    file
}
