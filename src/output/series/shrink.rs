//! Shrink: a picture made small: each pixel is the mean of the area it covers, in linear light, as the eye mixes it.

/// RGB, three bytes a pixel.
pub struct RgbPixels {
    pub width: usize,
    pub height: usize,
    pub rgb: Vec<u8>,
}

/// A pixel of the small picture: its shares of the fine ones, from the first on.
struct PixelShares {
    first: usize,
    weights: Vec<f32>,
}

pub fn shrink(fine: &RgbPixels, width: usize, height: usize) -> RgbPixels {
    let light: Vec<f32> = (0..=u8::MAX).map(linear).collect();
    let (across, down) = (shares(fine.width, width), shares(fine.height, height));
    let mut rgb = Vec::with_capacity(width * height * 3);
    let mut sums = vec![0.0_f32; fine.width * 3];
    for row in &down {
        sums.fill(0.0);
        for (line, weight) in row.weights.iter().enumerate() {
            let start = (row.first + line) * fine.width * 3;
            let samples = &fine.rgb[start..start + fine.width * 3];
            sums.iter_mut().zip(samples).for_each(|(sum, sample)| *sum += weight * light[usize::from(*sample)]);
        }
        for column in &across {
            for channel in 0..3 {
                let shares = column.weights.iter().enumerate();
                let sum: f32 = shares.map(|(at, weight)| weight * sums[(column.first + at) * 3 + channel]).sum();
                rgb.push(encoded(sum));
            }
        }
    }
    RgbPixels { width, height, rgb }
}

/// Cuts `fine` pixels into `coarse` equal parts; the weights of each part sum to 1.
fn shares(fine: usize, coarse: usize) -> Vec<PixelShares> {
    let step = fine as f64 / coarse as f64;
    (0..coarse)
        .map(|part| {
            let (from, to) = (part as f64 * step, (part as f64 + 1.0) * step);
            let first = (from as usize).min(fine - 1);
            let end = (to.ceil() as usize).clamp(first + 1, fine);
            let share = |pixel: usize| ((pixel as f64 + 1.0).min(to) - (pixel as f64).max(from)).max(0.0) / step;
            PixelShares { first, weights: (first..end).map(|pixel| share(pixel) as f32).collect() }
        })
        .collect()
}

/// IEC 61966-2-1, sRGB to linear light.
fn linear(value: u8) -> f32 {
    let value = f32::from(value) / 255.0;
    if value <= 0.040_45 { value / 12.92 } else { ((value + 0.055) / 1.055).powf(2.4) }
}

/// And back.
fn encoded(light: f32) -> u8 {
    let value = if light <= 0.003_130_8 { light * 12.92 } else { 1.055 * light.powf(1.0 / 2.4) - 0.055 };
    (value * 255.0).clamp(0.0, 255.0).round() as u8
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn black_and_white_mix_to_half_the_light() {
        let fine = RgbPixels { width: 2, height: 2, rgb: [[0; 3], [255; 3], [255; 3], [0; 3]].concat() };
        // Half the light is sRGB 188: 255 × (1.055 × 0.5^(1/2.4) − 0.055) = 187.5.
        assert_eq!(shrink(&fine, 1, 1).rgb, [188; 3]);
        assert_eq!(shrink(&fine, 2, 2).rgb, fine.rgb);
    }

    #[test]
    fn every_value_comes_back_and_every_part_is_whole() {
        assert!((0..=u8::MAX).all(|value| encoded(linear(value)) == value));
        for (fine, coarse) in [(417, 104), (640, 160), (5, 5), (1, 3), (7, 2)] {
            for share in shares(fine, coarse) {
                assert!((share.weights.iter().sum::<f32>() - 1.0).abs() < 1e-4, "{fine} {coarse}");
            }
        }
    }
}
