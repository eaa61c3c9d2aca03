//! Forms: content that is placed whole, by itself or as a group that is mixed (ISO 32000-1, 8.10 and 11.6.6).

use crate::ground::{Affine, Blend, FillRule, Rect, rect_path};
use crate::returned::drawn::PagePainter;
use crate::returned::functions::{numbers, word};
use crate::returned::operators::ContentAround;
use hayro_syntax::object::{Dict, Stream};
use hayro_syntax::page::Resources;

/// Forms within forms.
const DEPTH: usize = 12;

impl PagePainter<'_> {
    pub fn placed(&mut self, placed: &Stream<'_>, around: ContentAround<'_>) {
        match word(placed.dict(), "Subtype").as_deref() {
            Some("Image") => self.photo(placed, around.resources),
            Some("Form") => self.form(placed, around),
            _ => {}
        }
    }

    fn form(&mut self, form: &Stream<'_>, around: ContentAround<'_>) {
        let kept = self.state.clone();
        let group = form.dict().get::<Dict<'_>>("Group");
        let group = group.filter(|group| word(group, "S").as_deref() == Some("Transparency"));
        let apart = group.is_some() && (kept.fill.opacity < 1.0 || kept.blend != Blend::Normal || kept.mask.is_some());
        if let Some(group) = group.as_ref().filter(|_| apart)
            && group.get::<bool>("K").unwrap_or(false)
        {
            self.undrawn("groups that knock out within themselves");
        }
        if apart {
            self.begin_group();
            (self.state.clip, self.state.mask) = (None, None);
        }
        if group.is_some() {
            self.state.blend = Blend::Normal;
            (self.state.fill.opacity, self.state.stroke.opacity) = (1.0, 1.0);
        }
        if let Err(why) = self.content_of(form, around) {
            self.undrawn(&why);
        }
        self.state = kept;
        if apart {
            let (opacity, blend) = (self.state.fill.opacity, self.state.blend);
            self.end_group(opacity, blend);
        }
    }

    /// Paints what a form holds, cut to its box.
    pub fn content_of(&mut self, form: &Stream<'_>, around: ContentAround<'_>) -> Result<(), String> {
        if around.depth >= DEPTH {
            return Err("forms within forms, deeper than they are followed".to_owned());
        }
        let dict = form.dict();
        let bytes = self.budget.decoded(form)?;
        let own = dict.get::<Dict<'_>>("Resources").map(Resources::new);
        let resources = own.as_ref().unwrap_or(around.resources);
        if let Some(matrix) = numbers(dict, "Matrix").and_then(|matrix| <[f64; 6]>::try_from(matrix).ok()) {
            self.state.to_sheet *= Affine::new(matrix);
        }
        if let Some([x0, y0, x1, y1]) = numbers(dict, "BBox").and_then(|box_| <[f64; 4]>::try_from(box_).ok()) {
            let bounds = self.state.to_sheet * rect_path(Rect::new(x0, y0, x1, y1));
            self.cut(bounds, FillRule::NonZero);
        }
        let path = std::mem::take(&mut self.path);
        self.stream(&bytes, resources, around.depth + 1);
        self.path = path;
        Ok(())
    }
}
