//! PNG: sRGB pixels with their resolution and title, and no date.

use crate::ground::MM_PER_INCH;
use crate::scene::Scene;
use png::{BitDepth, ColorType, Compression, Encoder, PixelDimensions, ScaledFloat, SourceChromaticities, SrgbRenderingIntent, Unit};

/// Pixels are three bytes each, row by row; neither side is empty.
pub fn write(rgb: &[u8], width: usize, height: usize, ppi: f64, title: &str) -> Vec<u8> {
    let mut bytes = Vec::with_capacity(rgb.len() / 4);
    let mut encoder = Encoder::new(&mut bytes, width as u32, height as u32);
    encoder.set_color(ColorType::Rgb);
    encoder.set_depth(BitDepth::Eight);
    encoder.set_compression(Compression::Fast);
    // Beside sRGB go the values that the PNG specification gives, for readers that do not know it.
    encoder.set_source_srgb(SrgbRenderingIntent::RelativeColorimetric);
    encoder.set_source_gamma(ScaledFloat::from_scaled(45_455));
    encoder.set_source_chromaticities(chromaticities());
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

fn chromaticities() -> SourceChromaticities {
    let place = |x, y| (ScaledFloat::from_scaled(x), ScaledFloat::from_scaled(y));
    SourceChromaticities {
        white: place(31_270, 32_900),
        red: place(64_000, 33_000),
        green: place(30_000, 60_000),
        blue: place(15_000, 6_000),
    }
}

/// The book's title and what the picture shows of it.
pub fn title(scene: &Scene, part: &str) -> String {
    let title: String = scene.job.title.chars().filter(|letter| *letter != '\0').collect();
    if title.is_empty() { String::new() } else { format!("{title}, {part}") }
}

#[cfg(test)]
mod tests {
    use std::collections::BTreeMap;

    /// Chunks read by hand, after the PNG specification: length, name, bytes, CRC.
    fn chunks(file: &[u8]) -> BTreeMap<String, Vec<u8>> {
        assert_eq!(file[..8], [0x89, b'P', b'N', b'G', 13, 10, 26, 10]);
        let (mut rest, mut chunks) = (&file[8..], BTreeMap::new());
        while !rest.is_empty() {
            let length = u32::from_be_bytes(rest[..4].try_into().expect("four bytes")) as usize;
            let mut crc = flate2::Crc::new();
            crc.update(&rest[4..8 + length]);
            assert_eq!(rest[8 + length..12 + length], crc.sum().to_be_bytes());
            let name = String::from_utf8_lossy(&rest[4..8]).into_owned();
            chunks.entry(name).or_insert_with(Vec::new).extend(&rest[8..8 + length]);
            rest = &rest[12 + length..];
        }
        chunks
    }

    #[test]
    fn says_colour_resolution_and_title_but_no_time() {
        let file = super::write(&[10, 20, 30, 40, 50, 60], 2, 1, 200.0, "Łódź, flat");
        let chunks = chunks(&file);
        let words = |name: &str| -> Vec<u32> {
            chunks[name].chunks(4).map(|word| word.iter().fold(0, |sum, byte| sum << 8 | u32::from(*byte))).collect()
        };
        assert_eq!(chunks["sRGB"], [1]);
        // The values that the PNG specification gives for use beside sRGB.
        assert_eq!(words("gAMA"), [45455]);
        assert_eq!(words("cHRM"), [31270, 32900, 64000, 33000, 30000, 60000, 15000, 6000]);
        // 200 / 0.0254 = 7874 to the metre.
        assert_eq!(words("pHYs")[..2], [7874, 7874]);
        assert_eq!(chunks["pHYs"][8], 1);
        assert!(chunks["iTXt"].starts_with(b"Title\0") && chunks["iTXt"].ends_with("Łódź, flat".as_bytes()));
        assert!(!chunks.contains_key("tIME"));
        let mut pixels = Vec::new();
        let mut inflate = flate2::read::ZlibDecoder::new(&chunks["IDAT"][..]);
        std::io::Read::read_to_end(&mut inflate, &mut pixels).expect("a zlib stream");
        assert_eq!(pixels.len(), 7);
    }
}
