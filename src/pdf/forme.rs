//! Forme: all that is gathered while one page is written: the objects, and what may be used again.

use crate::assets::Darkroom;
use crate::ground::Blend;
use crate::pdf::content::{Content, Named};
use crate::pdf::fonts::Fonts;
use crate::pdf::inks::Inks;
use crate::pdf::layers::Layers;
use crate::pdf::paper::{Paper, rect};
use crate::pdf::pictures::Pictures;
use crate::pdf::squeeze::deflate;
use crate::scene::Scene;
use pdf_writer::types::{BlendMode, MaskType, OverprintMode};
use pdf_writer::{Filter, Finish, Name, Pdf, Ref};
use std::collections::BTreeMap;

pub struct Forme<'a> {
    pub pdf: Pdf,
    pub scene: &'a Scene,
    pub darkroom: &'a Darkroom,
    pub paper: Paper,
    pub inks: Inks,
    pub fonts: Fonts,
    pub pictures: Pictures,
    pub layers: Layers,
    states: BTreeMap<State, Ref>,
    last: i32,
}

/// What a graphics state dictionary says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum State {
    Overprint(bool),
    /// Opacity in ten-thousandths; multiplied or not.
    Mix(u32, bool),
    /// Through the lightness of a group, by its object's number.
    Through(i32),
}

impl State {
    pub fn mix(opacity: f64, blend: Blend) -> State {
        State::Mix((opacity.clamp(0.0, 1.0) * 10_000.0).round() as u32, blend == Blend::Multiply)
    }
}

impl<'a> Forme<'a> {
    pub fn new(scene: &'a Scene, paper: Paper, darkroom: &'a Darkroom) -> Forme<'a> {
        let mut pdf = Pdf::with_settings(pdf_writer::Settings { pretty: false });
        pdf.set_version(1, 6);
        Forme {
            pdf,
            scene,
            darkroom,
            paper,
            inks: Inks::default(),
            fonts: Fonts::default(),
            pictures: Pictures::default(),
            layers: Layers::default(),
            states: BTreeMap::new(),
            last: 0,
        }
    }

    /// A fresh object number.
    pub fn id(&mut self) -> Ref {
        self.last += 1;
        Ref::new(self.last)
    }

    pub fn content(&self) -> Content {
        Content::new(self.paper.place(&self.scene.sheet))
    }

    pub fn state(&mut self, content: &mut Content, state: State) {
        let id = match self.states.get(&state) {
            Some(id) => *id,
            None => self.write_state(state),
        };
        content.call(Named::State, id, "gs");
    }

    pub fn overprint(&mut self, content: &mut Content, overprint: bool) {
        if content.turn_overprint(overprint) {
            self.state(content, State::Overprint(overprint));
        }
    }

    fn write_state(&mut self, state: State) -> Ref {
        let id = self.id();
        self.states.insert(state, id);
        let mut dict = self.pdf.ext_graphics(id);
        match state {
            State::Overprint(on) => {
                dict.overprint(on).overprint_fill(on).overprint_mode(OverprintMode::IgnoreZeroChannel);
            }
            State::Mix(opacity, multiply) => {
                let share = opacity as f32 / 10_000.0;
                dict.blend_mode(if multiply { BlendMode::Multiply } else { BlendMode::Normal });
                dict.stroking_alpha(share).non_stroking_alpha(share);
            }
            State::Through(group) => {
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
