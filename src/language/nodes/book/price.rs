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
                Some((stated, Some(code))) if has_digit(stated) => {
                    let message = format!("{stated:?} is currency and amount in one");
                    Some((only.span, message, format!("write them apart: `price {code} {amount:?}`")))
                }
                Some((stated, Some(code))) if stated == code => Some((
                    only.span,
                    "the price lacks its amount".to_owned(),
                    format!("write `price {code} {amount:?}`"),
                )),
                Some((stated, None)) if has_digit(stated) && !is_amount(stated) => {
                    let help = format!("write its code of ISO 4217 in place of ABC: `price ABC {amount:?}`");
                    Some((only.span, format!("{stated:?} does not say by a code in which currency"), help))
                }
                _ => {
                    let help = format!("write its code before the amount: `price GBP {amount:?}`, or EUR, USD, …");
                    Some((only.span, "the price does not say in which currency".to_owned(), help))
                }
            }
        }
        [currency, amount] => {
            let code = currency.text().and_then(|text| known_code(&text.to_uppercase()).or_else(|| currency_in(text)));
            let shown = code.unwrap_or("GBP");
            if currency.text().is_none_or(|text| known_code(text).is_none()) {
                let written = currency.plain();
                let turned = amount.text().and_then(currency_in).zip(amount_in(currency));
                let help = turned.map_or_else(
                    || {
                        let figures = amount_in(amount).unwrap_or_else(|| "10.90".to_owned());
                        let such = if code.is_some() { "" } else { ", such as GBP, EUR or USD" };
                        format!("write the code of ISO 4217, three capitals{such}: `price {shown} {figures:?}`")
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
                    None => format!("write it in digits, with two decimals at the most: `price {shown} \"10.90\"`"),
                };
                (amount.span, format!("{stated:?} is not an amount"), help)
            })
        }
        _ => None,
    }
}

/// The codes of currencies that are paid in (ISO 4217, without funds, metals and tests): all that Unicode's CLDR has in use in some
/// country in 2026 (Python's Babel 2.19, `get_territory_currencies`), and five that went lately.
const CODES: &str = "AED AFN ALL AMD ANG AOA ARS AUD AWG AZN BAM BBD BDT BGN BHD BIF BMD BND BOB BRL BSD BTN BWP BYN BZD CAD CDF CHF \
    CLP CNY COP CRC CUP CVE CZK DJF DKK DOP DZD EGP ERN ETB EUR FJD FKP GBP GEL GHS GIP GMD GNF GTQ GYD HKD HNL HRK \
    HTG HUF IDR ILS INR IQD IRR ISK JMD JOD JPY KES KGS KHR KMF KPW KRW KWD KYD KZT LAK LBP LKR LRD LSL LYD MAD MDL \
    MGA MKD MMK MNT MOP MRU MUR MVR MWK MXN MYR MZN NAD NGN NIO NOK NPR NZD OMR PAB PEN PGK PHP PKR PLN PYG QAR RON \
    RSD RUB RWF SAR SBD SCR SDG SEK SGD SHP SLE SOS SRD SSP STN SVC SYP SZL THB TJS TMT TND TOP TRY TTD TWD TZS UAH \
    UGX USD UYU UZS VED VES VND VUV WST XAF XCD XCG XOF XPF YER ZAR ZMW ZWG ZWL";

/// A code as the standard has it.
fn known_code(text: &str) -> Option<&'static str> {
    CODES.split(' ').find(|code| *code == text)
}

/// Signs of one currency, where no letter stands against them: `E£` is another than `£`.
const SIGNS: [(char, &str); 4] = [('£', "GBP"), ('€', "EUR"), ('₪', "ILS"), ('₹', "INR")];

/// Words of one currency.
const NAMES: [(&str, &str); 4] = [("sterling", "GBP"), ("euro", "EUR"), ("euros", "EUR"), ("yen", "JPY")];

/// The code that stands beside the amount in a text, or that a sign or name has. Where they differ, and where a word goes
/// with a sign or name of several currencies, nothing is guessed.
fn currency_in(text: &str) -> Option<&'static str> {
    let first = text.find(|letter: char| letter.is_ascii_digit());
    let last = text.rfind(|letter: char| letter.is_ascii_digit());
    let before = words(&text[..first.unwrap_or(text.len())]).last().and_then(known_code);
    let after = || last.and_then(|last| words(&text[last + 1..]).next().and_then(known_code));
    match (before.or_else(after), signed(text)) {
        (Some(code), Some(sign)) => (code == sign).then_some(code),
        (code, sign) => code.or(sign),
    }
}

fn words(text: &str) -> impl DoubleEndedIterator<Item = &str> {
    text.split(|letter: char| !letter.is_alphabetic()).filter(|word| !word.is_empty())
}

