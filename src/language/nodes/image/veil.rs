//! Veil: where a picture fades to nothing, and what another picture lets of it through.

use crate::assets::{Art, DrawnFrom, FilesBeside, Picture, Separation};
use crate::cover::Pen;
use crate::ground::{Affine, Course, FillRule, Gradient, Ink, Paint, Point, Rect, rect_path};
use crate::language::context::Context;
use crate::language::words::fill_path;
use crate::source::{KnownBy, Reader, Word, choice, percent, text, words_of};
use std::fmt::Write as _;
use std::sync::Arc;

pub const FADE: Word = Word::new("fade", "lets it fade to nothing towards an edge")
    .takes(&[choice("an edge", &words_of(&EDGES))])
    .properties(&[FROM, TO])
    .known_by(KnownBy::Name)
    .many();
const FROM: Word = Word::new("from", "where it begins to fade, in percent of the way to that edge")
    .takes(&[percent(0.0, 100.0)])
    .default("0");
const TO: Word = Word::new("to", "where nothing is left of it").takes(&[percent(0.0, 100.0)]).default("100");
pub const MASK: Word =
    Word::new("mask", "a picture whose alpha or, without one, darkness says where this one shows").properties(&[FILE]);
const FILE: Word = Word::new("file", "the path of that picture").takes(&[text("a path")]);
/// How far a place lies on the way to an edge, by its shares of width and height.
const EDGES: [(&str, EdgeWay); 4] =
    [("left", |x, _| 1.0 - x), ("right", |x, _| x), ("top", |_, y| 1.0 - y), ("bottom", |_, y| y)];

type EdgeWay = fn(f64, f64) -> f64;

/// A way to an edge, and where on it the picture begins to fade and is gone.
struct Fade {
    /// Of the edges.
    edge: usize,
    from: f64,
    to: f64,
}

/// What lies over a drawing and lets a part of it show.
pub enum Veil {
    Fade { edge: usize, from: f64, to: f64 },
    Mask(Arc<Picture>),
}

/// Art as it shows behind its fades and its mask; the mirror image of a picture fades as it is seen. A drawing stays what it is,
/// behind veils.
pub fn veiled(
    reader: &Reader<'_>,
    context: &Context<'_>,
    art: Art,
    (mirror, painted): ((bool, bool), bool),
) -> (Art, Vec<Veil>) {
    let (mut fades, mut named) = (Vec::new(), String::new());
    for word in reader.children(&FADE) {
        let Some(edge) = word.choice() else { continue };
        let edge_at = EDGES.iter().position(|(name, _)| *name == edge.value).unwrap_or(3);
        let from = word.percent_property(&FROM).unwrap_or(0.0);
        let to = word.percent_property(&TO).unwrap_or(1.0);
        if from >= to {
            word.error(word.span(), "`from` must be less than `to`", "write `fade bottom from=60 to=100`");
            continue;
        }
        let _ = writeln!(named, "fade {} {from} {to} {mirror:?} {painted}", edge.value);
        fades.push(Fade { edge: edge_at, from, to });
    }
    let mask = reader.child(&MASK).and_then(|word| mask(&word, context));
    if fades.is_empty() && mask.is_none() {
        return (art, Vec::new());
    }
    let size = |picture: &Picture| u64::from(picture.width()) * u64::from(picture.height());
    let Art::Picture(picture) = &art else {
        // Fades of a drawing are gradients; what a mask holds counts.
        if !mask.as_ref().is_none_or(|mask| context.counts_thinned(size(mask), reader.span())) {
            return (art, Vec::new());
        }
        let fades = fades.into_iter().map(|Fade { edge, from, to }| Veil::Fade { edge, from, to });
        return (art, fades.chain(mask.map(Veil::Mask)).collect());
    };
    let own = size(picture);
    let masked = mask.as_ref().map_or(0, |mask| own.max(size(mask)));
    if !context.counts_thinned(own * fades.len() as u64 + masked, reader.span()) {
        return (art, Vec::new());
    }
    let mask = mask.map(|mask| {
        let _ = writeln!(named, "mask {:?} {painted}", mask.digest().bytes());
        (mask.darkness().into_owned(), mask.width() as usize, mask.height() as usize)
    });
    let behind = |x, y| mask.as_ref().map_or(1.0, |(dark, width, height)| between(dark, (*width, *height), (x, y)));
    let shows = |x: f64, y: f64| {
        let behind = behind(x, y);
        let (x, y) = (if mirror.0 { 1.0 - x } else { x }, if mirror.1 { 1.0 - y } else { y });
        fades.iter().fold(behind, |shows, fade| {
            let gone = ((EDGES[fade.edge].1)(x, y) - fade.from) / (fade.to - fade.from);
            shows * (1.0 - gone.clamp(0.0, 1.0))
        })
    };
    (Art::Picture(Arc::new(picture.thinned(painted, &named, &shows, &behind))), Vec::new())
}

