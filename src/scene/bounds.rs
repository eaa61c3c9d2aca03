//! How far each item reaches.

use crate::ground::{Affine, MM_PER_INCH, Path, Rect, Shape};
use crate::scene::{GlyphRun, Group, Item, Mark, PlacedPicture};

impl Item {
    /// The box around what it prints, in sheet millimetres; `None` when it prints nothing.
    pub fn bounds(&self) -> Option<Rect> {
        match &self.mark {
            Mark::Fill { path, .. } => path_bounds(path),
            Mark::Stroke { path, line, .. } => line.bounds(path),
            Mark::Glyphs(run) => run.bounds(),
            Mark::Picture(placed) => Some(placed.bounds()),
            Mark::Group(group) => group.bounds(),
        }
    }
}

impl GlyphRun {
    /// The outline of every glyph as one path on the sheet.
    pub fn outline(&self) -> Path {
        let mut whole = Path::new();
        for (at, glyph) in self.glyphs.iter().enumerate() {
            let place = self.transform * self.placing(at);
            whole.extend(self.font.outline(glyph.id).iter().map(|element| place * element));
        }
        whole
    }

    /// From a font's outlines (one unit an em, y down) to the run's space, for one of its glyphs.
    pub fn placing(&self, at: usize) -> Affine {
        let (x, y) = self.glyphs.get(at).map_or((0.0, 0.0), |glyph| (glyph.x, glyph.y));
        let scale = Affine::scale_non_uniform(self.size * self.stretch, self.size);
        Affine::translate((x, y)) * Affine::rotate(self.turn(at)) * scale
    }

    /// How far a glyph is turned, in radians clockwise.
    pub fn turn(&self, at: usize) -> f64 {
        self.turns.get(at).copied().unwrap_or(0.0)
    }

    /// The box of every glyph that prints, on the sheet.
    pub fn boxes(&self) -> impl Iterator<Item = Rect> + '_ {
        self.glyphs.iter().enumerate().filter_map(|(at, glyph)| {
            let bounds = self.font.glyph_bounds(glyph.id)?;
            Some((self.transform * self.placing(at)).transform_rect_bbox(bounds))
        })
    }

    pub fn bounds(&self) -> Option<Rect> {
        self.boxes().reduce(|a, b| a.union(b))
    }
}

impl PlacedPicture {
    /// Millimetres across and down on the sheet.
    pub fn size(&self) -> (f64, f64) {
        let [a, b, c, d, ..] = self.transform.as_coeffs();
        (a.hypot(b).max(1e-9), c.hypot(d).max(1e-9))
    }

    pub fn bounds(&self) -> Rect {
        self.transform.transform_rect_bbox(Rect::new(0.0, 0.0, 1.0, 1.0))
    }

    /// Whether none of its pixels prints: each is clear or, of a picture in one ink, without darkness.
    pub fn is_blank(&self) -> bool {
        let blank = |shows: &[u8]| shows.iter().all(|share| *share == 0);
        match (&self.paint, self.picture.alpha()) {
            (_, Some(alpha)) => blank(alpha),
            (Some(_), None) => blank(&self.picture.darkness()),
            (None, None) => false,
        }
    }

    /// Pixels per inch at the size that it prints, in the direction that has fewer.
    pub fn ppi(&self) -> f64 {
        let [a, b, c, d, ..] = self.transform.as_coeffs();
        let across = f64::from(self.picture.width()) / (a.hypot(b) / MM_PER_INCH);
        let down = f64::from(self.picture.height()) / (c.hypot(d) / MM_PER_INCH);
        across.min(down)
    }
}

impl Group {
    pub fn bounds(&self) -> Option<Rect> {
        let all = self.items.iter().filter_map(Item::bounds).reduce(|a, b| a.union(b))?;
        let clip = self.clip.as_ref().map(|(clip, _)| path_bounds(clip));
        let veil = self.veil.as_ref().map(|veil| veil.iter().filter_map(Item::bounds).reduce(|a, b| a.union(b)));
        let Some(cut) = clip.into_iter().chain(veil).reduce(|a, b| Some(a?.intersect(b?))) else { return Some(all) };
        let cut = all.intersect(cut?);
        (cut.width() > 0.0 && cut.height() > 0.0).then_some(cut)
    }
}

fn path_bounds(path: &Path) -> Option<Rect> {
    if path.elements().is_empty() { None } else { Some(path.bounding_box()) }
}
