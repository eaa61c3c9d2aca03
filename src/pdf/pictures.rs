//! Pictures: grey and CMYK JPEG files as they came, everything else in ink and deflated; alpha as a soft mask.
//!
//! A picture printed in one ink is that ink, laid solid over the frame and let through as far as the picture covers:
//! coverage that is all or nothing becomes a stencil, any other a soft mask. So a solid place is exactly the swatch,
//! and it overprints as any other fill does.

use crate::assets::{Format, Model, Picture};
use crate::ground::{Affine, Digest, Ink, Rect};
use crate::pdf::content::{Content, Named, Side};
use crate::pdf::forme::{Forme, State};
use crate::pdf::squeeze::deflate_fast;
use crate::scene::Placed;
use pdf_writer::{Filter, Name, Ref};
use std::collections::BTreeMap;
use std::sync::Arc;

#[derive(Default)]
pub struct Pictures {
    /// By the picture's digest and what was made of it.
    made: BTreeMap<(Digest, Kind), Ref>,
    /// Groups that show a coverage, for soft masks.
    groups: BTreeMap<Digest, Ref>,
}

#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Kind {
    Whole,
    Alpha,
    Coverage,
    Stencil,
}

const UNIT: Rect = Rect::new(0.0, 0.0, 1.0, 1.0);

impl Forme<'_> {
    pub fn picture(&mut self, content: &mut Content, placed: &Placed) {
        let picture = &placed.picture;
        let place = content.place * placed.transform * Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, 1.0]);
        if picture.width() == 0 || picture.height() == 0 || place.determinant() == 0.0 {
            return;
        }
        content.save();
        match &placed.paint {
            None => {
                let id = self.whole(picture);
                self.overprint(content, false);
                content.matrix(place, "cm");
                content.call(Named::Object, id, "Do");
            }
            Some(ink) => self.in_one_ink(content, picture, ink, place),
        }
        content.restore();
    }

    fn in_one_ink(&mut self, content: &mut Content, picture: &Picture, ink: &Ink, place: Affine) {
        self.ink(content, Side::Fill, ink);
        content.matrix(place, "cm");
        let coverage = coverage(picture);
        if coverage.iter().all(|share| *share == 0 || *share == 255) {
            let id = self.stencil(picture, &coverage);
            return content.call(Named::Object, id, "Do");
        }
        let group = match self.pictures.groups.get(&picture.digest()) {
            Some(group) => *group,
            None => self.coverage_group(picture, &coverage),
        };
        self.state(content, State::Through(group.get()));
        content.op(&[0.0, 0.0, 1.0, 1.0], "re");
        content.word("f");
    }

    fn whole(&mut self, picture: &Picture) -> Ref {
        let key = (picture.digest(), Kind::Whole);
        if let Some(id) = self.pictures.made.get(&key) {
            return *id;
        }
        let mask = picture.pixels().alpha.as_ref().map(|alpha| self.plane(picture, Kind::Alpha, alpha));
        let id = self.id();
        self.pictures.made.insert(key, id);
        let (width, height) = size(picture);
        let passed = picture.jpeg_passthrough().filter(|_| picture.format() == Format::Jpeg);
        let (bytes, filter, model, inverted);
        if let Some(stream) = passed {
            // The file's own bytes; they are borrowed, not copied.
            bytes = None;
            filter = Filter::DctDecode;
            (model, inverted) = (if stream.channels == 1 { Model::Grey } else { Model::Cmyk }, stream.inverted);
        } else {
            let (stream, kind) = self.negative(picture);
            bytes = Some(stream);
            filter = Filter::FlateDecode;
            // Grey negatives count ink, DeviceGray counts light.
            (model, inverted) = (kind, kind == Model::Grey);
        }
        let data = bytes.as_ref().map_or(picture.bytes(), |stream| &stream[..]);
        let mut image = self.pdf.image_xobject(id, data);
        image.width(width).height(height).bits_per_component(8).filter(filter);
        image.color_space_name(Name(if model == Model::Grey { b"DeviceGray" } else { b"DeviceCMYK" }));
        if inverted {
            image.decode([1.0, 0.0].repeat(if model == Model::Grey { 1 } else { 4 }));
        }
        if let Some(mask) = mask {
            image.s_mask(mask);
        }
        id
    }

    /// A picture in this press's ink, deflated; once a picture and press, however many files want it.
    fn negative(&mut self, picture: &Picture) -> (Arc<Vec<u8>>, Model) {
        let profile = &self.scene.profile;
        let key = Digest::of_all(&[b"negative", picture.digest().bytes(), profile.digest().bytes()]);
        let model = if picture.model() == Model::Grey { Model::Grey } else { Model::Cmyk };
        let stream =
            self.darkroom.stream(key, || deflate_fast(&self.darkroom.negative(picture, profile).samples));
        (stream, model)
    }

    /// One plane of a picture as an image of its own.
    fn plane(&mut self, picture: &Picture, kind: Kind, samples: &[u8]) -> Ref {
        let id = self.id();
        let name: &[u8] = if kind == Kind::Alpha { b"alpha" } else { b"coverage" };
        let key = Digest::of_all(&[name, picture.digest().bytes()]);
        let bytes = self.darkroom.stream(key, || deflate_fast(samples));
        let (width, height) = size(picture);
        let mut image = self.pdf.image_xobject(id, &bytes);
        image.width(width).height(height).bits_per_component(8).filter(Filter::FlateDecode);
        image.color_space_name(Name(b"DeviceGray"));
        id
    }

    fn stencil(&mut self, picture: &Picture, coverage: &[u8]) -> Ref {
        let key = (picture.digest(), Kind::Stencil);
        if let Some(id) = self.pictures.made.get(&key) {
            return *id;
        }
        let id = self.id();
        self.pictures.made.insert(key, id);
        let (width, height) = size(picture);
        let stream = Digest::of_all(&[b"stencil", picture.digest().bytes()]);
        let bytes = self.darkroom.stream(stream, || deflate_fast(&pack(coverage, picture.width() as usize)));
        let mut image = self.pdf.image_xobject(id, &bytes);
        image.width(width).height(height).image_mask(true).bits_per_component(1).decode([1.0, 0.0]);
        image.filter(Filter::FlateDecode);
        id
    }

    fn coverage_group(&mut self, picture: &Picture, coverage: &[u8]) -> Ref {
        let image = self.plane(picture, Kind::Coverage, coverage);
        let mut content = self.content();
        content.call(Named::Object, image, "Do");
        let group = self.group(&content, UNIT, b"DeviceGray", true);
        self.pictures.groups.insert(picture.digest(), group);
        group
    }
}

