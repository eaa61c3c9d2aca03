//! Upright: a picture turned as its file asks, by EXIF's eight numbers.

use crate::assets::decode::decoded::Decoded;
use std::sync::Arc;

impl Decoded {
    /// The picture as it is meant to be seen. A turned picture's bytes can no longer stand for it.
    #[must_use]
    pub fn upright(mut self) -> Decoded {
        if !(2..=8).contains(&self.orientation) {
            return self;
        }
        let (width, height) = (self.width as usize, self.height as usize);
        let (channels, orientation) = (self.model.channels(), self.orientation);
        self.pixels.samples = Arc::new(turned(&self.pixels.samples, width, height, channels, orientation));
        self.pixels.fine = self.pixels.fine.map(|fine| Arc::new(turned(&fine, width, height, channels, orientation)));
        self.pixels.alpha = self.pixels.alpha.map(|alpha| turned(&alpha, width, height, 1, orientation));
        if self.orientation > 4 {
            std::mem::swap(&mut self.width, &mut self.height);
        }
        self.orientation = 1;
        self.stream = None;
        self
    }
}

/// EXIF 2.3, tag 0x0112: which corner of the scene the first stored sample shows.
fn turned<T: Copy>(samples: &[T], width: usize, height: usize, channels: usize, orientation: u8) -> Vec<T> {
    let (across, down) = if orientation > 4 { (height, width) } else { (width, height) };
    if samples.is_empty() {
        return Vec::new();
    }
    let mut turned = Vec::with_capacity(samples.len());
    for y in 0..down {
        for x in 0..across {
            let (from_x, from_y) = match orientation {
                2 => (width - 1 - x, y),
                3 => (width - 1 - x, height - 1 - y),
                4 => (x, height - 1 - y),
                5 => (y, x),
                6 => (y, height - 1 - x),
                7 => (width - 1 - y, height - 1 - x),
                8 => (width - 1 - y, x),
                _ => (x, y),
            };
            let at = (from_y * width + from_x) * channels;
            turned.extend_from_slice(&samples[at..at + channels]);
        }
    }
    turned
}

#[cfg(test)]
mod tests {
    use super::*;
    use image::metadata::Orientation;

    #[test]
    fn the_eight_ways_are_those_of_another_reader() {
        let stored = image::RgbImage::from_fn(3, 2, |x, y| image::Rgb([x as u8, y as u8, 7]));
        for orientation in 1..=8 {
            let mut theirs = image::DynamicImage::from(stored.clone());
            theirs.apply_orientation(Orientation::from_exif(orientation).expect("1 to 8 are known"));
            assert_eq!(turned(&stored, 3, 2, 3, orientation), theirs.into_bytes(), "orientation {orientation}");
        }
    }
}
