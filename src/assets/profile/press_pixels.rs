//! Press pixels: what a press prints of a picture: its numbers, its greys in black alone, or its colours in four inks.

use crate::assets::profile::black::lights;
use crate::assets::profile::condition;
use crate::assets::profile::separate::{RgbTurn, engine, rounded, separate};
use crate::assets::profile::source::{format, source};
use crate::assets::profile::turn::{Icc, opened, srgb};
use crate::assets::{
    Inking, JpegStream, LightScale, Model, Picture, PicturePlate, Pixels, Profile, Separation, StatedColours,
};
use crate::ground::Digest;
use lcms2::GlobalContext;
use std::sync::Arc;

impl Profile {
    /// Makes what turns pictures into ink, and ink into light, and what measures them, beside some work: to open a picture takes
    /// as long.
    pub fn ready_beside<T: Send>(&self, work: impl FnOnce() -> T + Send) -> T {
        let ready = || {
            self.usual();
            self.turns.to_screen(&self.bytes);
            self.turns.to_inks_exact(&self.bytes);
            self.turns.to_lab(&self.bytes);
            self.turns.screen_to_lab();
        };
        rayon::join(work, ready).0
    }

    /// Whether the numbers of a picture are its inks already: because its placing says so, because its file says nothing
    /// else, or because it was separated for this very press.
    pub fn takes_numbers(&self, picture: &Picture, separation: Separation) -> bool {
        if picture.model() == Model::Rgb {
            return false;
        }
        separation.inking == Inking::AsTheyAre
            || match picture.space() {
                StatedColours::Unstated | StatedColours::Unusable(_) => true,
                StatedColours::Profile(own) => picture.model() == Model::Cmyk && self.stands_for(own),
                StatedColours::Srgb | StatedColours::Light { .. } => false,
            }
    }

