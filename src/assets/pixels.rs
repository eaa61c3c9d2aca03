//! Pixels of a picture file, the kinds that there are, and why a file may be none.

use std::ops::Range;
use std::sync::Arc;

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
pub enum PictureFormat {
    Png,
    Jpeg,
    Tiff,
    Webp,
}

/// Decoded samples, 8 bits each, row by row, channels side by side. CMYK counts ink: 255 is solid.
#[derive(Clone, PartialEq)]
pub struct Pixels {
    /// Shared with what a press prints of them, where that is the same.
    pub samples: Arc<Vec<u8>>,
    /// How far each sample of a file of 16 bits lies beyond its 257-fold.
    pub fine: Option<Arc<Vec<i8>>>,
    /// 255 is opaque; not premultiplied into the samples. `None` when every pixel is opaque.
    pub alpha: Option<Vec<u8>>,
}

impl Pixels {
    pub fn opaque(samples: Vec<u8>) -> Pixels {
        Pixels { samples: Arc::new(samples), fine: None, alpha: None }
    }

    /// Opaque ones of 16 bits.
    pub fn of_words(words: &[u16]) -> Pixels {
        let samples: Vec<u8> = words.iter().map(|word| eight(*word)).collect();
        let rest = |(word, sample): (&u16, &u8)| {
            (i32::from(*word) - 257 * i32::from(*sample)).clamp(i32::from(i8::MIN), i32::from(i8::MAX)) as i8
        };
        let fine = words.iter().zip(&samples).map(rest).collect();
        Pixels { fine: Some(Arc::new(fine)), ..Pixels::opaque(samples) }
    }

    /// Whether each of these, in RGB, is a grey.
    pub fn are_neutral(&self) -> bool {
        let even = |samples: &[u8; 3]| samples[0] == samples[1] && samples[1] == samples[2];
        let evenly = |rest: &[i8; 3]| rest[0] == rest[1] && rest[1] == rest[2];
        self.samples.as_chunks().0.iter().all(even)
            && self.fine.as_ref().is_none_or(|fine| fine.as_chunks().0.iter().all(evenly))
    }

    /// Some of them, without alpha.
    pub fn part(&self, range: Range<usize>) -> Pixels {
        let fine = self.fine.as_ref().map(|fine| Arc::new(fine[range.clone()].to_vec()));
        Pixels { fine, ..Pixels::opaque(self.samples[range].to_vec()) }
    }

    /// Some columns of all rows, without alpha.
    pub fn columns(&self, columns: &Range<usize>, width: usize) -> Pixels {
        let fine = self.fine.as_ref().map(|fine| Arc::new(columns_of(fine, columns, width)));
        Pixels { fine, ..Pixels::opaque(columns_of(&self.samples, columns, width)) }
    }

    /// Samples in 16 bits, from one place up to another.
    pub fn words(&self, range: Range<usize>) -> Vec<u16> {
        let coarse = self.samples[range.clone()].iter().map(|sample| u16::from(*sample) * 257);
        match &self.fine {
            None => coarse.collect(),
            Some(fine) => {
                coarse.zip(&fine[range]).map(|(coarse, rest)| coarse.saturating_add_signed((*rest).into())).collect()
            }
        }
    }
}

/// Of rows of that width; columns and width count samples.
fn columns_of<T: Copy>(rows: &[T], columns: &Range<usize>, width: usize) -> Vec<T> {
    rows.chunks_exact(width).flat_map(|row| &row[columns.clone()]).copied().collect()
}

/// Sixteen bits to eight, to the nearest.
pub fn eight(sample: u16) -> u8 {
    ((u32::from(sample) * 255 + 32_895) >> 16) as u8
}

/// A JPEG that a PDF may carry: its frame, tables, scans and APP14 as they came, and nothing else.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct JpegStream {
    pub bytes: Arc<Vec<u8>>,
    /// Else CMYK. RGB is not passed on: it must become ink first.
    pub grey: bool,
    /// The samples count paper, not ink: a PDF needs `/Decode [1 0 1 0 1 0 1 0]`.
    pub inverted: bool,
}

/// Why a file is not a picture for us, and a way out.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PictureFault {
    pub message: String,
    pub help: String,
}
