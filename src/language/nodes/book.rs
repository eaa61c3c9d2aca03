//! `book`: the facts of the book, said once.
//!
//! Every fact has a name; text refers to it as `{title}`, `{author}`, `{isbn}`. A page count may still be an estimate:
//! then pictures are built, and no press file.
//!
//! ```kdl
//! book {
//!     title "Salt and Lanterns" {
//!         lines "Salt and" "Lanterns"     // breaks for styles that say `breaks chosen`
//!         short "Salt & Lanterns"         // {title.short}
//!     }
//!     subtitle "A Novel"
//!     author "Mirela Anand"
//!     publisher "Tern Passage"
//!     language en-GB                      // hyphenation, spine direction, panel order
//!     pages 312 state=confirmed           // or state=estimated
//!     isbn "978-1-83742-615-7"
//!     other-isbn ebook "978-1-83742-601-0" // {isbn.ebook}
//!     price GBP "10.90"                   // {price}, {price.GBP}
//!     in-series "The Harbour Quartet" number=2
//!     version 3 date="2026-04-02"
//!     quote "A marvel of a book." by="E. Rowe" source="The Osselby Review"
//!     fact strapline "A novel of the sea" // any fact of your own
//! }
//! ```
//!
//! - `title`, `subtitle`, `author`, `translator`, `illustrator`, `publisher`: text. Several `author` lines are joined
//!   with commas and `&`; the first alone is `{author.1}`. Each may hold `lines` and `short`.
//! - `pages N state=confirmed|estimated`: the extent; confirmed without a word.
//! - `isbn`: thirteen digits in quotes, hyphens free; the check digit is verified. `{isbn}` is hyphenated from the
//!   ISBN ranges.
//! - `other-isbn EDITION "…"`: the number of another edition that the words may name, such as `{isbn.ebook}`.
//! - `price CURRENCY "AMOUNT"`: an ISO 4217 code and the amount in quotes. The first is `{price}`,
//!   written as the book's language writes it (Unicode CLDR): `£10.90`, `14,90 €`, `189 kr`.
//! - `in-series NAME number=N`: `{in-series}`, `{in-series.number}`; `jaconet shelf` stands the books in this order.
//! - `version N date="YYYY-MM-DD"`: the proof round; the date is the only one that files carry (without it, 2000-01-01).
//! - `quote`: `{quote}`, `{quote.by}`, `{quote.source}`; further ones `{quote.2}`, `{quote.2.by}` and so on.
//! - `fact NAME "text"`: a fact of your own; `fact award "…"`, `fact award.2 "…"` make a list of them.
//!
//! Authors, quotes, prices and numbered facts are lists: `each` repeats elements for every item, see
//! `jaconet explain each`.

use crate::cover::{Book, Extent, Facts, Isbn};
use crate::ground::{Finding, Severity, Spanned, number};
use crate::language::price::price as written_price;
use crate::language::{Desk, Node, Role};
use crate::source::Reader;

pub const NODE: Node = Node { name: "book", source: include_str!("book.rs"), role: Role::Fact(read) };

fn read(reader: &Reader<'_>, facts: &mut Facts, _desk: &Desk<'_>) {
    let book = &mut facts.book;
    book.span = reader.span();
    for name in ["title", "subtitle", "translator", "illustrator", "publisher"] {
        if let Some(word) = reader.child(name) {
            titled(&word, name, book);
        }
    }
    authors(reader, book);
    if let Some(language) = reader.child("language").and_then(|word| language(&word)) {
        book.language = language;
    }
    pages(reader, book);
    isbn(reader, book);
    for (at, word) in reader.children("price").iter().enumerate() {
        price(word, book, at == 0);
    }
    if let Some(word) = reader.child("in-series") {
        if let Some(name) = word.text("the series' name") {
            book.words.insert("in-series".to_owned(), name);
        }
        if let Some(at) = word.number_property("number") {
            book.words.insert("in-series.number".to_owned(), Spanned::new(number(at.value), at.span));
        }
    }
    version(reader, book);
    for (at, word) in reader.children("quote").iter().enumerate() {
        let name = if at == 0 { "quote".to_owned() } else { format!("quote.{}", at + 1) };
        if let Some(said) = word.text("the words quoted") {
            book.words.insert(name.clone(), said);
        }
        for part in ["by", "source"] {
            if let Some(said) = word.text_property(part) {
                book.words.insert(format!("{name}.{part}"), said);
            }
        }
    }
    for word in reader.children("fact") {
        if let (Some(name), Some(said)) = (word.text("a name"), word.text("its words")) {
            if book.words.contains_key(&name.value) {
                word.error(name.span, format!("the fact `{}` is stated already", name.value), "give it another name");
            }
            book.words.insert(name.value, said);
        }
    }
}

