//! The words of lettering, taken off a style or a text: outline, inline, shadow and gradient of letters.

use crate::cover::{LetterInline, LetterOutline, LetterShadow, Lettering, Palette};
use crate::ground::{Ink, Join, Length, MM_PER_PT};
use crate::language::fillings::{
    GRADIENT, NONE, OVERPRINT, PERCENT, SWATCH, WEIGHT, gradient_of, ink_of, two_fillings,
};
use crate::source::{Reader, Word, choice, flag, name, pt, words_of};

const CORNERS_OF: [(&str, Join); 2] = [("round", Join::Round), ("sharp", Join::Miter)];

const CORNERS: Word = Word::new("corners", "what it does at the corners of letters")
    .takes(&[choice("corners", &words_of(&CORNERS_OF))])
    .default("round");
const TRAP: Word =
    Word::new("trap", "how far it prints over the edge of the letters, against white gaps between plates")
        .takes(&[pt("points", 0.0, 3.0)])
        .default("0");
const DEPTH: Word = Word::new("depth", "how far it stands from the edge of the letters")
    .takes(&[pt("points", 0.0, 200.0)])
    .default("1");
const RIGHT: Word =
    Word::new("right", "how far it stands to the right of them").takes(&[pt("points", -500.0, 500.0)]).default("1");
const DOWN: Word = Word::new("down", "how far it stands under them").takes(&[pt("points", -500.0, 500.0)]).default("1");
const BLOCK: Word = Word::new("block", "whether it reaches all the way, like the side of a solid letter")
    .takes(&[flag()])
    .default("#false");
pub const OUTLINE: Word = Word::new("outline", "a line around the letters; `none` leaves out that of the style")
    .takes(&[name("a swatch, or none")])
    .properties(&[WEIGHT, CORNERS, TRAP, PERCENT, OVERPRINT]);
pub const INLINE: Word = Word::new("inline", "a line inside the letters, along their edge")
    .takes(&[name("a swatch, or none")])
    .properties(&[WEIGHT, DEPTH, PERCENT, OVERPRINT]);
pub const SHADOW: Word = Word::new("shadow", "the shape of the letters in an ink, beside and under them")
    .takes(&[name("a swatch, or none")])
    .properties(&[RIGHT, DOWN, BLOCK, TRAP, PERCENT, OVERPRINT]);

/// Takes the words of lettering off a node, over what a style says already.
pub fn read_lettering(reader: &Reader<'_>, into: &mut Lettering, palette: &Palette) {
    let points = |word: &Reader<'_>, of, usual: f64| word.length_property(of).map_or(usual, Length::pt) * MM_PER_PT;
    let says = |word: &'static Word| reader.node.children.iter().find(|child| child.name.value == word.name);
    if says(&SWATCH).is_some() {
        into.gradient = None;
    }
    if let Some(word) = reader.child(&GRADIENT) {
        if says(&SWATCH).is_some() {
            two_fillings(reader, word.span());
        }
        into.hollow = false;
        into.gradient = Some(gradient_of(&word, palette));
    }
    if let Some(word) = reader.child(&OUTLINE) {
        into.outline = unless_none(&word, palette, |word, ink| LetterOutline {
            ink,
            weight: points(word, &WEIGHT, 1.0),
            join: word.choose_property(&CORNERS, &CORNERS_OF).unwrap_or(Join::Round),
            trap: points(word, &TRAP, 0.0),
        });
    }
    if let Some(word) = reader.child(&INLINE) {
        into.inline = unless_none(&word, palette, |word, ink| LetterInline {
            ink,
            weight: points(word, &WEIGHT, 1.0),
            depth: points(word, &DEPTH, 1.0),
        });
    }
    if let Some(word) = reader.child(&SHADOW) {
        into.shadow = unless_none(&word, palette, |word, ink| LetterShadow {
            ink,
            right: points(word, &RIGHT, 1.0),
            down: points(word, &DOWN, 1.0),
            block: word.flag_property(&BLOCK).unwrap_or(false),
            trap: points(word, &TRAP, 0.0),
        });
    }
}

fn unless_none<T>(word: &Reader<'_>, palette: &Palette, read: impl FnOnce(&Reader<'_>, Ink) -> T) -> Option<T> {
    let none = word.peek().and_then(|value| value.text()) == Some(NONE);
    let ink = if none {
        word.text();
        word.percent_property(&PERCENT);
        word.flag_property(&OVERPRINT);
        Ink::PAPER
    } else {
        ink_of(word, palette)?
    };
    let found = read(word, ink);
    (!none).then_some(found)
}
