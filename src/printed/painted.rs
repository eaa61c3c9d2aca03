//! Painted: how much of a page is painted in which colour, and the pictures on it by what their samples say.

use crate::assets::Picture;
use crate::ground::{Digest, Path, Rect, Shape};
use crate::printed::colour_space::{ColourSpace, PrintedColour};
use hayro_syntax::object::{Object, Stream};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Colours that are told apart on one page.
const COLOURS: usize = 2000;
/// Lengths are measured to so many millimetres.
const ACCURACY: f64 = 0.05;
/// Millimetres from the corner of a page within which paths are measured.
const FURTHEST: f64 = 100_000.0;
/// Samples of a picture that its means are taken of, about.
const SAMPLES: usize = 1 << 20;

/// What is painted in one colour.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct PaintedArea {
    /// Square millimetres of fills and strokes, without regard to what cuts them or lies over them.
    pub area: f64,
    /// Around all of it.
    pub bounds: Option<Rect>,
    /// How many runs of words.
    pub words: usize,
    /// Of area and words, what overprints.
    pub area_over: f64,
    pub words_over: usize,
}

/// By colour, as reports write it.
pub type PaintedColours = BTreeMap<String, PaintedArea>;

/// Adds a fill, or with a width a stroke.
pub fn add_path(
    colours: &mut PaintedColours,
    colour: &PrintedColour,
    path: &Path,
    width: Option<f64>,
    overprints: bool,
) -> bool {
    let bounds = path.bounding_box();
    // Nobody prints further than that, and a curve that runs there and back takes long to measure.
    if !bounds.is_finite() || [bounds.x0, bounds.y0, bounds.x1, bounds.y1].iter().any(|side| side.abs() > FURTHEST) {
        return false;
    }
    let (area, bounds) = match width {
        Some(width) => (path.perimeter(ACCURACY) * width, bounds.inflate(width / 2.0, width / 2.0)),
        None => (path.area().abs(), bounds),
    };
    let Some(found) = entry(colours, colour) else { return false };
    if area.is_finite() && bounds.is_finite() {
        found.area += area;
        found.area_over += if overprints { area } else { 0.0 };
        found.bounds = Some(found.bounds.map_or(bounds, |all| all.union(bounds)));
    }
    true
}

/// Adds a run of words.
pub fn add_words(colours: &mut PaintedColours, colour: &PrintedColour, overprints: bool) -> bool {
    let Some(found) = entry(colours, colour) else { return false };
    found.words += 1;
    found.words_over += usize::from(overprints);
    true
}

fn entry<'c>(colours: &'c mut PaintedColours, colour: &PrintedColour) -> Option<&'c mut PaintedArea> {
    let name = colour.shown();
    if colours.len() >= COLOURS && !colours.contains_key(&name) {
        return None;
    }
    Some(colours.entry(name).or_default())
}

/// A picture that is placed on a page.
#[derive(Clone, Debug, PartialEq)]
pub struct PrintedPicture {
    pub width: u32,
    pub height: u32,
    /// What its samples are.
    pub kind: String,
    /// Where it lies.
    pub place: Rect,
    pub samples: PictureSamples,
}

/// What the samples of a picture say.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct PictureSamples {
    /// Of its samples; of its file where that is a JPEG.
    pub digest: Option<Digest>,
    /// Channel by channel its name and its mean, 1 for a solid ink and for white light; empty where that cannot be read.
    pub means: Vec<(String, f64)>,
}

pub fn samples(picture: &Stream<'_>, space: &ColourSpace, is_indexed: bool) -> PictureSamples {
    let dict = picture.dict();
    let is_plain = dict.get::<u32>("BitsPerComponent") == Some(8) && !dict.contains_key("Decode") && !is_indexed;
    if let Some(jpeg) = jpeg(picture) {
        let digest = Digest::of_all(&[&jpeg]);
        let opened = Picture::open("picture.jpg", jpeg).ok();
        let read = opened.filter(|opened| is_plain && space.channels() == Some(opened.model().channels()));
        let means = read.map_or_else(Vec::new, |opened| {
            let mut means = means(&opened.pixels().samples, &space.names());
            // One maker's files count paper, and a reader of files turns them round; a page takes the numbers as they stand.
            if opened.jpeg_passthrough().is_some_and(|kept| kept.inverted) {
                for (_, mean) in &mut means {
                    *mean = 1.0 - *mean;
                }
            }
            means
        });
        return PictureSamples { digest: Some(digest), means };
    }
    // Only what was counted before is inflated.
    if filters(picture).iter().any(|filter| filter != b"FlateDecode") {
        return PictureSamples::default();
    }
    let Ok(data) = picture.decoded_data() else { return PictureSamples::default() };
    let means = if is_plain { means(&data, &space.names()) } else { Vec::new() };
    PictureSamples { digest: Some(Digest::of_all(&[&data])), means }
}

/// The bytes of a picture that is a JPEG and nothing else.
fn jpeg(picture: &Stream<'_>) -> Option<Arc<[u8]>> {
    let raw = picture.raw_data();
    let is_jpeg = filters(picture) == [b"DCTDecode"] && raw.starts_with(&[0xFF, 0xD8]);
    is_jpeg.then(|| Arc::from(&*raw))
}

/// The names of the filters that a stream goes through.
fn filters(stream: &Stream<'_>) -> Vec<Vec<u8>> {
    let name = |object: Object<'_>| match object {
        Object::Name(name) => name.as_ref().to_vec(),
        _ => Vec::new(),
    };
    match stream.dict().get::<Object<'_>>("Filter") {
        Some(Object::Array(all)) => all.iter::<Object<'_>>().map(name).collect(),
        Some(one) => vec![name(one)],
        None => Vec::new(),
    }
}

fn means(samples: &[u8], names: &[String]) -> Vec<(String, f64)> {
    let pixels = samples.len() / names.len().max(1);
    if pixels == 0 {
        return Vec::new();
    }
    let step = (pixels / SAMPLES).max(1);
    let mean = |channel: usize| {
        let every = (0..pixels).step_by(step).map(|pixel| u64::from(samples[pixel * names.len() + channel]));
        every.sum::<u64>() as f64 / pixels.div_ceil(step) as f64 / 255.0
    };
    names.iter().enumerate().map(|(channel, name)| (name.clone(), mean(channel))).collect()
}
