//! Picture: size, resolution, colour model, bytes kept as they came.

use crate::ground::Digest;
use std::sync::Arc;

pub struct Picture {
    name: String,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Model {
    Grey,
    Rgb,
    Cmyk,
}

impl Model {
    pub fn channels(self) -> usize {
        match self {
            Model::Grey => 1,
            Model::Rgb => 3,
            Model::Cmyk => 4,
        }
    }
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, serde::Serialize)]
#[serde(rename_all = "lowercase")]
pub enum Format {
    Png,
    Jpeg,
    Tiff,
    Webp,
}

/// Decoded samples, 8 bits each, row by row, channels side by side. CMYK counts ink: 255 is solid.
pub struct Pixels {
    pub samples: Vec<u8>,
    /// 255 is opaque; not premultiplied into the samples.
    pub alpha: Option<Vec<u8>>,
}

/// Why a file is not a picture for us, and a way out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PictureFault {
    pub message: String,
    pub help: String,
}

impl Picture {
    /// Reads and decodes. `name` is the path as the cover writes it.
    pub fn open(name: &str, bytes: Arc<[u8]>) -> Result<Picture, PictureFault> {
        let _ = (name, bytes);
        unimplemented!()
    }
    pub fn name(&self) -> &str {
        &self.name
    }
    pub fn digest(&self) -> Digest {
        unimplemented!()
    }
    pub fn bytes(&self) -> &[u8] {
        unimplemented!()
    }
    pub fn format(&self) -> Format {
        unimplemented!()
    }
    pub fn model(&self) -> Model {
        unimplemented!()
    }
    /// Bits a channel in the file.
    pub fn bits(&self) -> u8 {
        unimplemented!()
    }
    pub fn width(&self) -> u32 {
        unimplemented!()
    }
    pub fn height(&self) -> u32 {
        unimplemented!()
    }
    /// Pixels per inch, as the file states it.
    pub fn ppi(&self) -> Option<f64> {
        unimplemented!()
    }
    /// The embedded ICC profile.
    pub fn profile(&self) -> Option<&[u8]> {
        unimplemented!()
    }
    pub fn pixels(&self) -> &Pixels {
        unimplemented!()
    }
}

impl std::fmt::Debug for Picture {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.write_str(&self.name)
    }
}
