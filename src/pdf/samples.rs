//! Samples of a picture in a stream of the press file: rows behind their filters, as PNG has them.

use crate::ground::{PackedRows, Packing};
use pdf_writer::Filter;
use pdf_writer::types::Predictor;
use pdf_writer::writers::ImageXObject;

/// Samples, 8 bit, of rows so many pixels wide; `describe` says in the image's dictionary how they are kept.
pub fn deflated_samples(samples: &[u8], width: u32, channels: usize, packing: Packing) -> Vec<u8> {
    let row = width as usize * channels;
    let mut rows = PackedRows::new(samples.len() / row.max(1), row, channels, packing);
    rows.add(samples);
    rows.finish()
}

pub fn describe(image: &mut ImageXObject<'_>, width: i32, channels: i32) {
    image.filter(Filter::FlateDecode);
    // Every row says its own filter, whichever of the PNG predictors stands here.
    image.decode_parms().predictor(Predictor::PngOptimum).colors(channels).columns(width);
}
