//! The words of `book`, as data.

use crate::cover::BindingSide;
use crate::source::{KnownBy, Laid, Slot, Word, choice, name, number, text, whole, words_of};

const WORDS: &[Slot] = &[text("its words")];
const AUTHORS: &[Slot] = &[text("a name")];

/// A word that may be set short and in lines of its own.
const fn titled(name: &'static str, says: &'static str) -> Word {
    Word::new(name, says).takes(WORDS).holds(&[&[SHORT, LINES]]).laid(Laid::More)
}

pub const SHORT: Word = Word::new("short", "a shorter form, such as `{title.short}`").takes(&[text("its short form")]);
pub const LINES: Word =
    Word::new("lines", "where it breaks, in styles with `breaks chosen`").takes(&[text("a line").any()]);
pub const TITLE: Word = titled("title", "the title");
pub const SUBTITLE: Word = titled("subtitle", "the subtitle");
pub const AUTHOR: Word = titled("author", "an author").takes(AUTHORS).many();
pub const TRANSLATOR: Word = titled("translator", "who translated it");
pub const ILLUSTRATOR: Word = titled("illustrator", "who illustrated it");
pub const PUBLISHER: Word = titled("publisher", "the publisher");
pub const LANGUAGE: Word =
    Word::new("language", "a BCP 47 tag: hyphenation, the direction of the spine and the order of panels follow it")
        .takes(&[text("a language tag, such as en-GB")])
        .default("en-GB");
pub const BINDING_SIDE: Word = Word::new(
    "binding-side",
    "where the spine is, seen from the front; without it, `right` where the language is written from right to left",
)
.takes(&[choice("a side", &words_of(&BindingSide::WORDS))]);
pub const PAGES: Word = Word::new("pages", "the extent")
    .takes(&[whole("a page count", 2.0, 10_000.0)])
    .properties(&[STATE])
    .laid(Laid::More);
pub const STATE: Word = Word::new("state", "whether it is final: an estimate holds the press file back")
    .takes(&[choice("a state", &["confirmed", "estimated"])])
    .default("confirmed");
pub const ISBN: Word = Word::new("isbn", "thirteen digits in quotes, with or without hyphens")
    .takes(&[text("thirteen digits in quotes")])
    .laid(Laid::More);
pub const OTHER_ISBN: Word =
    Word::new("other-isbn", "the number of another edition that the words may name: `{isbn.ebook}`")
        .takes(&[name("which edition, such as ebook"), text("thirteen digits in quotes")])
        .known_by(KnownBy::Name)
        .laid(Laid::More);
pub const PRICE: Word = Word::new("price", "a currency code and the amount in quotes")
    .takes(&[name("a currency, such as GBP"), text("the amount in quotes")])
    .many()
    .laid(Laid::More);
pub const IN_SERIES: Word = Word::new("in-series", "the series that it belongs to")
    .takes(&[text("the series' name")])
    .properties(&[NUMBER])
    .laid(Laid::More);
pub const NUMBER: Word = Word::new("number", "its place in the series").takes(&[number("a number", 0.0, 100_000.0)]);
pub const VERSION: Word = Word::new("version", "the proof round")
    .takes(&[whole("a version number", 0.0, 1e6)])
    .properties(&[DATE])
    .laid(Laid::More);
pub const DATE: Word = Word::new("date", "its day, as YYYY-MM-DD: `{date}`").takes(&[text("a date")]);
pub const QUOTE: Word = Word::new("quote", "words from a review")
    .takes(&[text("the words quoted")])
    .properties(&[BY, SOURCE])
    .many()
    .laid(Laid::More);
pub const BY: Word = Word::new("by", "who wrote them").takes(&[text("a name")]);
pub const SOURCE: Word = Word::new("source", "where they were printed").takes(&[text("a name")]);
pub const ALT_TEXT: Word =
    Word::new("alt-text", "what the front shows, for those who do not see it").takes(WORDS).laid(Laid::More);
pub const FACT: Word = Word::new("fact", "a fact of your own: `{strapline}`")
    .takes(&[name("a name"), text("its words")])
    .known_by(KnownBy::Name)
    .laid(Laid::More);

pub const BOOK: Word = Word::new("book", "the facts of the book")
    .holds(&[&[
        TITLE,
        SUBTITLE,
        AUTHOR,
        TRANSLATOR,
        ILLUSTRATOR,
        PUBLISHER,
        LANGUAGE,
        BINDING_SIDE,
        PAGES,
        ISBN,
        OTHER_ISBN,
        PRICE,
        IN_SERIES,
        VERSION,
        QUOTE,
        ALT_TEXT,
        FACT,
    ]])
    .laid(Laid::Inside);
