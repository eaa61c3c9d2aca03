//! Resolution: how finely what no path says is drawn, all of a drawing alike.

use crate::assets::drawing::effort::Effort;
use crate::assets::drawing::part::{Drawing, DrawingPart};
use crate::assets::drawing::pixels::{PixelView, RESOLUTIONS};
use crate::ground::MM_PER_INCH;

/// Pixels of all pictures of a drawing.
const PIXELS: f64 = 40e6;

impl Drawing {
    /// How finely what no path says is drawn, in pixels per inch of the sheet, where the drawing is so many times as large there;
    /// `None` where even a coarse picture takes too long.
    pub fn resolution(&self, scale: f64) -> Option<f64> {
        let mut views = Vec::new();
        gather(&self.parts, &mut views);
        RESOLUTIONS.into_iter().find(|ppi| {
            let density = ppi / MM_PER_INCH * scale;
            let all = views.iter().map(|view| (view.place.area() * density * density, view.effort(density)));
            let total =
                all.fold((0.0, Effort::default()), |(pixels, sum), (more, effort)| (pixels + more, sum.beside(effort)));
            total.0 <= PIXELS && total.1.is_within()
        })
    }

    /// Visits what is drawn as pictures.
    pub fn pictured(&self, visit: &mut dyn FnMut(&PixelView)) {
        let mut views = Vec::new();
        gather(&self.parts, &mut views);
        views.into_iter().for_each(visit);
    }
}

fn gather<'a>(parts: &'a [DrawingPart], views: &mut Vec<&'a PixelView>) {
    for part in parts {
        match part {
            DrawingPart::Pixels(view) => views.push(view),
            DrawingPart::Group { parts, .. } | DrawingPart::Veiled { parts, .. } => gather(parts, views),
            DrawingPart::Fill { .. } | DrawingPart::Stroke { .. } | DrawingPart::Wash { .. } => {}
        }
    }
}
