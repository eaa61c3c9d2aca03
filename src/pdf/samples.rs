//! Samples of a picture in a stream of the press file: predicted where little of them repeats.

use crate::ground::{deflate_fast, deflate_predicted, is_noise};
use pdf_writer::Filter;
use pdf_writer::types::Predictor;
use pdf_writer::writers::ImageXObject;

/// A stream as the darkroom keeps it: a byte for the kind, then a zlib stream.
#[derive(Clone, Copy)]
pub struct SampleStream<'a> {
    predicted: bool,
    pub bytes: &'a [u8],
}

/// Samples, 8 bit, of rows so many pixels wide, as `SampleStream::of` reads them.
pub fn deflated_samples(samples: &[u8], width: u32, channels: usize) -> Vec<u8> {
    let row = (width as usize * channels).max(1);
    let predicted = is_noise(samples.chunks(row), channels);
    let stream = if predicted { deflate_predicted(samples, row, channels) } else { deflate_fast(samples) };
    let mut kept = Vec::with_capacity(stream.len() + 1);
    kept.push(u8::from(predicted));
    kept.extend(stream);
    kept
}

impl SampleStream<'_> {
    pub fn of(kept: &[u8]) -> SampleStream<'_> {
        let (kind, bytes) = kept.split_first().map_or((0, kept), |(kind, bytes)| (*kind, bytes));
        SampleStream { predicted: kind == 1, bytes }
    }

    /// Says in an image's dictionary how its samples are kept.
    pub fn describe(self, image: &mut ImageXObject<'_>, width: i32, channels: i32) {
        image.filter(Filter::FlateDecode);
        if self.predicted {
            image.decode_parms().predictor(Predictor::PngPaeth).colors(channels).columns(width);
        }
    }
}
