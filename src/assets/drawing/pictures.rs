//! Pictures in a drawing: opened like any picture of a cover, by the same readers and within the same limits. The SVG reader
//! is handed a stub for each, which has its size and its number.

use crate::assets::drawing::bounds;
use crate::assets::drawing::linked::is_beside;
use crate::assets::drawing::remark::{DrawingRemark, shortened};
use crate::assets::{Drawing, Library, Model, Picture, Pixels};
use crate::ground::{Digest, Severity};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::{Arc, Mutex, PoisonError};
use usvg::{ImageHrefResolver, ImageKind};

/// Files beside a drawing, as it names them; of those that did not come, what there is to say where they would be shown: it
/// goes on after the name of the drawing.
pub type FilesBeside = BTreeMap<String, Result<Arc<[u8]>, String>>;

/// What a drawing may draw on: the fonts of its text, and the pictures that lie beside it.
#[derive(Clone, Copy)]
pub struct DrawnFrom<'a> {
    pub library: &'a Library,
    pub files: &'a FilesBeside,
}

pub struct Pictures<'a> {
    /// Of the drawing.
    name: &'a str,
    beside: &'a FilesBeside,
    known: Mutex<KnownPictures>,
}

#[derive(Default)]
struct KnownPictures {
    /// By their names and bytes, since messages name them; `None` for what cannot be opened.
    numbers: BTreeMap<(String, Digest), Option<usize>>,
    found: FoundPictures,
    pixels: u64,
}

#[derive(Default)]
pub struct FoundPictures {
    pub all: Vec<Arc<Picture>>,
    pub remarks: Vec<DrawingRemark>,
    /// By name.
    pub left_out: BTreeSet<String>,
}

impl<'a> Pictures<'a> {
    pub fn new(name: &'a str, beside: &'a FilesBeside) -> Pictures<'a> {
        Pictures { name, beside, known: Mutex::default() }
    }

    /// Asked by the SVG reader.
    pub fn resolver(&self) -> ImageHrefResolver<'_> {
        ImageHrefResolver {
            resolve_data: Box::new(|_, data, _| self.stub("a picture", &data)),
            resolve_string: Box::new(|href, _| self.file(href)),
        }
    }

    pub fn found(self) -> FoundPictures {
        self.known.into_inner().unwrap_or_else(PoisonError::into_inner).found
    }

    fn file(&self, href: &str) -> Option<ImageKind> {
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        match self.beside.get(href) {
            Some(Ok(file)) => {
                drop(known);
                return self.stub(href, file);
            }
            Some(Err(message)) => known.remark(error(message.clone(), ABSENT)),
            None if is_beside(href) && self.beside.len() >= bounds::PICTURES => known.remark(too_many(href)),
            None => {
                known.found.left_out.insert(format!("a picture that lies elsewhere ({})", shortened(href)));
            }
        }
        None
    }

    fn stub(&self, called: &str, bytes: &[u8]) -> Option<ImageKind> {
        let mut known = self.known.lock().unwrap_or_else(PoisonError::into_inner);
        let key = (called.to_owned(), Digest::of(bytes));
        let mut number = known.numbers.get(&key).copied();
        if number.is_none() {
            let opened = known.open(&format!("{}, {called}", self.name), bytes);
            known.numbers.insert(key, opened);
            number = Some(opened);
        }
        let number = number??;
        let picture = &known.found.all[number];
        Some(ImageKind::PNG(Arc::new(stub(picture.width(), picture.height(), number))))
    }
}

