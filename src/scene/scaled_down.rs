//! Scaled down: which pictures of a scene have more pixels at their size than a press file keeps, and how many it keeps.

use crate::ground::MM_PER_INCH;
use crate::scene::{Item, Mark, PlacedPicture, Scene};
use std::collections::BTreeMap;

/// Smaller pictures weigh little, and a fine mark stays fine. Ours.
const FEW_PIXELS: u64 = 1_000_000;
/// A hair over the resolution comes of rounding a size to hundredths.
const HAIR: f64 = 1.005;

/// A picture, where it is placed largest, and its size in pixels in the press file.
pub struct ScaledDown<'a> {
    pub placed: &'a PlacedPicture,
    pub size: (u32, u32),
}

impl Scene {
    /// Pictures with more pixels per inch than `finest`. Line art, pictures in one ink and JPEGs that are passed on as they came
    /// are left alone.
    pub fn scaled_down(&self, finest: f64) -> Vec<ScaledDown<'_>> {
        let mut all = BTreeMap::new();
        self.walk(&mut |item: &Item| {
            let Mark::Picture(placed) = &item.mark else { return };
            let size = kept(placed, finest);
            let known = all.entry((placed.picture.digest(), placed.separation.code())).or_insert((placed, size));
            if known.1.0 < size.0 || known.1.1 < size.1 {
                *known = (placed, (known.1.0.max(size.0), known.1.1.max(size.1)));
            }
        });
        let fewer = |(placed, size): &(&PlacedPicture, (u32, u32))| {
            let picture = &placed.picture;
            let passed = || self.profile.passed_on(picture, placed.separation).is_some();
            let over = f64::from(picture.width()) > f64::from(size.0) * HAIR
                || f64::from(picture.height()) > f64::from(size.1) * HAIR;
            let many = u64::from(picture.width()) * u64::from(picture.height()) > FEW_PIXELS;
            over && many && picture.bits() > 1 && !passed()
        };
        all.into_values().filter(fewer).map(|(placed, size)| ScaledDown { placed, size }).collect()
    }
}

/// All its pixels, where it is printed in one ink: its edges are the ink's.
fn kept(placed: &PlacedPicture, finest: f64) -> (u32, u32) {
    let all = (placed.picture.width(), placed.picture.height());
    if placed.paint.is_some() {
        return all;
    }
    let (across, down) = placed.size();
    let pixels = |mm: f64, all: u32| ((mm / MM_PER_INCH * finest).round().max(1.0) as u32).min(all);
    (pixels(across, all.0), pixels(down, all.1))
}
