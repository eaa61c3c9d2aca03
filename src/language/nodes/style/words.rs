//! The words of style, as data.

use crate::language::fillings::{GRADIENT, INK};
use crate::language::lettering::{INLINE, OUTLINE, SHADOW};
use crate::language::nodes::style::apart_words::{FEATURES, LETTER, WORD};
use crate::source::{KnownBy, Slot, Word, choice, flag, mm, name, number, percent as share, pt, text, whole, words_of};
use crate::typeset::{Align, Case, Edges};

pub use crate::language::fillings::{OVERPRINT, PERCENT};

pub const WEIGHTS: [(&str, u16); 9] = [
    ("thin", 100),
    ("extralight", 200),
    ("light", 300),
    ("regular", 400),
    ("medium", 500),
    ("semibold", 600),
    ("bold", 700),
    ("extrabold", 800),
    ("black", 900),
];
pub const ALIGNS: [(&str, Align); 6] = [
    ("start", Align::Start),
    ("end", Align::End),
    ("left", Align::Left),
    ("right", Align::Right),
    ("centre", Align::Centre),
    ("justify", Align::Justify),
];
pub const CASES: [(&str, Case); 3] =
    [("as-written", Case::AsWritten), ("upper", Case::Upper), ("small-caps", Case::SmallCaps)];

pub const FONT: Word = Word::new("font", "the family: a bundled one, or one of the cover's own")
    .takes(&[text("a family")])
    .properties(&[WEIGHT, ITALIC])
    .default("\"EB Garamond\"");
pub const WEIGHT: Word = Word::new("weight", "how heavy its letters are, by name or by number")
    .takes(&[choice("a weight", &words_of(&WEIGHTS))])
    .or(&[whole("a weight", 1.0, 1000.0)])
    .default("regular");
pub const ITALIC: Word = Word::new("italic", "whether they are italic").takes(&[flag()]).default("#false");
pub const AXIS: Word =
    Word::new("axis", "places on the axes of a variable font, by their OpenType tags: `axis opsz=auto wght=620`");
pub const SIZE: Word = Word::new(
    "size",
    "the size of type; between two sizes, the largest that fits the frame, or one for each line, as wide as the frame",
)
.takes(&[pt("a size in points", 1.0, 2000.0)])
.or(&[
    choice("a size", &["between", "each-line"]),
    pt("the least size", 1.0, 2000.0),
    pt("the largest size", 1.0, 2000.0),
])
.properties(&[ALIKE])
.default("11");
pub const ALIKE: Word = Word::new(
    "alike",
    "whether elements of this name have one size in all covers of the series, the smallest that one of them needs",
)
.takes(&[flag()])
.default("#false");
pub const LEADING: Word =
    Word::new("leading", "from baseline to baseline: `leading 14.5`, or `leading percent=120` of the size")
        .takes(&[pt("points", 0.1, 2000.0).perhaps()])
        .properties(&[PERCENT_OF_SIZE])
        .default("percent=120");
pub const PERCENT_OF_SIZE: Word = Word::new("percent", "so much of the size of type").takes(&[share(10.0, 1000.0)]);
pub const SWATCH: Word = Word::new("swatch", "the ink of its letters; `none` leaves them open")
    .takes(&[name("a swatch")])
    .properties(INK)
    .default("black");
pub const ALIGN: Word = Word::new("align", "where its lines begin and end; `start` follows the script")
    .takes(&[choice("an alignment", &words_of(&ALIGNS))])
    .default("start");
pub const HYPHENATE: Word = Word::new("hyphenate", "whether words part at the ends of lines")
    .takes(&[flag()])
    .properties(&[BEFORE, AFTER, IN_ROW]);
const COUNT: &[Slot] = &[whole("a whole number", 1.0, 20.0)];
pub const BEFORE: Word = Word::new("before", "letters that stay together before a hyphen").takes(COUNT).default("2");
pub const AFTER: Word = Word::new("after", "letters that stay together after it").takes(COUNT).default("3");
pub const IN_ROW: Word = Word::new("in-row", "lines in a row that may end in a hyphen").takes(COUNT).default("2");
pub const KEEP_WHOLE: Word = Word::new(
    "keep-whole",
    "words that are never hyphenated, or at the points that are written in them alone: `Uhr-macher`",
)
.takes(&[text("a word").any()]);
pub const SIGNS: Word = Word::new(
    "signs",
    "which signs of a keyboard are printed as the language does: `signs quotes dashes spaces`, or `none`",
)
.takes(&[choice("which signs", &["quotes", "dashes", "spaces", "none"]).any()])
.default("none");
pub const TRACKING: Word = Word::new("tracking", "space added between all letters, in thousandths of an em")
    .takes(&[number("thousandths of an em", -500.0, 2000.0)])
    .default("0");
pub const CASE: Word = Word::new("case", "capitals or small capitals for all letters")
    .takes(&[choice("a case", &words_of(&CASES))])
    .default("as-written");
const PERCENT_OF_FONT: (f64, f64) = (10.0, 400.0);
pub const WORD_SPACE: Word = Word::new("word-space", "blanks of justified lines, in percent of the font's own")
    .takes(&[
        Slot { what: "the least", ..share(PERCENT_OF_FONT.0, PERCENT_OF_FONT.1) },
        Slot { what: "the ideal", ..share(PERCENT_OF_FONT.0, PERCENT_OF_FONT.1) },
        Slot { what: "the most", ..share(PERCENT_OF_FONT.0, PERCENT_OF_FONT.1) },
    ])
    .default("80 100 140");
