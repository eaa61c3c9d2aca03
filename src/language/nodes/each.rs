//! `each`: elements repeated for every item of a list of facts, one item under the other.
//!
//! ```kdl
//! text blurb copy="blurb.md" { left safe; right safe; top safe }
//! each quote gap=5 within=1 {
//!     left safe; right safe; below blurb 6
//!     text said words="“{quote}”" style=quote { align centre }
//!     text by words="{quote.by}" when=quote.by { size 8; align centre }
//! }
//! text foot words="{author}" { left safe; right safe; below quote 4 }
//! ```
//!
//! Lists are `quote`, `author`, `price` (in the order of the file) and facts of your own that are numbered:
//! `fact award "…"`, `fact award.2 "…"`. Inside, the name of the list stands for the item at hand: `{quote}`, `{quote.by}`,
//! `{quote.source}`, `{author}`, `{price}`, `{award}`; `when=quote.by` asks whether this very quote has one. Empty items are
//! left out.
//!
//! - Each element takes the whole breadth, or the `width` that it states, and the height that it needs, or the one that it
//!   states. For an item with another form, put a `group` or a `stack` into it.
//! - Repeated elements carry the number of their item, or its currency: `said`, `said.2`, `said.3`; `cost.EUR`.
//! - A list that is empty draws nothing and takes no room: what stands `below` it stands where it would have begun, and
//!   the gap before it closes. So it is with every element that `when=` leaves out.

use crate::cover::{Draw, Element, Facts, Look, Place};
use crate::ground::Spanned;
use crate::language::context::Context;
use crate::language::headword::{Headword, Role, UNLESS, WHEN, element};
use crate::language::lists::List;
use crate::language::look::LOOK;
use crate::language::nodes::group::inside;
use crate::language::nodes::stack::{GAP, Stack, row};
use crate::language::place::PLACE;
use crate::language::stated::{is_stated, suppose};
use crate::scene::Kind;
use crate::source::{Besides, Reader, Word, mm, name};
use std::sync::Arc;

pub const HEADWORD: Headword = Headword::new(
    element("each", "elements repeated for every item of a list of facts")
        .takes(&[name("a list of facts")])
        .properties(&[GAP, WITHIN, AS, WHEN, UNLESS])
        .holds(&[PLACE, LOOK])
        .besides(Besides::Elements),
    include_str!("each.rs"),
    Role::Element(Kind::Shape, read),
);

const WITHIN: Word = Word::new("within", "the space between the elements of one item")
    .takes(&[mm("a gap", -1000.0, 1000.0)])
    .default("0");
const AS: Word =
    Word::new("as", "what its neighbours call it, instead of the name of its list").takes(&[name("a name")]);

/// No panel has room for so many items of a list.
const ITEM_LIMIT: usize = 200;

fn read(reader: &Reader<'_>, context: &Context<'_>) -> Option<Arc<dyn Draw>> {
    let value = reader.node.values.first()?;
    let list = reader.as_text(value, "a list of facts")?;
    let length = |word| reader.mm_property(word).unwrap_or(0.0);
    let (gap, within) = (length(&GAP), length(&WITHIN));
    let items = inside(reader, context, |nodes, context| {
        if nodes.is_empty() {
            let help = format!("say what stands for every item: `text said words=\"{{{}}}\"`", list.value);
            reader.error(reader.span(), "this `each` repeats nothing", help);
        }
        let read = |context: &Context<'_>| row(reader, (context.read)(nodes, context));
        let book = &context.facts.book;
        let stated = List::of(book, &list.value);
        if stated.items.is_empty() {
            is_stated(value, context);
            suppose(&list.value, list.span, context, |context| drop(read(context)));
        }
        let mut items = Vec::new();
        if stated.items.len() > ITEM_LIMIT {
            let message = format!("`{}` has more than {ITEM_LIMIT} items; the rest is left out", list.value);
            reader.error(list.span, message, "print them one by one, as far as there is room for them");
        }
        for fact in stated.items.iter().take(ITEM_LIMIT) {
            if !context.counts(reader.node) {
                break;
            }
            let facts = Facts { book: stated.at_hand(book, fact), ..context.facts.clone() };
            let elements = read(&Context { facts: &facts, ..*context });
            let number = &fact[list.value.len()..];
            items.extend(item(&list, number, elements, within, context));
        }
        items
    });
    Some(Stack::of(items, true, gap, context))
}

/// The elements of one item, which bear its number; none where nothing is left of it.
fn item(
    list: &Spanned<String>,
    number: &str,
    mut elements: Vec<Element>,
    within: f64,
    context: &Context<'_>,
) -> Option<Element> {
    for element in &mut elements {
        element.name.value.push_str(number);
    }
    let span = elements.first()?.span;
    let name = Spanned::new(format!("{}{number}", list.value), list.span);
    let panel = context.region.name;
    let body = Stack::of(elements, true, within, context);
    Some(Element { name, panel, place: Place::default(), look: Look::default(), body, span })
}
