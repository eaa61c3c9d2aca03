//! How much ink lies on one spot of the sheet.

use crate::ground::MM_PER_INCH;
use crate::raster::plates::Plates;

impl Plates {
    /// The ink of all plates at every pixel, averaged over a square window of `window` millimetres around it; 1 is one solid.
    /// Finishing plates are no ink.
    pub fn total_ink(&self, window: f64) -> Vec<f32> {
        let mut sums = vec![0_u32; self.width * self.height];
        let inks = self.spots.iter().filter(|(spot, _)| !spot.finishing).map(|(_, plane)| plane);
        for plane in self.process.iter().chain(inks) {
            sums.iter_mut().zip(plane).for_each(|(sum, ink)| *sum += u32::from(*ink));
        }
        let reach = ((window * self.ppi / MM_PER_INCH - 1.0) / 2.0).round().max(0.0) as usize;
        let mut before = vec![0_u32; self.width + 1];
        for row in sums.chunks_exact_mut(self.width) {
            for (pixel, sum) in row.iter().enumerate() {
                before[pixel + 1] = before[pixel] + sum;
            }
            for (pixel, sum) in row.iter_mut().enumerate() {
                *sum = before[(pixel + reach + 1).min(self.width)] - before[pixel.saturating_sub(reach)];
            }
        }
        self.averaged_down(&sums, reach)
    }

    /// Sums along rows to averages over squares; a square at the edge of the sheet is cut by it.
    fn averaged_down(&self, sums: &[u32], reach: usize) -> Vec<f32> {
        let span = |at: usize, end: usize| (at + reach + 1).min(end) - at.saturating_sub(reach);
        let row = |row: usize| &sums[row * self.width..(row + 1) * self.width];
        let mut columns = vec![0_u32; self.width];
        (0..reach.min(self.height)).for_each(|y| columns.iter_mut().zip(row(y)).for_each(|(sum, ink)| *sum += ink));
        let mut averages = Vec::with_capacity(sums.len());
        for y in 0..self.height {
            if y + reach < self.height {
                columns.iter_mut().zip(row(y + reach)).for_each(|(sum, ink)| *sum += ink);
            }
            if y > reach {
                columns.iter_mut().zip(row(y - reach - 1)).for_each(|(sum, ink)| *sum -= ink);
            }
            let high = span(y, self.height);
            averages.extend(
                columns.iter().enumerate().map(|(x, sum)| *sum as f32 / (255 * high * span(x, self.width)) as f32),
            );
        }
        averages
    }

    /// How many square millimetres carry more than `limit` (1 is one solid), measured in windows of 1 mm.
    pub fn area_over(&self, limit: f64) -> f64 {
        let pixel = MM_PER_INCH / self.ppi;
        let over = self.total_ink(1.0).into_iter().filter(|total| f64::from(*total) > limit).count();
        over as f64 * pixel * pixel
    }
}
