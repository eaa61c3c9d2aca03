//! Price: a currency and an amount, as a fact of the book.

use crate::cover::Book;
use crate::ground::{Span, Spanned};
use crate::language::price::price as written_price;
use crate::source::{Datum, Reader, Value};

/// Takes one price; the first is the price of the book.
pub fn price(word: &Reader<'_>, book: &mut Book, first: bool) {
    if let Some((span, message, help)) = slip(&word.node.values) {
        word.skip();
        // It keeps its words, so that text which names it does not report it again.
        let written: Vec<String> = word.node.values.iter().map(Value::plain).collect();
        let written = Spanned::new(written.join(" "), span);
        if first {
            book.words.insert("price".to_owned(), written.clone());
        }
        if let Some(code) = word.node.values.iter().find_map(|value| currency_in(value.text()?)) {
            book.words.entry(format!("price.{code}")).or_insert(written);
        }
        return word.error(span, message, help);
    }
    if word.node.values.is_empty() {
        word.skip();
        return word.error(word.span(), "the price lacks currency and amount", "write `price GBP \"10.90\"`");
    }
    let (Some(currency), Some(amount)) = (word.text(), word.text()) else { return };
    let shown = written_price(&book.language.value, &currency.value, &amount.value);
    let shown = Spanned::new(shown, amount.span);
    if first {
        book.words.insert("price".to_owned(), shown.clone());
    }
    book.words.insert(format!("price.{}", currency.value), shown);
    book.amounts.insert(currency.value.clone(), amount.value);
    book.currencies.push(currency.value);
}

/// What is wrong with the values of a price: where, what, and what to write instead.
fn slip(values: &[Value]) -> Option<(Span, String, String)> {
    match values {
        [only] => {
            let amount = amount_in(only).unwrap_or_else(|| "10.90".to_owned());
            match only.text().map(|stated| (stated, currency_in(stated))) {
                Some((stated, Some(code))) if amount_in(only).is_some() => {
                    let message = format!("{stated:?} is currency and amount in one");
                    Some((only.span, message, format!("write them apart: `price {code} {amount:?}`")))
                }
                Some((stated, Some(code))) if stated == code => Some((
                    only.span,
                    "the price lacks its amount".to_owned(),
                    format!("write `price {code} {amount:?}`"),
                )),
                _ => {
                    let help = format!("write its code before the amount: `price GBP {amount:?}`, or EUR, USD, …");
                    Some((only.span, "the price does not say in which currency".to_owned(), help))
                }
            }
        }
        [currency, amount] => {
            let code = currency.text().and_then(currency_in);
            let shown = code.unwrap_or("GBP");
            if !currency.text().is_some_and(is_code) {
                let written = currency.plain();
                let turned = amount.text().and_then(currency_in).zip(amount_in(currency));
                let help = turned.map_or_else(
                    || {
                        let figures = amount_in(amount).unwrap_or_else(|| "10.90".to_owned());
                        format!("write the code of ISO 4217, three capitals: `price {shown} {figures:?}`")
                    },
                    |(code, figures)| format!("the currency stands first: `price {code} {figures:?}`"),
                );
                return Some((currency.span, format!("`{written}` is not a currency code"), help));
            }
            let figures = amount_in(amount);
            if !matches!(amount.datum, Datum::Text(_)) {
                let figures = figures.unwrap_or_else(|| "10.90".to_owned());
                let help = format!("write `price {shown} {figures:?}`: in quotes no zero is lost");
                return Some((amount.span, "the amount stands without quotes".to_owned(), help));
            }
            let stated = amount.text().unwrap_or_default();
            (!is_amount(stated)).then(|| {
                let help = match figures {
                    Some(figures) => {
                        format!("write digits alone, with a point or comma before the decimals: {figures:?}")
                    }
                    None => format!("write it in digits: `price {shown} \"10.90\"`"),
                };
                (amount.span, format!("{stated:?} is not an amount"), help)
            })
        }
        _ => None,
    }
}

/// Three capitals.
fn is_code(text: &str) -> bool {
    text.len() == 3 && text.chars().all(|letter| letter.is_ascii_uppercase())
}

/// Signs and names of currencies, and their codes (ISO 4217).
const CURRENCIES: [(&str, &str); 12] = [
    ("£", "GBP"),
    ("pound", "GBP"),
    ("sterling", "GBP"),
    ("€", "EUR"),
    ("euro", "EUR"),
    ("US$", "USD"),
    ("$", "USD"),
    ("dollar", "USD"),
    ("¥", "JPY"),
    ("yen", "JPY"),
    ("₪", "ILS"),
    ("₹", "INR"),
];

/// The code that a text has in it, or that its sign or name has.
fn currency_in(text: &str) -> Option<&str> {
    let parts = || text.split(|letter: char| !letter.is_ascii_alphabetic());
    let lower = text.to_lowercase();
    parts()
        .find(|part| is_code(part))
        .or_else(|| CURRENCIES.iter().find(|(sign, _)| lower.contains(&sign.to_lowercase())).map(|(_, code)| *code))
}

/// An amount among other words, without what stands between thousands.
fn amount_in(value: &Value) -> Option<String> {
    if let Datum::Number(number) = value.datum {
        let amount = if number.fract() == 0.0 { format!("{number}") } else { format!("{number:.2}") };
        return is_amount(&amount).then_some(amount);
    }
    let part = |letter: char| letter.is_ascii_digit() || matches!(letter, '.' | ',' | ' ' | '\u{a0}' | '\u{202f}');
    let text = value.text()?;
    let start = text.find(|letter: char| letter.is_ascii_digit())?;
    let figures =
        text[start..].split(|letter| !part(letter)).next()?.trim_end_matches(|letter: char| !letter.is_ascii_digit());
    let digits = |text: &str| text.chars().filter(char::is_ascii_digit).collect::<String>();
    let amount = match figures.rsplit_once(['.', ',']) {
        Some((whole, rest)) if rest.len() <= 2 => format!("{}.{rest}", digits(whole)),
        _ => digits(figures),
    };
    is_amount(&amount).then_some(amount)
}

/// Digits and, after a point or comma, at most two more.
fn is_amount(text: &str) -> bool {
    let digits = |part: &str| !part.is_empty() && part.chars().all(|c| c.is_ascii_digit());
    match text.split_once(['.', ',']) {
        Some((whole, rest)) => digits(whole) && digits(rest) && rest.len() <= 2,
        None => digits(text),
    }
}
