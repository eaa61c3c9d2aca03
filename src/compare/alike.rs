//! Alike: which element of the new design is which of the old: the same name on the same panel.

use crate::ground::Rect;
use crate::record::{Area, Element, Outline};
use std::collections::BTreeMap;

pub struct Pair<'a> {
    pub old: Option<&'a Element>,
    pub new: Option<&'a Element>,
    /// The old one's place in the order of printing.
    pub rank: usize,
}

impl Pair<'_> {
    /// `front / title`.
    pub fn place(&self) -> String {
        let element = self.new.or(self.old);
        element.map_or_else(String::new, |element| format!("{} / {}", element.panel, element.name))
    }
}

/// In the order of the new design, then what only the old one has. Of several with one name, the first is the first.
pub fn pairs<'a>(old: &'a Outline, new: &'a Outline) -> Vec<Pair<'a>> {
    let mut waiting: BTreeMap<(&str, &str), Vec<(usize, &Element)>> = BTreeMap::new();
    for (rank, element) in old.elements.iter().enumerate().rev() {
        waiting.entry((&element.panel, &element.name)).or_default().push((rank, element));
    }
    let mut pairs = Vec::with_capacity(new.elements.len());
    for element in &new.elements {
        let known = waiting.get_mut(&(element.panel.as_str(), element.name.as_str())).and_then(Vec::pop);
        pairs.push(match known {
            Some((rank, old)) => Pair { old: Some(old), new: Some(element), rank },
            None => Pair { old: None, new: Some(element), rank: 0 },
        });
    }
    let mut gone: Vec<(usize, &Element)> = waiting.into_values().flatten().collect();
    gone.sort_by_key(|(rank, _)| *rank);
    pairs.extend(gone.into_iter().map(|(rank, element)| Pair { old: Some(element), new: None, rank }));
    pairs
}

/// The frames, on the new sheet, of pictures that are the same file at another size, and by how much they differ.
pub fn grown(old: &Outline, new: &Outline) -> Vec<(Rect, f64)> {
    let same = |(was, now): &(&Element, &Element)| {
        let files = |element: &Element| element.pictures.iter().map(|print| print.sha256.clone()).collect::<Vec<_>>();
        !now.pictures.is_empty() && files(was) == files(now) && was.area != now.area
    };
    let both = pairs(old, new).into_iter().filter_map(|pair| Some((pair.old?, pair.new?))).filter(same);
    let frame = |area: &Area| Rect::new(area.left, area.top, area.right(), area.bottom());
    let by = |was: &Area, now: &Area| (now.width - was.width).abs().max((now.height - was.height).abs());
    both.map(|(was, now)| (frame(&now.area), by(&was.area, &now.area))).collect()
}
