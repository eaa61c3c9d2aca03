//! Hanging: words placed by their first line, by its capitals or its baseline.

use crate::cover::layout::Layout;
use crate::cover::{Axis, Limit, Open, Side};

/// Words whose size finds itself are hung again as long as they grow; few steps are enough.
const HANGING_LIMIT: usize = 8;

impl Layout<'_> {
    /// An element that hangs from its first line's capitals or stands on its first baseline. Words turned by a quarter
    /// hang from the side to which their heads point.
    pub fn hung(&self, index: usize, far: Option<f64>, size: Option<f64>) -> Option<(f64, f64)> {
        let element = &self.elements[index];
        let place = &element.place;
        let (axis, head) = element.look.head();
        let along = if axis == Axis::X { Axis::Y } else { Axis::X };
        let down = if head == Side::Start { 1.0 } else { -1.0 };
        let hook = self.edge(element, axis, head, place.cap_top.as_ref().or(place.baseline.as_ref()))?;
        let width = self.side(index, along);
        let foot = if head == Side::Start { Side::End } else { Side::Start };
        let open = |top: f64| {
            let height = match (far, size) {
                (Some(far), _) => Limit::Fixed((far - top) * down),
                (_, Some(size)) => Limit::Fixed(size),
                _ => Limit::Most((self.far(axis, foot) - top) * down),
            };
            Open { width, height }
        };
        // The first line hangs by the room there is, and the room depends on how it hangs.
        let mut top = hook;
        for _ in 0..HANGING_LIMIT {
            let Some(first) = element.body.first_line(open(top), &self.bench) else {
                let message = format!("`{}` has no lines, so neither cap-top nor baseline", element.name.value);
                self.error(&element.name, &message, "place it by `top`");
                return None;
            };
            let hung = hook - down * if place.cap_top.is_some() { first.cap_top } else { first.baseline };
            if (hung - top).abs() < 1e-9 {
                break;
            }
            top = hung;
        }
        let bottom = match (far, size) {
            (Some(far), _) => far,
            (_, Some(size)) => top + down * size,
            _ => {
                let open = open(top);
                self.found_in.borrow_mut()[index][axis as usize] = Some(open.height.most());
                top + down * element.body.natural(open, &self.bench).height?
            }
        };
        Some(if head == Side::Start { (top, bottom) } else { (bottom, top) })
    }
}
