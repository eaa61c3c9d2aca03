//! Composed pictures: part of a sheet as its plates print it, for what a standard cannot hold mark by mark.

use crate::ground::{Affine, PROCESS_PLATES, Rect};
use crate::pdf::content::{Content, Resource};
use crate::pdf::forme::Forme;
use crate::pdf::inks::Colorant;
use crate::pdf::samples::describe;
use pdf_writer::Name;
use std::sync::Arc;

/// Part of a sheet, opaque on every plate.
pub struct ComposedPicture {
    /// Sheet millimetres.
    pub place: Rect,
    pub width: usize,
    pub height: usize,
    /// The plates of its samples: the four process plates; or those that have ink there, and spots with their looks.
    pub plates: Vec<Colorant>,
    /// Rows of samples, plates side by side, 255 a solid, as `PackedRows` packs them.
    pub packed: Arc<Vec<u8>>,
}

impl Forme<'_> {
    pub fn composed(&mut self, content: &mut Content, picture: &ComposedPicture) {
        let process = picture.plates.iter().map(|(name, _)| name.as_str()).eq(PROCESS_PLATES);
        let space = (!process).then(|| self.mixture(&picture.plates));
        let id = self.id();
        let side = |pixels: usize| i32::try_from(pixels).unwrap_or(i32::MAX);
        let (width, height, plates) = (side(picture.width), side(picture.height), side(picture.plates.len()));
        let mut image = self.image(id, picture.packed.clone().into());
        image.width(width).height(height).bits_per_component(8);
        match space {
            Some(space) => image.pair(Name(b"ColorSpace"), space),
            None => image.pair(Name(b"ColorSpace"), Name(b"DeviceCMYK")),
        };
        describe(&mut image, width, plates);
        drop(image);
        let Rect { x0, y1, .. } = picture.place;
        let square = Affine::new([picture.place.width(), 0.0, 0.0, -picture.place.height(), x0, y1]);
        content.save();
        self.overprint(content, false);
        content.matrix(content.place * square, "cm");
        content.call(Resource::Object, id, "Do");
        content.restore();
    }
}
