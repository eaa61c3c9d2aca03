//! Alike: which element of the new design is which of the old: the same name on the same panel.

use crate::ground::Rect;
use crate::record::{Area, CoverOutline, ReportedElement};
use std::collections::BTreeMap;

pub struct ElementPair<'a> {
    pub old: Option<&'a ReportedElement>,
    pub new: Option<&'a ReportedElement>,
    /// The old one's place in the order of printing.
    pub rank: usize,
    /// Which of several elements of one name it is, counted from 1; such are those of each item of a list.
    number: Option<usize>,
}

impl ElementPair<'_> {
    /// `front / title`, `back / quote 2`.
    pub fn place(&self) -> String {
        let number = self.number.map_or_else(String::new, |number| format!(" {number}"));
        let element = self.new.or(self.old);
        element.map_or_else(String::new, |element| format!("{} / {}{number}", element.panel, element.name))
    }
}

/// Panel and name.
type ElementName<'a> = (&'a str, &'a str);

fn name(element: &ReportedElement) -> ElementName<'_> {
    (&element.panel, &element.name)
}

/// In the order of the new design, then what only the old one has. Of several with one name, the first is the first.
pub fn pairs<'a>(old: &'a CoverOutline, new: &'a CoverOutline) -> Vec<ElementPair<'a>> {
    let mut were: BTreeMap<ElementName<'_>, Vec<(usize, &ReportedElement)>> = BTreeMap::new();
    for (rank, element) in old.elements.iter().enumerate() {
        were.entry(name(element)).or_default().push((rank, element));
    }
    let mut are: BTreeMap<ElementName<'_>, usize> = BTreeMap::new();
    new.elements.iter().for_each(|element| *are.entry(name(element)).or_default() += 1);
    let count = |name: &ElementName<'_>| were.get(name).map_or(0, Vec::len).max(are.get(name).copied().unwrap_or(0));
    let number = |name: &ElementName<'_>, at: usize| (count(name) > 1).then_some(at + 1);
    let mut met: BTreeMap<ElementName<'_>, usize> = BTreeMap::new();
    let mut pairs = Vec::with_capacity(new.elements.len());
    for element in &new.elements {
        let name = name(element);
        let next = met.entry(name).or_default();
        let known = were.get(&name).and_then(|were| were.get(*next)).copied();
        let (rank, old) = known.map_or((0, None), |(rank, old)| (rank, Some(old)));
        pairs.push(ElementPair { old, new: Some(element), rank, number: number(&name, *next) });
        *next += 1;
    }
    let mut gone: Vec<ElementPair<'_>> = Vec::new();
    for (name, were) in &were {
        let first = are.get(name).copied().unwrap_or(0);
        let left = were.iter().enumerate().skip(first);
        gone.extend(left.map(|(at, (rank, element))| ElementPair {
            old: Some(element),
            new: None,
            rank: *rank,
            number: number(name, at),
        }));
    }
    gone.sort_by_key(|pair| pair.rank);
    pairs.extend(gone);
    pairs
}

/// The frames, on the new sheet, of pictures that are the same file at another size, and by how much they differ.
pub fn resized(old: &CoverOutline, new: &CoverOutline) -> Vec<(Rect, f64)> {
    let same = |(was, now): &(&ReportedElement, &ReportedElement)| {
        let files =
            |element: &ReportedElement| element.pictures.iter().map(|print| print.sha256.clone()).collect::<Vec<_>>();
        !now.pictures.is_empty() && files(was) == files(now) && was.area != now.area
    };
    let both = pairs(old, new).into_iter().filter_map(|pair| Some((pair.old?, pair.new?))).filter(same);
    let frame = |area: &Area| Rect::new(area.left, area.top, area.right(), area.bottom());
    let by = |was: &Area, now: &Area| (now.width - was.width).abs().max((now.height - was.height).abs());
    both.map(|(was, now)| (frame(&now.area), by(&was.area, &now.area))).collect()
}
