//! The quality that a JPEG was saved at, by its steps (ITU-T T.81, annexes B and K).

/// The sum of the table of luminance in ITU-T T.81, Annex K.1, which is quality 50.
const SUM_AT_50: f64 = 3688.0;

/// What the first table of quantisation amounts to; `None` where a file is no JPEG.
pub fn quality(bytes: &[u8]) -> Option<f64> {
    let mut rest = bytes.strip_prefix(&[0xFF, 0xD8])?;
    loop {
        let [0xFF, marker, high, low, ..] = *rest else { return None };
        let length = usize::from(high) << 8 | usize::from(low);
        let segment = rest.get(4..length + 2)?;
        match marker {
            // A table of bytes: where it belongs, and its 64 steps.
            0xDB => {
                let (kind, table) = segment.split_first()?;
                let sum: f64 = match kind >> 4 {
                    0 => table.get(..64)?.iter().map(|step| f64::from(*step)).sum(),
                    _ => return None,
                };
                let scale = sum / SUM_AT_50 * 100.0;
                return Some(if scale > 100.0 { 5000.0 / scale } else { (200.0 - scale) / 2.0 });
            }
            0xDA => return None,
            _ => rest = rest.get(length + 2..)?,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn other_bytes_have_no_quality() {
        for bytes in
            [&[][..], &[0xFF, 0xD8], &[0xFF, 0xD8, 0xFF, 0xDB, 0, 2], &[0xFF, 0xD8, 0xFF, 0xDB, 0xFF], b"\x89PNG"]
        {
            assert_eq!(quality(bytes), None, "{bytes:?}");
        }
    }
}
