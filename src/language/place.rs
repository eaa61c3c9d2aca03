//! The words of place, taken off an element.

use crate::cover::{Axis, Edge, Facts, From, Guide, Hang, Look, MateLine, Place, Region, Side};
use crate::ground::Spanned;
use crate::scene::Surface;
use crate::source::{Datum, KnownBy, Node, Reader, Value, Word, offer};
use axis_words::AxisWords;
use std::fmt::Write as _;
use words::{
    ABOVE, ACROSS, ACROSS_GUIDES, AFTER, ALONG, Across, BASELINE, BEFORE, BELOW, BOTTOM, CAP_TOP, CENTRE_X, CENTRE_Y,
    FOOT, HEAD, HEIGHT, LEFT, MATE_LINES, OF, OF_SPINE, RIGHT, TOP, WIDTH, X, Y,
};

mod axis_words;
mod words;

pub use words::PLACE;

/// Takes the words of place off an element.
pub fn read_place(reader: &Reader<'_>, region: &Region, facts: &Facts, look: &Look) -> Place {
    let (mut x, mut y) = (AxisWords::default(), AxisWords::default());
    let edge = |word| read_edge(reader, word, facts);
    let neighbour = |word| read_neighbour(reader, word);
    set(reader, &mut x.start, edge(&LEFT));
    set(reader, &mut x.end, edge(&RIGHT));
    set(reader, &mut y.start, edge(&TOP));
    set(reader, &mut y.end, edge(&BOTTOM));
    set(reader, &mut x.centre, edge(&CENTRE_X));
    set(reader, &mut y.centre, edge(&CENTRE_Y));
    set(reader, &mut y.start, neighbour(&BELOW));
    set(reader, &mut y.end, neighbour(&ABOVE));
    x.size = read_size(reader, &WIDTH);
    y.size = read_size(reader, &HEIGHT);
    let (cap_top, baseline) = (edge(&CAP_TOP), edge(&BASELINE));
    let (after, before) = (neighbour(&AFTER), neighbour(&BEFORE));
    if !region.spine {
        off_spine(reader);
    }
    if region.spine {
        set(reader, &mut y.start, edge(&HEAD));
        set(reader, &mut y.end, edge(&FOOT));
        set(reader, &mut y.start, after);
        set(reader, &mut y.end, before);
        read_across(reader, &mut x);
    } else if facts.book.right_to_left() {
        set(reader, &mut x.end, after);
        set(reader, &mut x.start, before);
    } else {
        set(reader, &mut x.start, after);
        set(reader, &mut x.end, before);
    }
    let hung = usize::from(cap_top.is_some()) + usize::from(baseline.is_some());
    (x.slipped, y.slipped) = slips(reader, region.spine, (x.stated(), y.stated() + hung));
    let (top, help) = match look.head() {
        (Axis::X, Side::End) => (&x.end, "keep one of `right`, `cap-top`, `baseline`"),
        (Axis::X, Side::Start) => (&x.start, "keep one of `left`, `cap-top`, `baseline`"),
        (Axis::Y, _) => (&y.start, "keep one of `top`, `below`, `cap-top`, `baseline`"),
    };
    let tops: Vec<&Edge> = [top, &cap_top, &baseline].into_iter().flatten().collect();
    if let [_, second, ..] = tops[..] {
        reader.error(second.span, "the upper edge is stated twice", help);
    }
    let hook = cap_top.map(|at| (Hang::CapTop, at)).or_else(|| baseline.map(|at| (Hang::Baseline, at)));
    x.check(reader, "left, right, width, centre-x");
    y.check(reader, "top, bottom, height, centre-y");
    match look.head() {
        (Axis::X, head) => Place { x: x.hung(reader, hook, head), y: y.settled() },
        (Axis::Y, head) => Place { x: x.settled(), y: y.hung(reader, hook, head) },
    }
}

/// Whether more words fix an axis than were understood, side to side and head to foot: one of them has been reported.
fn slips(reader: &Reader<'_>, spine: bool, (x, y): (usize, usize)) -> (bool, bool) {
    let axis = |name: &str| match PLACE.iter().find(|word| word.name == name)?.known_by {
        ALONG if spine => Some(Y),
        ALONG => Some(X),
        axis => Some(axis),
    };
    let written = |wanted: KnownBy| {
        let words = reader.node.children.iter().filter_map(|child| axis(&child.name.value));
        words.filter(|axis| *axis == wanted).count()
    };
    let misplaced = |wanted: KnownBy, habit: &str| {
        let mut keys = reader.node.properties.iter().map(|(key, _)| key.value.as_str());
        keys.any(|key| key == habit || axis(key) == Some(wanted))
    };
    // `left 0 width 10`: words that run on into the next have taken its edge.
    let run_on = |child: &Node| child.values.iter().filter_map(Value::text).any(|stated| axis(stated).is_some());
    let runs_on = reader.node.children.iter().any(|child| axis(&child.name.value).is_some() && run_on(child));
    (runs_on || misplaced(X, "x") || written(X) > x, runs_on || misplaced(Y, "y") || written(Y) > y)
}

/// Words of the spine in another panel.
fn off_spine(reader: &Reader<'_>) {
    for (word, instead) in OF_SPINE {
        if reader.node.children.iter().any(|child| child.name.value == word.name) {
            for found in reader.children(word) {
                found.skip();
                let message = format!("`{}` is a word of the spine", word.name);
                found.error(found.span(), message, format!("on other panels write {instead}"));
            }
        }
    }
}

/// Puts an edge where none stood yet.
fn set(reader: &Reader<'_>, slot: &mut Option<Edge>, edge: Option<Edge>) {
    let Some(edge) = edge else { return };
    if slot.is_some() {
        reader.error(edge.span, "this edge is stated twice", "keep one of the two");
        return;
    }
    *slot = Some(edge);
}