/// A BCP 47 tag. All languages of print have two or three letters (ISO 639); names such as `english` are slips.
pub fn language(word: &Reader<'_>) -> Option<Spanned<String>> {
    let said = word.text("a language tag, such as en-GB")?;
    let mut parts = said.value.split('-');
    let first = parts.next().unwrap_or_default();
    let sound = matches!(first.len(), 2 | 3) && first.chars().all(|c| c.is_ascii_alphabetic());
    let fits = |part: &str| (1..=8).contains(&part.len()) && part.chars().all(|c| c.is_ascii_alphanumeric());
    if sound && parts.all(fits) {
        return Some(said);
    }
    let message = format!("{:?} is no language tag", said.value);
    word.error(said.span, message, "write a BCP 47 tag: en-GB, de, he, pt-BR");
    None
}

fn titled(word: &Reader<'_>, name: &str, book: &mut Book) {
    if let Some(text) = word.text("its words") {
        book.words.insert(name.to_owned(), text);
    }
    if let Some(short) = word.child("short").and_then(|short| short.text("its short form")) {
        book.words.insert(format!("{name}.short"), short);
    }
    if let Some(lines) = word.child("lines") {
        let mut said = Vec::new();
        while lines.peek().is_some() {
            said.extend(lines.text("a line").map(|line| line.value));
        }
        let whole = book.words.get(name).map_or("", |text| text.value.as_str());
        if letters(&said.concat()) == letters(whole) {
            book.lines.insert(name.to_owned(), said);
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
    let words = reader.children("author");
    if let [word] = &words[..] {
        titled(word, "author", book);
        if let Some(name) = book.words.get("author").cloned() {
            book.words.insert("author.1".to_owned(), name);
        }
        return;
    }
    let names: Vec<Spanned<String>> = words.iter().filter_map(|word| word.text("a name")).collect();
    for (at, name) in names.iter().enumerate() {
        book.words.insert(format!("author.{}", at + 1), name.clone());
    }
    if let [rest @ .., last] = &names[..] {
        let rest: Vec<&str> = rest.iter().map(|name| name.value.as_str()).collect();
        let joined = format!("{} & {}", rest.join(", "), last.value);
        book.words.insert("author".to_owned(), Spanned::new(joined, last.span));
    }
}

fn pages(reader: &Reader<'_>, book: &mut Book) {
    let Some(word) = reader.child("pages") else {
        if !reader.attempts("pages") {
            let help = "write `pages 312`, or `pages 312 state=estimated`";
            reader.error(reader.span(), "the book lacks its page count", help);
        }
        return;
    };
    let state = word.word_property("state", &["confirmed", "estimated"]);
    if state.is_some_and(|state| state.value == "estimated") {
        book.extent = Extent::Estimated;
        let finding = Finding::new(Severity::Error, "extent-estimated", word.span(), "the page count is an estimate")
            .help("pictures are built, the press file waits; write state=confirmed when the text is passed for press");
        reader.findings().borrow_mut().push(finding);
    }
    let Some(count) = word.number("a page count") else { return };
    if count.value < 2.0 || count.value > 10_000.0 || count.value.fract() != 0.0 {
        let message = format!("{} is no page count", number(count.value));
        reader.error(count.span, message, "write a whole number from 2 to 10000");
        return;
    }
    book.pages = Spanned::new(count.value as u32, count.span);
    book.words.insert("pages".to_owned(), Spanned::new(number(count.value), count.span));
}

fn isbn(reader: &Reader<'_>, book: &mut Book) {
    if let Some(text) = reader.child("isbn").and_then(|word| word.text("thirteen digits in quotes")) {
        let (shown, isbn) = numbered(reader, text);
        book.isbn = isbn.map(|isbn| Spanned::new(isbn, shown.span));
        book.words.insert("isbn".to_owned(), shown);
    }
    for word in reader.children("other-isbn") {
        if let (Some(edition), Some(text)) = (word.text("which edition, such as ebook"), word.text("its number")) {
            book.words.insert(format!("isbn.{}", edition.value), numbered(reader, text).0);
        }
    }
}

/// A number as it is shown. One that is wrong keeps its words, so that text which names them does not say the same again.
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

fn price(word: &Reader<'_>, book: &mut Book, first: bool) {
    if let [only] = &word.node.values[..]
        && let Some(said) = only.text()
        && said.contains(|letter: char| letter.is_ascii_digit())
    {
        word.skip();
        let amount = said.trim_start_matches(|letter: char| !letter.is_ascii_digit());
        let help = format!("write currency and amount: `price GBP \"{amount}\"`");
        return word.error(only.span, format!("{said:?} names no currency"), help);
    }
    let (Some(currency), Some(amount)) = (word.text("a currency, such as GBP"), word.text("the amount in quotes"))
    else {
        return;
    };
    if currency.value.len() != 3 || !currency.value.chars().all(|c| c.is_ascii_uppercase()) {
        word.error(
            currency.span,
            format!("{:?} is no currency code", currency.value),
            "write three capitals: GBP, EUR, USD",
        );
        return;
    }
    if !is_amount(&amount.value) {
        word.error(amount.span, format!("{:?} is no amount", amount.value), "write digits, such as \"10.90\"");
        return;
    }
    let shown = written_price(&book.language.value, &currency.value, &amount.value);
    let shown = Spanned::new(shown, amount.span);
    if first {
        book.words.insert("price".to_owned(), shown.clone());
    }
    book.words.insert(format!("price.{}", currency.value), shown);
    book.currencies.push(currency.value);
}

/// Digits and, after a point or comma, at most two more.
fn is_amount(text: &str) -> bool {
    let digits = |part: &str| !part.is_empty() && part.chars().all(|c| c.is_ascii_digit());
    match text.split_once(['.', ',']) {
        Some((whole, rest)) => digits(whole) && digits(rest) && rest.len() <= 2,
        None => digits(text),
    }
}

fn version(reader: &Reader<'_>, book: &mut Book) {
    let Some(word) = reader.child("version") else { return };
    if let Some(round) = word.number("a number") {
        if round.value < 0.0 || round.value > 1e6 || round.value.fract() != 0.0 {
            word.error(round.span, "a version is a whole number", "write `version 3`");
        } else {
            book.version = Some(round.value as u32);
            book.words.insert("version".to_owned(), Spanned::new(number(round.value), round.span));
        }
    }
    if let Some(date) = word.text_property("date") {
        if is_date(&date.value) {
            book.words.insert("date".to_owned(), date.clone());
            book.date = Some(date.value);
        } else {
            word.error(date.span, format!("{:?} is no date", date.value), "write it as \"2026-04-02\"");
        }
    }
}

/// A day of the calendar, `YYYY-MM-DD` (ISO 8601).
fn is_date(text: &str) -> bool {
    let parts: Vec<&str> = text.split('-').collect();
    let [year, month, day] = parts[..] else { return false };
    if (year.len(), month.len(), day.len()) != (4, 2, 2) {
        return false;
    }
    let (Ok(year), Ok(month), Ok(day)) = (year.parse::<u32>(), month.parse::<u32>(), day.parse::<u32>()) else {
        return false;
    };
    let leap = year % 4 == 0 && (year % 100 != 0 || year % 400 == 0);
    let days = match month {
        1 | 3 | 5 | 7 | 8 | 10 | 12 => 31,
        4 | 6 | 9 | 11 => 30,
        2 if leap => 29,
        2 => 28,
        _ => 0,
    };
    (1..=days).contains(&day)
}
