//! `book`: the facts of the book.
//!
//! Every fact has a name; text refers to it as `{title}`, `{author}`, `{isbn}`. While the page count is an estimate,
//! pictures are built, and no press file.
//!
//! ```kdl
//! book {
//!     title "Salt and Lanterns" {
//!         lines "Salt and" "Lanterns"     // breaks for styles with `breaks chosen`
//!         short "Salt & Lanterns"         // {title.short}
//!     }
//!     subtitle "A Novel"
//!     author "Mirela Anand"
//!     publisher "Tern Passage"
//!     language en-GB                      // hyphenation, spine direction, panel order
//!     binding-side left                   // or right; by default the language decides
//!     pages 312 state=confirmed           // or state=estimated; a cover for screens needs none
//!     isbn "978-1-83742-615-7"
//!     other-isbn ebook "978-1-83742-601-0" // {isbn.ebook}
//!     price GBP "10.90"                   // {price}, {price.GBP}
//!     in-series "The Harbour Quartet" number=2
//!     version 3 date="2026-04-02"
//!     quote "A marvel of a book." by="E. Rowe" source="The Osselby Review"
//!     alt-text "A lantern on a quay."     // for pictures: what the front shows
//!     fact strapline "A novel of the sea" // any fact of your own
//! }
//! ```
//!
//! - Several `author` lines are joined with commas and `&` in `{author}`; the first alone is `{author.1}`.
//! - `{isbn}` is hyphenated from the ISBN ranges; its check digit is verified.
//! - The first price is `{price}`, written as the book's language writes it (Unicode CLDR): `£10.90`, `14,90 €`, `189 kr`.
//!   Each is also `{price.GBP}`, `{price.EUR}`, by its code (ISO 4217).
//! - `other-isbn` is the number of another edition that the words may name, such as `{isbn.ebook}`.
//! - `{in-series.number}` is the place in the series; `jaconet shelf` stands the books in this order.
//! - The date of the version is the only one that files carry; without it they carry 2000-01-01.
//! - `alt-text` says what the front shows, to those who do not see it. Pictures for screens and shops and of the finished book
//!   carry it, by the key `AltTextAccessibility` of the IPTC Photo Metadata Standard. It has 1,500 letters at the most.
//! - The first quotation is `{quote}`, `{quote.by}`, `{quote.source}`; further ones are `{quote.2}`, `{quote.2.by}` and so on.
//!
//! Authors, quotes, prices and numbered facts (`fact award "…"`, `fact award.2 "…"`) are lists: `each` repeats elements for
//! every item, see `jaconet explain each`.

use crate::cover::{BindingSide, Book, Extent, Facts, Isbn};
use crate::ground::{Finding, Severity, Spanned, bound_either_way, number};
use crate::language::context::Desk;
use crate::language::headword::{Headword, Role};
use crate::source::Reader;
use price::price;
use version::version;
pub use version::{DATE_HELP, is_date};
use words::{
    ALT_TEXT, AUTHOR, BINDING_SIDE, BY, ILLUSTRATOR, IN_SERIES, NUMBER, OTHER_ISBN, PAGES, PUBLISHER, QUOTE, SHORT,
    SOURCE, STATE, SUBTITLE, TRANSLATOR, VERSION,
};

mod price;
mod version;
mod words;

pub use words::{BOOK, FACT, ISBN, LANGUAGE, LINES, PRICE, TITLE};

pub const HEADWORD: Headword = Headword::new(BOOK, include_str!("book.rs"), Role::Fact(read));

/// Letters of an alternative text: beyond, no reading system says them in one breath, and no JPEG holds them.
const MOST_ALT_TEXT: usize = 1500;

