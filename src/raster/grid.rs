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
    /// Made of some rows and of some columns of these, and dropped when they are scaled.
    Made(&'a (dyn Fn(Range<usize>, Range<usize>) -> Cow<'a, [u8]> + Sync)),
}

/// Samples of some rows and columns.
pub struct GridPart<'a> {
    samples: Cow<'a, [u8]>,
    channels: usize,
    width: usize,
    left: usize,
    top: usize,
}

impl GridPart<'_> {
    /// Rows and columns are those of the grid.
    pub fn run(&self, row: usize, columns: Range<usize>) -> &[u8] {
        let line = (row - self.top) * self.width;
        let at = |column: usize| (line + column - self.left) * self.channels;
        &self.samples[at(columns.start)..at(columns.end)]
    }
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

    /// These columns of these rows, at least.
    pub fn part(&self, rows: Range<usize>, columns: Range<usize>) -> GridPart<'_> {
        let channels = self.channels;
        match self.samples {
            Samples::Whole(all) => {
                GridPart { samples: Cow::Borrowed(all), channels, width: self.width, left: 0, top: 0 }
            }
            Samples::Made(make) => {
                let (width, left, top) = (columns.len(), columns.start, rows.start);
                GridPart { samples: make(rows, columns), channels, width, left, top }
            }
        }
    }
}
