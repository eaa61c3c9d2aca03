//! Output settings: what a cover chose of a file that is made of it.

use crate::assets::JpegWeight;
use crate::ground::{Process, Span};
use crate::scene::{PixelSize, PressSettings};
use std::collections::BTreeMap;

/// What was chosen.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub struct OutputSettings {
    /// Empty where there is no word to choose.
    pub word: &'static str,
    pub ppi: f64,
    pub front: FrontSettings,
    pub press: PressSettings,
}

/// Of a picture of the front that goes to a shop.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct FrontSettings {
    /// None was stated: there is no picture.
    pub size: Option<PixelSize>,
    pub weight: JpegWeight,
    pub ratio: OtherRatio,
    pub span: Span,
}

/// What becomes of a front in another ratio than that of the picture.
#[derive(Clone, Copy, Debug, PartialEq, Default)]
pub enum OtherRatio {
    #[default]
    Refused,
    /// The middle of it is shown.
    Cropped,
    /// It is shown whole between bars in these inks, or in the colour of its edges.
    Extended(Option<Process>),
}

/// By default a picture looks like the print and is not heavy. Common practice.
const USUAL_QUALITY: u8 = 90;

impl Default for FrontSettings {
    fn default() -> FrontSettings {
        FrontSettings {
            size: None,
            weight: JpegWeight::Quality(USUAL_QUALITY),
            ratio: OtherRatio::default(),
            span: Span::default(),
        }
    }
}

/// The settings of outputs by their names.
pub type Delivery = BTreeMap<&'static str, OutputSettings>;
