//! How much ink lies on one spot of the sheet.

use crate::ground::MM_PER_INCH;
use crate::raster::plates::Plates;

impl Plates {
    /// The ink of all plates at every pixel, averaged over a square window of `window` millimetres around it; 1 is one solid.
    /// A square at the edge of the sheet is cut by it. Finishing plates are no ink.
    pub fn total_ink(&self, window: f64) -> Vec<f32> {
        let reach = ((window * self.ppi / MM_PER_INCH - 1.0) / 2.0).round().max(0.0) as usize;
        let (width, height, rows) = (self.width, self.height, 2 * reach + 1);
        let span = |at: usize, end: usize| ((at + reach + 1).min(end) - at.saturating_sub(reach)) as f32;
        let wide: Vec<f32> = (0..width).map(|x| span(x, width)).collect();
        // Of the rows of a window, the sums along each; and of all of them.
        let mut along = vec![0_u32; rows * width];
        let mut columns = vec![0_u32; width];
        // A row with as much beyond its ends as a window reaches.
        let mut inks = vec![0_u32; width + 2 * reach];
        let mut averages = Vec::with_capacity(width * height);
        for y in 0..height + reach {
            let along = &mut along[y % rows * width..][..width];
            columns.iter_mut().zip(&*along).for_each(|(sum, ink)| *sum -= ink);
            along.fill(0);
            if y < height {
                self.add_inks(y, &mut inks[reach..reach + width]);
                for shifted in inks.windows(width) {
                    along.iter_mut().zip(shifted).for_each(|(sum, ink)| *sum += ink);
                }
                columns.iter_mut().zip(&*along).for_each(|(sum, ink)| *sum += ink);
            }
            if let Some(own) = y.checked_sub(reach) {
                let solid = 255.0 * span(own, height);
                averages.extend(columns.iter().zip(&wide).map(|(sum, wide)| *sum as f32 / (solid * wide)));
            }
        }
        averages
    }

    /// The ink of all plates at one pixel, 1 is one solid; nothing beyond the last one.
    pub fn ink_at(&self, column: usize, row: usize) -> Option<f64> {
        let at = (column < self.width && row < self.height).then_some(row * self.width + column)?;
        let inks = self.spots.iter().filter(|(spot, _)| spot.finish.is_none()).map(|(_, plane)| plane);
        let sum: u32 =
            self.process.iter().chain(inks).filter_map(|plane| plane.get(at)).map(|ink| u32::from(*ink)).sum();
        Some(f64::from(sum) / 255.0)
    }

    /// What all inks lay on each pixel of a row.
    fn add_inks(&self, row: usize, sums: &mut [u32]) {
        sums.fill(0);
        let inks = self.spots.iter().filter(|(spot, _)| spot.finish.is_none()).map(|(_, plane)| plane);
        for plane in self.process.iter().chain(inks) {
            let plane = &plane[row * self.width..(row + 1) * self.width];
            sums.iter_mut().zip(plane).for_each(|(sum, ink)| *sum += u32::from(*ink));
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::assets::Darkroom;
    use crate::ground::{Ink, Rect};
    use crate::raster::plates;
    use crate::raster::trial::{rect, scene, spot};

    #[test]
    fn heavy_ink_is_measured_by_area() {
        let heavy = Ink::process(0.9, 0.8, 0.8, 0.9);
        let marks = vec![
            rect(0.0, 0.0, 40.0, 40.0, Ink::process(0.5, 0.4, 0.0, 0.0)),
            rect(5.0, 5.0, 10.0, 20.0, heavy.clone()),
            // A hairline of it is thinned by the light ground within its window.
            rect(30.0, 5.0, 0.1, 20.0, heavy),
            rect(0.0, 0.0, 40.0, 40.0, Ink::spot(spot("Foil", true), 1.0)),
        ];
        let scene = scene(40.0, 40.0, marks);
        let plates = plates(&scene, scene.sheet.trim, 254.0, &Darkroom::default());
        let (light, most) =
            plates.total_ink(1.0).into_iter().fold((9.0_f32, 0.0_f32), |(a, b), ink| (a.min(ink), b.max(ink)));
        assert!((light - 0.9).abs() < 0.01 && (most - 3.4).abs() < 0.01, "{light} to {most}");
        // Where more than nine tenths of a window lie on the rectangle: 0.4 mm or more inside its edge.
        let wanted = (10.0 - 2.0 * 0.4) * (20.0 - 2.0 * 0.4);
        // Square pixels of 0.1 mm.
        let over = |limit: f32| plates.total_ink(1.0).into_iter().filter(|total| *total > limit).count() as f64 / 100.0;
        let area = over(3.15);
        assert!((area - wanted).abs() < 8.0, "{area} mm² of {wanted}");
        assert!(over(3.45) < 1e-9);
        let corner = crate::raster::plates(&scene, Rect::new(5.0, 5.0, 6.0, 6.0), 25.4, &Darkroom::default());
        assert_eq!(corner.total_ink(1.0), [(230.0 + 204.0 + 204.0 + 230.0) / 255.0]);
    }
}
