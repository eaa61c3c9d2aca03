//! Forme: all that is gathered while one page is written: the objects, and what may be used again.

use crate::assets::Darkroom;
use crate::ground::{Blend, Digest, Packing, Pieces, SharedBytes, deflate};
use crate::pdf::boxes::{PageBoxes, rect};
use crate::pdf::content::{Content, Resource};
use crate::pdf::page_font::PageFont;
use crate::pdf::splice::{LaterStream, finish};
use crate::scene::Scene;
use pdf_writer::types::{BlendMode, MaskType, OverprintMode};
use pdf_writer::writers::ImageXObject;
use pdf_writer::{Filter, Finish, Name, Pdf, Ref};
use std::collections::BTreeMap;

pub struct Forme<'a> {
    pub pdf: Pdf,
    later: Vec<LaterStream>,
    pub scene: &'a Scene,
    pub darkroom: &'a Darkroom,
    pub boxes: PageBoxes,
    pub packing: Packing,
    /// The quality of pictures that are written as JPEGs.
    pub jpeg: Option<u8>,
    /// Finishing inks lie in layers.
    pub layered: bool,
    /// Colour spaces by the plates they name.
    pub separations: BTreeMap<String, Ref>,
    pub mixtures: BTreeMap<Vec<String>, Ref>,
    /// Every font of the scene, by its digest.
    pub fonts: BTreeMap<Digest, PageFont>,
    /// Images by their pictures: whole, and as the coverage of one ink.
    pub images: BTreeMap<Digest, Ref>,
    pub coverages: BTreeMap<Digest, Coverage>,
    /// Layers by the finishing inks that lie in them.
    pub layers: BTreeMap<String, Ref>,
    states: BTreeMap<ExtGState, Ref>,
    last: i32,
}

/// How far a picture covers.
#[derive(Clone, Copy)]
pub enum Coverage {
    /// A stencil mask.
    Stencil(Ref),
    /// A group whose lightness covers.
    Lightness(Ref),
}

/// What a graphics state dictionary says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum ExtGState {
    Overprint(bool),
    /// Opacity in ten-thousandths; multiplied or not.
    Mix(u32, bool),
    /// Through the lightness of a group, by its object's number.
    Through(i32),
}

impl ExtGState {
    pub fn mix(opacity: f64, blend: Blend) -> ExtGState {
        ExtGState::Mix((opacity.clamp(0.0, 1.0) * 10_000.0).round() as u32, blend == Blend::Multiply)
    }
}

impl<'a> Forme<'a> {
    pub fn new(scene: &'a Scene, boxes: PageBoxes, darkroom: &'a Darkroom) -> Forme<'a> {
        let mut pdf = Pdf::with_settings(pdf_writer::Settings { pretty: false });
        pdf.set_version(1, 6);
        Forme {
            pdf,
            later: Vec::new(),
            scene,
            darkroom,
            boxes,
            packing: Packing::default(),
            jpeg: None,
            layered: true,
            separations: BTreeMap::new(),
            mixtures: BTreeMap::new(),
            fonts: BTreeMap::new(),
            images: BTreeMap::new(),
            coverages: BTreeMap::new(),
            layers: BTreeMap::new(),
            states: BTreeMap::new(),
            last: 0,
        }
    }

    /// An image whose data is put in its place at the end.
    pub fn image(&mut self, id: Ref, data: SharedBytes) -> ImageXObject<'_> {
        self.later.push(LaterStream { object: self.pdf.as_bytes().len(), data });
        self.pdf.image_xobject(id, &[])
    }

    /// All that was written so far, in the order of writing but for the data of images, which come last.
    pub fn written(&self) -> Vec<&[u8]> {
        std::iter::once(self.pdf.as_bytes()).chain(self.later.iter().map(|stream| stream.data.bytes())).collect()
    }

    pub fn finish(self) -> Pieces {
        finish(self.pdf, self.later)
    }

    /// A fresh object number.
    pub fn id(&mut self) -> Ref {
        self.last += 1;
        Ref::new(self.last)
    }

    pub fn content(&self) -> Content {
        Content::new(self.boxes.place(&self.scene.sheet))
    }

    pub fn state(&mut self, content: &mut Content, state: ExtGState) {
        let id = match self.states.get(&state) {
            Some(id) => *id,
            None => self.write_state(state),
        };
        content.call(Resource::State, id, "gs");
    }

    pub fn overprint(&mut self, content: &mut Content, overprint: bool) {
        if content.turn_overprint(overprint) {
            self.state(content, ExtGState::Overprint(overprint));
        }
    }

    fn write_state(&mut self, state: ExtGState) -> Ref {
        let id = self.id();
        self.states.insert(state, id);
        let mut dict = self.pdf.ext_graphics(id);
        match state {
            ExtGState::Overprint(on) => {
                dict.overprint(on).overprint_fill(on).overprint_mode(OverprintMode::IgnoreZeroChannel);
            }
            ExtGState::Mix(opacity, multiply) => {
                let share = opacity as f32 / 10_000.0;
                dict.blend_mode(if multiply { BlendMode::Multiply } else { BlendMode::Normal });
                dict.stroking_alpha(share).non_stroking_alpha(share);
            }
            ExtGState::Through(group) => {
                dict.soft_mask().subtype(MaskType::Luminosity).group(Ref::new(group));
            }
        }
        id
    }

    /// Writes a content stream as a transparency group in `space`.
    pub fn group(&mut self, content: &Content, bounds: crate::ground::Rect, space: &[u8], isolated: bool) -> Ref {
        let id = self.id();
        let bytes = deflate(&content.bytes);
        let mut form = self.pdf.form_xobject(id, &bytes);
        form.bbox(rect(bounds)).filter(Filter::FlateDecode);
        content.resources(&mut form.resources());
        let mut group = form.group();
        group.transparency().isolated(isolated).knockout(false);
        group.pair(Name(b"CS"), Name(space));
        group.finish();
        id
    }
}
