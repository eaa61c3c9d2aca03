//! Rows of a PNG: filtered so that they compress well.

/// Each row behind the number of its filter; `pixel` is the bytes of one. The first row does not look back, so that strips stand alone.
pub fn filtered<'a>(rows: impl Iterator<Item = &'a [u8]>, pixel: usize) -> Vec<u8> {
    let mut out = Vec::new();
    let mut above: Option<&[u8]> = None;
    let (mut left, mut up) = (Vec::new(), Vec::new());
    for row in rows {
        left.clear();
        left.extend(row.iter().take(pixel));
        left.extend(row.iter().zip(&row[pixel.min(row.len())..]).map(|(before, own)| own.wrapping_sub(*before)));
        let (mut best, mut filter, mut size) = (row, 0, bend(row));
        let aside = bend(&left);
        if aside < size {
            (best, filter, size) = (&left, 1, aside);
        }
        if let Some(above) = above {
            up.clear();
            up.extend(row.iter().zip(above).map(|(own, above)| own.wrapping_sub(*above)));
            if bend(&up) <= size {
                (best, filter) = (&up, 2);
            }
        }
        out.push(filter);
        out.extend_from_slice(best);
        above = Some(row);
    }
    out
}

/// How far bytes are from nothing, as signed ones: the PNG specification's measure of a good filter.
fn bend(bytes: &[u8]) -> u64 {
    /// So many sums go side by side, each in 16 bits for so many steps of 128 at the most.
    const LANES: usize = 16;
    const STEPS: usize = 511;
    let far = |byte: u8| byte.cast_signed().unsigned_abs();
    let stretch = |bytes: &[u8]| {
        let (groups, rest) = bytes.as_chunks::<LANES>();
        let mut sums = [0_u16; LANES];
        for group in groups {
            sums = std::array::from_fn(|lane| sums[lane] + u16::from(far(group[lane])));
        }
        sums.into_iter().map(u64::from).sum::<u64>() + rest.iter().map(|byte| u64::from(far(*byte))).sum::<u64>()
    };
    bytes.chunks(LANES * STEPS).map(stretch).sum()
}
