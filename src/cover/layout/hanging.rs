//! Hanging: words placed by their first line, by its capitals or its baseline.

use crate::cover::layout::Layout;
use crate::cover::{Axis, Edge, FarEnd, Hang, Limit, Open, Side};

/// Words whose size finds itself are hung again as long as they grow; few steps are enough.
const HANGING_LIMIT: usize = 8;

impl Layout<'_> {
    /// An element that hangs from its first line's capitals or stands on its first baseline. Words turned by a quarter
    /// hang from the side to which their heads point.
    pub fn hung(&self, index: usize, by: Hang, at: &Edge, far: &FarEnd) -> Option<(f64, f64)> {
        let element = &self.elements[index];
        let (axis, head) = element.look.head();
        let along = if axis == Axis::X { Axis::Y } else { Axis::X };
        let down = if head == Side::Start { 1.0 } else { -1.0 };
        let hook = self.edge(element, axis, head, at)?;
        let width = self.side(index, along);
        let foot = if head == Side::Start { Side::End } else { Side::Start };
        let (end, size) = match far {
            FarEnd::Edge(edge) => (self.edge(element, axis, foot, edge), None),
            FarEnd::Size(size) => (None, Some(*size)),
            FarEnd::Own => (None, None),
        };
        let open = |top: f64| {
            let height = match (end, size) {
                (Some(end), _) => Limit::Fixed((end - top) * down),
                (_, Some(size)) => Limit::Fixed(size),
                _ => Limit::Most((self.far(axis, foot) - top) * down),
            };
            Open { width, height }
        };
        // The first line hangs by the room there is, and the room depends on how it hangs.
        let mut top = hook;
        for _ in 0..HANGING_LIMIT {
            let Some(first) = self.first_line_at(index, top, open(top)) else {
                let message = format!("`{}` has no lines, so neither cap-top nor baseline", element.name.value);
                self.error(&element.name, &message, "place it by `top`");
                return None;
            };
            let hung = hook - down * if by == Hang::CapTop { first.cap_top } else { first.baseline };
            if (hung - top).abs() < 1e-9 {
                break;
            }
            top = hung;
        }
        let bottom = match (end, size) {
            (Some(end), _) => end,
            (_, Some(size)) => top + down * size,
            _ => {
                let open = open(top);
                self.found_in.borrow_mut()[index][axis as usize] = Some(open.height.most());
                top + down * self.natural_at(index, Some(top), open).height?
            }
        };
        Some(if head == Side::Start { (top, bottom) } else { (bottom, top) })
    }
}
