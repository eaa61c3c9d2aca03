//! Price: a currency and an amount, as a fact of the book.

use crate::cover::Book;
use crate::ground::Spanned;
use crate::language::price::price as written_price;
use crate::source::Reader;

/// Takes one price; the first is the price of the book.
pub fn price(word: &Reader<'_>, book: &mut Book, first: bool) {
    if let [only] = &word.node.values[..]
        && let Some(stated) = only.text()
        && stated.contains(|letter: char| letter.is_ascii_digit())
    {
        word.skip();
        let amount = stated.trim_start_matches(|letter: char| !letter.is_ascii_digit());
        let help = format!("write currency and amount: `price GBP \"{amount}\"`");
        return word.error(only.span, format!("{stated:?} names no currency"), help);
    }
    let (Some(currency), Some(amount)) = (word.text(), word.text()) else { return };
    if currency.value.len() != 3 || !currency.value.chars().all(|c| c.is_ascii_uppercase()) {
        word.error(
            currency.span,
            format!("{:?} is not a currency code", currency.value),
            "write three capitals: GBP, EUR, USD",
        );
        return;
    }
    if !is_amount(&amount.value) {
        word.error(amount.span, format!("{:?} is not an amount", amount.value), "write digits, such as \"10.90\"");
        return;
    }
    let shown = written_price(&book.language.value, &currency.value, &amount.value);
    let shown = Spanned::new(shown, amount.span);
    if first {
        book.words.insert("price".to_owned(), shown.clone());
    }
    book.words.insert(format!("price.{}", currency.value), shown);
    book.amounts.insert(currency.value.clone(), amount.value);
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
