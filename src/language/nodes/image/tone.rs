//! Tone: the inks that a picture is printed in instead of those of the press, each by a curve.

use crate::assets::{Art, Inking, Separation, TonedInk, Tones};
use crate::ground::{Colour, Finding, Ink, Severity};
use crate::language::context::Context;
use crate::language::nodes::image::separation::{INKS, LIMIT_INKS, PAINT};
use crate::source::{KnownBy, Reader, Slot, Takes, Word, name};
use std::sync::Arc;

pub const TONE: Word =
    Word::new("tone", "prints the picture in this ink, by a curve; only the inks of its tones are used")
        .takes(&[name("a swatch"), Slot::new(POINTS, Takes::Percent(0.0, 100.0)).any()])
        .known_by(KnownBy::Name)
        .many();
const POINTS: &str = "tones and their tints, in turn";

/// Duotones have two, tritones and quadritones three and four: common practice. That there are no more is our limit.
const MOST_INKS: usize = 4;
/// Points of one curve: more than a hand draws. Ours.
const MOST_POINTS: usize = 32;

/// Art in the inks of its tones.
pub fn toned(reader: &Reader<'_>, context: &Context<'_>, art: Art, (separation, painted): (Separation, bool)) -> Art {
    let words = reader.children(&TONE);
    let Some(first) = words.first().map(Reader::span) else { return art };
    let mut inks: Vec<TonedInk> = Vec::new();
    for word in &words {
        inks.extend(toned_ink(word, context, &inks));
    }
    let Art::Picture(picture) = &art else {
        reader.error(first, "a drawing has no tones", "save it as a picture, or write `paint` for one ink");
        return art;
    };
    if let Some(one_more) = words.get(MOST_INKS) {
        let message = format!("a picture has {MOST_INKS} tones at the most");
        reader.error(one_more.span(), message, "two inks, a dark one and a lighter one, are the usual");
        return art;
    }
    let idle = [(painted, &PAINT), (separation.inking == Inking::FourColour, &INKS), (true, &LIMIT_INKS)];
    for (name, word) in
        idle.into_iter().filter(|(is_idle, _)| *is_idle).filter_map(|(_, word)| Some((word.name, reader.child(word)?)))
    {
        word.skip();
        let message = format!("`{name}` has no effect on a picture that has tones");
        let finding = Finding::new(Severity::Warning, "language", word.span(), message);
        reader.findings().borrow_mut().push(finding.help(format!("take `{name}` away, or the tones")));
    }
    let pixels = u64::from(picture.width()) * u64::from(picture.height());
    if inks.is_empty() || !context.counts_thinned(pixels, first) {
        return art;
    }
    Art::Picture(Arc::new(picture.toned(Tones::new(inks))))
}

/// Beside those that the picture has.
fn toned_ink(word: &Reader<'_>, context: &Context<'_>, beside: &[TonedInk]) -> Option<TonedInk> {
    let name = word.text()?;
    let ink = context.facts.palette.ink(&mut word.findings().borrow_mut(), &name);
    if ink.is_finishing() {
        let help = "a finisher needs shapes: place the picture once more with `paint` on its plate";
        word.error(name.span, format!("`{}` is a finish, and has no tones", name.value), help);
        word.skip();
        return None;
    }
    if ink.total() <= 0.0 {
        word.error(name.span, format!("`{}` prints nothing", name.value), "name a swatch that has ink");
        word.skip();
        return None;
    }
    if beside.iter().any(|known| is_same(&known.ink, &ink)) {
        let message = format!("the ink of `{}` has a tone in this picture already", name.value);
        word.error(name.span, message, "write all its tones and tints in one `tone`, or name another ink");
        word.skip();
        return None;
    }
    let points = points(word)?;
    Some(TonedInk { ink: Ink { overprint: false, ..ink }, points })
}

/// Whether two inks are one, or tints of one.
fn is_same(one: &Ink, other: &Ink) -> bool {
    let totals = (one.total(), other.total());
    match (&one.colour, &other.colour) {
        (Colour::Spot(own, _), Colour::Spot(known, _)) => own.name == known.name,
        (Colour::Process(own), Colour::Process(known)) => {
            own.iter().zip(known).all(|(own, known)| (own * totals.1 - known * totals.0).abs() < 1e-9)
        }
        _ => false,
    }
}

/// Tones rise, each with its tint.
fn points(word: &Reader<'_>) -> Option<Vec<(f64, f64)>> {
    const SHAPE: &str = "write tones and tints in turn: `tone black 0 0 50 30 100 95`";
    let mut points: Vec<(f64, f64)> = Vec::new();
    while let Some(value) = word.peek() {
        if points.len() == MOST_POINTS {
            word.error(value.span, format!("more than {MOST_POINTS} points in one curve"), "leave some out");
            word.skip();
            return None;
        }
        let tone = word.percent()?;
        if points.last().is_some_and(|(before, _)| *before >= tone) {
            word.error(value.span, "this tone is not darker than the one before", SHAPE);
            word.skip();
            return None;
        }
        if word.peek().is_none() {
            word.error(word.span(), "the last tone has no tint", SHAPE);
            return None;
        }
        points.push((tone, word.percent()?));
    }
    Some(points)
}
