//! The words of place, taken off an element.

use crate::cover::{Edge, Facts, From, Guide, Place, Region, Stretch};
use crate::ground::Spanned;
use crate::source::{Datum, Reader, Unit, Value, offer};

/// Takes the words of place off an element.
pub fn read_place(reader: &Reader<'_>, region: &Region, facts: &Facts) -> Place {
    let mut place = Place::default();
    let edge = |name| read_edge(reader, name, facts);
    let neighbour = |name| read_neighbour(reader, name);
    set(reader, &mut place.x.start, edge("left"));
    set(reader, &mut place.x.end, edge("right"));
    set(reader, &mut place.y.start, edge("top"));
    set(reader, &mut place.y.end, edge("bottom"));
    set(reader, &mut place.x.centre, edge("centre-x"));
    set(reader, &mut place.y.centre, edge("centre-y"));
    set(reader, &mut place.y.start, neighbour("below"));
    set(reader, &mut place.y.end, neighbour("above"));
    place.x.size = read_size(reader, "width");
    place.y.size = read_size(reader, "height");
    place.cap_top = edge("cap-top");
    place.baseline = edge("baseline");
    let (after, before) = (neighbour("after"), neighbour("before"));
    if !region.spine {
        off_spine(reader);
    }
    if region.spine {
        set(reader, &mut place.y.start, edge("head"));
        set(reader, &mut place.y.end, edge("foot"));
        set(reader, &mut place.y.start, after);
        set(reader, &mut place.y.end, before);
        read_across(reader, &mut place.x);
    } else if facts.book.right_to_left() {
        set(reader, &mut place.x.end, after);
        set(reader, &mut place.x.start, before);
    } else {
        set(reader, &mut place.x.start, after);
        set(reader, &mut place.x.end, before);
    }
    notice_slips(&mut place, reader, region.spine);
    let tops = [&place.y.start, &place.cap_top, &place.baseline];
    let tops: Vec<&Edge> = tops.into_iter().flatten().collect();
    if let [_, second, ..] = tops[..] {
        reader.error(second.span, "the upper edge is said twice", "keep one of `top`, `below`, `cap-top`, `baseline`");
    }
    for (axis, what) in [(&place.x, "left, right, width, centre-x"), (&place.y, "top, bottom, height, centre-y")] {
        if axis.said() > 2 {
            let message = "too much is said about this place: two of the three fix it";
            reader.error(reader.span(), message, format!("take one away of {what}"));
        }
    }
    place
}

/// More words than edges: one of them has been reported.
fn notice_slips(place: &mut Place, reader: &Reader<'_>, spine: bool) {
    let heard =
        |words: &[&str]| reader.node.children.iter().filter(|child| words.contains(&child.name.value.as_str())).count();
    let beside = heard(&["after", "before"]);
    let (x_beside, y_beside) = if spine { (0, beside) } else { (beside, 0) };
    let x = heard(&["left", "right", "width", "centre-x", "across"]) + x_beside;
    let y = heard(&["top", "bottom", "height", "centre-y", "below", "above", "cap-top", "baseline", "head", "foot"]);
    let misplaced = |words: &[&str]| reader.node.properties.iter().any(|(key, _)| words.contains(&key.value.as_str()));
    // `left 0 width 10`: words that run on into the next have taken its edge.
    let runs_on = reader.node.children.iter().any(|child| {
        PLACE_WORDS.contains(&child.name.value.as_str())
            && child.values.iter().filter_map(Value::text).any(|said| PLACE_WORDS.contains(&said))
    });
    let hung = usize::from(place.cap_top.is_some()) + usize::from(place.baseline.is_some());
    place.x.slipped = runs_on || misplaced(&["left", "right", "width", "centre-x", "x"]) || x > place.x.said();
    place.y.slipped =
        runs_on || misplaced(&["top", "bottom", "height", "centre-y", "y"]) || y + y_beside > place.y.said() + hung;
}

const PLACE_WORDS: &[&str] = &[
    "left", "right", "top", "bottom", "width", "height", "centre-x", "centre-y", "below", "above", "after", "before",
    "cap-top", "baseline", "head", "foot", "across",
];

