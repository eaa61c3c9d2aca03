//! ISBNs and prices that are not the book's.

use crate::check::exam::Exam;
use crate::check::prices::{hundredths, prices};
use crate::check::rule::RuleFindings;
use crate::check::visible::VisibleElement;
use crate::cover::Book;
use crate::ground::Severity;
use crate::scene::Kind;

pub fn ask(exam: &Exam<'_>, element: &VisibleElement<'_>, findings: &mut RuleFindings) {
    let book = &exam.facts().book;
    let words = if element.is(Kind::BarCode) { element.lines().join(" ") } else { element.words() };
    if let Some(isbn) = book.word("isbn") {
        let stated = book.words.iter().filter(|(fact, _)| *fact == "isbn" || fact.starts_with("isbn."));
        let stated: Vec<String> = stated.map(|(_, word)| digits(&word.value)).collect();
        for other in isbns(&words).iter().chain(&tens(&words)).filter(|other| !stated.contains(other)) {
            let message = format!("{} says the ISBN {other}; the book's is {isbn}", element.name());
            let help = "refer to the fact, {isbn}; or state the number of another edition: `other-isbn ebook \"978…\"`";
            findings.element(Severity::Error, element, message, help);
        }
    }
    if element.is(Kind::BarCode) {
        return add_on(book, element, &words, findings);
    }
    for price in prices(&words, &book.currencies) {
        let mut stated =
            price.currencies.iter().filter_map(|currency| book.word(&format!("price.{currency}"))).peekable();
        let Some(first) = stated.peek().copied() else { continue };
        if !stated.any(|stated| hundredths(stated) == Some(price.hundredths)) {
            let message = format!("{} says {}; the stated price is {first}", element.name(), price.said);
            findings.element(Severity::Error, element, message, "refer to the fact: {price}");
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

fn digits(text: &str) -> String {
    text.chars().filter(char::is_ascii_digit).collect()
}

/// Numbers of ten digits after the letters ISBN, as thirteen: ISBN-10 with a sound check digit (ISO 2108).
fn tens(words: &str) -> Vec<String> {
    let capitals = words.to_uppercase();
    let after = capitals.split("ISBN").skip(1);
    let tens = after.filter_map(|rest| {
        let rest =
            rest.trim_start_matches(|letter: char| !letter.is_ascii_digit()).trim_start_matches("10:").trim_start();
        let said = rest
            .chars()
            .take_while(|letter| letter.is_ascii_digit() || matches!(letter, 'X' | ' ' | '-' | '–' | '\u{2011}'));
        let said: Vec<u32> =
            said.filter_map(|letter| if letter == 'X' { Some(10) } else { letter.to_digit(10) }).collect();
        let sum: u32 = said.iter().zip((1..=10).rev()).map(|(digit, weight)| digit * weight).sum();
        if said.len() != 10 || !sum.is_multiple_of(11) || said[..9].contains(&10) {
            return None;
        }
        let bare: String =
            "978".chars().chain(said[..9].iter().filter_map(|digit| char::from_digit(*digit, 10))).collect();
        let weighted = bare
            .chars()
            .zip([1, 3].into_iter().cycle())
            .filter_map(|(digit, weight)| Some(digit.to_digit(10)? * weight));
        let check = (10 - weighted.sum::<u32>() % 10) % 10;
        Some(format!("{bare}{check}"))
    });
    tens.collect()
}

/// The price that five digits beside the bars state.
fn add_on(book: &Book, element: &VisibleElement<'_>, words: &str, findings: &mut RuleFindings) {
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
        findings.element(
            Severity::Error,
            element,
            message,
            "let the add-on follow the price, or use 90000, which states none",
        );
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::rules::RULES;
    use crate::check::testing::reported;

    const BOOK: &str = "book { title \"Salt and Lanterns\"; author \"Mirela Anand\"; pages 320; isbn \"978-1-83742-615-7\"; \
                        price GBP \"10.90\"; price USD \"16.00\"; }\n";

    fn said(words: &str) -> usize {
        let cover =
            format!("{BOOK}panel back {{ text a words={words:?} {{ left safe; right safe; top safe; size 9 }} }}");
        let rule = RULES.iter().find(|rule| rule.name == "facts-disagree").expect("it is listed");
        reported(rule, &cover).len()
    }

    #[test]
    fn the_isbn_of_another_book() {
        assert_eq!(said("ISBN 978-1-83651-284-4"), 1);
        assert_eq!(said("ISBN 978 1 83742 615 7"), 0);
        assert_eq!(said("{isbn}"), 0);
        assert_eq!(said("Call 0800 978 12 34 or write."), 0);
        // The ISBN-10 of 978-0-306-40615-7 (ISBN Users' Manual), and the book's own: 1-83742-615-5 by the same sum.
        assert_eq!(said("ISBN 0-306-40615-2"), 1);
        assert_eq!(said("ISBN-10: 0306406152"), 1);
        assert_eq!(said("ISBN 1-83742-615-5"), 0);
        assert_eq!(said("ISBN 0-306-40615-3"), 0, "its check digit is wrong: no ISBN");
    }

    #[test]
    fn the_isbn_of_another_edition() {
        let words = "Ebook: 978-1-83651-284-4";
        assert_eq!(said(words), 1);
        let book = BOOK.replace("price GBP", "other-isbn ebook \"978-1-83651-284-4\"; price GBP");
        let cover =
            format!("{book}panel back {{ text a words={words:?} {{ left safe; right safe; top safe; size 9 }} }}");
        let rule = RULES.iter().find(|rule| rule.name == "facts-disagree").expect("it is listed");
        assert_eq!(reported(rule, &cover), []);
    }

    #[test]
    fn prices_of_last_year() {
        assert_eq!(said("£9.99"), 1);
        assert_eq!(said("£10.90 / US$16.00"), 0);
        assert_eq!(said("$16"), 0);
        assert_eq!(said("10,90 £, 17.00 USD"), 1, "a currency may follow its amount");
        assert_eq!(said("CAN $22.00"), 0, "no such price is stated");
        assert_eq!(said("She owed the harbour master £500, and he owed her nothing at all."), 0);
    }

    #[test]
    fn digits_within_other_digits() {
        assert_eq!(isbns("1 9781837426157 2"), ["9781837426157"]);
    }
}
