//! A bar code on a cover: its symbol, its inks, and where it lies in its frame.

use crate::assets::Font;
use crate::cover::barcode::{BarCodeSetting, Symbol};
use crate::ground::{Ink, Rect, Vec2};
use std::sync::Arc;

pub struct BarCode {
    pub setting: BarCodeSetting,
    pub symbol: Symbol,
    pub ink: Ink,
    pub ground: Option<Ink>,
    /// Of its figures.
    pub font: Arc<Font>,
    /// As it stands over the bars.
    pub number: String,
}

/// The ground reaches this far beyond figures and quiet zones, in modules, so that nothing touches its edge.
const MARGIN: f64 = 3.0;

impl BarCode {
    pub fn margin(&self) -> f64 {
        MARGIN * self.setting.module()
    }

    /// Where the symbol's own corner lies in a frame: the middle of a frame larger than it needs.
    pub fn corner(&self, frame: Rect) -> Vec2 {
        Vec2::new(
            frame.x0 + (frame.width() - self.symbol.width) / 2.0,
            frame.y0 + (frame.height() - self.symbol.height) / 2.0,
        )
    }
}
