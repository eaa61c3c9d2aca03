//! Fewer words: a picture of 16 bits averaged down to a size in all of them, where a steep curve of tones shows them.

use crate::assets::{LightScale, Picture, Pixels};
use crate::raster::hidden::nearest_shown;
use crate::raster::taps::Taps;
use rayon::prelude::*;
use std::ops::Range;

/// Some rows of `width` by `height` pixels, no more than the picture has; without alpha. `light` is how much light levels stand
/// for, nothing where samples count ink.
pub fn fewer_words(picture: &Picture, light: Option<&LightScale>, size: (u32, u32), rows: Range<usize>) -> Pixels {
    let channels = picture.model().channels();
    let (width, height) = (picture.width() as usize, picture.height() as usize);
    let scale = |to: u32, from: usize| f64::from(to) / from as f64;
    let across = Taps::new(scale(size.0, width), 0.0, width, 0, size.0 as usize);
    let down = Taps::new(scale(size.1, height), 0.0, height, rows.start, rows.len());
    let read = |word: u16| light.map_or(f32::from(word), |light| light.light_of_word(word));
    let write = |mean: f32| light.map_or(mean.round() as u16, |light| light.word(mean));
    let rows = (0..down.len()).into_par_iter().map(|row| {
        let mut sums = vec![0.0_f32; width * channels];
        let mut shares = vec![0.0_f32; width];
        for (source, weight) in down.of(row) {
            let line = picture.pixels().words(source * width * channels..(source + 1) * width * channels);
            let shows = |at: usize| picture.alpha().map_or(1.0, |all| f32::from(all[source * width + at]) / 255.0);
            for (at, pixel) in line.chunks_exact(channels).enumerate() {
                let weight = weight * shows(at);
                shares[at] += weight;
                let sums = &mut sums[at * channels..(at + 1) * channels];
                sums.iter_mut().zip(pixel).for_each(|(sum, word)| *sum += weight * read(*word));
            }
        }
        let share = |column: usize| across.of(column).map(|(at, weight)| weight * shares[at]).sum::<f32>();
        let all: Vec<f32> = (0..across.len()).map(share).collect();
        let mut words = Vec::with_capacity(across.len() * channels);
        for column in nearest_shown(all.iter().map(|share| *share > 0.0)) {
            words.extend((0..channels).map(|channel| {
                let sum: f32 = across.of(column).map(|(at, weight)| weight * sums[at * channels + channel]).sum();
                write(if all[column] > 0.0 { sum / all[column] } else { 0.0 })
            }));
        }
        words
    });
    Pixels::of_words(&rows.collect::<Vec<Vec<u16>>>().concat())
}
