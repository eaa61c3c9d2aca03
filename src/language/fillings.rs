//! Fillings: what shapes are filled and outlined with.

use crate::cover::{Palette, Pen};
use crate::ground::{FillRule, GradientInks, Ink, Length, Line, MM_PER_PT, Path, Rect, Span, Spanned};
use crate::language::context::Context;
use crate::language::named_ink::NamedInk;
pub use crate::language::named_ink::{INK, OVERPRINT, PERCENT};
use crate::source::{KnownBy, Reader, Value, Word, flag, name, number, pt};

const FILL: KnownBy = KnownBy::Fixing("fill");
pub const SWATCH: Word = Word::new("swatch", "the ink").takes(&[name("a swatch")]).properties(INK).known_by(FILL);
const ANGLE: Word = Word::new("angle", "degrees: 0 runs to the right, 90 downwards")
    .takes(&[number("an angle", -360.0, 360.0)])
    .default("90");
const RADIAL: Word = Word::new("radial", "whether it runs from the centre outwards").takes(&[flag()]).default("#false");
pub const GRADIENT: Word =
    Word::new("gradient", "from swatch to swatch, or to nothing; further ones are stops in between")
        .takes(&[name("a swatch, or none").any()])
        .properties(&[ANGLE, RADIAL])
        .known_by(FILL);
pub const WEIGHT: Word =
    Word::new("weight", "how broad the line is").takes(&[pt("a weight", 0.0, 1000.0)]).default("1");
const STROKE: Word = Word::new("stroke", "a line around it, inside the frame")
    .takes(&[name("a swatch")])
    .properties(&[WEIGHT, PERCENT, OVERPRINT]);

/// Instead of a swatch: no ink at all, and in a gradient nothing.
pub const NONE: &str = "none";
/// Under the codes that machines read.
pub const GROUND: Word = Word::new("ground", "what lies under it and its quiet zone; `none` leaves it as it is")
    .takes(&[name("a swatch")])
    .properties(INK)
    .default("unprinted");

/// What every shape holds.
pub const FILLINGS: &[Word] = &[SWATCH, GRADIENT, STROKE];

pub struct Fillings {
    fill: Filling,
    stroke: Option<(NamedInk, f64)>,
}

enum Filling {
    None,
    Ink(NamedInk),
    Gradient(GradientInks),
}

impl Fillings {
    /// Takes `swatch`, `gradient` and `stroke` off a shape.
    pub fn read(reader: &Reader<'_>, context: &Context<'_>) -> Fillings {
        let palette = &context.facts.palette;
        let ink = reader.child(&SWATCH).and_then(|word| NamedInk::read(&word, palette));
        let gradient = reader.child(&GRADIENT).map(|word| Filling::Gradient(gradient_of(&word, palette)));
        if let (Some(_), Some(Filling::Gradient(_))) = (&ink, &gradient) {
            two_fillings(reader, reader.span());
        }
        let stroke = reader.child(&STROKE).and_then(|word| {
            let weight = word.length_property(&WEIGHT).map_or(1.0, Length::pt);
            Some((NamedInk::read(&word, palette)?, weight * MM_PER_PT))
        });
        let fill = gradient.or(ink.map(Filling::Ink)).unwrap_or(Filling::None);
        if matches!(fill, Filling::None) && stroke.is_none() {
            reader.lacks(reader.span(), "this shape shows nothing", "give it a `swatch`, a `gradient` or a `stroke`");
        }
        Fillings { fill, stroke }
    }

    /// Those of an ellipse in its frame.
    #[must_use]
    pub fn in_oval(mut self) -> Fillings {
        if let Filling::Gradient(wash) = &mut self.fill {
            wash.in_oval = true;
        }
        self
    }

    /// Fills and outlines a shape; `outline` gives it inset by so many millimetres.
    pub fn draw(&self, frame: Rect, outline: &dyn Fn(f64) -> Path, rule: FillRule, pen: &mut Pen<'_>) {
        match &self.fill {
            Filling::None => {}
            Filling::Ink(ink) => {
                let shape = outline(0.0);
                pen.fill(&shape, rule, ink.shape(&shape, rule));
            }
            Filling::Gradient(wash) => pen.wash(&outline(0.0), rule, wash, frame),
        }
        if let Some((ink, weight)) = &self.stroke
            && *weight > 0.0
        {
            pen.stroke(&outline(weight / 2.0), Line::new(*weight), ink.line(*weight));
        }
    }
}

/// `swatch night percent=40 overprint=#true`.
pub fn read_ink(reader: &Reader<'_>, word: &'static Word, context: &Context<'_>) -> Option<Ink> {
    ink_of(&reader.child(word)?, &context.facts.palette)
}

/// The ink that a word names, whatever it prints.
pub fn ink_of(word: &Reader<'_>, palette: &Palette) -> Option<Ink> {
    NamedInk::read(word, palette).map(|named| named.ink)
}

/// The inks that a `gradient` names.
pub fn gradient_of(word: &Reader<'_>, palette: &Palette) -> GradientInks {
    let mut inks = Vec::new();
    while word.peek().is_some() {
        let name = word.text();
        let ink = |name: &Spanned<String>| palette.ink(&mut word.findings().borrow_mut(), name);
        inks.extend(name.map(|name| (name.value != NONE).then(|| ink(&name))));
    }
    let help = "write `gradient night lamp`, or `gradient night none` where it fades to nothing";
    if inks.len() < 2 {
        word.error(word.span(), "a gradient runs between two swatches", help);
    } else if inks.iter().all(Option::is_none) {
        word.error(word.span(), "a gradient from nothing to nothing shows nothing", help);
    }
    let angle = word.number_property(&ANGLE).map_or(90.0, |angle| angle.value);
    GradientInks { inks, angle, radial: word.flag_property(&RADIAL).unwrap_or(false), in_oval: false }
}

/// Reports a swatch beside a gradient.
pub fn two_fillings(reader: &Reader<'_>, span: Span) {
    reader.error(span, "`swatch` and `gradient` are both given here", "keep one of the two");
}

/// What lies under a code: bare paper by default, nothing for `none`.
pub fn read_ground(reader: &Reader<'_>, context: &Context<'_>) -> Option<Ink> {
    let Some(word) = reader.child(&GROUND) else { return Some(Ink::PAPER) };
    if word.peek().and_then(Value::text) == Some(NONE) {
        word.value();
        return None;
    }
    ink_of(&word, &context.facts.palette)
}