/// The currency of a sign or a name.
fn signed(text: &str) -> Option<&'static str> {
    let alone = |sign: char| text.find(sign).filter(|at| !text[..*at].ends_with(char::is_alphabetic));
    if let Some((_, code)) = SIGNS.iter().find(|(sign, _)| alone(*sign).is_some()) {
        return Some(code);
    }
    let lower = text.to_lowercase();
    if let Some((_, code)) = words(&lower).find_map(|word| NAMES.iter().find(|(name, _)| *name == word)) {
        return Some(code);
    }
    let only = |known: &[&str]| words(&lower).all(|word| known.contains(&word));
    let says = |known: &[&str]| words(&lower).any(|word| known.contains(&word));
    if text.contains('$') && only(&["us", "usd"]) || says(&["dollar", "dollars"]) && only(&["dollar", "dollars", "us"])
    {
        return Some("USD");
    }
    if says(&["pound", "pounds"]) && only(&["pound", "pounds"]) {
        return Some("GBP");
    }
    (text.contains('¥') && only(&[])).then_some("JPY")
}

fn has_digit(text: &str) -> bool {
    text.contains(|letter: char| letter.is_ascii_digit())
}

/// More digits than this before the decimals are no price of a book, and are not suggested.
const MOST_DIGITS: usize = 6;

/// An amount among other words, without what stands between thousands.
fn amount_in(value: &Value) -> Option<String> {
    if let Datum::Number(number) = value.datum {
        let amount = if number.fract() == 0.0 { format!("{number}") } else { format!("{number:.2}") };
        return is_likely(&amount).then_some(amount);
    }
    let part = |letter: char| letter.is_ascii_digit() || matches!(letter, '.' | ',' | ' ' | '\u{a0}' | '\u{202f}');
    let text = value.text()?;
    let start = text.find(|letter: char| letter.is_ascii_digit())?;
    let figures =
        text[start..].split(|letter| !part(letter)).next()?.trim_end_matches(|letter: char| !letter.is_ascii_digit());
    let digits = |text: &str| text.chars().filter(char::is_ascii_digit).collect::<String>();
    let amount = match figures.rsplit_once(['.', ',']) {
        Some((whole, rest)) if rest.len() <= 2 => format!("{}.{rest}", digits(whole)),
        // `10.900` may be ten or ten thousand.
        Some((whole, _)) if whole.chars().all(|letter| letter.is_ascii_digit()) => return None,
        _ => digits(figures),
    };
    is_likely(&amount).then_some(amount)
}

/// An amount that a book may cost.
fn is_likely(amount: &str) -> bool {
    is_amount(amount) && amount.split('.').next().is_some_and(|whole| whole.len() <= MOST_DIGITS)
}

/// Digits and, after a point or comma, at most two more.
fn is_amount(text: &str) -> bool {
    let digits = |part: &str| !part.is_empty() && part.chars().all(|c| c.is_ascii_digit());
    match text.split_once(['.', ',']) {
        Some((whole, rest)) => digits(whole) && digits(rest) && rest.len() <= 2,
        None => digits(text),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    // Signs as Unicode's CLDR has them for each currency, such as `CA$`, `R$`, `CN¥` (Python's Babel 2.19,
    // `get_currency_symbol`); what several countries call theirs is no currency.
    #[test]
    fn a_currency_is_told_only_where_it_is_certain() {
        for (text, code) in [
            ("RRP £10.90", Some("GBP")),
            ("£10.90", Some("GBP")),
            ("10.90 EUR", Some("EUR")),
            ("GBP", Some("GBP")),
            ("12,90 €", Some("EUR")),
            ("12.90 euros", Some("EUR")),
            ("10 pounds sterling", Some("GBP")),
            ("$24.99", Some("USD")),
            ("US$ 24.99", Some("USD")),
            ("24.99 US dollars", Some("USD")),
            ("$24.99 CAD", Some("CAD")),
            ("CAD $24.99", Some("CAD")),
            ("TOP PRICE £10.90", Some("GBP")),
            ("A$24.99", None),
            ("C$ 24.99", None),
            ("R$ 49,90", None),
            ("E£100", None),
            ("CN¥100", None),
            ("Canadian $24.99", None),
            ("24.99 Canadian dollars", None),
            ("100 Egyptian pounds", None),
            ("European edition 12.90", None),
            ("RRP 10.90", None),
            ("USD £10.90", None),
            ("", None),
        ] {
            assert_eq!(currency_in(text), code, "{text}");
        }
    }

    #[test]
    fn amounts_are_offered_that_a_book_may_cost() {
        let text = |text: &str| Value { datum: Datum::Text(text.to_owned()), unit: None, span: Span::default() };
        for (written, amount) in [
            ("RRP £1,000.00", Some("1000.00")),
            ("1.000.000", None),
            ("14,90 €", Some("14.90")),
            ("189 kr", Some("189")),
            ("10.900", None),
            ("123456789", None),
        ] {
            assert_eq!(amount_in(&text(written)).as_deref(), amount, "{written}");
        }
    }
}
