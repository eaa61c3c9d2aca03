//! Marks made ready: outlines in pixels, pictures scaled, inks looked up, once for all tiles.

use crate::ground::{Blend, FillRule, Ink, Paint, Rect, rect_path};
use crate::raster::brush::Brush;
use crate::raster::glyphs;
use crate::raster::outline::{FLATNESS, PixelOutline, is_drawable};
use crate::raster::pictures;
use crate::raster::plate_shares::{PlateShares, Ramp, byte};
use crate::raster::raster_context::RasterContext;
use crate::raster::reach::pixel_bounds;
use crate::raster::window::Window;
use crate::scene::{Group, Item, Mark};
use std::sync::Arc;

pub struct ReadyItem {
    /// In pixels; nothing of the mark lies outside.
    pub bounds: Rect,
    pub mark: ReadyMark,
}

pub enum ReadyMark {
    /// Outlines and how far each is moved.
    Shape(Vec<(Arc<PixelOutline>, (f64, f64))>, Brush),
    Group(ReadyGroup),
}

pub struct ReadyGroup {
    pub clip: Option<PixelOutline>,
    pub opacity: u8,
    pub multiply: bool,
    /// As much of it shows as these lay black.
    pub veil: Option<Vec<ReadyItem>>,
    pub items: Vec<ReadyItem>,
}

impl ReadyGroup {
    pub fn is_plain(&self) -> bool {
        self.opacity == 255 && !self.multiply && self.veil.is_none()
    }
}

impl RasterContext<'_> {
    /// `None` for a mark that prints nothing in the tiles. `view` is the area with all clips around the mark.
    pub fn ready(&self, item: &Item, view: Window) -> Option<ReadyItem> {
        let bounds = pixel_bounds(item, self.to_pixels)?;
        if !self.tiles.iter().any(|tile| tile.overlaps(bounds)) {
            return None;
        }
        let mark = match &item.mark {
            Mark::Fill { path, rule, paint } => {
                let outline = PixelOutline::new(path, *rule, self.to_pixels);
                ReadyMark::Shape(still(outline), self.brush(paint)?)
            }
            Mark::Stroke { path, line, paint } => {
                if !is_drawable(&(self.to_pixels * path)) || line.width <= 0.0 {
                    return None;
                }
                let outline = line.outline(path, FLATNESS / self.scale());
                ReadyMark::Shape(
                    still(PixelOutline::new(&outline, FillRule::NonZero, self.to_pixels)),
                    self.brush(paint)?,
                )
            }
            Mark::Glyphs(run) => ReadyMark::Shape(glyphs::outlines(run, self.to_pixels), self.brush(&run.paint)?),
            Mark::Picture(placed) => {
                let scaled = pictures::scaled(placed, view, self)?;
                let brush = match &placed.paint {
                    Some(ink) => Brush::Veil(scaled, self.stamp(ink)),
                    None => Brush::Picture(scaled),
                };
                let frame = placed.transform * rect_path(Rect::new(0.0, 0.0, 1.0, 1.0));
                ReadyMark::Shape(still(PixelOutline::new(&frame, FillRule::NonZero, self.to_pixels)), brush)
            }
            Mark::Group(group) => ReadyMark::Group(self.group(group, bounds, view)),
        };
        Some(ReadyItem { bounds, mark })
    }

    fn group(&self, group: &Group, bounds: Rect, view: Window) -> ReadyGroup {
        let view = view.cut(bounds);
        let ready = |items: &[Item]| items.iter().filter_map(|item| self.ready(item, view)).collect();
        ReadyGroup {
            clip: group.clip.as_ref().map(|(path, rule)| PixelOutline::new(path, *rule, self.to_pixels)),
            opacity: byte(group.opacity),
            multiply: group.blend == Blend::Multiply,
            veil: group.veil.as_deref().map(ready),
            items: ready(&group.items),
        }
    }

    fn brush(&self, paint: &Paint) -> Option<Brush> {
        match paint {
            Paint::None => None,
            Paint::Ink(ink) => Some(Brush::Ink(self.stamp(ink))),
            Paint::Gradient(gradient) => {
                let course = gradient.course.carried(self.to_pixels, self.scale());
                Ramp::new(gradient, self.spots, course).map(Brush::Gradient)
            }
        }
    }

    fn stamp(&self, ink: &Ink) -> PlateShares {
        PlateShares::new(ink, self.spots)
    }

    /// Pixels a millimetre.
    fn scale(&self) -> f64 {
        self.to_pixels.as_coeffs()[0]
    }
}

fn still(outline: PixelOutline) -> Vec<(Arc<PixelOutline>, (f64, f64))> {
    vec![(Arc::new(outline), (0.0, 0.0))]
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::Darkroom;
    use crate::ground::{Line, Path};
    use crate::raster::trial::{draw, rect, scene, shape};
    use crate::raster::{plates, screen};

    #[test]
    fn odd_paths_neither_stop_nor_stain() {
        let odd = [f64::NAN, f64::INFINITY, 1e300, -1e300, 1e12].map(|far| {
            let mut path = Path::new();
            path.move_to((1.0, 1.0));
            path.curve_to((far, 2.0), (3.0, far), (4.0, 4.0));
            path
        });
        let dashed = |width| Line { dashes: vec![1e-6, 0.02], ..Line::new(width) };
        let lines = [0.0, -1.0, f64::NAN, f64::INFINITY].map(dashed);
        let fills = odd.iter().map(|path| shape(path.clone(), Ink::black(1.0)));
        let stroke = |path: &Path, line: Line| Mark::Stroke { path: path.clone(), line, paint: Ink::black(1.0).into() };
        let straight = rect_path(Rect::new(1.0, 1.0, 5.0, 5.0));
        let strokes = odd.iter().map(|path| stroke(path, dashed(1.0)));
        let thin = lines.into_iter().map(|line| stroke(&straight, line));
        let plates = draw(&scene(9.0, 9.0, fills.chain(strokes).chain(thin).collect()));
        assert!(plates.process[3].iter().all(|ink| *ink == 0));
    }

    #[test]
    fn odd_areas_are_still_pictures() {
        let scene = scene(9.0, 9.0, vec![rect(0.0, 0.0, 9.0, 9.0, Ink::black(1.0))]);
        let darkroom = Darkroom::default();
        for (area, ppi) in [
            (Rect::ZERO, 25.4),
            (scene.sheet.trim, 0.0),
            (scene.sheet.trim, f64::NAN),
            (Rect::new(5.0, 5.0, 1.0, 1.0), -3.0),
        ] {
            assert_eq!(screen(&scene, area, ppi, &darkroom).rgb.len(), 3);
            assert_eq!(plates(&scene, area, ppi, &darkroom).process[0].len(), 1);
        }
    }
}
