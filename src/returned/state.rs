//! State: how a page paints at a moment (ISO 32000-1, 8.4 and 9.3).

use crate::ground::{Affine, Blend, Cap, Join, Line};
use crate::printed::PrintedColour;
use crate::returned::clips::ClipChain;
use crate::returned::colours::Overprint;
use crate::returned::runs::ReadFont;
use crate::returned::shadings::PageShading;
use crate::scene::Item;
use hayro_syntax::object::ObjectIdentifier;
use std::sync::Arc;

#[derive(Clone)]
pub struct PagePaint {
    pub colour: PrintedColour,
    /// A shading in place of the colour; what cannot be drawn says what it is.
    pub pattern: Option<Result<Arc<PageShading>, String>>,
    pub overprint: bool,
    pub opacity: f64,
}

#[derive(Clone)]
pub struct PageState {
    pub to_sheet: Affine,
    pub fill: PagePaint,
    pub stroke: PagePaint,
    pub by_ink: bool,
    pub blend: Blend,
    pub line: Line,
    pub clip: Option<Arc<ClipChain>>,
    pub mask: Option<Arc<SoftMask>>,
    pub text: TextState,
}

/// Marks that lay black where what they veil shows.
pub struct SoftMask {
    pub items: Arc<[Item]>,
    /// How many times it covers the page, and its corners: both count again wherever it veils something.
    pub laid: f64,
    pub corners: usize,
}

/// A mask as it was painted: pages set the same one again and again.
pub struct PaintedMask {
    pub form: ObjectIdentifier,
    pub to_sheet: Affine,
    pub mask: Arc<SoftMask>,
}

#[derive(Clone)]
pub struct TextState {
    pub font: Option<Result<Arc<ReadFont>, String>>,
    pub size: f64,
    pub letter_space: f64,
    pub stretch: f64,
    pub leading: f64,
    pub rise: f64,
    pub mode: u32,
    pub matrix: Affine,
    pub line: Affine,
}

impl PageState {
    pub fn new(to_sheet: Affine) -> PageState {
        let paint = PagePaint { colour: PrintedColour::black(), pattern: None, overprint: false, opacity: 1.0 };
        let line = Line { cap: Cap::Butt, join: Join::Miter, miter_limit: 10.0, ..Line::new(1.0) };
        let text = TextState {
            font: None,
            size: 0.0,
            letter_space: 0.0,
            stretch: 1.0,
            leading: 0.0,
            rise: 0.0,
            mode: 0,
            matrix: Affine::IDENTITY,
            line: Affine::IDENTITY,
        };
        PageState {
            to_sheet,
            fill: paint.clone(),
            stroke: paint,
            by_ink: false,
            blend: Blend::Normal,
            line,
            clip: None,
            mask: None,
            text,
        }
    }

    pub fn overprint(&self, paint: &PagePaint) -> Overprint {
        Overprint { on: paint.overprint, by_ink: self.by_ink }
    }
}

impl TextState {
    /// Moves on along the line.
    pub fn forward(&mut self, by: f64) {
        self.matrix *= Affine::translate((by, 0.0));
    }

    /// Begins another line, so far from the beginning of this one.
    pub fn next_line(&mut self, x: f64, y: f64) {
        self.line *= Affine::translate((x, y));
        self.matrix = self.line;
    }
}
