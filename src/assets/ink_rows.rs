//! Ink rows: a picture as its press prints it, some rows at a time: the ink of a large one takes more memory than itself.

use crate::assets::darkroom::{Negative, WHOLE};
use crate::assets::{Darkroom, Model, Picture, Pixels, Profile, Separation};
use std::borrow::Cow;
use std::ops::Range;
use std::sync::Arc;

pub struct InkRows<'a> {
    picture: &'a Picture,
    separation: Separation,
    profile: &'a Profile,
    kept: Option<Arc<Negative>>,
    /// Bytes.
    row: usize,
}

impl Darkroom {
    pub fn ink_rows<'a>(&self, picture: &'a Picture, separation: Separation, profile: &'a Profile) -> InkRows<'a> {
        let row = picture.width() as usize * profile.picture_plates(picture, separation).len();
        let is_small =
            row * picture.height() as usize <= WHOLE && (!picture.is_made_by_rows() || picture.tones().is_some());
        // Numbers that are ink already take no room beside the picture.
        let is_ink =
            picture.model() == Model::Cmyk && separation.limit.is_none() && profile.takes_numbers(picture, separation);
        let kept = (is_small || is_ink).then(|| self.negative(picture, separation, profile));
        if kept.is_none() {
            self.count_converted();
        }
        InkRows { picture, separation, profile, kept, row }
    }
}

impl InkRows<'_> {
    /// All of them, where they lie in memory.
    pub fn whole(&self) -> Option<&[u8]> {
        self.kept.as_ref().map(|kept| &kept.samples[..])
    }

    pub fn of(&self, rows: Range<usize>) -> Cow<'_, [u8]> {
        if let Some(all) = self.whole() {
            return Cow::Borrowed(&all[rows.start * self.row..rows.end * self.row]);
        }
        Cow::Owned(self.made(self.picture.rows(rows)))
    }

    /// Some columns of some rows, made for this call.
    pub fn part(&self, rows: Range<usize>, columns: Range<usize>) -> Vec<u8> {
        let (width, channels) = (self.picture.width() as usize, self.picture.model().channels());
        let few = self.picture.rows(rows);
        if columns.len() == width {
            return self.made(few);
        }
        self.made(few.columns(&(columns.start * channels..columns.end * channels), width * channels))
    }

    fn made(&self, few: Pixels) -> Vec<u8> {
        let inks = self.profile.press_inks(self.picture, &few, self.separation);
        // Where they are the numbers of the picture, these rows let go of them.
        drop(few);
        Arc::unwrap_or_clone(inks)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn some_columns_are_what_they_are_in_the_whole() {
        let profile = Profile::bundled("coated").expect("it is bundled");
        let sample = |at: usize| (at as u32).wrapping_mul(2_654_435_761).to_be_bytes()[0];
        for (model, fine) in [(Model::Rgb, false), (Model::Rgb, true), (Model::Grey, false), (Model::Cmyk, false)] {
            let count = 40 * 30 * model.channels();
            let fine = fine.then(|| Arc::new((0..count).map(|at| (at % 200) as i8).collect()));
            let pixels = Pixels { fine, ..Pixels::opaque((0..count).map(sample).collect()) };
            let picture = Picture::of_samples("a", model, (40, 30), pixels);
            let plates = profile.picture_plates(&picture, Separation::default()).len();
            let rows = InkRows {
                picture: &picture,
                separation: Separation::default(),
                profile: &profile,
                kept: None,
                row: 40 * plates,
            };
            let all = rows.of(0..30);
            let part = rows.part(7..20, 11..25);
            for (row, own) in part.chunks_exact(14 * plates).enumerate() {
                let start = ((7 + row) * 40 + 11) * plates;
                assert_eq!(own, &all[start..start + 14 * plates], "{model:?} {row}");
            }
            assert_eq!(part.len(), 13 * 14 * plates);
            assert!(rows.part(7..20, 0..40) == rows.of(7..20)[..]);
        }
    }
}
