//! Pictures: grey and CMYK JPEG files as they came, everything else in ink and deflated; alpha as a soft mask.

use crate::assets::{Model, Picture};
use crate::ground::{Affine, Digest};
use crate::pdf::content::{Content, Named};
use crate::pdf::coverage::Coverage;
use crate::pdf::forme::Forme;
use crate::pdf::squeeze::deflate_fast;
use crate::scene::Placed;
use pdf_writer::{Filter, Name, Ref};
use std::collections::BTreeMap;
use std::sync::Arc;

/// Images already written, by their pictures; and coverages, for pictures in one ink.
#[derive(Default)]
pub struct Pictures {
    whole: BTreeMap<Digest, Ref>,
    pub coverages: BTreeMap<Digest, Coverage>,
}

impl Forme<'_> {
    pub fn picture(&mut self, content: &mut Content, placed: &Placed) {
        let picture = &placed.picture;
        // An image stands in the unit square, its foot at 0.
        let place = content.place * placed.transform * Affine::new([1.0, 0.0, 0.0, -1.0, 0.0, 1.0]);
        if picture.width() == 0 || picture.height() == 0 || place.determinant().abs() <= f64::EPSILON {
            return;
        }
        content.save();
        if let Some(ink) = &placed.paint {
            self.picture_in(content, picture, ink, place);
        } else {
            let id = self.whole(picture);
            self.overprint(content, false);
            content.matrix(place, "cm");
            content.call(Named::Object, id, "Do");
        }
        content.restore();
    }

    fn whole(&mut self, picture: &Picture) -> Ref {
        if let Some(id) = self.pictures.whole.get(&picture.digest()) {
            return *id;
        }
        let mask = picture.pixels().alpha.as_ref().map(|alpha| {
            let key = Digest::of_all(&[b"alpha", picture.digest().bytes()]);
            let bytes = self.darkroom.compressed(key, || deflate_fast(alpha));
            self.plane(picture, &bytes)
        });
        let id = self.id();
        self.pictures.whole.insert(picture.digest(), id);
        let deflated;
        let (data, filter, grey, inverted) = if let Some(stream) = picture.jpeg_passthrough() {
            (picture.bytes(), Filter::DctDecode, stream.channels == 1, stream.inverted)
        } else {
            deflated = self.negative(picture);
            let grey = picture.model() == Model::Grey;
            // Negatives count ink; DeviceGray counts light.
            (&deflated[..], Filter::FlateDecode, grey, grey)
        };
        let (width, height) = size(picture);
        let mut image = self.pdf.image_xobject(id, data);
        image.width(width).height(height).bits_per_component(8);
        image.color_space_name(Name(if grey { b"DeviceGray" } else { b"DeviceCMYK" }));
        if inverted {
            image.decode([1.0, 0.0].repeat(if grey { 1 } else { 4 }));
        }
        if let Some(mask) = mask {
            image.s_mask(mask);
        }
        image.filter(filter);
        id
    }

    /// A picture in this press's ink, deflated: once a picture and press, however many files want it.
    fn negative(&self, picture: &Picture) -> Arc<Vec<u8>> {
        let (profile, darkroom) = (&self.scene.profile, self.darkroom);
        let key = Digest::of_all(&[b"negative", picture.digest().bytes(), profile.digest().bytes()]);
        darkroom.compressed(key, || deflate_fast(&darkroom.negative(picture, profile).samples))
    }

    /// One deflated plane of a picture's size as a grey image of its own.
    pub fn plane(&mut self, picture: &Picture, deflated: &[u8]) -> Ref {
        let id = self.id();
        let (width, height) = size(picture);
        let mut image = self.pdf.image_xobject(id, deflated);
        image.width(width).height(height).bits_per_component(8).color_space_name(Name(b"DeviceGray"));
        image.filter(Filter::FlateDecode);
        id
    }
}

pub fn size(picture: &Picture) -> (i32, i32) {
    (i32::try_from(picture.width()).unwrap_or(i32::MAX), i32::try_from(picture.height()).unwrap_or(i32::MAX))
}
