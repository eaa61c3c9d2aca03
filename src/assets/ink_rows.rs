//! Ink rows: a picture as its press prints it, some rows at a time: the ink of a large one takes more memory than itself.

use crate::assets::darkroom::{Negative, WHOLE};
use crate::assets::{Darkroom, Model, Picture, Profile, Separation};
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
        let few = self.picture.rows(rows);
        let inks = self.profile.press_inks(self.picture, &few, self.separation);
        // Where they are the numbers of the picture, these rows let go of them.
        drop(few);
        Cow::Owned(Arc::unwrap_or_clone(inks))
    }
}
