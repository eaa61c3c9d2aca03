//! Piece: all marks of one element, as they show: cut by what is around them.

use crate::ground::{Blend, Ink, Path, Rect, Shape as _};
use crate::scene::{GlyphRun, Item, Kind, Mark, Origin, PlacedPicture};
use std::ops::Range;

/// A mark that is no group, and what its groups make of it.
#[derive(Clone, Copy)]
pub struct VisibleMark<'a> {
    pub item: &'a Item,
    /// What is left of its bounds inside all clips.
    pub bounds: Rect,
    /// Thinned or mixed by a group.
    pub mixed: bool,
    /// Multiplied with what lies under it.
    pub multiplied: bool,
    /// The share of its ink that its groups print, veils apart.
    pub opacity: f64,
    /// Cut by something that is no rectangle.
    pub is_shaped: bool,
    /// What the nearest veil around it lays, as black, where it shows.
    pub veil: Option<&'a [Item]>,
}

/// What the groups around a mark make of it.
#[derive(Clone, Copy, Default)]
struct GroupEffect<'a> {
    veil: Option<&'a [Item]>,
    clip: Option<Rect>,
    mixed: bool,
    multiplied: bool,
    opacity: f64,
    is_shaped: bool,
}

pub struct VisibleElement<'a> {
    pub origin: &'a Origin,
    pub marks: Vec<VisibleMark<'a>>,
    /// Runs of blanks, which show nothing: those at which lines end. They belong to what it says.
    pub blanks: Vec<&'a GlyphRun>,
    /// Its place among all marks, bottom to top.
    pub range: Range<usize>,
    /// Around all marks that show.
    pub bounds: Rect,
}

impl VisibleMark<'_> {
    /// Whether less of its ink prints than is stated.
    pub fn is_thinned(&self) -> bool {
        self.opacity < 1.0 || self.veil.is_some()
    }
}

impl<'a> VisibleElement<'a> {
    pub fn is(&self, kind: Kind) -> bool {
        self.origin.kind == kind
    }

    /// Runs of glyphs and how far their ink reaches.
    pub fn runs(&self) -> impl Iterator<Item = (&'a GlyphRun, &VisibleMark<'a>)> {
        self.marks.iter().filter_map(|shown| match &shown.item.mark {
            Mark::Glyphs(run) => Some((run, shown)),
            _ => None,
        })
    }

    pub fn pictures(&self) -> impl Iterator<Item = (&'a PlacedPicture, &VisibleMark<'a>)> {
        self.marks.iter().filter_map(|shown| match &shown.item.mark {
            Mark::Picture(placed) => Some((placed, shown)),
            _ => None,
        })
    }

    /// Every ink stated, with the mark it is stated for.
    pub fn inks(&self, visit: &mut dyn FnMut(&Ink, &VisibleMark<'a>)) {
        self.marks.iter().for_each(|shown| shown.item.inks(&mut |ink| visit(ink, shown)));
    }

    /// Around its letters. A sign that hangs out of the frame, as a quotation mark at a line's beginning does, counts only
    /// as far as the frame reaches.
    pub fn body(&self) -> Rect {
        let frame = self.origin.frame;
        let mut all: Option<Rect> = None;
        for (run, shown) in self.runs() {
            for (at, glyph) in run.glyphs.iter().enumerate() {
                let Some(bounds) = run.font.glyph_bounds(glyph.id) else { continue };
                let place = (run.transform * run.placing(at)).transform_rect_bbox(bounds);
                let found = run.text.get(glyph.text.clone()).unwrap_or_default();
                let sign = !found.chars().any(char::is_alphanumeric);
                let place = meet(if sign { meet(place, frame) } else { place }, shown.bounds);
                if place.width() > 0.0 && place.height() > 0.0 {
                    all = Some(all.map_or(place, |all| all.union(place)));
                }
            }
        }
        all.unwrap_or(self.bounds)
    }

    /// How a finding names it: `title` on `front`.
    pub fn name(&self) -> String {
        format!("`{}`", self.origin.element)
    }
}

/// Every mark of a scene with what its groups make of it, bottom to top.
pub fn visible_marks(items: &[Item]) -> Vec<VisibleMark<'_>> {
    let mut all = Vec::with_capacity(items.len());
    collect(items, GroupEffect { opacity: 1.0, ..GroupEffect::default() }, &mut all);
    all
}

fn collect<'a>(items: &'a [Item], around: GroupEffect<'a>, all: &mut Vec<VisibleMark<'a>>) {
    for item in items {
        if let Mark::Group(group) = &item.mark {
            let own = group.clip.as_ref().map(|(path, _)| path.bounding_box());
            let clip = match (around.clip, own) {
                (Some(outer), Some(own)) => Some(meet(outer, own)),
                (outer, own) => outer.or(own),
            };
            let inside = GroupEffect {
                veil: group.veil.as_deref().or(around.veil),
                clip,
                mixed: around.mixed || !group.is_plain(),
                multiplied: around.multiplied || group.blend == Blend::Multiply,
                opacity: around.opacity * group.opacity,
                is_shaped: around.is_shaped || group.clip.as_ref().is_some_and(|(path, _)| !is_rectangle(path)),
            };
            collect(&group.items, inside, all);
            continue;
        }
        let Some(bounds) = item.bounds() else { continue };
        let bounds = around.clip.map_or(bounds, |clip| meet(bounds, clip));
        if bounds.width() >= 0.0 && bounds.height() >= 0.0 && bounds.is_finite() {
            let GroupEffect { veil, mixed, multiplied, opacity, is_shaped, .. } = around;
            all.push(VisibleMark { item, bounds, mixed, multiplied, opacity, is_shaped, veil });
        }
    }
}

/// Whether a path fills the whole box around it.
pub fn is_rectangle(path: &Path) -> bool {
    let whole = path.bounding_box().area();
    (path.area().abs() - whole).abs() <= whole * 1e-9
}

/// What two rectangles share; of negative size when they share nothing.
fn meet(a: Rect, b: Rect) -> Rect {
    Rect { x0: a.x0.max(b.x0), y0: a.y0.max(b.y0), x1: a.x1.min(b.x1), y1: a.y1.min(b.y1) }
}

/// Marks of one element stand together.
pub fn elements<'a>(marks: &[VisibleMark<'a>]) -> Vec<VisibleElement<'a>> {
    let mut elements: Vec<VisibleElement<'a>> = Vec::new();
    for (at, shown) in marks.iter().enumerate() {
        let origin = &*shown.item.origin;
        if let Some(element) = elements.last_mut().filter(|element| std::ptr::eq(element.origin, origin)) {
            element.bounds = element.bounds.union(shown.bounds);
            element.range.end = at + 1;
            element.marks.push(*shown);
        } else {
            let (marks, blanks) = (vec![*shown], Vec::new());
            elements.push(VisibleElement { origin, marks, blanks, range: at..at + 1, bounds: shown.bounds });
        }
    }
    elements
}
