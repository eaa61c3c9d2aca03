//! One plane of a picture: an image in grey, for alpha and coverage.

use crate::assets::Picture;
use crate::ground::SharedBytes;
use crate::pdf::forme::Forme;
use crate::pdf::samples::describe;
use pdf_writer::{Name, Ref};

impl Forme<'_> {
    /// One plane of a picture's size as a grey image of its own.
    pub fn plane(&mut self, picture: &Picture, deflated: SharedBytes) -> Ref {
        let id = self.id();
        let (width, height) = size(picture);
        let mut image = self.image(id, deflated);
        image.width(width).height(height).bits_per_component(8).color_space_name(Name(b"DeviceGray"));
        describe(&mut image, width, 1);
        id
    }
}

/// Width and height in pixels, as PDF counts them.
pub fn size(picture: &Picture) -> (i32, i32) {
    (i32::try_from(picture.width()).unwrap_or(i32::MAX), i32::try_from(picture.height()).unwrap_or(i32::MAX))
}
