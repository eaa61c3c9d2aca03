//! Effort: what it takes to draw an element as a picture, told before it is drawn: passes over all of its pixels, and layers that
//! are kept meanwhile. The library draws what it is asked for, however much it is.

use crate::assets::drawing::trace;
use usvg::filter::Kind;

/// Counted in pixels.
#[derive(Clone, Copy, Debug, Default)]
pub struct Effort {
    /// Pixels times passes, all together.
    pub work: f64,
    /// Pixels of the layers that are in memory at a time.
    pub layers: f64,
    /// Pixels of the pictures that stay.
    pub pixels: f64,
}

/// What all effects of a cover may take together: a pass over a pixel takes some nanoseconds, and each pixel four bytes.
pub const COVER: Effort = Effort { work: 600e6, layers: 100e6, pixels: 40e6 };
/// What a drawing takes of what others have left, at the most.
const SHARE: f64 = 0.75;
/// A layer is cut to five times the picture's width and height.
const LARGEST: f64 = 25.0;
/// Blurs over more pixels than a picture may have at a side.
const WIDEST: f64 = 60_000.0;

impl Effort {
    /// Layers lie in memory beside the pictures.
    pub fn is_within(self, limit: Effort) -> bool {
        self.work <= limit.work && self.layers + self.pixels <= limit.layers && self.pixels <= limit.pixels
    }

    /// How much of a limit it takes, by whatever it takes most of.
    pub fn share_of(self, limit: Effort) -> f64 {
        (self.work / limit.work).max((self.layers + self.pixels) / limit.layers).max(self.pixels / limit.pixels)
    }

    /// One after the other.
    #[must_use]
    pub fn beside(self, other: Effort) -> Effort {
        Effort {
            work: self.work + other.work,
            layers: self.layers.max(other.layers),
            pixels: self.pixels + other.pixels,
        }
    }

    /// What the next drawing may take where so much is spent: a share of what is left, so that others find some, too.
    #[must_use]
    pub fn next_share(self, spent: Effort) -> Effort {
        Effort {
            work: (self.work - spent.work) * SHARE,
            layers: self.layers - spent.pixels,
            pixels: (self.pixels - spent.pixels) * SHARE,
        }
    }
}

/// For a picture of so many square units, and so many pixels to a unit of the canvas.
pub fn effort(node: &usvg::Node, area: f64, density: f64) -> Effort {
    let picture = EffortScale { pixels: area * density * density, area, density };
    let inner = picture.node(node, None);
    Effort {
        work: picture.pixels * 3.0 + inner.work,
        layers: picture.pixels * 2.0 + inner.layers,
        pixels: picture.pixels,
    }
}

struct EffortScale {
    pixels: f64,
    area: f64,
    density: f64,
}

impl EffortScale {
    /// `layer` is the share of the picture's pixels around a node whose place is not known.
    fn node(&self, node: &usvg::Node, layer: Option<f64>) -> Effort {
        match node {
            usvg::Node::Group(group) => self.group(group, layer),
            usvg::Node::Path(path) => self.path(path, layer),
            usvg::Node::Text(text) => self.children(text.flattened(), layer),
            usvg::Node::Image(_) => Effort::default(),
        }
    }

    fn children(&self, group: &usvg::Group, layer: Option<f64>) -> Effort {
        group.children().iter().map(|child| self.node(child, layer)).fold(Effort::default(), Effort::beside)
    }

    fn group(&self, group: &usvg::Group, layer: Option<f64>) -> Effort {
        let mut inside = self.children(group, layer);
        if !group.should_isolate() {
            return inside;
        }
        let reach = group.abs_layer_bounding_box();
        let own = f64::from(reach.width()) * f64::from(reach.height()) / self.area;
        let share = layer.unwrap_or(own).clamp(0.0, LARGEST);
        let scale = trace::affine(group.abs_transform()).determinant().abs().sqrt() * self.density;
        let (mut passes, mut layers) = (4.0, 1.0);
        for primitive in group.filters().iter().flat_map(|filter| filter.primitives()) {
            passes += 6.0 + cost(primitive.kind(), scale);
            layers += 2.0;
            if let Kind::Image(image) = primitive.kind() {
                inside = inside.beside(self.children(image.root(), Some(share)));
            }
        }
        let mut clip = group.clip_path();
        while let Some(one) = clip {
            (passes, layers) = (passes + 4.0, layers + 1.0);
            inside = inside.beside(self.children(one.root(), Some(share)));
            clip = one.clip_path();
        }
        let mut mask = group.mask();
        while let Some(one) = mask {
            (passes, layers) = (passes + 6.0, layers + 2.0);
            inside = inside.beside(self.children(one.root(), Some(share)));
            mask = one.mask();
        }
        let pixels = share * self.pixels;
        Effort { work: inside.work + passes * pixels, layers: inside.layers + layers * pixels, pixels: 0.0 }
    }