impl KnownPictures {
    fn open(&mut self, name: &str, bytes: &[u8]) -> Option<usize> {
        if Drawing::is_drawing(bytes) {
            self.found.left_out.insert("a drawing in the drawing".to_owned());
            return None;
        }
        let called = name.rsplit_once(", ").map_or(name, |(_, called)| called);
        if self.numbers.len() >= bounds::PICTURES {
            self.remark(too_many(called));
            return None;
        }
        match Picture::open(name, bytes.into()) {
            Ok(picture) => {
                self.pixels += u64::from(picture.width()) * u64::from(picture.height());
                if self.pixels > bounds::PIXELS {
                    let message = format!("all have more than {} million pixels", bounds::PIXELS / 1_000_000);
                    self.remark(left_out(called, &message, "save smaller pictures in the drawing"));
                    return None;
                }
                self.found.all.push(Arc::new(picture));
                Some(self.found.all.len() - 1)
            }
            Err(fault) => {
                self.remark(left_out(called, &fault.message, &fault.help));
                None
            }
        }
    }

    fn remark(&mut self, remark: DrawingRemark) {
        if !self.found.remarks.contains(&remark) {
            self.found.remarks.push(remark);
        }
    }
}

/// What helps where a picture beside a drawing does not come.
const ABSENT: &str = "its path counts from the folder of the drawing; place it there, or save it within the drawing";

fn too_many(called: &str) -> DrawingRemark {
    let message = format!("it has more than {} pictures", bounds::PICTURES);
    left_out(called, &message, "simplify it, or place it as a picture")
}

fn left_out(called: &str, why: &str, help: &str) -> DrawingRemark {
    error(format!("shows {} that is left out: {why}", shortened(called)), help)
}

fn error(message: String, help: &str) -> DrawingRemark {
    DrawingRemark { severity: Severity::Error, rule: "language", message, help: help.to_owned() }
}

const SIGNATURE: &[u8] = b"\x89PNG\r\n\x1a\n\0\0\0\x0dIHDR";

/// The head of a PNG (PNG 3, 11.2.1), which says how large the picture is, and its number.
fn stub(width: u32, height: u32, number: usize) -> Vec<u8> {
    let number = (number as u64).to_be_bytes();
    [SIGNATURE, &width.to_be_bytes(), &height.to_be_bytes(), &[8, 2, 0, 0, 0], &number].concat()
}

/// The number of the picture that a stub stands for.
pub fn number(image: &usvg::Image) -> Option<usize> {
    let ImageKind::PNG(stub) = image.kind() else { return None };
    let number = stub.get(stub.len().checked_sub(8)?..)?.try_into().ok()?;
    usize::try_from(u64::from_be_bytes(number)).ok()
}

/// Whether a node shows a picture: the library draws none.
pub fn is_in(node: &usvg::Node) -> bool {
    let mut found = match node {
        usvg::Node::Image(_) => true,
        usvg::Node::Group(group) => group.children().iter().any(is_in),
        usvg::Node::Path(_) | usvg::Node::Text(_) => false,
    };
    node.subroots(|root| found = found || root.children().iter().any(is_in));
    found
}

/// As much of each pixel as its light and its alpha let show (CSS Masking 1, 7.10.1), as alpha.
pub fn shown(picture: &Picture, luminance: bool) -> Option<Picture> {
    let light: fn(&[u8]) -> f64 = match (luminance, picture.model()) {
        (false, _) => |_| 255.0,
        (true, Model::Grey) => |pixel| f64::from(pixel[0]),
        (true, Model::Rgb) => |pixel| {
            let [red, green, blue] = [0, 1, 2].map(|at| f64::from(pixel[at]));
            0.2125 * red + 0.7154 * green + 0.0721 * blue
        },
        (true, Model::Cmyk) => return None,
    };
    let alpha = |at: usize| picture.alpha().map_or(255, |alpha| alpha[at]);
    let shows = |(at, pixel): (usize, &[u8])| (light(pixel) * f64::from(alpha(at)) / 255.0).round() as u8;
    let pixels = picture.pixels().samples.chunks_exact(picture.model().channels());
    let alpha: Vec<u8> = pixels.enumerate().map(shows).collect();
    let samples = vec![0; alpha.len()];
    let pixels = Pixels { alpha: Some(alpha), ..Pixels::opaque(samples) };
    Some(Picture::of_samples(picture.name(), Model::Grey, (picture.width(), picture.height()), pixels))
}
