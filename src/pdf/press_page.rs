//! Press page: how a press file is written.

use crate::ground::Packing;
use crate::pdf::composed::ComposedPicture;
use crate::scene::{PressStandard, Surround, X4};

pub struct PressPage<'a> {
    pub surround: Surround,
    pub standard: &'static PressStandard,
    pub packing: Packing,
    /// The quality of pictures that are written as JPEGs.
    pub jpeg: Option<u8>,
    /// Each lies on so many of the scene's items, and under the others.
    pub composed: &'a [(usize, ComposedPicture)],
}

impl Default for PressPage<'_> {
    fn default() -> Self {
        PressPage {
            surround: Surround::default(),
            standard: &X4,
            packing: Packing::default(),
            jpeg: None,
            composed: &[],
        }
    }
}

impl From<Surround> for PressPage<'_> {
    fn from(surround: Surround) -> Self {
        PressPage { surround, ..PressPage::default() }
    }
}
