//! Pictures in one ink: that ink, laid solid over the frame and let through as far as the picture covers.
//!
//! Coverage that is all or nothing becomes a stencil, any other a soft mask. So a solid place is exactly the swatch, and
//! the picture overprints as any other fill does.

use crate::assets::Picture;
use crate::ground::{Affine, Digest, Ink, Packing, Rect, SharedBytes, deflate_fast};
use crate::pdf::content::{Content, PaintOp, Resource};
use crate::pdf::forme::{Coverage, ExtGState, Forme};
use crate::pdf::plane::size;
use crate::pdf::samples::deflated_samples;
use crate::scene::is_stencil;
use pdf_writer::{Filter, Ref};

impl Forme<'_> {
    pub fn picture_in(&mut self, content: &mut Content, picture: &Picture, ink: &Ink, place: Affine) {
        let coverage = match self.coverages.get(&picture.digest()) {
            Some(coverage) => *coverage,
            None => self.write_coverage(picture),
        };
        self.ink(content, PaintOp::Fill, ink);
        content.matrix(place, "cm");
        match coverage {
            Coverage::Stencil(id) => content.call(Resource::Object, id, "Do"),
            Coverage::Lightness(group) => {
                self.state(content, ExtGState::Through(group.get()));
                content.op(&[0.0, 0.0, 1.0, 1.0], "re");
                content.word("f");
            }
        }
    }

    fn write_coverage(&mut self, picture: &Picture) -> Coverage {
        let packing = self.packing;
        let key = Digest::of_all(&[b"coverage", picture.digest().bytes(), &[packing as u8]]);
        let kept = self.darkroom.compressed(key, || make(picture, packing));
        // The darkroom keeps a byte for the kind before the stream.
        let (stencil, kept) = (kept.first() == Some(&1), SharedBytes::from(kept).after(1));
        let coverage = if stencil {
            Coverage::Stencil(self.stencil(picture, kept))
        } else {
            let image = self.plane(picture, kept);
            let mut content = self.content();
            content.call(Resource::Object, image, "Do");
            Coverage::Lightness(self.group(&content, Rect::new(0.0, 0.0, 1.0, 1.0), b"DeviceGray", true))
        };
        self.coverages.insert(picture.digest(), coverage);
        coverage
    }
}

impl Forme<'_> {
    /// A mask of a picture's size that is all or nothing, eight deflated pixels a byte; 1 shows.
    pub fn stencil(&mut self, picture: &Picture, deflated: SharedBytes) -> Ref {
        let id = self.id();
        let (width, height) = size(picture);
        let mut image = self.image(id, deflated);
        image.width(width).height(height).image_mask(true).bits_per_component(1).decode([1.0, 0.0]);
        image.filter(Filter::FlateDecode);
        id
    }
}

fn make(picture: &Picture, packing: Packing) -> Vec<u8> {
    let shares = picture.darkness();
    let stencil = is_stencil(&shares);
    let mut kept = vec![u8::from(stencil)];
    kept.extend(if stencil {
        deflate_fast(&pack(&shares, picture.width() as usize))
    } else {
        deflated_samples(&shares, picture.width(), 1, packing)
    });
    kept
}

/// Eight pixels a byte, rows padded; 1 takes ink.
pub fn pack(shares: &[u8], width: usize) -> Vec<u8> {
    let mut packed = Vec::with_capacity(shares.len() / 8 + shares.len() / width.max(1));
    for row in shares.chunks(width.max(1)) {
        packed.extend(row.chunks(8).map(|eight| {
            eight.iter().enumerate().fold(0_u8, |byte, (place, share)| byte | u8::from(*share > 127) << (7 - place))
        }));
    }
    packed
}
