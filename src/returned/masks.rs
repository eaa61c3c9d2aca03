//! Masks: what is painted as far as other marks are light (ISO 32000-1, 11.6.5.2), as soft shadows and what fades are.

use crate::returned::drawn::PagePainter;
use crate::returned::functions::{numbers, word};
use crate::returned::operators::ContentAround;
use crate::returned::state::{PageState, SoftMask};
use hayro_syntax::object::{Dict, Stream};

impl PagePainter<'_> {
    pub fn soft_mask(&mut self, dict: &Dict<'_>, around: ContentAround<'_>) -> Result<SoftMask, String> {
        let undrawn = || "soft masks of another kind than light on black".to_owned();
        let plain = word(dict, "S").as_deref() == Some("Luminosity")
            && numbers(dict, "BC").is_none_or(|backdrop| backdrop.iter().all(|light| *light == 0.0))
            && (!dict.contains_key("TR") || word(dict, "TR").as_deref() == Some("Identity"));
        let form = dict.get::<Stream<'_>>("G").filter(|_| plain).ok_or_else(undrawn)?;
        let (laid, corners) = (self.laid, self.corners);
        let state = PageState::new(self.state.to_sheet);
        let kept = std::mem::replace(&mut self.state, state);
        let of_light = std::mem::replace(&mut self.spots.of_light, true);
        self.begin_group();
        let read = self.content_of(&form, around);
        let items = self.items();
        self.spots.of_light = of_light;
        self.state = kept;
        read.map(|()| SoftMask { items: items.into(), laid: self.laid - laid, corners: self.corners - corners })
    }
}
