//! Pixels: effects of a drawing that paths cannot show, such as a blur, drawn as pictures at the resolution of the press.

use crate::assets::decode::SIDE_LIMIT;
use crate::assets::drawing::effort::{COVER, Effort, effort};
use crate::assets::drawing::node_weight::node_weight;
use crate::assets::drawing::taken_in::taken_in;
use crate::assets::drawing::trace::MM_PER_PX;
use crate::assets::guard::guarded;
use crate::assets::{Model, Picture, Pixels};
use crate::ground::{Affine, Digest, MM_PER_INCH, Memo, Point, Rect};
use resvg::tiny_skia;
use std::collections::BTreeSet;
use std::sync::Arc;

/// One element of a drawing, with all that is in it.
pub struct PixelView {
    node: usvg::Node,
    /// From the space around the element to millimetres.
    above: Affine,
    /// What of the drawing it covers, in millimetres.
    pub place: Rect,
    /// What a message calls it: its id, or what it is and where.
    pub name: String,
    /// The effect that paths cannot show: `a filter`.
    pub why: String,
    /// Of the file and its place in it.
    pub key: Digest,
    /// The work that it takes however coarse it is.
    pub starting: f64,
}

/// Pixels per inch, tried in this order until the work is within bounds.
pub const RESOLUTIONS: [f64; 7] = [450.0, 360.0, 300.0, 220.0, 150.0, 100.0, 72.0];

/// Millimetres that are seen of an effect, at the least.
const LEAST: f64 = 5.0;
/// And a little more.
const THIRD: f64 = 0.35;
/// Of a pixel.
const ROUNDED: f64 = 1e-6;

impl PixelView {
    /// `None` where nothing of it is on the canvas.
    pub fn new(
        node: &usvg::Node,
        above: Affine,
        (why, key): (&str, Digest),
        canvas: Rect,
    ) -> Result<Option<PixelView>, String> {
        let Some(reach) = node.abs_layer_bounding_box() else { return Ok(None) };
        // Nodes know their place on the canvas, whose scale is that of every drawing.
        let [x0, y0, x1, y1] = [reach.left(), reach.top(), reach.right(), reach.bottom()].map(f64::from);
        let place = Affine::scale(MM_PER_PX).transform_rect_bbox(Rect::new(x0, y0, x1, y1)).intersect(canvas);
        if !(place.width() > 0.0 && place.height() > 0.0) {
            return Ok(None);
        }
        let name = id(node).map_or_else(|| placed(node, place), |id| format!("`{id}`"));
        let mut view = PixelView { node: node.clone(), above, place, name, why: why.to_owned(), key, starting: 0.0 };
        view.starting = view.effort(place, 0.0).work;
        // A frame may show no more of it than this; what shows is measured again where it is placed.
        let least = view.part(Rect::from_center_size(place.center(), (LEAST, LEAST))).unwrap_or(place);
        if view.effort(least, RESOLUTIONS[RESOLUTIONS.len() - 1] / MM_PER_INCH).is_within(COVER) {
            return Ok(Some(view));
        }
        Err(format!("{why} that takes too long to draw ({})", view.name))
    }

    /// What of it is drawn where only a part of the drawing shows: that part, where it depends on nothing far away, and else so
    /// much that the library leaves out nothing. It cuts a layer to what lies around its picture, twice as wide and high on each
    /// side; so nothing is cut that is three times as wide and high as its picture.
    pub fn part(&self, shown: Rect) -> Option<Rect> {
        let part = self.place.intersect(shown);
        if !(part.width() > 0.0 && part.height() > 0.0) {
            return None;
        }
        let nearest = 2.0 * part.width().min(part.height());
        if taken_in(&self.node).is_some_and(|pixels| pixels * MM_PER_PX <= nearest) {
            return Some(part);
        }
        let reach = self.node.abs_layer_bounding_box()?;
        let (across, down) = (f64::from(reach.width()), f64::from(reach.height()));
        let (x0, x1) = widened((part.x0, part.x1), (self.place.x0, self.place.x1), across * MM_PER_PX * THIRD);
        let (y0, y1) = widened((part.y0, part.y1), (self.place.y0, self.place.y1), down * MM_PER_PX * THIRD);
        Some(Rect::new(x0, y0, x1, y1))
    }

    /// What a part of it takes at so many pixels a millimetre.
    pub fn effort(&self, part: Rect, density: f64) -> Effort {
        let area = part.area() / (MM_PER_PX * MM_PER_PX);
        effort(&self.node, area, density * MM_PER_PX)
    }

    /// Whether the picture of a part has no more pixels at a side than any other picture may have.
    pub fn has_room(part: Rect, density: f64) -> bool {
        part.width().max(part.height()) * density <= f64::from(SIDE_LIMIT)
    }

