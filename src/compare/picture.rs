//! The picture: the old design on the left, the new on the right, with frames where they differ.

use crate::assets::Darkroom;
use crate::compare::regions::{CellGrid, DifferingArea};
use crate::compare::view::View;
use crate::ground::{MM_PER_INCH, Rect, Vec2};
use crate::output::png_file;

/// ViewPixels per inch, and the most pixels of the whole picture: larger sheets are shown smaller.
const PPI: f64 = 100.0;
const MOST: f64 = 20e6;
/// Millimetres around and between the two.
const GAP: f64 = 6.0;
const TABLE: [u8; 3] = [238, 237, 234];
/// Magenta between two lines of white is seen on any ground; pixels.
const SIGNAL: [u8; 3] = [230, 0, 126];
const HALO: [u8; 3] = [255, 255, 255];
const FRAME: usize = 5;
const CORE: std::ops::Range<usize> = 1..4;
/// ViewPixels that those of a finished picture may lie beside their place, and the most that any may.
const FINISHED: usize = 1;
const FURTHEST: f64 = 6.0;

/// A place that differs, on each sheet, millimetres.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct DifferingPlace {
    pub old: Rect,
    pub new: Rect,
}

pub struct ComparedPicture {
    pub png: Vec<u8>,
    pub places: Vec<DifferingPlace>,
}

/// `resized` are the frames, on the new sheet, of pictures at another size, and by how much.
pub fn picture(old: &View<'_>, new: &View<'_>, resized: &[(Rect, f64)], darkroom: &Darkroom) -> ComparedPicture {
    let ppi = ppi(old.trim(), new.trim());
    let places = places(old, new, resized, ppi, darkroom);
    let scale = ppi / MM_PER_INCH;
    let gap = (GAP * scale).round() as usize;
    let sides = [old, new].map(|view| view.draw(view.trim(), ppi, darkroom));
    let width = sides[0].width + sides[1].width + 3 * gap;
    let height = sides[0].height.max(sides[1].height) + 2 * gap;
    let mut canvas = PictureCanvas { width, height, rgb: TABLE.repeat(width * height) };
    let mut left = gap;
    for (at, side) in sides.iter().enumerate() {
        for (row, pixels) in side.rgb.chunks_exact((side.width * 3).max(1)).enumerate() {
            let start = ((gap + row) * width + left) * 3;
            canvas.rgb[start..start + pixels.len()].copy_from_slice(pixels);
        }
        let trim = [old, new][at].trim();
        for place in &places {
            let rect = [place.old, place.new][at] - trim.origin().to_vec2();
            canvas.frame(rect, scale, (left, gap));
        }
        left += side.width + gap;
    }
    ComparedPicture { png: png_file(&canvas.rgb, (width, height), ppi, "two designs compared"), places }
}

fn ppi(old: Rect, new: Rect) -> f64 {
    let inches = |mm: f64| mm / MM_PER_INCH;
    let (width, height) = (old.width() + new.width() + 3.0 * GAP, old.height().max(new.height()) + 2.0 * GAP);
    let area = (inches(width) * inches(height)).max(f64::MIN_POSITIVE);
    PPI.min((MOST / area).sqrt())
}

/// Panel by panel, so that a spine that grew moves nothing: panels of other sizes lie on one another by the middle of
/// their heads.
fn places(
    old: &View<'_>,
    new: &View<'_>,
    resized: &[(Rect, f64)],
    ppi: f64,
    darkroom: &Darkroom,
) -> Vec<DifferingPlace> {
    let mut places = Vec::new();
    for (name, was) in old.panels() {
        let Some((_, now)) = new.panels().into_iter().find(|(other, _)| *other == name) else { continue };
        let (width, height) = (was.width().min(now.width()), was.height().min(now.height()));
        let shared = |panel: Rect| {
            let left = panel.center().x - width / 2.0;
            Rect::new(left, panel.y0, left + width, panel.y0 + height)
        };
        let (was, now) = (shared(was), shared(now));
        let drawn = [old.draw(was, ppi, darkroom), new.draw(now, ppi, darkroom)];
        let finished = old.is_photographed() || new.is_photographed();
        let slack = |x: usize, y: usize| {
            let place = now.origin() + (Vec2::new(x as f64, y as f64) + Vec2::new(0.5, 0.5)) * (MM_PER_INCH / ppi);
            let by = resized.iter().filter(|(frame, _)| frame.contains(place)).map(|(_, by)| *by).fold(0.0, f64::max);
            let by = if by > 0.0 { ((by * ppi / MM_PER_INCH).ceil() + 1.0).min(FURTHEST) as usize } else { 0 };
            if finished { by.max(FINISHED) } else { by }
        };
        for DifferingArea { left, top, right, bottom } in CellGrid::new(&drawn[0], &drawn[1], ppi, &slack).regions() {
            let on = |area: Rect| {
                let place = Rect::new(area.x0 + left, area.y0 + top, area.x0 + right, area.y0 + bottom);
                place.intersect(area)
            };
            places.push(DifferingPlace { old: on(was), new: on(now) });
        }
    }
    places
}

struct PictureCanvas {
    width: usize,
    height: usize,
    rgb: Vec<u8>,
}

impl PictureCanvas {
    /// A frame just around a place.
    fn frame(&mut self, rect: Rect, scale: f64, (left, top): (usize, usize)) {
        let pixel = |mm: f64, start: usize| (mm * scale + start as f64).round().max(0.0) as usize;
        let [x0, x1] = [pixel(rect.x0, left), pixel(rect.x1, left)];
        let [y0, y1] = [pixel(rect.y0, top), pixel(rect.y1, top)];
        for away in 0..FRAME {
            let colour = if CORE.contains(&away) { SIGNAL } else { HALO };
            let (head, foot) = (y0.saturating_sub(away), y1 + away);
            let (one, other) = (x0.saturating_sub(away), x1 + away);
            for x in one..=other {
                self.set(x, head, colour);
                self.set(x, foot, colour);
            }
            for y in head..=foot {
                self.set(one, y, colour);
                self.set(other, y, colour);
            }
        }
    }

    fn set(&mut self, x: usize, y: usize, colour: [u8; 3]) {
        if x < self.width && y < self.height {
            let at = (y * self.width + x) * 3;
            self.rgb[at..at + 3].copy_from_slice(&colour);
        }
    }
}
