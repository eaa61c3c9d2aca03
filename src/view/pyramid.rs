//! Pyramid: pixels of three numbers each in smaller and smaller sizes, so that the mean of an area is quickly found.

use glam::{Vec2, Vec3, vec2};

pub struct Pyramid<T> {
    sizes: Vec<PyramidSize<T>>,
}

struct PyramidSize<T> {
    width: usize,
    height: usize,
    pixels: Vec<[T; 3]>,
}

/// Most samples along the longer side of an area.
const MOST: f32 = 8.0;

impl<T: Copy + Into<f32> + Into<u32> + TryFrom<u32>> Pyramid<T> {
    pub fn new(pixels: Vec<[T; 3]>, (width, height): (usize, usize)) -> Pyramid<T> {
        let mut sizes = vec![PyramidSize { width, height, pixels }];
        while let Some(last) = sizes.last().filter(|size| size.width > 2 && size.height > 2) {
            let (w, h) = (last.width.div_ceil(2), last.height.div_ceil(2));
            let mut pixels = Vec::with_capacity(w * h);
            for y in 0..h {
                for x in 0..w {
                    let at = |dx: usize, dy: usize| {
                        last.pixels[(2 * y + dy).min(last.height - 1) * last.width + (2 * x + dx).min(last.width - 1)]
                    };
                    let four = [at(0, 0), at(1, 0), at(0, 1), at(1, 1)];
                    pixels.push(std::array::from_fn(|channel| {
                        let sum: u32 = four.iter().map(|pixel| -> u32 { pixel[channel].into() }).sum();
                        T::try_from(sum.div_ceil(4)).unwrap_or(four[0][channel])
                    }));
                }
            }
            sizes.push(PyramidSize { width: w, height: h, pixels });
        }
        Pyramid { sizes }
    }

    /// The size of the largest.
    pub fn size(&self) -> (usize, usize) {
        (self.sizes[0].width, self.sizes[0].height)
    }

    /// The mean of a parallelogram, as a share of `whole`. In pixels: its middle, and two of its sides.
    pub fn mean(&self, at: Vec2, (a, b): (Vec2, Vec2), whole: f32) -> Vec3 {
        let (la, lb) = (a.length(), b.length());
        let (long, long_length, short) = if la > lb { (a, la, lb) } else { (b, lb, la) };
        let taps = (long_length / short.max(0.6)).ceil().clamp(1.0, MOST);
        let width = (long_length / taps).max(short).max(1e-3);
        let level = libm::log2f(width).clamp(0.0, (self.sizes.len() - 1) as f32);
        let low = level as usize;
        let share = level - low as f32;
        let mut sum = Vec3::ZERO;
        let taps = taps as usize;
        for tap in 0..taps {
            let here = at + long * ((tap as f32 + 0.5) / taps as f32 - 0.5);
            let fine = self.sizes[low].sample(here, low);
            sum += if share > 0.0 && low + 1 < self.sizes.len() {
                fine.lerp(self.sizes[low + 1].sample(here, low + 1), share)
            } else {
                fine
            };
        }
        sum / (taps as f32 * whole)
    }
}

impl<T: Copy + Into<f32>> PyramidSize<T> {
    fn sample(&self, at: Vec2, level: usize) -> Vec3 {
        let at = at / (1 << level) as f32 - 0.5;
        let at = at.clamp(Vec2::ZERO, vec2((self.width - 1) as f32, (self.height - 1) as f32));
        let (x, y) = (at.x as usize, at.y as usize);
        let (fx, fy) = (at.x - x as f32, at.y - y as f32);
        let (x1, y1) = ((x + 1).min(self.width - 1), (y + 1).min(self.height - 1));
        let pixel = |x: usize, y: usize| {
            let [a, b, c] = self.pixels[y * self.width + x];
            Vec3::new(a.into(), b.into(), c.into())
        };
        pixel(x, y).lerp(pixel(x1, y), fx).lerp(pixel(x, y1).lerp(pixel(x1, y1), fx), fy)
    }
}
