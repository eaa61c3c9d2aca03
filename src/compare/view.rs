//! View: a design that can be looked at: its scene, drawn again, or the flat picture that a build left beside its report.

use crate::assets::{Darkroom, Model, Picture};
use crate::ground::{MM_PER_INCH, Rect};
use crate::output::{flat_margins, flat_picture};
use crate::raster::screen;
use crate::record::{Area, CoverOutline};
use crate::scene::Scene;

pub enum View<'a> {
    Drawn(&'a Scene),
    Flat(&'a FlatView),
}

/// The cover within a flat picture.
pub struct FlatView {
    picture: Picture,
    trim: Rect,
    panels: Vec<(String, Rect)>,
    /// ViewPixels a millimetre, and where the cover begins.
    scale: f64,
    corner: f64,
}

/// ViewPixels that come of rounding.
const CRUMB: f64 = 3.0;

/// RGB, row by row.
pub struct ViewPixels {
    pub width: usize,
    pub height: usize,
    pub rgb: Vec<u8>,
}

impl View<'_> {
    pub fn trim(&self) -> Rect {
        match self {
            View::Drawn(scene) => scene.sheet.trim,
            View::Flat(flat) => flat.trim,
        }
    }

    pub fn panels(&self) -> Vec<(String, Rect)> {
        match self {
            View::Drawn(scene) => scene.sheet.panels.iter().map(|panel| (panel.name.to_string(), panel.rect)).collect(),
            View::Flat(flat) => flat.panels.clone(),
        }
    }

    /// Whether its pixels are of a finished picture: a little light on the folds, and pixels where they happen to lie.
    pub fn is_photographed(&self) -> bool {
        matches!(self, View::Flat(_))
    }

    pub fn draw(&self, area: Rect, ppi: f64, darkroom: &Darkroom) -> ViewPixels {
        match self {
            View::Drawn(scene) => {
                let drawn = screen(scene, area, ppi, darkroom);
                ViewPixels { width: drawn.width, height: drawn.height, rgb: drawn.rgb }
            }
            View::Flat(flat) => flat.draw(area, ppi),
        }
    }
}

impl FlatView {
    /// A flat picture and the report beside it; `None` when they do not belong together.
    pub fn new(picture: Picture, outline: &CoverOutline) -> Option<FlatView> {
        let sheet = outline.sheet.as_ref()?;
        let panels = sheet.panels.iter().map(|panel| (panel.name.clone(), rect(&panel.area))).collect();
        FlatView::of(picture, rect(&sheet.trim), panels)
    }

    /// A scene as a build would finish it, as fine as another flat.
    pub fn like(&self, scene: &Scene, darkroom: &Darkroom) -> Option<FlatView> {
        let flat_ppi = self.scale * MM_PER_INCH;
        let bytes = flat_picture(scene, flat_ppi, darkroom);
        let picture = Picture::open("flat.png", bytes.into()).ok()?;
        let panels = scene.sheet.panels.iter().map(|panel| (panel.name.to_string(), panel.rect)).collect();
        FlatView::of(picture, scene.sheet.trim, panels)
    }

    fn of(picture: Picture, trim: Rect, panels: Vec<(String, Rect)>) -> Option<FlatView> {
        let scale = picture.ppi()? / MM_PER_INCH;
        let [side, foot] = flat_margins((trim.height() * scale).round() as usize);
        let near =
            |mm: f64, margins: usize, pixels: u32| (mm * scale + margins as f64 - f64::from(pixels)).abs() < CRUMB;
        let fits = near(trim.width(), 2 * side, picture.width()) && near(trim.height(), side + foot, picture.height());
        // A report may say anything.
        let room = trim.inflate(1.0, 1.0);
        let within = |panel: &Rect| panel.width() >= 0.0 && panel.height() >= 0.0 && room.union(*panel) == room;
        let fits = fits && panels.iter().all(|(_, panel)| within(panel)) && picture.model() == Model::Rgb;
        fits.then_some(FlatView { picture, trim, panels, scale, corner: side as f64 })
    }

    /// Each pixel is the mean of those it covers.
    fn draw(&self, area: Rect, ppi: f64) -> ViewPixels {
        let step = MM_PER_INCH / ppi;
        let [width, height] = [area.width(), area.height()].map(|mm| (mm / step).round().max(1.0) as usize);
        let place = |mm: f64, origin: f64| (mm - origin) * self.scale + self.corner;
        let columns: Vec<_> =
            (0..width).map(|x| self.span(place(area.x0 + x as f64 * step, self.trim.x0), step)).collect();
        let mut rgb = Vec::with_capacity(width * height * 3);
        let samples = &self.picture.pixels().samples;
        let (wide, high) = (self.picture.width() as usize, self.picture.height() as usize);
        for y in 0..height {
            let rows = self.span(place(area.y0 + y as f64 * step, self.trim.y0), step);
            for columns in &columns {
                let (mut sum, mut weight) = ([0.0; 3], 0.0);
                for &(row, tall) in rows.iter().filter(|(row, _)| *row < high) {
                    for &(column, broad) in columns.iter().filter(|(column, _)| *column < wide) {
                        let at = (row * wide + column) * 3;
                        let share = tall * broad;
                        weight += share;
                        sum.iter_mut()
                            .zip(&samples[at..at + 3])
                            .for_each(|(sum, value)| *sum += share * f64::from(*value));
                    }
                }
                rgb.extend(sum.map(|sum| if weight > 0.0 { (sum / weight).round() as u8 } else { u8::MAX }));
            }
        }
        ViewPixels { width, height, rgb }
    }

    /// The source pixels under one pixel of the drawing, with their shares.
    fn span(&self, start: f64, step: f64) -> Vec<(usize, f64)> {
        let end = start + step * self.scale;
        let (first, last) = (start.floor().max(0.0) as usize, end.ceil().max(0.0) as usize);
        let share = |at: usize| (end.min(at as f64 + 1.0) - start.max(at as f64)).max(0.0);
        (first..last).map(|at| (at, share(at))).filter(|(_, share)| *share > 0.0).collect()
    }
}

fn rect(area: &Area) -> Rect {
    Rect::new(area.left, area.top, area.right(), area.bottom())
}
