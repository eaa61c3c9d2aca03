//! A front for screens: set again in the ratio of its pixels, alone.
//!
//! What stands on the wrap is measured from the whole of it, as on a paperback, so back and spine have their places beside
//! the front. Nothing of them is delivered.

use crate::cover::{Flat, Format, Measure, Spine};
use crate::ground::{Rect, number};
use crate::scene::{Panel, PanelName, PixelSize, Sheet};

/// The smallest front of a ratio into which the page fits: a higher one is as wide as the page, a wider one as high. So
/// type keeps its size, and no element has less room than in print.
pub fn screen_size((width, height): (f64, f64), pixels: PixelSize) -> (f64, f64) {
    (width.max(height * pixels.ratio()), height.max(width / pixels.ratio()))
}

pub fn screen_front(format: &Format, pixels: PixelSize, spine: &Spine, bound_right: bool) -> Flat {
    let (page_width, page_height) = format.trim;
    let (width, height) = screen_size(format.trim, pixels);
    let back = -spine.width - width;
    let joint = format.board.joint;
    let edges = [
        (PanelName::BackFlap, back - format.flap, back),
        (PanelName::Back, back, -spine.width),
        (PanelName::BackJoint, -spine.width - joint, -spine.width),
        (PanelName::Spine, -spine.width, 0.0),
        (PanelName::FrontJoint, 0.0, joint),
        (PanelName::Front, 0.0, width),
        (PanelName::FrontFlap, width, width + format.flap),
    ];
    let place = |from: f64, to: f64| {
        let (left, right) = if bound_right { (width - to, width - from) } else { (from, to) };
        Rect::new(left, 0.0, right, height)
    };
    let panels = edges.map(|(name, from, to)| Panel { name, rect: place(from, to) }).to_vec();
    let trim = place(back, width);
    let bleed = trim.inflate(format.bleed, format.bleed);
    let sum = |page: f64, side: f64, other: (f64, &str), pixels: u32| {
        if (side - page).abs() < 1e-9 {
            format!("as the page; {pixels} pixels")
        } else {
            format!("{} {} in the ratio of the pixels; {pixels} pixels", number(other.0), other.1)
        }
    };
    let measures = vec![
        Measure::length("front width", width, sum(page_width, width, (page_height, "page height"), pixels.width)),
        Measure::length("front height", height, sum(page_height, height, (page_width, "page width"), pixels.height)),
        Measure::length("safe", format.safe, "from the edges"),
    ];
    Flat { sheet: Sheet { trim, bleed, panels, folds: Vec::new(), bound_right, pixels: Some(pixels) }, measures }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_page_fits_into_every_ratio() {
        let page = (129.0, 198.0);
        // As wide as the page: 129 × 1.6. As high: 198 × 1, and 198 × 3.
        for ((width, height), wanted) in
            [((1600, 2560), (129.0, 206.4)), ((3000, 3000), (198.0, 198.0)), ((3000, 1000), (594.0, 198.0))]
        {
            let found = screen_size(page, PixelSize { width, height });
            assert!((found.0 - wanted.0).abs() < 1e-9 && (found.1 - wanted.1).abs() < 1e-9, "{found:?}");
        }
    }
}
