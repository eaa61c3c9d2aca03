//! ISBNs and prices that are not the book's.

use crate::check::exam::Exam;
use crate::check::piece::Piece;
use crate::check::rule::Report;
use crate::cover::Book;
use crate::ground::Severity;
use crate::scene::Kind;

/// Signs and codes by which an amount is known; the longer of two that begin alike stands first.
const CURRENCIES: [(&str, &str); 15] = [
    ("CAN $", "CAD"),
    ("CAN$", "CAD"),
    ("CA$", "CAD"),
    ("US$", "USD"),
    ("A$", "AUD"),
    ("NZ$", "NZD"),
    ("£", "GBP"),
    ("€", "EUR"),
    ("₪", "ILS"),
    ("¥", "JPY"),
    ("$", "USD"),
    ("GBP ", "GBP"),
    ("EUR ", "EUR"),
    ("USD ", "USD"),
    ("CHF ", "CHF"),
];
/// Words no longer than this are a price line; in longer ones only an amount with cents is taken for the price.
const PRICE_LINE: usize = 24;

pub fn ask(exam: &Exam<'_>, piece: &Piece<'_>, report: &mut Report) {
    let book = &exam.facts().book;
    let words = if piece.is(Kind::BarCode) { piece.lines().join(" ") } else { piece.words() };
    let digits = |text: &str| text.chars().filter(char::is_ascii_digit).collect::<String>();
    if let Some(isbn) = book.word("isbn") {
        let own = digits(isbn);
        for other in isbns(&words).iter().filter(|other| **other != own) {
            let message = format!("{} says the ISBN {other}; the book's is {isbn}", piece.name());
            report.piece(Severity::Error, piece, message, "refer to the fact: {isbn}");
        }
    }
    if piece.is(Kind::BarCode) {
        return add_on(book, piece, &words, report);
    }
    for (currency, amount) in prices(&words) {
        let Some(stated) = book.word(&format!("price.{currency}")) else { continue };
        if digits(stated) != digits(&amount) && digits(stated) != digits(&amount) + "00" {
            let message = format!("{} says {currency} {amount}; the stated price is {stated}", piece.name());
            report.piece(Severity::Error, piece, message, format!("refer to the fact: {{price.{currency}}}"));
        }
    }
}

/// Thirteen digits that begin as a book's do (978, 979), with blanks or hyphens between.
fn isbns(words: &str) -> Vec<String> {
    let letters: Vec<char> = words.chars().collect();
    let mut found = Vec::new();
    let mut at = 0;
    while at < letters.len() {
        if !letters[at].is_ascii_digit() {
            at += 1;
            continue;
        }
        let mut run = String::new();
        let mut end = at;
        while end < letters.len() && run.len() < 13 {
            match letters[end] {
                digit if digit.is_ascii_digit() => run.push(digit),
                ' ' | '-' | '\u{2010}' | '\u{2011}' | '\u{2012}' | '\u{2013}' | '\u{a0}' | '\u{202f}' => {}
                _ => break,
            }
            end += 1;
        }
        if run.len() == 13 && (run.starts_with("978") || run.starts_with("979")) {
            found.push(run);
            at = end;
        } else {
            // On past this number.
            at += letters[at..].iter().take_while(|letter| letter.is_ascii_digit()).count();
        }
    }
    found
}

/// Amounts with the currency before them.
fn prices(words: &str) -> Vec<(&'static str, String)> {
    let line = words.chars().count() <= PRICE_LINE;
    let mut found = Vec::new();
    let mut rest = words;
    while let Some((at, sign, currency)) = first_sign(rest) {
        rest = rest[at + sign.len()..].trim_start_matches([' ', '\u{a0}', '\u{202f}']);
        let end = rest.find(|c: char| !c.is_ascii_digit() && c != '.' && c != ',').unwrap_or(rest.len());
        let amount = rest[..end].trim_end_matches(['.', ',']);
        let cents = amount.len() > 3 && [b'.', b','].contains(&amount.as_bytes()[amount.len() - 3]);
        if amount.starts_with(|c: char| c.is_ascii_digit()) && (cents || line) {
            found.push((currency, amount.to_owned()));
        }
        rest = &rest[end..];
    }
    found
}

fn first_sign(words: &str) -> Option<(usize, &'static str, &'static str)> {
    let found = CURRENCIES.iter().filter_map(|(sign, code)| Some((words.find(sign)?, *sign, *code)));
    found.min_by_key(|(at, sign, _)| (*at, std::cmp::Reverse(sign.len())))
}

/// The price that five digits beside the bars state.
fn add_on(book: &Book, piece: &Piece<'_>, words: &str, report: &mut Report) {
    let five = words.split_whitespace().find(|word| word.len() == 5 && word.chars().all(|c| c.is_ascii_digit()));
    let Some(five) = five.filter(|five| !matches!(*five, "90000" | "59999" | "69999")) else { return };
    let currency = match &five[..1] {
        "5" => "USD",
        "6" => "CAD",
        _ => return,
    };
    let Some(stated) = book.word(&format!("price.{currency}")) else { return };
    let cents: String = stated.chars().filter(char::is_ascii_digit).collect();
    if cents.trim_start_matches('0') != five[1..].trim_start_matches('0') {
        let message =
            format!("the add-on {five} states {currency} {}.{}; the price is {stated}", &five[1..3], &five[3..]);
        report.piece(
            Severity::Error,
            piece,
            message,
            "let the add-on follow the price, or use 90000, which states none",
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::rules::RULES;
    use crate::check::testing::told;

    const BOOK: &str = "book { title \"Salt and Lanterns\"; author \"Mirela Anand\"; pages 320; isbn \"978-1-83742-615-7\"; \
                        price GBP \"10.90\"; price USD \"16.00\"; }\n";

    fn said(words: &str) -> usize {
        let cover =
            format!("{BOOK}panel back {{ text a words={words:?} {{ left safe; right safe; top safe; size 9 }} }}");
        let rule = RULES.iter().find(|rule| rule.name == "facts-disagree").expect("it is listed");
        told(rule, &cover).len()
    }

    #[test]
    fn the_isbn_of_another_book() {
        assert_eq!(said("ISBN 978-1-83651-284-4"), 1);
        assert_eq!(said("ISBN 978 1 83742 615 7"), 0);
        assert_eq!(said("{isbn}"), 0);
        assert_eq!(said("Call 0800 978 12 34 or write."), 0);
    }

    #[test]
    fn prices_of_last_year() {
        assert_eq!(said("£9.99"), 1);
        assert_eq!(said("£10.90 / US$16.00"), 0);
        assert_eq!(said("$16"), 0);
        assert_eq!(said("CAN $22.00"), 0, "no such price is stated");
        assert_eq!(said("She owed the harbour master £500, and he owed her nothing at all."), 0);
    }

    #[test]
    fn signs_and_amounts() {
        assert_eq!(prices("CAN $22.00, €14,00"), [("CAD", "22.00".to_owned()), ("EUR", "14,00".to_owned())]);
        assert_eq!(isbns("1 9781837426157 2"), ["9781837426157"]);
    }
}
