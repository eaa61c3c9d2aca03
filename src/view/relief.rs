//! Relief: how high embossing stands, and how its edges are rounded.

/// From wholly debossed to wholly embossed, in millimetres. Covers are embossed by 0.2 to 0.5 mm: common practice, from memory.
pub const HEIGHT: f32 = 0.6;
/// Paper does not follow a die's edge: it rises over about this width. By eye.
const EDGE: f32 = 0.5;
/// Means of means are round.
const TIMES: usize = 2;

/// Pixels whose last number is a height: their heights are rounded, so many pixels being a millimetre.
pub fn rounded(samples: &[u8], (width, height): (usize, usize), scale: f32) -> Vec<[u8; 3]> {
    let mut pixels: Vec<[u8; 3]> = samples.as_chunks().0.to_vec();
    let first = pixels.first().map_or(0, |pixel| pixel[2]);
    let about = ((EDGE * scale / 2.0).round() as usize).min(width.min(height) / 2);
    if about == 0 || pixels.iter().all(|pixel| pixel[2] == first) {
        return pixels;
    }
    let mut heights: Vec<u8> = pixels.iter().map(|pixel| pixel[2]).collect();
    let mut line = Vec::new();
    for _ in 0..TIMES {
        for y in 0..height {
            mean_along(&mut heights, (y * width, 1, width), about, &mut line);
        }
        for x in 0..width {
            mean_along(&mut heights, (x, width, height), about, &mut line);
        }
    }
    pixels.iter_mut().zip(heights).for_each(|(pixel, height)| pixel[2] = height);
    pixels
}

/// The mean of so many neighbours on both sides, along a line: where it starts, its step, and its length.
fn mean_along(heights: &mut [u8], (start, step, length): (usize, usize, usize), about: usize, line: &mut Vec<u8>) {
    line.clear();
    line.extend((0..length).map(|at| heights[start + at * step]));
    let at = |place: usize| u32::from(line[place.saturating_sub(about).min(length - 1)]);
    let count = 2 * about as u32 + 1;
    let mut sum: u32 = (0..count as usize).map(at).sum();
    for place in 0..length {
        heights[start + place * step] = ((sum + count / 2) / count) as u8;
        sum = sum + at(place + count as usize) - at(place);
    }
}