/// Draws behind veils, in the place where the whole drawing lies; a mask is mirrored with it.
pub fn over(pen: &mut Pen<'_>, veils: &[Veil], place: Rect, seen: Affine, draw: &dyn Fn(&mut Pen<'_>)) {
    let Some((veil, rest)) = veils.split_last() else { return draw(pen) };
    let shows = |pen: &mut Pen<'_>| match veil {
        Veil::Fade { edge, from, to } => {
            let far = |share: f64| match edge {
                0 => Point::new(place.x1 - place.width() * share, place.y0),
                1 => Point::new(place.x0 + place.width() * share, place.y0),
                2 => Point::new(place.x0, place.y1 - place.height() * share),
                _ => Point::new(place.x0, place.y0 + place.height() * share),
            };
            let course = Course::Linear { from: far(*from), to: far(*to) };
            let gradient = Gradient { course, stops: vec![(0.0, Ink::black(1.0)), (1.0, Ink::PAPER)] };
            pen.fill(&rect_path(place), FillRule::NonZero, Paint::Gradient(gradient));
        }
        Veil::Mask(picture) => {
            let unit = Affine::new([place.width(), 0.0, 0.0, place.height(), place.x0, place.y0]);
            pen.picture(picture.clone(), seen * unit, Some(Ink::black(1.0)), Separation::default());
        }
    };
    pen.veiled(shows, |pen| over(pen, rest, place, seen, draw));
}

fn mask(word: &Reader<'_>, context: &Context<'_>) -> Option<Arc<Picture>> {
    let Some(path) = word.text_property(&FILE) else {
        word.error(word.span(), "a mask lacks its file", "write `mask file=\"art/soft.png\"`");
        return None;
    };
    let path = fill_path(word.findings(), &context.facts.book, &path)?;
    let file = context.desk.bytes_once(&path)?;
    let beside = DrawnFrom { library: context.desk.library, files: &FilesBeside::new() };
    match context.desk.darkroom.open(&context.desk.files.resolve(&path), file, beside) {
        Ok(Art::Picture(picture)) => Some(picture),
        Ok(Art::Drawing(_)) => {
            word.error(path.span, "a mask is a picture, not a drawing", "save it as PNG");
            None
        }
        Err(fault) => {
            word.error(path.span, format!("{:?}: {}", path.value, fault.message), fault.help);
            None
        }
    }
}

/// Samples mixed by their distance from a place in shares of width and height, as a share of 255.
fn between(samples: &[u8], (width, height): (usize, usize), (x, y): (f64, f64)) -> f64 {
    let axis = |at: f64, count: usize| {
        let at = (at * count as f64 - 0.5).clamp(0.0, (count - 1) as f64);
        (at as usize, (at as usize + 1).min(count - 1), at.fract())
    };
    let ((left, right, across), (top, foot, down)) = (axis(x, width), axis(y, height));
    let at = |x: usize, y: usize| f64::from(samples[y * width + x]);
    let row = |y: usize| at(left, y) * (1.0 - across) + at(right, y) * across;
    (row(top) * (1.0 - down) + row(foot) * down) / 255.0
}
