//! Texture: the printed sheet in linear light, in smaller and smaller sizes, so that a pixel of a view is the mean of all
//! the dots that it shows.

use crate::view::dot::Dot;
use glam::{Vec2, Vec3, vec2};

pub struct Texture {
    sizes: Vec<TextureSize>,
    /// Pixels per millimetre, and the sheet's corner.
    scale: f32,
    corner: Vec2,
}

struct TextureSize {
    width: usize,
    height: usize,
    /// Linear light, 65535 is white.
    rgb: Vec<[u16; 3]>,
}

/// Most samples along the longer side of what a pixel sees.
const MOST: f32 = 8.0;

impl Texture {
    pub fn new(rgb: &[u8], (width, height): (usize, usize), scale: f32, corner: (f32, f32)) -> Texture {
        let linear: Vec<u16> =
            (0..256).map(|value| (to_linear(value as f32 / 255.0) * 65535.0).round() as u16).collect();
        let base = rgb.chunks_exact(3).map(|p| [linear[p[0] as usize], linear[p[1] as usize], linear[p[2] as usize]]);
        let mut sizes = vec![TextureSize { width, height, rgb: base.collect() }];
        while let Some(last) = sizes.last().filter(|level| level.width > 2 && level.height > 2) {
            let (w, h) = (last.width.div_ceil(2), last.height.div_ceil(2));
            let mut rgb = Vec::with_capacity(w * h);
            for y in 0..h {
                for x in 0..w {
                    let at = |dx: usize, dy: usize| {
                        last.rgb[(2 * y + dy).min(last.height - 1) * last.width + (2 * x + dx).min(last.width - 1)]
                    };
                    let four = [at(0, 0), at(1, 0), at(0, 1), at(1, 1)];
                    rgb.push(std::array::from_fn(|c| {
                        (four.iter().map(|p| u32::from(p[c])).sum::<u32>().div_ceil(4)) as u16
                    }));
                }
            }
            sizes.push(TextureSize { width: w, height: h, rgb });
        }
        Texture { sizes, scale, corner: corner.into() }
    }

    /// The mean colour of a parallelogram of the sheet: its middle, and its sides to the next pixel's middles.
    pub fn mean(&self, dot: &Dot) -> Vec3 {
        let at = (dot.place - self.corner) * self.scale;
        let (a, b) = (dot.across * self.scale, dot.down * self.scale);
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
        sum / (taps as f32 * 65535.0)
    }
}

impl TextureSize {
    fn sample(&self, at: Vec2, level: usize) -> Vec3 {
        let at = at / (1 << level) as f32 - 0.5;
        let at = at.clamp(Vec2::ZERO, vec2((self.width - 1) as f32, (self.height - 1) as f32));
        let (x, y) = (at.x as usize, at.y as usize);
        let (fx, fy) = (at.x - x as f32, at.y - y as f32);
        let (x1, y1) = ((x + 1).min(self.width - 1), (y + 1).min(self.height - 1));
        let pixel = |x: usize, y: usize| {
            let p = self.rgb[y * self.width + x];
            Vec3::new(f32::from(p[0]), f32::from(p[1]), f32::from(p[2]))
        };
        pixel(x, y).lerp(pixel(x1, y), fx).lerp(pixel(x, y1).lerp(pixel(x1, y1), fx), fy)
    }
}

/// sRGB, IEC 61966-2-1.
pub fn to_linear(value: f32) -> f32 {
    if value <= 0.040_45 { value / 12.92 } else { libm::powf((value + 0.055) / 1.055, 2.4) }
}

pub fn to_srgb(value: f32) -> f32 {
    if value <= 0.003_130_8 { value * 12.92 } else { 1.055 * libm::powf(value, 1.0 / 2.4) - 0.055 }
}