fn read(reader: &Reader<'_>, facts: &mut Facts, _desk: &Desk<'_>) {
    let on_screen = facts.format.binding.pixels().is_some();
    let book = &mut facts.book;
    book.span = reader.span();
    for word in [&TITLE, &SUBTITLE, &TRANSLATOR, &ILLUSTRATOR, &PUBLISHER] {
        if let Some(found) = reader.child(word) {
            titled(&found, word.name, book);
        }
    }
    authors(reader, book);
    if let Some(language) = reader.child(&LANGUAGE).and_then(|word| language(&word)) {
        book.language = language;
    }
    binding_side(reader, book);
    pages(reader, book, on_screen);
    isbn(reader, book);
    for (at, word) in reader.children(&PRICE).iter().enumerate() {
        price(word, book, at == 0);
    }
    if let Some(word) = reader.child(&IN_SERIES) {
        if let Some(name) = word.text() {
            book.words.insert(IN_SERIES.name.to_owned(), name);
        }
        if let Some(at) = word.number_property(&NUMBER) {
            let name = format!("{}.{}", IN_SERIES.name, NUMBER.name);
            book.words.insert(name, Spanned::new(number(at.value), at.span));
        }
    }
    if let Some(word) = reader.child(&VERSION) {
        version(&word, book);
    }
    for (at, word) in reader.children(&QUOTE).iter().enumerate() {
        let name = if at == 0 { QUOTE.name.to_owned() } else { format!("{}.{}", QUOTE.name, at + 1) };
        if let Some(stated) = word.text() {
            book.words.insert(name.clone(), stated);
        }
        for part in [&BY, &SOURCE] {
            if let Some(stated) = word.text_property(part) {
                book.words.insert(format!("{name}.{}", part.name), stated);
            }
        }
    }
    alt_text(reader, book);
    for word in reader.children(&FACT) {
        if let (Some(name), Some(stated)) = (word.text(), word.text()) {
            if book.words.contains_key(&name.value) {
                word.error(name.span, format!("the fact `{}` is stated already", name.value), "give it another name");
            }
            book.words.insert(name.value, stated);
        }
    }
}

/// A BCP 47 tag. All languages of print have two or three letters (ISO 639); names such as `english` are slips.
pub fn language(word: &Reader<'_>) -> Option<Spanned<String>> {
    let stated = word.text()?;
    let mut parts = stated.value.split('-');
    let first = parts.next().unwrap_or_default();
    let sound = matches!(first.len(), 2 | 3) && first.chars().all(|c| c.is_ascii_alphabetic());
    let fits = |part: &str| (1..=8).contains(&part.len()) && part.chars().all(|c| c.is_ascii_alphanumeric());
    if sound && parts.all(fits) {
        return Some(stated);
    }
    let message = format!("{:?} is not a language tag", stated.value);
    word.error(stated.span, message, "write a BCP 47 tag: en-GB, de, he, pt-BR");
    None
}

fn alt_text(reader: &Reader<'_>, book: &mut Book) {
    let Some(text) = reader.child(&ALT_TEXT).and_then(|word| word.text()) else { return };
    let letters = text.value.chars().count();
    if letters > MOST_ALT_TEXT {
        let message = format!("the alternative text has {letters} letters; a picture takes {MOST_ALT_TEXT}");
        reader.error(text.span, message, "say what the front shows in a sentence or two");
    }
    book.words.insert(ALT_TEXT.name.to_owned(), text);
}

fn binding_side(reader: &Reader<'_>, book: &mut Book) {
    if let Some(word) = reader.child(&BINDING_SIDE) {
        book.binding_side = word.choose(&BindingSide::WORDS);
    } else if bound_either_way(&book.language.value) && !reader.attempts(BINDING_SIDE.name) {
        let message =
            format!("books in `{}` are bound on the left or on the right; left is assumed", book.language.value);
        let finding = Finding::new(Severity::Note, "binding-side-assumed", book.language.span, message)
            .help("write `binding-side right` in `book` if the lines run from head to foot, or `binding-side left`");
        reader.findings().borrow_mut().push(finding);
    }
}

