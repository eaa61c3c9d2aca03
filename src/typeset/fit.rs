//! The size at which words fill a room.

use crate::assets::Font;
use crate::typeset::{
    Size, Style,
    layout::{Frame, Layout, Prepared, lay},
};

/// Sizes between least and most, in points.
const STEP: f64 = 0.25;

/// How many steps above a size that fits are tried, since lines may break more happily at a larger size.
const CLIMB: usize = 4;

/// The style's size, or the largest of its range that fits; the least when none does.
pub fn fit(prepared: &Prepared, style: &Style, base: &Font, frame: Frame<'_>) -> Layout {
    let at = |size: f64| lay(prepared, style, size, base, frame);
    let fits = |layout: &Layout| layout.overmatter.is_none() && !layout.overwide;
    let (least, most) = match style.size {
        Size::Fixed(size) => return at(size),
        Size::Between(least, most) => (least.min(most), most.max(least)),
    };
    let size = |step: usize| (least + step as f64 * STEP).min(most);
    let mut best = at(most);
    if fits(&best) {
        return best;
    }
    best = at(least);
    let (mut low, mut high) = (0, (((most - least) / STEP).ceil() as usize).min(10_000));
    while low + 1 < high {
        let middle = usize::midpoint(low, high);
        let layout = at(size(middle));
        if fits(&layout) {
            low = middle;
            best = layout;
        } else {
            high = middle;
        }
    }
    if fits(&best) {
        for step in low + 2..(low + 2 + CLIMB) {
            let layout = at(size(step));
            if size(step) < most && fits(&layout) {
                best = layout;
            }
        }
    }
    best
}
