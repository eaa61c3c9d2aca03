//! The front alone, in exactly so many pixels.

use crate::assets::{Darkroom, ScreenPixels};
use crate::ground::{Digest, MM_PER_INCH, Point, Rect};
use crate::raster::screen_tiles::{Screen, ScreenTiles};
use crate::scene::{OtherRatio, PixelSize, Scene};

pub struct FrontPicture {
    pub size: PixelSize,
    pub ppi: f64,
    pub rgb: Vec<u8>,
    /// Names all that shows in it.
    pub name: Digest,
}

impl FrontPicture {
    pub fn pixels(&self) -> ScreenPixels<'_> {
        ScreenPixels { width: self.size.width as usize, height: self.size.height as usize, rgb: &self.rgb }
    }
}

/// `None` for a sheet without a front, and for a front in another ratio that is refused.
pub fn front_picture(scene: &Scene, size: PixelSize, ratio: OtherRatio, darkroom: &Darkroom) -> Option<FrontPicture> {
    let front = scene.sheet.front()?;
    let extended = match ratio {
        _ if size.fits(front) => None,
        OtherRatio::Refused => return None,
        OtherRatio::Cropped => None,
        OtherRatio::Extended(inks) => Some(inks),
    };
    let Some(inks) = extended else {
        let area = middle(front, size);
        let ppi = f64::from(size.width) / area.width() * MM_PER_INCH;
        let drawn = ScreenTiles::draw(scene, area, ppi, darkroom);
        return Some(FrontPicture { size, ppi, rgb: drawn.whole().rgb, name: drawn.whole_name() });
    };
    let scale = (f64::from(size.width) / front.width()).min(f64::from(size.height) / front.height());
    let drawn = ScreenTiles::draw(scene, front, scale * MM_PER_INCH, darkroom);
    let bars = inks.map(|inks| {
        let bytes = inks.map(|ink| (ink * 255.0).round().clamp(0.0, 255.0) as u8);
        let colour = scene.profile.screen_pixels(&bytes);
        std::array::from_fn(|channel| colour[channel])
    });
    let name = Digest::of_all(&[drawn.whole_name().bytes(), format!("{size} {bars:?}").as_bytes()]);
    Some(FrontPicture { size, ppi: scale * MM_PER_INCH, rgb: between_bars(&drawn.whole(), size, bars), name })
}

/// The largest part of a front in a ratio, in its middle.
fn middle(front: Rect, size: PixelSize) -> Rect {
    let width = front.width().min(front.height() * size.ratio());
    let height = width / size.ratio();
    let Point { x, y } = front.center();
    Rect::new(x - width / 2.0, y - height / 2.0, x + width / 2.0, y + height / 2.0)
}

/// A drawing in the middle of bars, each in the mean colour of the edge it lies at where none is stated.
fn between_bars(drawn: &Screen, size: PixelSize, stated: Option<[u8; 3]>) -> Vec<u8> {
    let (width, height) = (size.width as usize, size.height as usize);
    let (inner_width, inner_height) = (drawn.width.min(width), drawn.height.min(height));
    let (left, top) = ((width - inner_width) / 2, (height - inner_height) / 2);
    let pixel = |column: usize, row: usize| &drawn.row(row)[column * 3..column * 3 + 3];
    let column_of = |column: usize| stated.unwrap_or_else(|| mean((0..drawn.height).map(|row| pixel(column, row))));
    let row_of = |row: usize| stated.unwrap_or_else(|| mean((0..drawn.width).map(|column| pixel(column, row))));
    let (at_left, at_right) = (column_of(0), column_of(drawn.width - 1));
    let (at_head, at_foot) = (row_of(0), row_of(drawn.height - 1));
    let mut rgb = Vec::with_capacity(width * height * 3);
    for row in 0..height {
        if row < top || row >= top + inner_height {
            let colour = if row < top { at_head } else { at_foot };
            (0..width).for_each(|_| rgb.extend(colour));
            continue;
        }
        (0..left).for_each(|_| rgb.extend(at_left));
        rgb.extend_from_slice(&drawn.row(row - top)[..inner_width * 3]);
        (left + inner_width..width).for_each(|_| rgb.extend(at_right));
    }
    rgb
}

fn mean<'a>(pixels: impl Iterator<Item = &'a [u8]>) -> [u8; 3] {
    let (mut sums, mut count) = ([0_u64; 3], 0_u64);
    for pixel in pixels {
        sums.iter_mut().zip(pixel).for_each(|(sum, value)| *sum += u64::from(*value));
        count += 1;
    }
    sums.map(|sum| ((sum + count / 2) / count.max(1)) as u8)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Ink;
    use crate::raster::trial::{rect, scene};
    use crate::scene::{Panel, PanelName};

    /// A front of 40 × 60 mm, black in its left half, beside a black back.
    fn cover() -> Scene {
        let mut cover = scene(80.0, 60.0, vec![rect(-3.0, -3.0, 63.0, 66.0, Ink::black(1.0))]);
        let panel = |name, x0: f64| Panel { name, rect: Rect::new(x0, 0.0, x0 + 40.0, 60.0) };
        cover.sheet.panels = vec![panel(PanelName::Back, 0.0), panel(PanelName::Front, 40.0)];
        cover
    }

    fn drawn(width: u32, height: u32, ratio: OtherRatio) -> Option<(Vec<u8>, impl Fn(usize, usize) -> u8)> {
        let found = front_picture(&cover(), PixelSize { width, height }, ratio, &Darkroom::default())?;
        let rgb = found.rgb.clone();
        Some((found.rgb, move |x: usize, y: usize| rgb[(y * width as usize + x) * 3]))
    }

    #[test]
    fn the_same_ratio_is_the_whole_front() {
        let (rgb, at) = drawn(200, 300, OtherRatio::Refused).expect("it fits");
        assert_eq!(rgb.len(), 200 * 300 * 3);
        assert!(at(0, 0) < 60 && at(99, 299) < 60 && at(100, 0) == 255 && at(199, 299) == 255);
        // A pixel more or less is the same ratio.
        assert!(drawn(200, 301, OtherRatio::Refused).is_some() && drawn(200, 310, OtherRatio::Refused).is_none());
    }

    #[test]
    fn another_ratio_is_cropped_or_extended() {
        let (rgb, at) = drawn(300, 300, OtherRatio::Cropped).expect("it is cropped");
        assert_eq!(rgb.len(), 300 * 300 * 3);
        assert!(at(0, 0) < 60 && at(149, 150) < 60 && at(151, 150) == 255);
        // 200 pixels of front between bars of 50, in the colours of its edges.
        let (rgb, at) = drawn(300, 300, OtherRatio::Extended(None)).expect("it is extended");
        assert_eq!(rgb.len(), 300 * 300 * 3);
        assert!(at(10, 10) == at(60, 10) && at(149, 10) < 60 && at(151, 10) == 255 && at(299, 299) == 255);
        let (_, at) = drawn(300, 300, OtherRatio::Extended(Some([0.0, 0.0, 0.0, 1.0]))).expect("it is extended");
        assert!(at(299, 10) < 60 && at(200, 10) == 255);
    }
}
