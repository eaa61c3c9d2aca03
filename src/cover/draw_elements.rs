//! Draws elements into their frames, those of a group as well.

use crate::cover::{Bench, Element, Layout, Open, Pen, Region};
use crate::ground::{Affine, FillRule, Rect};
use crate::scene::{Group, Item, Mark, Origin};
use std::sync::Arc;

/// Lays and draws the elements inside an element, in the order of printing, in a region of their own.
pub fn draw_elements(pen: &mut Pen<'_>, region: &Region, elements: &[Element]) {
    let layout = Layout::new(pen.bench, region, elements);
    for (index, element) in elements.iter().enumerate().filter(|(_, element)| !element.body.absent()) {
        let frame = layout.frame(index);
        let holes = layout.holes(index, Some(frame.y0));
        let bench = Bench { holes: holes.as_ref(), ..pen.bench };
        let items = draw_one(bench, region, element, (frame, layout.room(index)), pen.transform());
        pen.add(items);
    }
}

/// Draws one element inside another, in a frame of the pen's space.
pub fn draw_inner(pen: &mut Pen<'_>, region: &Region, element: &Element, frame: Rect, room: Open) {
    let bench = Bench { holes: None, ..pen.bench };
    let items = draw_one(bench, region, element, (frame, room), pen.transform());
    pen.add(items);
}

/// Draws one element into a frame, whose size was found in a room.
pub fn draw_one(
    bench: Bench<'_>,
    region: &Region,
    element: &Element,
    (frame, room): (Rect, Open),
    transform: Affine,
) -> Vec<Item> {
    let room = if element.look.quarter() { room.turned() } else { room };
    let (local, turn) = element.look.turned(frame);
    let transform = transform * turn;
    let origin = Arc::new(Origin {
        span: element.name.span,
        panel: element.panel,
        element: element.name.value.clone(),
        kind: element.body.kind(),
        frame: transform.transform_rect_bbox(local),
    });
    let mut pen = Pen::new(bench, region, room, origin.clone(), transform);
    element.body.draw(local, &mut pen);
    let items = pen.into_items();
    bench.findings.borrow_mut().show(element.span, origin.frame);
    if !element.look.grouped() {
        return items;
    }
    let clip = element.look.clip_path(local).map(|path| (transform * path, FillRule::NonZero));
    let group = Group { veil: None, clip, opacity: element.look.opacity, blend: element.look.blend, items };
    vec![Item { origin, mark: Mark::Group(group) }]
}
