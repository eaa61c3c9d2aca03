//! Marks made ready: outlines in pixels, pictures scaled, inks looked up, once for all tiles.

use crate::assets::{Darkroom, Profile};
use crate::ground::{Affine, Blend, Course, FillRule, Ink, Paint, Rect, Spot, rect_path};
use crate::raster::brush::Brush;
use crate::raster::canvas::{FLATNESS, Outline, Window};
use crate::raster::glyphs;
use crate::raster::pictures;
use crate::raster::reach::pixel_bounds;
use crate::raster::stamp::{Ramp, Stamp, byte};
use crate::scene::{Group, Item, Mark};
use std::sync::Arc;

/// What all marks of one drawing share.
pub struct Bench<'a> {
    pub to_pixels: Affine,
    pub spots: &'a [Arc<Spot>],
    pub profile: &'a Profile,
    pub darkroom: &'a Darkroom,
    /// The tiles to be drawn; marks outside are not made ready.
    pub tiles: Vec<Rect>,
}

pub struct Ready {
    /// In pixels; nothing of the mark lies outside.
    pub bounds: Rect,
    pub mark: ReadyMark,
}

pub enum ReadyMark {
    /// Outlines and how far each is moved.
    Shape(Vec<(Arc<Outline>, (f64, f64))>, Brush),
    Group(ReadyGroup),
}

pub struct ReadyGroup {
    pub clip: Option<Outline>,
    pub opacity: u8,
    pub multiply: bool,
    pub items: Vec<Ready>,
}

impl ReadyGroup {
    pub fn is_plain(&self) -> bool {
        self.opacity == 255 && !self.multiply
    }
}

impl Bench<'_> {
    /// `None` for a mark that prints nothing in the tiles. `view` is the area with all clips around the mark.
    pub fn ready(&self, item: &Item, view: Window) -> Option<Ready> {
        let bounds = pixel_bounds(item, self.to_pixels)?;
        if !self.tiles.iter().any(|tile| tile.overlaps(bounds)) {
            return None;
        }
        let mark = match &item.mark {
            Mark::Fill { path, rule, paint } => {
                let outline = Outline::new(path, *rule, self.to_pixels);
                ReadyMark::Shape(still(outline), self.brush(paint)?)
            }
            Mark::Stroke { path, line, paint } => {
                let outline = line.outline(path, FLATNESS / self.scale());
                ReadyMark::Shape(still(Outline::new(&outline, FillRule::NonZero, self.to_pixels)), self.brush(paint)?)
            }
            Mark::Glyphs(run) => ReadyMark::Shape(glyphs::outlines(run, self.to_pixels), self.brush(&run.paint)?),
            Mark::Picture(placed) => {
                let scaled = pictures::scaled(placed, self.to_pixels, view, self.profile, self.darkroom)?;
                let brush = match &placed.paint {
                    Some(ink) => Brush::Veil(scaled, self.stamp(ink)),
                    None => Brush::Picture(scaled),
                };
                let frame = placed.transform * rect_path(Rect::new(0.0, 0.0, 1.0, 1.0));
                ReadyMark::Shape(still(Outline::new(&frame, FillRule::NonZero, self.to_pixels)), brush)
            }
            Mark::Group(group) => ReadyMark::Group(self.group(group, bounds, view)),
        };
        Some(Ready { bounds, mark })
    }

    fn group(&self, group: &Group, bounds: Rect, view: Window) -> ReadyGroup {
        let view = view.cut(bounds);
        ReadyGroup {
            clip: group.clip.as_ref().map(|(path, rule)| Outline::new(path, *rule, self.to_pixels)),
            opacity: byte(group.opacity),
            multiply: group.blend == Blend::Multiply,
            items: group.items.iter().filter_map(|item| self.ready(item, view)).collect(),
        }
    }

    fn brush(&self, paint: &Paint) -> Option<Brush> {
        match paint {
            Paint::Ink(ink) => Some(Brush::Ink(self.stamp(ink))),
            Paint::Gradient(gradient) => {
                let course = match gradient.course {
                    Course::Linear { from, to } => {
                        Course::Linear { from: self.to_pixels * from, to: self.to_pixels * to }
                    }
                    Course::Radial { centre, radius } => {
                        Course::Radial { centre: self.to_pixels * centre, radius: radius * self.scale() }
                    }
                };
                Ramp::new(gradient, self.spots, course).map(Brush::Gradient)
            }
        }
    }

    fn stamp(&self, ink: &Ink) -> Stamp {
        Stamp::new(ink, self.spots)
    }

    /// Pixels a millimetre.
    fn scale(&self) -> f64 {
        self.to_pixels.as_coeffs()[0]
    }
}

fn still(outline: Outline) -> Vec<(Arc<Outline>, (f64, f64))> {
    vec![(Arc::new(outline), (0.0, 0.0))]
}
