//! The words that place an element along one axis, and the stretch that they come to.

use crate::cover::{Anchor, Edge, ElementSize, FarEnd, Hang, Side, Stretch};
use crate::source::Reader;

/// As they are read: any two of start, end, centre and size fix an axis.
#[derive(Default)]
pub struct AxisWords {
    pub start: Option<Edge>,
    pub end: Option<Edge>,
    pub centre: Option<Edge>,
    pub size: Option<f64>,
    /// Something more was written that could not be understood and has been reported.
    pub slipped: bool,
}

impl AxisWords {
    /// How many there are.
    pub fn stated(&self) -> usize {
        let lines = [&self.start, &self.end, &self.centre];
        lines.into_iter().flatten().count() + usize::from(self.size.is_some())
    }

    /// Reports more words than an axis needs.
    pub fn check(&self, reader: &Reader<'_>, what: &str) {
        if self.stated() > 2 {
            let message = "too many words fix this place: two are enough";
            reader.error(reader.span(), message, format!("take one away of {what}"));
        }
    }

    /// Two of the words, or fewer.
    pub fn settled(self) -> Stretch {
        let AxisWords { start, end, centre, size, slipped } = self;
        let own = if slipped { ElementSize::Slipped } else { ElementSize::Own };
        match (start, end, centre, size) {
            (Some(start), Some(end), ..) => Stretch::Between { start, end },
            (Some(edge), None, Some(centre), None) => Stretch::Mirrored { side: Side::Start, edge, centre },
            (None, Some(edge), Some(centre), None) => Stretch::Mirrored { side: Side::End, edge, centre },
            (Some(start), None, _, size) => Stretch::At(Anchor::Start, start, size.map_or(own, ElementSize::Stated)),
            (None, Some(end), _, size) => Stretch::At(Anchor::End, end, size.map_or(own, ElementSize::Stated)),
            (None, None, Some(centre), size) => {
                Stretch::At(Anchor::Centre, centre, size.map_or(own, ElementSize::Stated))
            }
            (None, None, None, size) if slipped => Stretch::Slipped(size),
            (None, None, None, size) => size.map_or(Stretch::Open, Stretch::Size),
        }
    }

    /// The same along the axis on which words may hang by their first line: there the hook takes the place of the edge to
    /// which the heads of their letters point.
    pub fn hung(self, reader: &Reader<'_>, hook: Option<(Hang, Edge)>, head: Side) -> Stretch {
        let Some((by, at)) = hook else { return self.settled() };
        if let Some(centre) = &self.centre {
            let message = "words that hang by their first line have no middle to place";
            reader.error(centre.span, message, "keep one of the two, or say where the words end");
        }
        let edge = if head == Side::Start { self.end } else { self.start };
        if let (Some(edge), Some(_)) = (&edge, self.size) {
            let message = "too many words fix this place: two are enough";
            reader.error(edge.span, message, "take this edge or the size away");
        }
        let far = edge.map(FarEnd::Edge).or(self.size.map(FarEnd::Size)).unwrap_or(FarEnd::Own);
        Stretch::Hung { by, at, far }
    }
}
