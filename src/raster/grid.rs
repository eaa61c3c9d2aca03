//! Grid: the samples that a picture is scaled from, all at once or made some rows at a time.

use crate::assets::LightScale;
use std::borrow::Cow;
use std::ops::Range;

/// Samples row by row, channels side by side; alpha apart, 255 opaque.
pub struct Grid<'a> {
    pub samples: Samples<'a>,
    pub channels: usize,
    pub alpha: Option<&'a [u8]>,
    pub width: usize,
    pub height: usize,
    /// What samples are averaged as: light, or what they count.
    pub light: Option<&'a LightScale>,
}

#[derive(Clone, Copy)]
pub enum Samples<'a> {
    Whole(&'a [u8]),
    /// Made of rows, and dropped when they are scaled.
    Made(&'a (dyn Fn(Range<usize>) -> Cow<'a, [u8]> + Sync)),
}

/// Bytes of samples that are made at a time.
const MADE: usize = 8 << 20;

impl Grid<'_> {
    /// How many rows of samples may be asked for.
    pub fn rows_at_a_time(&self) -> usize {
        match self.samples {
            Samples::Whole(_) => self.height,
            Samples::Made(_) => (MADE / (self.width * self.channels).max(1)).max(1),
        }
    }

    pub fn rows(&self, rows: Range<usize>) -> Cow<'_, [u8]> {
        match self.samples {
            Samples::Whole(all) => {
                Cow::Borrowed(&all[rows.start * self.width * self.channels..rows.end * self.width * self.channels])
            }
            Samples::Made(make) => make(rows),
        }
    }
}
