//! Pictures: grey and CMYK JPEG files as they came, everything else in ink and deflated; alpha as a mask, soft where it is.

use crate::assets::{JpegStream, Picture, PicturePlate, Separation, ink_jpeg};
use crate::ground::{Affine, Digest, PackedRows, SharedBytes, deflate_fast};
use crate::pdf::colour_table::ColourTable;
use crate::pdf::content::{Content, Resource};
use crate::pdf::coverage::pack;
use crate::pdf::forme::Forme;
use crate::pdf::inks::Colorant;
use crate::pdf::plane::size;
use crate::pdf::samples::{deflated_samples, describe};
use crate::scene::{PlacedPicture, is_stencil};
use pdf_writer::{Filter, Name, Obj, Ref, Str};
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
        let has_extent = place.determinant().abs() > f64::EPSILON;
        if picture.width() == 0 || picture.height() == 0 || !has_extent || placed.is_blank() {
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
        let plates = self.scene.profile.picture_plates(picture, separation);
        let space = self.space_of(&plates);
        let id = self.id();
        self.images.insert(key, id);
        let (width, height) = size(picture);
        let passed = self.scene.profile.passed_on(picture, separation);
        let made = if passed.is_none() { self.as_jpeg(picture, separation) } else { None };
        let mut mixtures: &[u8] = &[];
        let kept: SharedBytes;
        let (mut image, inverted) = if let Some(stream) = passed.or(made.as_ref()) {
            let mut image = self.image(id, stream.bytes.clone().into());
            image.filter(Filter::DctDecode);
            (image, stream.inverted)
        } else {
            kept = self.negative(picture, separation).into();
            let mut rows = kept.clone();
            if is_toned(picture, &plates) {
                (mixtures, rows) = opened(&kept);
            }
            let mut image = self.image(id, rows);
            describe(&mut image, width, if mixtures.is_empty() { channels(&plates) } else { 1 });
            // Negatives count ink; DeviceGray counts light.
            (image, matches!(space, PlateSpace::Grey))
        };
        image.width(width).height(height).bits_per_component(8);
        if mixtures.is_empty() {
            space.write(image.insert(Name(b"ColorSpace")));
        } else {
            let mut indexed = image.insert(Name(b"ColorSpace")).array();
            indexed.item(Name(b"Indexed"));
            space.write(indexed.push());
            let last = mixtures.len() / plates.len() - 1;
            indexed.item(i32::try_from(last).unwrap_or(i32::MAX)).item(Str(mixtures));
        }
        if inverted {
            image.decode([1.0, 0.0].repeat(plates.len()));
        }
        match mask {
            Some(AlphaMask::Soft(mask)) => drop(image.s_mask(mask)),
            Some(AlphaMask::Stencil(mask)) => drop(image.pair(Name(b"Mask"), mask)),
            None => {}
        }
        id
    }

    fn space_of(&mut self, plates: &[PicturePlate]) -> PlateSpace {
        match plates {
            [PicturePlate::Process(_)] => PlateSpace::Grey,
            [PicturePlate::Spot(spot)] => PlateSpace::Named(self.separation(&spot.name, spot.look)),
            _ if *plates == PicturePlate::process() => PlateSpace::Process,
            _ => {
                let named: Vec<Colorant> = plates.iter().map(|plate| (plate.name().to_owned(), plate.look())).collect();
                PlateSpace::Named(self.mixture(&named))
            }
        }
    }

    /// A picture in this press's ink as a JPEG, where JPEGs are wanted.
    fn as_jpeg(&self, picture: &Picture, separation: Separation) -> Option<JpegStream> {
        // Few mixtures of ink take fewer bytes as they are.
        let quality = self.jpeg.filter(|_| picture.tones().is_none())?;
        let negative = self.darkroom.negative(picture, separation, &self.scene.profile);
        ink_jpeg(&negative.samples, (picture.width(), picture.height()), negative.plates.len(), quality)
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
            AlphaMask::Stencil(self.stencil(picture, bytes.into()))
        } else {
            AlphaMask::Soft(self.plane(picture, bytes.into()))
        }
    }

    /// A picture in this press's ink, deflated: once a picture and press, however many files want it.
    fn negative(&self, picture: &Picture, separation: Separation) -> Arc<Vec<u8>> {
        let (profile, darkroom) = (&self.scene.profile, self.darkroom);
        let names = [picture.digest(), profile.digest()];
        let how = [&separation.code()[..], &[self.packing as u8]].concat();
        let key = Digest::of_all(&[b"negative", names[0].bytes(), names[1].bytes(), &how]);
        darkroom.compressed(key, || {
            let plates = profile.picture_plates(picture, separation);
            let (channels, toned) = (plates.len(), is_toned(picture, &plates));
            let (width, height) = (picture.width() as usize, picture.height() as usize);
            let inks = darkroom.ink_rows(picture, separation, profile);
            let mut rows = PackedRows::new(height, width * channels, channels, self.packing);
            if let Some(table) = inks.whole().filter(|_| toned).and_then(|samples| ColourTable::of(samples, channels)) {
                let rows = deflated_samples(&table.pixels, picture.width(), 1, self.packing);
                return closed(&table.mixtures, &rows);
            }
            for start in (0..height).step_by(rows.at_a_time()) {
                rows.add(&inks.of(start..height.min(start + rows.at_a_time())));
            }
            if toned { closed(&[], &rows.finish()) } else { rows.finish() }
        })
    }
}

/// What samples of pictures stand for.
enum PlateSpace {
    Grey,
    Process,
    Named(Ref),
}

impl PlateSpace {
    fn write(&self, place: Obj<'_>) {
        match self {
            PlateSpace::Grey => place.primitive(Name(b"DeviceGray")),
            PlateSpace::Process => place.primitive(Name(b"DeviceCMYK")),
            PlateSpace::Named(space) => place.primitive(*space),
        }
    }
}

/// Whether it has few mixtures of several inks, as a rule.
fn is_toned(picture: &Picture, plates: &[PicturePlate]) -> bool {
    picture.tones().is_some() && plates.len() > 1
}

fn channels(plates: &[PicturePlate]) -> i32 {
    i32::try_from(plates.len()).unwrap_or(i32::MAX)
}

/// A table of mixtures, or none, and rows, kept as one: the length of the table stands before it in four bytes.
fn closed(mixtures: &[u8], rows: &[u8]) -> Vec<u8> {
    [&(mixtures.len() as u32).to_le_bytes(), mixtures, rows].concat()
}

fn opened(kept: &SharedBytes) -> (&[u8], SharedBytes) {
    let length = kept.bytes().first_chunk().map_or(0, |length| u32::from_le_bytes(*length) as usize);
    let mixtures = kept.bytes().get(4..4 + length).unwrap_or_default();
    (mixtures, kept.after(4 + length))
}
