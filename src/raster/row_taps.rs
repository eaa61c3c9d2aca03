//! Row taps: the taps along a row, laid out for sums of whole pixels, all channels at a time.

use crate::raster::taps::Taps;

pub struct RowTaps<'a> {
    pub taps: &'a Taps,
    order: RowOrder,
    /// The first sample that any pixel uses.
    start: usize,
    /// Four samples for every pixel, some of no weight, the first counted from `start`; `None` where a pixel uses more.
    fours: Option<Vec<(usize, [f32; 4])>>,
}

/// How a row of the outcome lies.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum RowOrder {
    /// Plane after plane.
    Planes,
    /// Pixel by pixel.
    Pixels,
}

impl<'a> RowTaps<'a> {
    /// Numbers of channels that are summed pixel by pixel.
    pub const CHANNELS: [usize; 3] = [1, 3, 4];

    pub fn new(taps: &'a Taps, order: RowOrder) -> RowTaps<'a> {
        let (start, end) = taps.span(0..taps.len());
        let four = |pixel: usize| {
            let (own, used) = (taps.first[pixel] - start, taps.weights(pixel));
            let first = own.min((end - start).checked_sub(4)?);
            let mut weights = [0.0; 4];
            weights.get_mut(own - first..own - first + used.len())?.copy_from_slice(used);
            Some((first, weights))
        };
        RowTaps { taps, order, start, fours: (0..taps.len()).map(four).collect() }
    }

    /// Brings a row of samples without alpha to its pixels. False for a number of channels that few
    /// pictures have.
    pub fn means(&self, samples: &[f32], channels: usize, means: &mut Vec<f32>) -> bool {
        means.resize(self.taps.len() * channels, 0.0);
        match channels {
            1 => self.sum::<1>(samples.as_chunks().0, means),
            3 => self.sum::<3>(samples.as_chunks().0, means),
            4 => self.sum::<4>(samples.as_chunks().0, means),
            _ => return false,
        }
        true
    }

    fn sum<const CHANNELS: usize>(&self, pixels: &[[f32; CHANNELS]], means: &mut [f32]) {
        let width = self.taps.len();
        let mut put = |column: usize, sums: [f32; CHANNELS]| {
            if self.order == RowOrder::Pixels {
                means[column * CHANNELS..(column + 1) * CHANNELS].copy_from_slice(&sums);
            } else {
                sums.into_iter().enumerate().for_each(|(plane, sum)| means[plane * width + column] = sum);
            }
        };
        let added = |sums: [f32; CHANNELS], weight: f32, pixel: &[f32; CHANNELS]| {
            std::array::from_fn(|channel| sums[channel] + weight * pixel[channel])
        };
        let Some(fours) = &self.fours else {
            for column in 0..width {
                let used = self.taps.of(column);
                put(
                    column,
                    used.fold([0.0; CHANNELS], |sums, (at, weight)| added(sums, weight, &pixels[at - self.start])),
                );
            }
            return;
        };
        for (column, (first, weights)) in fours.iter().enumerate() {
            let four: &[[f32; CHANNELS]; 4] = pixels[*first..].first_chunk().unwrap_or(&[[0.0; CHANNELS]; 4]);
            put(
                column,
                four.iter().zip(weights).fold([0.0; CHANNELS], |sums, (pixel, weight)| added(sums, *weight, pixel)),
            );
        }
    }
}
