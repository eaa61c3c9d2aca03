//! The words that set letters and words apart, as data.

use crate::language::fillings::SWATCH;
use crate::source::{KnownBy, Word, number, percent, text, whole};

pub const FEATURES: Word =
    Word::new("features", "features of the font, by their OpenType tags: `features \"onum\" liga=#false`")
        .takes(&[text("a feature tag").any()]);
pub const ONLY: Word = Word::new("only", "the one of them that is meant, counted from the first").takes(&[whole(
    "which of them",
    1.0,
    1000.0,
)]);
pub const SHARE: Word =
    Word::new("percent", "so much of the text's size").takes(&[percent(5.0, 1000.0)]).default("100");
pub const SIZE: Word = Word::new("size", "how large they are: `size percent=130`").properties(&[SHARE]);
pub const RAISE: Word = Word::new("raise", "how much higher they stand, in percent of the size of type")
    .takes(&[number("percent of the size", -500.0, 500.0)])
    .default("0");
pub const TURN: Word = Word::new("turn", "degrees clockwise about their middle")
    .takes(&[number("degrees clockwise", -360.0, 360.0)])
    .default("0");
const LOOKS: &[Word] = &[SWATCH, SIZE, RAISE, TURN, FEATURES];
pub const LETTER: Word = Word::new("letter", "letters that are set otherwise than the rest")
    .takes(&[text("a letter")])
    .properties(&[ONLY])
    .holds(&[LOOKS])
    .known_by(KnownBy::Name)
    .many();
pub const WORD: Word = Word::new("word", "words that are set otherwise than the rest")
    .takes(&[text("a word")])
    .properties(&[ONLY])
    .holds(&[LOOKS])
    .known_by(KnownBy::Name)
    .many();