fn titled(word: &Reader<'_>, name: &str, book: &mut Book) {
    if let Some(text) = word.text() {
        book.words.insert(name.to_owned(), text);
    }
    if let Some(short) = word.child(&SHORT).and_then(|short| short.text()) {
        book.words.insert(format!("{name}.{}", SHORT.name), short);
    }
    if let Some(lines) = word.child(&LINES) {
        let mut stated = Vec::new();
        while lines.peek().is_some() {
            stated.extend(lines.text().map(|line| line.value));
        }
        let whole = book.words.get(name).map_or("", |text| text.value.as_str());
        if letters(&stated.concat()) == letters(whole) {
            book.lines.insert(name.to_owned(), stated);
        } else {
            let message = format!("these lines do not say what the {name} says");
            lines.error(lines.span(), message, format!("break {whole:?} into lines, and leave its words as they are"));
        }
    }
}

/// Blanks, hyphens and signs may change where a line is broken; letters may not.
fn letters(text: &str) -> String {
    text.chars().filter(|letter| letter.is_alphanumeric()).flat_map(char::to_lowercase).collect()
}

fn authors(reader: &Reader<'_>, book: &mut Book) {
    let words = reader.children(&AUTHOR);
    if let [word] = &words[..] {
        titled(word, "author", book);
        if let Some(name) = book.words.get("author").cloned() {
            book.words.insert("author.1".to_owned(), name);
        }
        return;
    }
    let names: Vec<Spanned<String>> = words.iter().filter_map(Reader::text).collect();
    for (at, name) in names.iter().enumerate() {
        book.words.insert(format!("author.{}", at + 1), name.clone());
    }
    if let [rest @ .., last] = &names[..] {
        let rest: Vec<&str> = rest.iter().map(|name| name.value.as_str()).collect();
        let joined = format!("{} & {}", rest.join(", "), last.value);
        book.words.insert("author".to_owned(), Spanned::new(joined, last.span));
    }
}

/// A screen has no spine, so its pages need not be known.
fn pages(reader: &Reader<'_>, book: &mut Book, on_screen: bool) {
    let Some(word) = reader.child(&PAGES) else {
        if on_screen {
            return;
        }
        let help = "write `pages 312`, or `pages 312 state=estimated`";
        reader.lacks(reader.span(), "the book lacks its page count", help);
        return;
    };
    let state = word.choice_property(&STATE);
    if state.is_some_and(|state| state.value == "estimated") && !on_screen {
        book.extent = Extent::Estimated;
        let finding = Finding::new(Severity::Error, "extent-estimated", word.span(), "the page count is an estimate")
            .help("pictures are built, the press file waits; write state=confirmed when the text is passed for press");
        reader.findings().borrow_mut().push(finding);
    }
    let Some(count) = word.number() else { return };
    book.pages = Spanned::new(count.value as u32, count.span);
    book.words.insert("pages".to_owned(), Spanned::new(number(count.value), count.span));
}

fn isbn(reader: &Reader<'_>, book: &mut Book) {
    if let Some(text) = reader.child(&ISBN).and_then(|word| word.text()) {
        let (shown, isbn) = numbered(reader, text);
        book.isbn = isbn.map(|isbn| Spanned::new(isbn, shown.span));
        book.words.insert(ISBN.name.to_owned(), shown);
    }
    for word in reader.children(&OTHER_ISBN) {
        if let (Some(edition), Some(text)) = (word.text(), word.text()) {
            book.words.insert(format!("{}.{}", ISBN.name, edition.value), numbered(reader, text).0);
        }
    }
}

/// A number as it is shown. One that is wrong keeps its words, so that text which names them does not report it again.
fn numbered(reader: &Reader<'_>, text: Spanned<String>) -> (Spanned<String>, Option<Isbn>) {
    match Isbn::read(&text.value) {
        Ok(isbn) => {
            if !isbn.ranged() {
                let message = format!("the ISBN ranges of {} do not know this number", Isbn::RANGES);
                let finding = Finding::new(Severity::Warning, "isbn-range", text.span, message)
                    .help("it is printed without hyphens; if it is not newer than the table, look for a slip");
                reader.findings().borrow_mut().push(finding);
            }
            (Spanned::new(isbn.shown().to_owned(), text.span), Some(isbn))
        }
        Err(fault) => {
            reader.error(text.span, fault.message, fault.help);
            (text, None)
        }
    }
}
