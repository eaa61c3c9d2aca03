//! Small scenes for tests.

use crate::assets::{Darkroom, Picture, Profile, Separation};
use crate::ground::{Affine, FillRule, Finish, Ink, Paint, Path, Rect, Span, Spot, rect_path};
use crate::raster::{Plates, plates};
use crate::scene::{Item, Job, Kind, Mark, Origin, PlacedPicture, Scene, Sheet, Surface};
use std::sync::Arc;

/// One pixel a millimetre.
pub const PPI: f64 = 25.4;

pub fn scene(width: f64, height: f64, marks: Vec<Mark>) -> Scene {
    let trim = Rect::new(0.0, 0.0, width, height);
    let sheet = Sheet {
        trim,
        bleed: trim.inflate(3.0, 3.0),
        panels: Vec::new(),
        folds: Vec::new(),
        bound_right: false,
        pixels: None,
    };
    let profile = Arc::new(Profile::bundled("coated").expect("coated is bundled"));
    Scene { sheet, job: Job::default(), profile, items: marks.into_iter().map(item).collect(), views: None }
}

pub fn item(mark: Mark) -> Item {
    let origin = Origin {
        span: Span::default(),
        panel: Surface::FRONT,
        element: "mark".to_owned(),
        kind: Kind::Shape,
        frame: Rect::ZERO,
    };
    Item { origin: Arc::new(origin), mark }
}

pub fn rect(x: f64, y: f64, width: f64, height: f64, paint: impl Into<Paint>) -> Mark {
    shape(rect_path(Rect::new(x, y, x + width, y + height)), paint)
}

pub fn shape(path: Path, paint: impl Into<Paint>) -> Mark {
    Mark::Fill { path, rule: FillRule::NonZero, paint: paint.into() }
}

pub fn spot(name: &str, finishing: bool) -> Arc<Spot> {
    Arc::new(Spot { name: name.to_owned(), look: [0.0, 0.6, 0.9, 0.0], finish: finishing.then_some(Finish::Foil) })
}

pub fn picture(
    width: u32,
    height: u32,
    colour: png::ColorType,
    samples: &[u8],
    transform: Affine,
    paint: Option<Ink>,
) -> Mark {
    let mut bytes = Vec::new();
    let mut encoder = png::Encoder::new(&mut bytes, width, height);
    encoder.set_color(colour);
    encoder.write_header().and_then(|mut writer| writer.write_image_data(samples)).expect("samples fill the picture");
    let picture = Picture::open("picture.png", bytes.into()).expect("a picture");
    Mark::Picture(PlacedPicture { picture: Arc::new(picture), transform, paint, separation: Separation::default() })
}

pub fn draw(scene: &Scene) -> Plates {
    plates(scene, scene.sheet.trim, PPI, &Darkroom::default())
}

impl Plates {
    /// All plates at one pixel, C, M, Y, K, then spots by name.
    pub fn at(&self, x: usize, y: usize) -> Vec<u8> {
        let planes = self.process.iter().chain(self.spots.iter().map(|(_, plane)| plane));
        planes.map(|plane| plane[y * self.width + x]).collect()
    }
}
