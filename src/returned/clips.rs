//! Clips: what is painted, with what cuts it, put into groups.

use crate::ground::{FillRule, Path, Rect, Shape};
use crate::scene::{Group, Item, Mark, Origin};
use std::sync::Arc;

/// A clip within others.
pub struct ClipChain {
    path: Path,
    rule: FillRule,
    /// Where it is a rectangle.
    rect: Option<Rect>,
    outer: Option<Arc<ClipChain>>,
    /// It and all around it, and their corners: each is cut, and copied, wherever what lies in it is.
    pub depth: usize,
    pub corners: usize,
}

/// Something painted, and what cuts it.
pub struct Clipped {
    pub clip: Option<Arc<ClipChain>>,
    pub mark: Mark,
}

impl ClipChain {
    /// A clip inside another. One that cuts nothing off the page is none.
    pub fn within(outer: Option<Arc<ClipChain>>, path: Path, rule: FillRule, page: Rect) -> Option<Arc<ClipChain>> {
        let rect = is_rectangle(&path).then(|| path.bounding_box());
        if rect.is_some_and(|rect| rect.union(page) == rect) {
            return outer;
        }
        let (depth, corners) = outer.as_ref().map_or((0, 0), |outer| (outer.depth, outer.corners));
        let (depth, corners) = (depth + 1, corners + path.elements().len());
        Some(Arc::new(ClipChain { path, rule, rect, outer, depth, corners }))
    }

    /// Whether it and all around it leave whole what lies in some bounds.
    pub fn leaves_whole(&self, bounds: Rect) -> bool {
        self.rect.is_some_and(|rect| rect.union(bounds) == rect)
            && self.outer.as_ref().is_none_or(|outer| outer.leaves_whole(bounds))
    }
}

/// Neighbours that are cut by the same are cut together.
pub fn grouped(all: Vec<Clipped>, origin: &Arc<Origin>) -> Vec<Item> {
    let mut items: Vec<Item> = Vec::new();
    let mut run: Vec<Item> = Vec::new();
    let mut clip: Option<Arc<ClipChain>> = None;
    for Clipped { clip: own, mark } in all {
        if !same_clip(own.as_ref(), clip.as_ref()) {
            items.extend(cut(std::mem::take(&mut run), clip.as_ref(), origin));
            clip = own;
        }
        run.push(Item { origin: origin.clone(), mark });
    }
    items.extend(cut(run, clip.as_ref(), origin));
    items
}

pub fn same_clip(a: Option<&Arc<ClipChain>>, b: Option<&Arc<ClipChain>>) -> bool {
    match (a, b) {
        (None, None) => true,
        (Some(a), Some(b)) => Arc::ptr_eq(a, b),
        _ => false,
    }
}

fn cut(mut items: Vec<Item>, clip: Option<&Arc<ClipChain>>, origin: &Arc<Origin>) -> Vec<Item> {
    let mut clip = clip;
    while let Some(chain) = clip.filter(|_| !items.is_empty()) {
        let group = Group::cut((chain.path.clone(), chain.rule), items);
        items = vec![Item { origin: origin.clone(), mark: Mark::Group(group) }];
        clip = chain.outer.as_ref();
    }
    items
}

fn is_rectangle(path: &Path) -> bool {
    let area = path.bounding_box().area();
    path.elements().len() <= 6 && (path.area().abs() - area).abs() <= 1e-6 * area
}
