//! Pixels: what of a drawing no path says, such as a blur, drawn as a picture at the resolution of the press.

use crate::assets::drawing::effort::{Effort, effort};
use crate::assets::guard::guarded;
use crate::assets::{Model, Picture, Pixels};
use crate::ground::{Affine, MM_PER_INCH, Rect};
use resvg::tiny_skia;
use std::sync::{Arc, Mutex, PoisonError};

/// One element of a drawing, with all that is in it.
pub struct PixelView {
    node: usvg::Node,
    /// From the space around the element to millimetres.
    above: Affine,
    /// What of the drawing it covers, in millimetres.
    pub place: Rect,
    /// What a message calls it: its id, or what it is.
    pub name: String,
    /// What no path says: `a filter`.
    pub why: String,
    made: Mutex<Option<(u64, Arc<Picture>)>>,
}

/// Pixels per inch, tried in this order until the work is within bounds.
pub const RESOLUTIONS: [f64; 7] = [450.0, 360.0, 300.0, 220.0, 150.0, 100.0, 72.0];

impl PixelView {
    /// `None` where nothing of it is on the canvas.
    pub fn new(node: &usvg::Node, above: Affine, why: &str, canvas: Rect) -> Result<Option<PixelView>, String> {
        let Some(reach) = node.abs_layer_bounding_box() else { return Ok(None) };
        // Nodes know their place on the canvas, whose scale is that of every drawing.
        let [x0, y0, x1, y1] = [reach.left(), reach.top(), reach.right(), reach.bottom()].map(f64::from);
        let place = Affine::scale(MM_PER_PX).transform_rect_bbox(Rect::new(x0, y0, x1, y1)).intersect(canvas);
        if !(place.width() > 0.0 && place.height() > 0.0) {
            return Ok(None);
        }
        let name = id(node).map_or_else(|| "an element without an id".to_owned(), |id| format!("`{id}`"));
        let view = PixelView { node: node.clone(), above, place, name, why: why.to_owned(), made: Mutex::default() };
        if view.effort(RESOLUTIONS[RESOLUTIONS.len() - 1] / MM_PER_INCH).is_within() {
            return Ok(Some(view));
        }
        Err(format!("{why} that takes too long to draw ({})", view.name))
    }

    /// What it takes at so many pixels a millimetre.
    pub fn effort(&self, density: f64) -> Effort {
        let area = self.place.area() / (MM_PER_PX * MM_PER_PX);
        effort(&self.node, area, density * MM_PER_PX)
    }

    /// Its picture, so many pixels a millimetre, and where it lies.
    pub fn picture(&self, density: f64) -> Option<(Arc<Picture>, Rect)> {
        let (width, height) = (pixels(self.place.width() * density), pixels(self.place.height() * density));
        let place = Rect::new(
            self.place.x0,
            self.place.y0,
            self.place.x0 + f64::from(width) / density,
            self.place.y0 + f64::from(height) / density,
        );
        let mut made = self.made.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some((_, picture)) = made.as_ref().filter(|(known, _)| *known == density.to_bits()) {
            return Some((picture.clone(), place));
        }
        let picture = Arc::new(guarded(|| self.drawn((width, height), density)).flatten()?);
        *made = Some((density.to_bits(), picture.clone()));
        Some((picture, place))
    }

    fn drawn(&self, (width, height): (u32, u32), density: f64) -> Option<Picture> {
        let mut pixmap = tiny_skia::Pixmap::new(width, height)?;
        let whole = Affine::scale(density) * Affine::translate(-self.place.origin().to_vec2()) * self.above;
        let [a, b, c, d, e, f] = whole.as_coeffs().map(|number| number as f32);
        let reach = self.node.abs_layer_bounding_box()?;
        // The library moves a node to the corner of its picture; here it stays where it is.
        let transform = tiny_skia::Transform::from_row(a, b, c, d, e, f).pre_translate(reach.x(), reach.y());
        resvg::render_node(&self.node, transform, &mut pixmap.as_mut())?;
        let mut samples = Vec::with_capacity(pixmap.pixels().len() * 3);
        let mut alpha = Vec::with_capacity(pixmap.pixels().len());
        for pixel in pixmap.pixels() {
            let colour = pixel.demultiply();
            samples.extend([colour.red(), colour.green(), colour.blue()]);
            alpha.push(colour.alpha());
        }
        let pixels = Pixels { alpha: Some(alpha), ..Pixels::opaque(samples) };
        Some(Picture::of_samples(&self.name, Model::Rgb, (width, height), pixels))
    }

    /// Bytes in memory, near enough; its picture is not counted.
    pub fn weight(&self) -> usize {
        elements(&self.node) * size_of::<usvg::Path>()
    }
}

const MM_PER_PX: f64 = MM_PER_INCH / 96.0;
fn pixels(side: f64) -> u32 {
    (side - 1e-6).ceil().clamp(1.0, 30_000.0) as u32
}

/// The first id that it or something in it has.
fn id(node: &usvg::Node) -> Option<&str> {
    let own = Some(node.id()).filter(|id| !id.is_empty());
    own.or_else(|| match node {
        usvg::Node::Group(group) => group.children().iter().find_map(id),
        _ => None,
    })
}

fn elements(node: &usvg::Node) -> usize {
    match node {
        usvg::Node::Group(group) => 1 + group.children().iter().map(elements).sum::<usize>(),
        _ => 1,
    }
}

impl std::fmt::Debug for PixelView {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} ({})", self.name, self.why)
    }
}
