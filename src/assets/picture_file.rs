//! What is remembered of a picture's file; the file itself goes as soon as its pixels are there.

use crate::assets::PictureFormat;
use crate::assets::decode;
use crate::ground::Digest;

pub struct PictureFile {
    pub name: String,
    /// Its SHA-256, as anyone else counts it.
    pub sum: Digest,
    pub format: PictureFormat,
    pub jpeg_quality: Option<f64>,
    /// Bytes of it that stay in memory, because its pixels can wait.
    pub held: usize,
}

impl PictureFile {
    pub fn of(name: &str, format: PictureFormat, bytes: &[u8], sum: Digest) -> PictureFile {
        let jpeg_quality = decode::jpeg_quality(bytes);
        PictureFile { name: name.to_owned(), sum, format, jpeg_quality, held: 0 }
    }
}
