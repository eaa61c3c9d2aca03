//! The coverage of one pixel row, summed edge by edge.

use crate::ground::FillRule;
use crate::raster::outline::is_inside;

/// Where an edge runs through a row. Those on the left only count together, and those on the right not at all: a row is drawn
/// tile by tile, and edges that cross outside the tile need not be told apart there.
pub enum RowSide {
    Left,
    Within,
    Right,
}

/// Holds, for each pixel, how much the coverage changes there; only touched pixels are looked at again.
#[derive(Default)]
pub struct CoverageRow {
    change: Vec<f32>,
    /// One bit a pixel.
    touched: Vec<u64>,
    width: usize,
    /// The first word of `touched` that may hold anything, and the end of these words.
    first: usize,
    end: usize,
}

impl CoverageRow {
    pub fn resize(&mut self, width: usize) {
        self.width = width;
        self.change.resize(width + 2, 0.0);
        self.touched.resize((width + 1) / 64 + 1, 0);
    }

    pub fn width(&self) -> usize {
        self.width
    }

    /// On which side of the row an edge runs from one place to another.
    pub fn side(&self, one: f64, other: f64) -> RowSide {
        if one <= 0.0 && other <= 0.0 {
            RowSide::Left
        } else if one.min(other) >= self.width as f64 {
            RowSide::Right
        } else {
            RowSide::Within
        }
    }

    /// Begins with what the edges on the left wind up to.
    pub fn start(&mut self, rule: FillRule, winding: i32, height: f64) {
        if is_inside(rule, winding) {
            self.add(0, height, 0.0);
        }
    }

    /// Everything right of an edge that runs from x `left` to x `right` is covered over `height` more of the row.
    pub fn edge(&mut self, left: f64, right: f64, height: f64) {
        let end = self.width as f64;
        if left >= end {
            return;
        }
        if right <= 0.0 {
            return self.add(0, height, 0.0);
        }
        let per_column = height / (right - left);
        if left < 0.0 {
            self.add(0, -left * per_column, 0.0);
        }
        let mut x = if left > 0.0 { left } else { 0.0 };
        let mut pixel = x as usize;
        while right > (pixel + 1) as f64 {
            let next = (pixel + 1) as f64;
            self.add(pixel, (next - x) * per_column, f64::midpoint(x, next) - pixel as f64);
            if next >= end {
                return;
            }
            (x, pixel) = (next, pixel + 1);
        }
        let rise = if x > left { (right - x) * per_column } else { height };
        self.add(pixel, rise, f64::midpoint(x, right) - pixel as f64);
    }

    /// Covers more of all that follows, but of this pixel only what lies right of a place in it.
    fn add(&mut self, pixel: usize, height: f64, inside: f64) {
        self.change[pixel] += (height * (1.0 - inside)) as f32;
        self.change[pixel + 1] += (height * inside) as f32;
        let (word, next) = (pixel / 64, (pixel + 1) / 64);
        self.touched[word] |= 1 << (pixel % 64);
        self.touched[next] |= 1 << ((pixel + 1) % 64);
        (self.first, self.end) = (self.first.min(word), self.end.max(next + 1));
    }

    /// Hands out the runs of equal coverage, 1 to 255, and is empty again.
    pub fn drain(&mut self, mut run: impl FnMut(usize, usize, u8)) {
        let (mut sum, mut since, mut coverage) = (0.0_f32, 0, 0_u8);
        for word in self.first..self.end {
            let mut bits = std::mem::take(&mut self.touched[word]);
            while bits != 0 {
                let pixel = word * 64 + bits.trailing_zeros() as usize;
                bits &= bits - 1;
                sum += std::mem::take(&mut self.change[pixel]);
                let now = (sum.clamp(0.0, 1.0) * 255.0 + 0.5) as u8;
                if now != coverage {
                    if coverage > 0 && pixel > since {
                        run(since, pixel, coverage);
                    }
                    (since, coverage) = (pixel, now);
                }
            }
        }
        (self.first, self.end) = (self.touched.len(), 0);
        if coverage > 0 && self.width > since {
            run(since, self.width, coverage);
        }
    }
}
