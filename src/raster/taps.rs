//! Taps: which samples a pixel is made of along one axis, and how much of each.

use std::ops::Range;

/// For every pixel of a window, a run of samples and their weights, which sum to 1.
pub struct Taps {
    pub first: Vec<usize>,
    /// Where each pixel's weights start; one more than there are pixels.
    starts: Vec<usize>,
    weights: Vec<f32>,
}

impl Taps {
    /// Sample `s` of `count` lies from `origin + scale * s` on; pixels are met from `from` on, `pixels` of them.
    pub fn new(scale: f64, origin: f64, count: usize, from: usize, pixels: usize) -> Taps {
        let mut taps = Taps { first: Vec::new(), starts: vec![0], weights: Vec::new() };
        for pixel in 0..pixels {
            let (a, b) = ((from + pixel) as f64, (from + pixel + 1) as f64);
            let (a, b) = ((a - origin) / scale, (b - origin) / scale);
            if scale.abs() > 1.0 {
                taps.push_cubic(f64::midpoint(a, b), count);
            } else {
                taps.push_area(a.min(b), a.max(b), count);
            }
            taps.starts.push(taps.weights.len());
        }
        taps
    }

    pub fn len(&self) -> usize {
        self.first.len()
    }

    /// The samples that any of these pixels uses.
    pub fn span(&self, pixels: Range<usize>) -> (usize, usize) {
        let spans = pixels.map(|pixel| self.samples_of(pixel));
        spans.reduce(|one, other| (one.0.min(other.0), one.1.max(other.1))).unwrap_or_default()
    }

    fn samples_of(&self, pixel: usize) -> (usize, usize) {
        let first = self.first[pixel];
        (first, first + self.starts[pixel + 1] - self.starts[pixel])
    }

    /// Runs of pixels that use no more than `most` samples, or one pixel alone.
    pub fn runs(&self, most: usize) -> Vec<Range<usize>> {
        let mut runs = Vec::new();
        let (mut start, mut used) = (0, (usize::MAX, 0));
        for pixel in 0..self.len() {
            let own = self.samples_of(pixel);
            used = (used.0.min(own.0), used.1.max(own.1));
            if used.1 - used.0 > most && pixel > start {
                runs.push(start..pixel);
                (start, used) = (pixel, own);
            }
        }
        runs.extend((start < self.len()).then_some(start..self.len()));
        runs
    }

    /// The weights of a pixel's samples.
    pub fn weights(&self, pixel: usize) -> &[f32] {
        &self.weights[self.starts[pixel]..self.starts[pixel + 1]]
    }

    pub fn of(&self, pixel: usize) -> impl Iterator<Item = (usize, f32)> {
        self.weights(pixel).iter().enumerate().map(move |(tap, weight)| (self.first[pixel] + tap, *weight))
    }

    fn push_area(&mut self, from: f64, to: f64, count: usize) {
        let end = count as f64;
        let (from, to) = (from.clamp(0.0, end), to.clamp(0.0, end));
        let first = (from.floor() as usize).min(count - 1);
        let last = (to.ceil() as usize).clamp(first + 1, count);
        self.first.push(first);
        let whole = to - from;
        for sample in first..last {
            let share = (to.min(sample as f64 + 1.0) - from.max(sample as f64)).max(0.0);
            // A pixel that only touches the picture takes its outermost sample.
            self.weights.push(if whole > 0.0 { (share / whole) as f32 } else { 1.0 / (last - first) as f32 });
        }
    }

    fn push_cubic(&mut self, centre: f64, count: usize) {
        let mut sum = [0.0_f32; 4];
        let taps = cubic(centre, count);
        let first = taps[0].0;
        for (sample, weight) in taps {
            sum[sample - first] += weight;
        }
        self.first.push(first);
        self.weights.extend(&sum[..=taps[3].0 - first]);
    }
}

/// Four samples around a place and their weights after Catmull and Rom; beyond the ends the end samples go on.
pub fn cubic(place: f64, count: usize) -> [(usize, f32); 4] {
    let before = (place - 0.5).floor();
    let t = place - 0.5 - before;
    let weights = [
        ((2.0 - t) * t - 1.0) * t / 2.0,
        1.0 + (3.0 * t - 5.0) * t * t / 2.0,
        (((4.0 - 3.0 * t) * t) + 1.0) * t / 2.0,
        (t - 1.0) * t * t / 2.0,
    ];
    let last = count as f64 - 1.0;
    std::array::from_fn(|tap| ((before - 1.0 + tap as f64).clamp(0.0, last) as usize, weights[tap] as f32))
}