/// Words of the spine in another panel.
fn off_spine(reader: &Reader<'_>) {
    for (name, instead) in [("head", "top"), ("foot", "bottom"), ("across", "left and right, or width")] {
        if reader.node.children.iter().any(|child| child.name.value == name) {
            for word in reader.children(name) {
                word.skip();
                word.error(word.span(), format!("`{name}` is a word of the spine"), format!("elsewhere say {instead}"));
            }
        }
    }
}

/// Puts an edge where none stood yet.
fn set(reader: &Reader<'_>, slot: &mut Option<Edge>, edge: Option<Edge>) {
    let Some(edge) = edge else { return };
    if slot.is_some() {
        reader.error(edge.span, "this edge is said twice", "keep one of the two");
        return;
    }
    *slot = Some(edge);
}

fn read_size(reader: &Reader<'_>, name: &'static str) -> Option<Spanned<f64>> {
    let word = reader.child(name)?;
    let length = word.length("a length", Unit::Mm)?;
    if length.value.mm() <= 0.0 {
        word.error(length.span, format!("a {name} of {} leaves nothing to print", length.value), "give it more than 0");
        return None;
    }
    Some(Spanned::new(length.value.mm(), length.span))
}

/// `left fold -1.5`, `top eye`, `left 12`, `right trim 4 of=front`.
fn read_edge(reader: &Reader<'_>, name: &'static str, facts: &Facts) -> Option<Edge> {
    let word = reader.child(name)?;
    let of = word.text_property("of").map(|of| of.value);
    let mut from = From::Guide(Guide::Trim);
    if let Some(value) = word.peek()
        && let Datum::Text(text) = &value.datum
    {
        word.value();
        from = if let Some((_, guide)) = Guide::WORDS.iter().find(|(word, _)| word == text) {
            From::Guide(*guide)
        } else if facts.guides.levels.contains_key(text) {
            From::Level(text.clone())
        } else {
            let mut known: Vec<&str> = Guide::WORDS.iter().map(|(word, _)| *word).collect();
            known.extend(facts.guides.levels.keys().map(String::as_str));
            word.error(value.span, format!("there is no guide `{text}`"), offer(text, &known));
            word.skip();
            return None;
        };
    } else if word.peek().is_none() {
        word.want("a guide or an offset in millimetres");
        return None;
    }
    let offset = word.optional_length("an offset", Unit::Mm).map_or(0.0, |length| length.value.mm());
    Some(Edge { from, offset, of, span: word.node.span })
}

/// `below heading 8`.
fn read_neighbour(reader: &Reader<'_>, name: &'static str) -> Option<Edge> {
    let word = reader.child(name)?;
    let neighbour = word.text("a neighbour's name")?;
    let offset = word.optional_length("a gap", Unit::Mm).map_or(0.0, |length| length.value.mm());
    Some(Edge { from: From::Neighbour(neighbour.value), offset, of: None, span: word.node.span })
}

/// `across safe`, `across fold 1`, or `across 12`: a width, centred between the folds.
fn read_across(reader: &Reader<'_>, x: &mut Stretch) {
    let Some(word) = reader.child("across") else { return };
    let span = word.node.span;
    let edge = |guide, offset| Some(Edge { from: From::Guide(guide), offset, of: None, span });
    if x.said() > 0 {
        word.error(span, "`across` says all about this axis", "take away left, right, width or centre-x");
        *x = Stretch::default();
    }
    if matches!(word.peek().map(|value| &value.datum), Some(Datum::Number(_))) {
        let width = word.length("a width", Unit::Mm);
        x.size = width.map(|width| Spanned::new(width.value.mm(), width.span));
        x.centre = edge(Guide::Centre, 0.0);
        return;
    }
    let Some(guide) = word.word("a guide", &["safe", "fold", "centre"]) else { return };
    let inset = word.optional_length("an inset", Unit::Mm).map_or(0.0, |length| length.value.mm());
    match guide.value {
        "centre" => x.centre = edge(Guide::Centre, inset),
        "safe" => (x.start, x.end) = (edge(Guide::Safe, inset), edge(Guide::Safe, inset)),
        _ => (x.start, x.end) = (edge(Guide::Trim, inset), edge(Guide::Trim, inset)),
    }
}