fn read_size(reader: &Reader<'_>, word: &'static Word) -> Option<f64> {
    Some(reader.child(word)?.length()?.value.mm())
}

/// `left fold -1.5`, `top eye`, `left 12`, `right trim 4 of=front`, `bottom of=badge`.
fn read_edge(reader: &Reader<'_>, word: &'static Word, facts: &Facts) -> Option<Edge> {
    let word = reader.child(word)?;
    let of = word.text_property(&OF);
    let no_panel = |of: &&Spanned<String>| Surface::named(&of.value).is_none();
    if let Some(mate) = of.as_ref().filter(no_panel).filter(|_| !says_guide(&word, facts)) {
        return of_mate(&word, &mate.value);
    }
    let mut from = From::Guide(Guide::Trim);
    if !matches!(word.peek().map(|value| &value.datum), Some(Datum::Number(_))) {
        let stated = word.text()?;
        from = if let Some((_, guide)) = Guide::WORDS.iter().find(|(word, _)| *word == stated.value) {
            From::Guide(*guide)
        } else if facts.guides.levels.contains_key(&stated.value) {
            From::Level(stated.value)
        } else {
            let mut known: Vec<&str> = Guide::WORDS.iter().map(|(word, _)| *word).collect();
            known.extend(facts.guides.levels.keys().map(String::as_str));
            let mut help = offer(&stated.value, &known);
            if !help.starts_with("did you mean") {
                let _ = write!(help, "; from a neighbour: `{} of={}`", word.word.name, stated.value);
            }
            word.error(stated.span, format!("there is no guide `{}`", stated.value), help);
            word.skip();
            return None;
        };
    }
    let offset = word.mm().unwrap_or(0.0);
    Some(Edge { from, offset, of: of.map(|of| of.value), span: word.node.span })
}

/// Whether a word names a line that only panels have.
fn says_guide(word: &Reader<'_>, facts: &Facts) -> bool {
    let stated = word.peek().and_then(Value::text);
    stated.is_some_and(|stated| {
        let guide = Guide::WORDS.iter().any(|(name, guide)| *name == stated && *guide != Guide::Centre);
        guide || facts.guides.levels.contains_key(stated)
    })
}

/// `bottom of=badge`: the same line of a neighbour; `top centre of=badge`, `bottom baseline 2 of=author`: another one.
fn of_mate(word: &Reader<'_>, mate: &str) -> Option<Edge> {
    let own = word.word.name;
    let mut line = match own {
        _ if own == LEFT.name || own == TOP.name || own == HEAD.name => MateLine::Start,
        _ if own == RIGHT.name || own == BOTTOM.name || own == FOOT.name => MateLine::End,
        _ if own == CAP_TOP.name => MateLine::CapTop,
        _ if own == BASELINE.name => MateLine::Baseline,
        _ => MateLine::Centre,
    };
    if matches!(word.peek().map(|value| &value.datum), Some(Datum::Text(_))) {
        let stated = word.text()?;
        let Some((_, other)) = MATE_LINES.iter().find(|(name, _)| *name == stated.value) else {
            let known = MATE_LINES.map(|(name, _)| name);
            let help = format!("its lines are {}; without one, `{own}` is its own", known.join(", "));
            word.error(stated.span, format!("`{mate}` is a neighbour, and has no `{}`", stated.value), help);
            word.skip();
            return None;
        };
        line = *other;
    }
    let offset = if word.peek().is_some() { word.mm()? } else { 0.0 };
    Some(Edge { from: From::Mate(mate.to_owned(), line), offset, of: None, span: word.node.span })
}

/// `below heading 8`.
fn read_neighbour(reader: &Reader<'_>, word: &'static Word) -> Option<Edge> {
    let word = reader.child(word)?;
    let neighbour = word.text()?;
    Some(Edge {
        from: From::Neighbour(neighbour.value),
        offset: word.mm().unwrap_or(0.0),
        of: None,
        span: word.node.span,
    })
}

/// `across safe`, `across fold 1`, or `across 12`: a width, centred between the folds.
fn read_across(reader: &Reader<'_>, x: &mut AxisWords) {
    let Some(word) = reader.child(&ACROSS) else { return };
    let span = word.node.span;
    let edge = |guide, offset| Some(Edge { from: From::Guide(guide), offset, of: None, span });
    if x.stated() > 0 {
        word.error(span, "`across` says all about this axis", "take away left, right, width or centre-x");
        *x = AxisWords::default();
    }
    if let Some((key, of)) = word.node.properties.iter().find(|(key, _)| key.value == OF.name) {
        let mate = of.text().unwrap_or("NAME");
        let help = format!(
            "in line with a neighbour: `centre-x of={mate}`; beside it along the spine: `across centre; after {mate} 4`"
        );
        word.error(key.span, "`across` measures from the folds, not from a neighbour", help);
        word.skip();
        return;
    }
    if matches!(word.peek().map(|value| &value.datum), Some(Datum::Number(_))) {
        x.size = word.length().map(|width| width.value.mm());
        x.centre = edge(Guide::Centre, 0.0);
        return;
    }
    let Some(guide) = word.choose(&ACROSS_GUIDES) else { return word.skip() };
    let inset = word.mm().unwrap_or(0.0);
    match guide {
        Across::Centre => x.centre = edge(Guide::Centre, inset),
        Across::Safe => (x.start, x.end) = (edge(Guide::Safe, inset), edge(Guide::Safe, inset)),
        Across::Fold => (x.start, x.end) = (edge(Guide::Trim, inset), edge(Guide::Trim, inset)),
    }
}
