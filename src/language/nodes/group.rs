//! `group`: several elements as one.
//!
//! ```kdl
//! group imprint {
//!     left safe; bottom safe; width 30; height 20
//!     turn 8 from=centre
//!     oval seal { swatch black percent=20; left 0; right 0; top 0; bottom 0 }
//!     text name words="Tern Passage" { left 0; right 0; centre-y centre; align centre }
//! }
//! ```
//!
//! Inside, every guide is the group's own frame: `left 0` is its left edge. `turn`, `opacity`, `blend` and `clip` act on
//! the whole.

use crate::cover::{Bench, Draw, Element, Natural, Open, Pen, draw_elements};
use crate::ground::Rect;
use crate::language::context::{Context, DEPTH_LIMIT};
use crate::language::headword::{Headword, Role, element};
use crate::language::look::LOOK;
use crate::language::place::PLACE;
use crate::scene::Kind;
use crate::source::{Besides, Node, Reader};
use std::sync::Arc;

pub const HEADWORD: Headword = Headword::new(
    element("group", "several elements as one").holds(&[PLACE, LOOK]).besides(Besides::Elements),
    include_str!("group.rs"),
    Role::Element(Kind::Shape, read),
);

struct GroupElement {
    elements: Vec<Element>,
}

fn read(reader: &Reader<'_>, context: &Context<'_>) -> Option<Arc<dyn Draw>> {
    Some(Arc::new(GroupElement { elements: inner(reader, context) }))
}

/// The elements inside a group or stack.
pub fn inner(reader: &Reader<'_>, context: &Context<'_>) -> Vec<Element> {
    inside(reader, context, |nodes, context| (context.read)(nodes, context))
}

/// What is made of the elements inside something, which is a region of its own.
pub fn inside<T: Default>(
    reader: &Reader<'_>,
    context: &Context<'_>,
    read: impl FnOnce(&[Node], &Context<'_>) -> T,
) -> T {
    let nodes: Vec<_> = reader.nodes(context.elements.iter().copied()).into_iter().cloned().collect();
    if context.depth >= DEPTH_LIMIT {
        let message = format!("groups and parts stand in each other more than {DEPTH_LIMIT} deep");
        reader.error(reader.span(), message, "a part may not use itself");
        return T::default();
    }
    let region = context.region.inside(context.region.rect);
    read(&nodes, &Context { region: &region, depth: context.depth + 1, ..*context })
}

impl Draw for GroupElement {
    fn kind(&self) -> Kind {
        Kind::Shape
    }

    fn natural(&self, _room: Open, _bench: &Bench<'_>) -> Natural {
        Natural::default()
    }

    fn draw(&self, frame: Rect, pen: &mut Pen<'_>) {
        let region = pen.region.inside(frame);
        draw_elements(pen, &region, &self.elements);
    }

    fn inner(&self) -> &[Element] {
        &self.elements
    }
}
