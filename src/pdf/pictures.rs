//! Pictures: grey and CMYK JPEG files as they came, everything else in ink and deflated; alpha as a mask, soft where it is.

use crate::assets::{JpegStream, Model, Picture, Separation, ink_jpeg};
use crate::ground::{Affine, Digest, PackedRows, deflate_fast};
use crate::pdf::content::{Content, Resource};
use crate::pdf::coverage::pack;
use crate::pdf::forme::Forme;
use crate::pdf::plane::size;
use crate::pdf::samples::{deflated_samples, describe};
use crate::scene::{PlacedPicture, is_stencil};
use pdf_writer::{Filter, Name, Ref};
use std::sync::Arc;

enum AlphaMask {
    Soft(Ref),
    Stencil(Ref),
}

impl Forme<'_> {
    pub fn picture(&mut self, content: &mut Content, placed: &PlacedPicture) {
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
            let id = self.whole(picture, placed.separation);
            self.overprint(content, false);
            content.matrix(place, "cm");
            content.call(Resource::Object, id, "Do");
        }
        content.restore();
    }

    fn whole(&mut self, picture: &Picture, separation: Separation) -> Ref {
        let key = Digest::of_all(&[picture.digest().bytes(), &separation.code()]);
        if let Some(id) = self.images.get(&key) {
            return *id;
        }
        let mask = picture.alpha().map(|alpha| self.alpha(picture, alpha));
        let id = self.id();
        self.images.insert(key, id);
        let (width, height) = size(picture);
        let passed = self.scene.profile.passed_on(picture, separation);
        let made = if passed.is_none() { self.as_jpeg(picture, separation) } else { None };
        let kept;
        let (mut image, grey, inverted) = if let Some(stream) = passed.or(made.as_ref()) {
            let mut image = self.pdf.image_xobject(id, &stream.bytes);
            image.filter(Filter::DctDecode);
            (image, stream.grey, stream.inverted)
        } else {
            let grey = self.scene.profile.printed_model(picture, separation) == Model::Grey;
            kept = self.negative(picture, separation);
            let mut image = self.pdf.image_xobject(id, &kept);
            describe(&mut image, width, if grey { 1 } else { 4 });
            // Negatives count ink; DeviceGray counts light.
            (image, grey, grey)
        };
        image.width(width).height(height).bits_per_component(8);
        image.color_space_name(Name(if grey { b"DeviceGray" } else { b"DeviceCMYK" }));
        if inverted {
            image.decode([1.0, 0.0].repeat(if grey { 1 } else { 4 }));
        }
        match mask {
            Some(AlphaMask::Soft(mask)) => drop(image.s_mask(mask)),
            Some(AlphaMask::Stencil(mask)) => drop(image.pair(Name(b"Mask"), mask)),
            None => {}
        }
        id
    }

    /// A picture in this press's ink as a JPEG, where JPEGs are wanted.
    fn as_jpeg(&self, picture: &Picture, separation: Separation) -> Option<JpegStream> {
        let (quality, profile) = (self.jpeg?, &self.scene.profile);
        let negative = self.darkroom.negative(picture, separation, profile);
        ink_jpeg(&negative.samples, (picture.width(), picture.height()), negative.model, quality)
    }

    /// Alpha that is all or nothing needs no transparency.
    fn alpha(&mut self, picture: &Picture, alpha: &[u8]) -> AlphaMask {
        let (stencil, width) = (is_stencil(alpha), picture.width());
        let kind: &[u8] = if stencil { b"alpha stencil" } else { b"alpha" };
        let packing = self.packing;
        let key = Digest::of_all(&[kind, picture.digest().bytes(), &[packing as u8]]);
        let bytes = self.darkroom.compressed(key, || {
            if stencil {
                deflate_fast(&pack(alpha, width as usize))
            } else {
                deflated_samples(alpha, width, 1, packing)
            }
        });
        if stencil {
            AlphaMask::Stencil(self.stencil(picture, &bytes))
        } else {
            AlphaMask::Soft(self.plane(picture, &bytes))
        }
    }

    /// A picture in this press's ink, deflated: once a picture and press, however many files want it.
    fn negative(&self, picture: &Picture, separation: Separation) -> Arc<Vec<u8>> {
        let (profile, darkroom) = (&self.scene.profile, self.darkroom);
        let names = [picture.digest(), profile.digest()];
        let how = [&separation.code()[..], &[self.packing as u8]].concat();
        let key = Digest::of_all(&[b"negative", names[0].bytes(), names[1].bytes(), &how]);
        darkroom.compressed(key, || {
            let channels = profile.printed_model(picture, separation).channels();
            let (width, height) = (picture.width() as usize, picture.height() as usize);
            let mut rows = PackedRows::new(width * channels, channels, self.packing);
            if width * height * channels <= WHOLE {
                rows.add(&darkroom.negative(picture, separation, profile).samples);
                return rows.finish();
            }
            let (pixels, own) = (picture.pixels(), picture.model().channels());
            let part = (PART / (width * channels)).max(1) * width * own;
            for start in (0..pixels.samples.len()).step_by(part) {
                let few = pixels.part(start..pixels.samples.len().min(start + part));
                rows.add(&profile.press_inks(picture, &few, separation));
            }
            rows.finish()
        })
    }
}

/// Bytes of ink that are laid out at once; the ink of larger pictures, which no memory keeps, is made part by part.
const WHOLE: usize = 56 << 20;
const PART: usize = 16 << 20;