pub const LETTER_SPACE: Word = Word::new(
    "letter-space",
    "what justification may take from the space between letters, and add to it, in thousandths of an em",
)
.takes(&[number("what may be taken", -100.0, 100.0), number("what may be added", -100.0, 100.0)])
.default("0 0");
pub const LETTER_WIDTH: Word = Word::new("letter-width", "how much narrower and wider justification may set letters")
    .takes(&[Slot { what: "the least", ..share(80.0, 120.0) }, Slot { what: "the most", ..share(80.0, 120.0) }])
    .default("100 100");
pub const INDENT: Word =
    Word::new("indent", "how far first lines are set in").takes(&[pt("points", -500.0, 500.0)]).default("0");
pub const PARAGRAPH_SPACE: Word = Word::new("paragraph-space", "between paragraphs")
    .takes(&[pt("points", 0.0, 500.0)])
    .default("0")
    .was(&["space-between"]);
pub const HANGING: Word =
    Word::new("hanging-punctuation", "whether punctuation hangs into the margin").takes(&[flag()]);
pub const EDGES: Word = Word::new(
    "edges",
    "what stands on the edges of lines: letters with the room that their font gives them, their ink, or what the eye takes \
     for their edge",
)
.takes(&[choice("an edge", &words_of(&EDGES_OF))])
.default("font");
pub const EDGES_OF: [(&str, Edges); 3] = [("font", Edges::Font), ("ink", Edges::Ink), ("eye", Edges::Eye)];
pub const KERN: Word =
    Word::new("kern", "what is added between two letters, in thousandths of an em: `kern \"f?\" 60`; or `kern even`: capitals stand evenly")
        .takes(&[text("two letters"), number("thousandths of an em", -500.0, 500.0).perhaps()])
        .known_by(KnownBy::Name)
        .many();
pub const DROP_CAP: Word = Word::new("drop-cap", "the first letters of the first paragraph, over several lines")
    .properties(&[LINES, LETTERS, SNUG, SMALL_CAPS]);
pub const SNUG: Word =
    Word::new("snug", "whether each line follows the contour of the letter").takes(&[flag()]).default("#false");
pub const SMALL_CAPS: Word = Word::new("small-caps", "how many first words stand in small capitals")
    .takes(&[whole("a number of words", 0.0, 40.0)])
    .default("0");
pub const LINES: Word =
    Word::new("lines", "how many lines high").takes(&[whole("a number of lines", 1.0, 12.0)]).default("3");
pub const LETTERS: Word =
    Word::new("letters", "how many letters").takes(&[whole("a number of letters", 1.0, 40.0)]).default("1");
pub const GAP: Word =
    Word::new("gap", "millimetres between them").takes(&[mm("millimetres", 0.0, 1000.0)]).default("5");
pub const COLUMNS: Word = Word::new("columns", "how many columns the words stand in, as even as they go")
    .takes(&[whole("a number of columns", 1.0, 12.0)])
    .properties(&[GAP])
    .default("1");
pub const BREAKS: Word =
    Word::new("breaks", "where titles break: as their letters run, where the `lines` of the book say, or well")
        .takes(&[choice("which breaks", &["chosen", "free", "good"])])
        .default("free");
pub const TITLE_LINES: Word = Word::new(
    "lines",
    "how many lines a title should have: `lines 3`, or least and most, `lines 2 4`; or how many more or fewer a text takes than \
     by itself: `lines fewer=1`",
)
.takes(&[whole("the least", 1.0, 20.0).perhaps(), whole("the most", 1.0, 20.0).perhaps()])
.properties(&[MORE, FEWER]);
pub const MORE: Word =
    Word::new("more", "lines more than the words take by themselves").takes(&[whole("a number of lines", 1.0, 5.0)]);
pub const FEWER: Word =
    Word::new("fewer", "lines fewer than the words take by themselves").takes(&[whole("a number of lines", 1.0, 5.0)]);
pub const HOLD: Word =
    Word::new("hold", "words that stay on one line together: `hold \"of the\"`").takes(&[text("words").any()]);
pub const LANGUAGE: Word =
    Word::new("language", "its language, where that is not the book's").takes(&[text("a language tag, such as en-GB")]);

/// Every word of style.
pub const STYLE_WORDS: &[Word] = &[
    FONT,
    AXIS,
    SIZE,
    LEADING,
    SWATCH,
    GRADIENT,
    OUTLINE,
    INLINE,
    SHADOW,
    ALIGN,
    HYPHENATE,
    KEEP_WHOLE,
    SIGNS,
    TRACKING,
    CASE,
    FEATURES,
    WORD_SPACE,
    LETTER_SPACE,
    LETTER_WIDTH,
    INDENT,
    PARAGRAPH_SPACE,
    HANGING,
    EDGES,
    KERN,
    LETTER,
    WORD,
    DROP_CAP,
    COLUMNS,
    BREAKS,
    TITLE_LINES,
    HOLD,
    LANGUAGE,
];
