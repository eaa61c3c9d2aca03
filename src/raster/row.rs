//! The coverage of one pixel row, summed edge by edge.

/// Holds, for each pixel, how much the coverage changes there; only touched pixels are looked at again.
#[derive(Default)]
pub struct CoverageRow {
    change: Vec<f32>,
    /// One bit a pixel.
    touched: Vec<u64>,
    width: usize,
}

impl CoverageRow {
    pub fn resize(&mut self, width: usize) {
        self.width = width;
        self.change.resize(width + 2, 0.0);
        self.touched.resize(width / 64 + 1, 0);
    }

    /// Everything right of an edge that runs from x `left` to x `right` is covered over `height` more of the row.
    pub fn edge(&mut self, left: f64, right: f64, height: f64) {
        let end = self.width as f64;
        if left >= end {
            return;
        }
        if right <= 0.0 {
            return self.add(0, height);
        }
        let run = right - left;
        let share = |from: f64, to: f64| if run > 0.0 { height * (to - from) / run } else { height };
        if left < 0.0 {
            self.add(0, share(left, 0.0));
        }
        let (mut x, last) = (left.max(0.0), right.min(end));
        loop {
            let pixel = x.floor();
            let next = (pixel + 1.0).min(last);
            let (rise, inside) = (share(x, next), f64::midpoint(x, next) - pixel);
            self.add(pixel as usize, rise * (1.0 - inside));
            self.add(pixel as usize + 1, rise * inside);
            if next >= last {
                return;
            }
            x = next;
        }
    }

    fn add(&mut self, pixel: usize, height: f64) {
        if pixel < self.width {
            self.change[pixel] += height as f32;
            self.touched[pixel / 64] |= 1 << (pixel % 64);
        }
    }

    /// Hands out the runs of equal coverage, 1 to 255, and is empty again.
    pub fn drain(&mut self, mut run: impl FnMut(usize, usize, u8)) {
        let (mut sum, mut since, mut coverage) = (0.0_f32, 0, 0_u8);
        for word in 0..self.touched.len() {
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
        if coverage > 0 && self.width > since {
            run(since, self.width, coverage);
        }
    }
}