    fn path(&self, path: &usvg::Path, layer: Option<f64>) -> Effort {
        let reach = path.abs_stroke_bounding_box();
        let own = f64::from(reach.width()) * f64::from(reach.height()) / self.area;
        let share = layer.map_or(own.min(1.0), |layer| layer.min(LARGEST));
        let paints = [path.fill().map(usvg::Fill::paint), path.stroke().map(usvg::Stroke::paint)];
        let drawn = Effort { work: 2.0 * share * self.pixels + STARTING, ..Effort::default() };
        paints.into_iter().flatten().fold(drawn, |sum, paint| match paint {
            usvg::Paint::Pattern(pattern) => sum.beside(self.pattern(path, pattern)),
            usvg::Paint::LinearGradient(gradient) => sum.beside(self.gradient(gradient, share)),
            usvg::Paint::RadialGradient(gradient) => sum.beside(self.gradient(gradient, share)),
            usvg::Paint::Color(_) => sum.beside(Effort { work: 4.0 * share * self.pixels, ..Effort::default() }),
        })
    }

    /// Every pixel is compared with all stops.
    fn gradient(&self, gradient: &usvg::BaseGradient, share: f64) -> Effort {
        let passes = (gradient.stops().len() as f64 * STOP).max(4.0);
        Effort { work: passes * share * self.pixels, ..Effort::default() }
    }

    /// Its tile is drawn once, as large as it is; every pixel takes 16 of its samples.
    fn pattern(&self, path: &usvg::Path, pattern: &usvg::Pattern) -> Effort {
        let here = trace::affine(path.abs_transform()) * trace::affine(pattern.transform());
        let rect = pattern.rect();
        let tile = f64::from(rect.width()) * f64::from(rect.height()) * here.determinant().abs() * self.density.powi(2);
        let inside = self.children(pattern.root(), Some((tile / self.pixels).max(1.0)));
        Effort { work: inside.work + 4.0 * tile + 30.0 * self.pixels, layers: inside.layers + tile, pixels: 0.0 }
    }
}

/// What a path takes however small it is, counted in pixels.
const STARTING: f64 = 500.0;
/// Passes that a stop of a gradient takes.
const STOP: f64 = 0.25;

/// Passes that a filter primitive takes, at so many pixels a unit.
fn cost(kind: &Kind, scale: f64) -> f64 {
    let wide = |x: f64, y: f64| if x.max(y) * scale > WIDEST { f64::INFINITY } else { 0.0 };
    match kind {
        Kind::GaussianBlur(blur) => 30.0 + wide(f64::from(blur.std_dev_x().get()), f64::from(blur.std_dev_y().get())),
        Kind::DropShadow(blur) => 40.0 + wide(f64::from(blur.std_dev_x().get()), f64::from(blur.std_dev_y().get())),
        Kind::ConvolveMatrix(matrix) => 4.0 * f64::from(matrix.matrix().columns()) * f64::from(matrix.matrix().rows()),
        Kind::Morphology(shape) => {
            let side = |radius: f32| 2.0 * f64::from(radius) * scale + 1.0;
            2.0 * side(shape.radius_x().get()) * side(shape.radius_y().get())
        }
        Kind::Turbulence(noise) => 60.0 * f64::from(noise.num_octaves()),
        Kind::DiffuseLighting(_) | Kind::SpecularLighting(_) | Kind::Tile(_) => 30.0,
        Kind::Merge(merge) => 4.0 * merge.inputs().len() as f64,
        _ => 10.0,
    }
}
