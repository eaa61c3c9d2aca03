//! Masks: what is painted as far as other marks are light (ISO 32000-1, 11.6.5.2), as soft shadows and what fades are.

use crate::returned::drawn::PagePainter;
use crate::returned::functions::{numbers, word};
use crate::returned::operators::ContentAround;
use crate::returned::state::{PageState, PaintedMask, SoftMask};
use hayro_syntax::object::{Dict, Stream};
use std::sync::Arc;

impl PagePainter<'_> {
    pub fn soft_mask(&mut self, dict: &Dict<'_>, around: ContentAround<'_>) -> Result<Arc<SoftMask>, String> {
        let undrawn = || "soft masks of another kind than light on black".to_owned();
        let plain = word(dict, "S").as_deref() == Some("Luminosity")
            && numbers(dict, "BC").is_none_or(|backdrop| backdrop.iter().all(|light| *light == 0.0))
            && (!dict.contains_key("TR") || word(dict, "TR").as_deref() == Some("Identity"));
        let form = dict.get::<Stream<'_>>("G").filter(|_| plain).ok_or_else(undrawn)?;
        let (to_sheet, name) = (self.state.to_sheet, form.obj_id());
        // A form without resources of its own takes those around it.
        let stands_alone = form.dict().contains_key("Resources");
        let last =
            self.last_mask.as_ref().filter(|last| stands_alone && last.form == name && last.to_sheet == to_sheet);
        if let Some(last) = last {
            return Ok(last.mask.clone());
        }
        let (laid, corners) = (self.laid, self.corners);
        let state = PageState::new(to_sheet);
        let kept = std::mem::replace(&mut self.state, state);
        let of_light = std::mem::replace(&mut self.spots.of_light, true);
        self.begin_group();
        let read = self.content_of(&form, around);
        let items = self.items();
        self.spots.of_light = of_light;
        self.state = kept;
        read?;
        let mask = SoftMask { items: items.into(), laid: self.laid - laid, corners: self.corners - corners };
        let mask = Arc::new(mask);
        self.last_mask = Some(PaintedMask { form: name, to_sheet, mask: mask.clone() });
        Ok(mask)
    }
}