/// How much of the one ink each pixel takes: its alpha, or how dark it is.
fn coverage(picture: &Picture) -> Vec<u8> {
    let pixels = picture.pixels();
    if let Some(alpha) = &pixels.alpha {
        return alpha.clone();
    }
    match picture.model() {
        Model::Grey => pixels.samples.iter().map(|grey| 255 - grey).collect(),
        Model::Rgb => pixels.samples.as_chunks::<3>().0.iter().map(|rgb| 255 - luma(*rgb)).collect(),
        Model::Cmyk => pixels.samples.as_chunks::<4>().0.iter().map(|inks| darkness(*inks)).collect(),
    }
}

/// Luma of Rec. 601, as JPEG files carry it.
fn luma([r, g, b]: [u8; 3]) -> u8 {
    ((299 * u32::from(r) + 587 * u32::from(g) + 114 * u32::from(b) + 500) / 1000) as u8
}

/// Cyan keeps red back, and so on.
fn darkness([c, m, y, k]: [u8; 4]) -> u8 {
    let light = |ink: u8| 255 - (u32::from(ink) + u32::from(k)).min(255) as u8;
    255 - luma([light(c), light(m), light(y)])
}

/// Eight pixels a byte, rows padded; 1 takes ink.
fn pack(coverage: &[u8], width: usize) -> Vec<u8> {
    let mut packed = Vec::with_capacity(coverage.len() / 8 + coverage.len() / width.max(1));
    for row in coverage.chunks(width.max(1)) {
        packed.extend(row.chunks(8).map(|eight| {
            eight.iter().enumerate().fold(0_u8, |byte, (place, share)| byte | u8::from(*share > 127) << (7 - place))
        }));
    }
    packed
}

fn size(picture: &Picture) -> (i32, i32) {
    (i32::try_from(picture.width()).unwrap_or(i32::MAX), i32::try_from(picture.height()).unwrap_or(i32::MAX))
}
