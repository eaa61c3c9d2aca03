//! The page's boxes in points, and the way from the sheet's millimetres onto them.

use crate::ground::{Affine, MM_PER_PT, Point, Rect};
use crate::scene::Sheet;

/// Points per millimetre.
pub const SCALE: f64 = 1.0 / MM_PER_PT;

/// Room from the trim to the page's edge: left, top, right, bottom, millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Margins(pub [f64; 4]);

impl Margins {
    pub const NONE: Margins = Margins([0.0; 4]);

    pub fn between(inner: Rect, outer: Rect) -> Margins {
        Margins(
            [inner.x0 - outer.x0, inner.y0 - outer.y0, outer.x1 - inner.x1, outer.y1 - inner.y1].map(|m| m.max(0.0)),
        )
    }
}

/// Boxes are rounded once, to thousandths of a point, and every other box is derived from the rounded trim: readers
/// refuse a trim that pokes out of its bleed by as little.
pub struct PageBoxes {
    pub media: Rect,
    pub trim: Rect,
    pub bleed: Rect,
}

impl PageBoxes {
    /// `margins` is the room between trim and the page's edge.
    pub fn new(sheet: &Sheet, margins: Margins, bleeds: bool) -> PageBoxes {
        let [left, top, right, bottom] = margins.0.map(points);
        let (width, height) = (points(sheet.trim.width()), points(sheet.trim.height()));
        let trim = Rect::new(left, bottom, tidy(left + width), tidy(bottom + height));
        let media = Rect::new(0.0, 0.0, tidy(trim.x1 + right), tidy(trim.y1 + top));
        let [left, top, right, bottom] =
            if bleeds { Margins::between(sheet.trim, sheet.bleed).0.map(points) } else { [0.0; 4] };
        let bleed = Rect::new(tidy(trim.x0 - left), tidy(trim.y0 - bottom), tidy(trim.x1 + right), tidy(trim.y1 + top));
        PageBoxes { media, trim, bleed: bleed.intersect(media) }
    }

    /// From sheet millimetres, y down from the trim's top, to the page's points, y up.
    pub fn place(&self, sheet: &Sheet) -> Affine {
        let corner = Point::new(self.trim.x0 - sheet.trim.x0 * SCALE, self.trim.y1 + sheet.trim.y0 * SCALE);
        Affine::new([SCALE, 0.0, 0.0, -SCALE, corner.x, corner.y])
    }
}

pub fn rect(rect: Rect) -> pdf_writer::Rect {
    pdf_writer::Rect::new(rect.x0 as f32, rect.y0 as f32, rect.x1 as f32, rect.y1 as f32)
}

fn points(mm: f64) -> f64 {
    tidy(mm * SCALE)
}

fn tidy(points: f64) -> f64 {
    (points * 1000.0).round() / 1000.0
}
