//! Samples of pixels side by side, and plane after plane.

/// Planes to pixels, channels side by side.
pub fn woven(planes: &[u8], channels: usize) -> Vec<u8> {
    let mut pixels = vec![0; planes.len()];
    for (channel, plane) in planes.chunks_exact((planes.len() / channels).max(1)).enumerate() {
        pixels.chunks_exact_mut(channels).zip(plane).for_each(|(pixel, sample)| pixel[channel] = *sample);
    }
    pixels
}

/// Pixels to planes.
pub fn unwoven(pixels: &[u8], channels: usize) -> Vec<u8> {
    let mut planes = vec![0; pixels.len()];
    let (four, length) = (pixels.as_chunks::<4>().0, (pixels.len() / channels.max(1)).max(1));
    let mut each = planes.chunks_exact_mut(length);
    // All four at a time: the pixels are gone through once.
    if let (4, Some(c), Some(m), Some(y), Some(k)) = (channels, each.next(), each.next(), each.next(), each.next()) {
        for ((((pixel, c), m), y), k) in four.iter().zip(c).zip(m).zip(y).zip(k) {
            [*c, *m, *y, *k] = *pixel;
        }
        return planes;
    }
    for (channel, plane) in planes.chunks_exact_mut(length).enumerate() {
        plane.iter_mut().zip(pixels.chunks_exact(channels)).for_each(|(sample, pixel)| *sample = pixel[channel]);
    }
    planes
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn planes_and_pixels_become_each_other() {
        for channels in 1..7 {
            let samples: Vec<u8> = (0..channels * 50).map(|at| (at * at) as u8).collect();
            let planes = unwoven(&samples, channels);
            assert_eq!(planes[50 * (channels - 1)], samples[channels - 1]);
            assert_eq!(woven(&planes, channels), samples);
        }
    }
}