    /// The bytes of a JPEG that a press file may carry as they are: its numbers are the inks, and all of them are wanted.
    pub fn passed_on<'a>(&self, picture: &'a Picture, separation: Separation) -> Option<&'a JpegStream> {
        let whole = separation.limit.is_none() && self.takes_numbers(picture, separation);
        picture.jpeg_passthrough().filter(|stream| whole || (stream.grey && self.takes_numbers(picture, separation)))
    }

    /// Whether a profile is this one, or was made from the same characterisation data.
    fn stands_for(&self, other: &[u8]) -> bool {
        let named = |bytes: &[u8]| condition(&Icc::new_icc_context(GlobalContext::new(), bytes).ok()?);
        other == &self.bytes[..] || (self.characterised().is_some() && named(other).as_deref() == self.characterised())
    }

    /// Whether the engine can do with a picture what its file asks for.
    pub fn can_separate(&self, picture: &Picture) -> bool {
        let StatedColours::Profile(own) = picture.space() else { return true };
        let format = format(picture.model());
        let usable = || {
            let (own, press) = (Icc::new_icc_context(GlobalContext::new(), own).ok()?, opened(&self.bytes).ok()?);
            match picture.model() {
                Model::Grey => engine::<1>((&own, format), &press, Separation::default()).err(),
                Model::Rgb => engine::<3>((&own, format), &press, Separation::default()).err(),
                Model::Cmyk => engine::<4>((&own, format), &press, Separation::default()).err(),
            }
            .is_none()
            .then_some(())
        };
        usable().is_some()
    }

    /// The plates that a picture is printed from, in the order of its samples.
    pub fn picture_plates(&self, picture: &Picture, separation: Separation) -> Vec<PicturePlate> {
        match (picture.tones(), self.printed_model(picture, separation)) {
            (Some(tones), _) => tones.plates().to_vec(),
            (None, Model::Grey) => PicturePlate::black(),
            (None, _) => PicturePlate::process(),
        }
    }

    /// Black alone, or all four, where a picture has no inks of its own.
    fn printed_model(&self, picture: &Picture, separation: Separation) -> Model {
        match picture.model() {
            Model::Cmyk => Model::Cmyk,
            Model::Grey if self.takes_numbers(picture, separation) => Model::Grey,
            _ if separation.inking == Inking::FourColour => Model::Cmyk,
            Model::Rgb if !picture.is_neutral() => Model::Cmyk,
            Model::Grey | Model::Rgb => Model::Grey,
        }
    }

    /// The most ink on one spot of a picture, in percent of a solid, where that can be kept.
    pub fn kept_limit(&self, picture: &Picture, separation: Separation) -> Option<u16> {
        let in_four = || picture.tones().is_none() && self.printed_model(picture, separation) == Model::Cmyk;
        separation.limit.filter(|_| in_four())
    }

    /// The samples of a picture in ink, 8 bit, 255 solid, plates side by side.
    pub fn press_pixels(&self, picture: &Picture, separation: Separation) -> Arc<Vec<u8>> {
        self.press_inks(picture, picture.pixels(), separation)
    }

    /// Other pixels of the same picture: fewer, say.
    pub fn press_inks(&self, picture: &Picture, pixels: &Pixels, separation: Separation) -> Arc<Vec<u8>> {
        if let Some(tones) = picture.tones() {
            return Arc::new(self.toned(picture, pixels, separation, tones));
        }
        let mut inks = self.unlimited_inks(picture, pixels, separation);
        if let Some(limit) = self.kept_limit(picture, separation) {
            self.limiter().limit(&mut Arc::make_mut(&mut inks)[..], f64::from(limit) / 100.0);
        }
        inks
    }

    fn unlimited_inks(&self, picture: &Picture, pixels: &Pixels, separation: Separation) -> Arc<Vec<u8>> {
        let converted = match (self.takes_numbers(picture, separation), self.printed_model(picture, separation)) {
            (true, _) => None,
            (false, Model::Grey) => self.by_level(picture, pixels, separation, |ink| (ink * 255.0).round() as u8),
            (false, _) => self.in_four(picture, pixels, separation),
        };
        match (converted, picture.model()) {
            (Some(inks), _) => Arc::new(inks),
            (None, Model::Cmyk) => pixels.samples.clone(),
            // The way a grey picture means black ink in print: white less what is written.
            (None, Model::Grey) => Arc::new(pixels.samples.iter().map(|grey| 255 - grey).collect()),
            // sRGB and a press can always be turned into each other.
            (None, Model::Rgb) => Arc::new(self.usual().separate(pixels)),
        }
    }

    fn in_four(&self, picture: &Picture, pixels: &Pixels, separation: Separation) -> Option<Vec<u8>> {
        let plain =
            picture.model() == Model::Rgb && matches!(picture.space(), StatedColours::Srgb | StatedColours::Unstated);
        if plain && pixels.fine.is_none() && separation.is_usual() {
            return None;
        }
        let press = || opened(&self.bytes).ok();
        let own = source(picture)?;
        let from = (&own, format(picture.model()));
        match picture.model() {
            Model::Rgb => Some(self.rgb_turn(picture, separation, pixels.fine.is_some())?.separate(pixels)),
            Model::Grey => {
                let turn = engine::<1>(from, &press()?, separation).ok()?;
                Some(separate(pixels, |from, to| rounded(&turn, from, to)))
            }
            Model::Cmyk => {
                let turn = engine::<4>(from, &press()?, separation).ok()?;
                Some(separate(pixels, |from, to| rounded(&turn, from, to)))
            }
        }
    }

    fn rgb_turn(&self, picture: &Picture, separation: Separation, deep: bool) -> Option<Arc<RgbTurn>> {
        let space = match picture.space() {
            StatedColours::Profile(own) => Digest::of(own),
            other => Digest::of(format!("{other:?}").as_bytes()),
        };
        // How much ink there may be is no matter of the way into it.
        let how = Separation { limit: None, ..separation }.code();
        let key = Digest::of_all(&[space.bytes(), &how, &[u8::from(deep)]]);
        let make = || {
            let (source, press) = (source(picture).ok_or(())?, opened(&self.bytes).map_err(drop)?);
            RgbTurn::new(&source, &press, &self.bytes, separation, deep).map_err(drop)
        };
        self.others.get_or(key, make).ok()
    }

    /// How much light each level of a picture in RGB or grey stands for.
    pub fn light_scale(&self, picture: &Picture, separation: Separation) -> Option<LightScale> {
        match picture.model() {
            Model::Cmyk => None,
            Model::Grey if self.takes_numbers(picture, separation) => {
                Some(LightScale::new(&self.black().lights_of_greys()))
            }
            model => {
                let lights = |source: &Icc| lights(source, model, 256);
                let own = source(picture).as_ref().and_then(lights);
                own.or_else(|| lights(&srgb())).map(|lights| LightScale::new(&lights))
            }
        }
    }
}
