//! PNG: sRGB pixels with their resolution and title, and no date.

use crate::ground::MM_PER_INCH;
use crate::scene::Scene;
use png::{BitDepth, ColorType, Compression, Encoder, PixelDimensions, SrgbRenderingIntent, Unit};

/// Pixels are three bytes each, row by row; neither side is empty.
pub fn write(rgb: &[u8], width: usize, height: usize, ppi: f64, title: &str) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(rgb.len() / 4);
    let mut encoder = Encoder::new(&mut bytes, width as u32, height as u32);
    encoder.set_color(ColorType::Rgb);
    encoder.set_depth(BitDepth::Eight);
    encoder.set_compression(Compression::Fast);
    // Writes gAMA and cHRM too, as the PNG specification recommends for readers that do not know sRGB.
    encoder.set_source_srgb(SrgbRenderingIntent::RelativeColorimetric);
    let per_metre = (ppi * 1000.0 / MM_PER_INCH).round().clamp(1.0, f64::from(u32::MAX)) as u32;
    encoder.set_pixel_dims(Some(PixelDimensions { xppu: per_metre, yppu: per_metre, unit: Unit::Meter }));
    encoder
        .write_header()
        .and_then(|mut writer| {
            if !title.is_empty() {
                writer.write_text_chunk(&png::text_metadata::ITXtChunk::new("Title", title))?;
            }
            writer.write_image_data(rgb)
        })
        .expect("a vector takes every byte, and the pixels fill the picture");
    bytes
}

/// The book's title and what the picture shows of it.
pub fn title(scene: &Scene, part: &str) -> String {
    let title: String = scene.job.title.chars().filter(|letter| *letter != '\0').collect();
    if title.is_empty() { String::new() } else { format!("{title}, {part}") }
}