    /// The picture of a part, so many pixels a millimetre, and where it lies; `kept` has those that were drawn before. Its pixels
    /// are those of the whole.
    pub fn picture(&self, part: Rect, density: f64, kept: &Memo<Picture>) -> Option<(Arc<Picture>, Rect)> {
        let before = |side: f64| (side * density + ROUNDED).floor().max(0.0);
        let (left, top) = (before(part.x0 - self.place.x0), before(part.y0 - self.place.y0));
        let corner = Point::new(self.place.x0 + left / density, self.place.y0 + top / density);
        let (width, height) = (pixels((part.x1 - corner.x) * density), pixels((part.y1 - corner.y) * density));
        let place = Rect::from_origin_size(corner, (f64::from(width) / density, f64::from(height) / density));
        let numbers =
            [density, left, top, f64::from(width), f64::from(height)].map(|number| number.to_bits().to_le_bytes());
        let key = Digest::of_all(&[self.key.bytes(), numbers.as_flattened()]);
        let drawn = || guarded(|| self.drawn((width, height), corner, density)).flatten().ok_or(());
        Some((kept.get_or(key, drawn).ok()?, place))
    }

    fn drawn(&self, (width, height): (u32, u32), corner: Point, density: f64) -> Option<Picture> {
        let mut pixmap = tiny_skia::Pixmap::new(width, height)?;
        let whole = Affine::scale(density) * Affine::translate(-corner.to_vec2()) * self.above;
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
        let alpha = alpha.iter().any(|alpha| *alpha < 255).then_some(alpha);
        let pixels = Pixels { alpha, ..Pixels::opaque(samples) };
        Some(Picture::of_samples(&self.name, Model::Rgb, (width, height), pixels))
    }

    /// The colours of its shapes, as the file states them.
    pub fn colours(&self) -> BTreeSet<[u8; 3]> {
        let mut all = BTreeSet::new();
        colours(&self.node, &mut all);
        all
    }

    /// About how many bytes it takes in memory; its picture is kept elsewhere.
    pub fn weight(&self) -> usize {
        node_weight(&self.node)
    }
}

/// A stretch within another, at least so long.
fn widened((start, end): (f64, f64), (first, last): (f64, f64), least: f64) -> (f64, f64) {
    let length = (end - start).max(least).min(last - first);
    let start = start.min(last - length).max(first);
    (start, start + length)
}

fn pixels(side: f64) -> u32 {
    (side - ROUNDED).ceil().clamp(1.0, f64::from(SIDE_LIMIT)) as u32
}

/// What an element without an id is, and where in the drawing.
fn placed(node: &usvg::Node, place: Rect) -> String {
    fn kind(node: &usvg::Node) -> &'static str {
        match node {
            usvg::Node::Group(group) => match group.children() {
                [only] => kind(only),
                _ => "a group",
            },
            usvg::Node::Text(_) => "a text",
            _ => "a shape",
        }
    }
    format!("{} without an id, {:.0} mm from the left and {:.0} mm from the top", kind(node), place.x0, place.y0)
}

/// The first id that it or something in it has.
fn id(node: &usvg::Node) -> Option<&str> {
    let own = Some(node.id()).filter(|id| !id.is_empty());
    own.or_else(|| match node {
        usvg::Node::Group(group) => group.children().iter().find_map(id),
        _ => None,
    })
}

fn colours(node: &usvg::Node, all: &mut BTreeSet<[u8; 3]>) {
    let path = match node {
        usvg::Node::Group(group) => return group.children().iter().for_each(|child| colours(child, all)),
        usvg::Node::Path(path) => path,
        usvg::Node::Text(text) => return text.flattened().children().iter().for_each(|child| colours(child, all)),
        usvg::Node::Image(_) => return,
    };
    let of = |colour: usvg::Color| [colour.red, colour.green, colour.blue];
    let paints = [path.fill().map(usvg::Fill::paint), path.stroke().map(usvg::Stroke::paint)];
    for paint in paints.into_iter().flatten() {
        match paint {
            usvg::Paint::Color(colour) => drop(all.insert(of(*colour))),
            usvg::Paint::LinearGradient(gradient) => all.extend(gradient.stops().iter().map(|stop| of(stop.color()))),
            usvg::Paint::RadialGradient(gradient) => all.extend(gradient.stops().iter().map(|stop| of(stop.color()))),
            usvg::Paint::Pattern(pattern) => pattern.root().children().iter().for_each(|child| colours(child, all)),
        }
    }
}

/// As messages call it.
impl std::fmt::Display for PixelView {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        write!(f, "{} ({})", self.name, self.why)
    }
}

impl std::fmt::Debug for PixelView {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        std::fmt::Display::fmt(self, f)
    }
}
