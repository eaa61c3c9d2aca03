//! Amounts of money in words, as most countries write them.

/// Signs and the currencies they may stand for (ISO 4217); of two that begin alike the longer stands first.
const SIGNS: [(&str, &[&str]); 42] = [
    ("CAN $", &["CAD"]),
    ("CAN$", &["CAD"]),
    ("CA$", &["CAD"]),
    ("C$", &["CAD"]),
    ("US $", &["USD"]),
    ("US$", &["USD"]),
    ("AU$", &["AUD"]),
    ("A$", &["AUD"]),
    ("NZ$", &["NZD"]),
    ("HK$", &["HKD"]),
    ("NT$", &["TWD"]),
    ("MX$", &["MXN"]),
    ("R$", &["BRL"]),
    ("S$", &["SGD"]),
    ("$", &["USD", "CAD", "AUD", "NZD", "MXN", "SGD", "HKD"]),
    ("£", &["GBP"]),
    ("€", &["EUR"]),
    ("₪", &["ILS"]),
    ("ש״ח", &["ILS"]),
    ("ש\"ח", &["ILS"]),
    ("¥", &["JPY", "CNY"]),
    ("￥", &["JPY", "CNY"]),
    ("円", &["JPY"]),
    ("元", &["CNY", "TWD"]),
    ("₩", &["KRW"]),
    ("원", &["KRW"]),
    ("₹", &["INR"]),
    ("₽", &["RUB"]),
    ("руб", &["RUB"]),
    ("₴", &["UAH"]),
    ("грн", &["UAH"]),
    ("лв", &["BGN"]),
    ("₺", &["TRY"]),
    ("TL", &["TRY"]),
    ("zł", &["PLN"]),
    ("Kč", &["CZK"]),
    ("Ft", &["HUF"]),
    ("lei", &["RON"]),
    ("kr", &["SEK", "NOK", "DKK", "ISK"]),
    ("SFr", &["CHF"]),
    ("sFr", &["CHF"]),
    ("Fr", &["CHF"]),
];
/// Words no longer than this are a price line; in longer ones only an amount with cents is taken for the price.
const PRICE_LINE: usize = 24;

/// An amount with its currency.
#[derive(Debug, PartialEq)]
pub struct Price {
    pub said: String,
    /// The currencies that its sign may mean.
    pub currencies: Vec<String>,
    pub hundredths: u64,
}

/// Every amount with a sign or a known currency code beside it.
pub fn prices(words: &str, codes: &[String]) -> Vec<Price> {
    let line = words.chars().count() <= PRICE_LINE;
    let signs = || {
        let own = codes.iter().map(|code| (code.as_str(), vec![code.clone()]));
        let known = SIGNS.iter().map(|(sign, codes)| (*sign, codes.iter().map(|code| (*code).to_owned()).collect()));
        own.chain(known)
    };
    let mut found = Vec::new();
    let mut rest = 0;
    while let Some((start, end, amount)) = amount(words, rest) {
        let before = words[rest..start].trim_end_matches(is_blank);
        let after = words[end..].trim_start_matches(is_blank);
        rest = end;
        let beside = signs().find_map(|(sign, codes)| {
            let led =
                before.strip_suffix(sign).filter(|before| !joined(before.chars().next_back(), sign.chars().next()));
            let followed =
                after.strip_prefix(sign).filter(|after| !joined(sign.chars().next_back(), after.chars().next()));
            let said = match (led, followed) {
                (Some(_), _) => format!("{sign}{}", &words[start..end]),
                (None, Some(_)) => format!("{} {sign}", &words[start..end]),
                _ => return None,
            };
            Some((said, codes, if led.is_some() { None } else { followed }))
        });
        if let Some((_, _, Some(after))) = beside {
            rest = words.len() - after.len();
        }
        if let Some((said, currencies, _)) = beside
            && (amount.cents || line)
        {
            found.push(Price { said, currencies, hundredths: amount.hundredths });
        }
    }
    found
}

/// The first amount in words that state one, such as `£10.90`.
pub fn hundredths(words: &str) -> Option<u64> {
    amount(words, 0).map(|(.., amount)| amount.hundredths)
}

struct Amount {
    hundredths: u64,
    cents: bool,
}

/// The next number from a place on, with its own place.
fn amount(words: &str, from: usize) -> Option<(usize, usize, Amount)> {
    let start = from + words[from..].find(|letter| digit(letter).is_some())?;
    let mut groups = vec![String::new()];
    let (mut end, mut part) = (start, None);
    for (at, letter) in words[start..].char_indices() {
        if let Some(value) = digit(letter) {
            if let Some(sign) = part.take() {
                groups.push(String::from(sign));
            }
            groups.last_mut()?.push(char::from_digit(value, 10)?);
            end = start + at + letter.len_utf8();
        } else if part.is_none() && is_part(letter) {
            part = Some(letter);
        } else {
            break;
        }
    }
    // What follows the last point or comma is cents when it is one or two digits; longer groups are thousands.
    let last =
        groups.last().filter(|last| groups.len() > 1 && last.chars().count() <= 3 && !last.starts_with(is_blank));
    let cents = last.map(|last| last.chars().skip(1).collect::<String>());
    let whole = if cents.is_some() { &groups[..groups.len() - 1] } else { &groups[..] };
    let whole: String = whole.concat().chars().filter(char::is_ascii_digit).collect();
    let hundredths = format!("{whole}{:0<2}", cents.as_deref().unwrap_or_default()).parse().ok()?;
    Some((start, end, Amount { hundredths, cents: cents.is_some() }))
}

/// A decimal digit of the scripts that books are priced in (Unicode, general category Nd).
pub fn digit(letter: char) -> Option<u32> {
    const ZEROS: [u32; 9] = [0x30, 0x660, 0x6F0, 0x966, 0x9E6, 0xA66, 0xBE6, 0xE50, 0xFF10];
    ZEROS.iter().find_map(|zero| u32::from(letter).checked_sub(*zero).filter(|value| *value < 10))
}

/// What stands between the digits of one amount.
fn is_part(letter: char) -> bool {
    matches!(letter, '.' | ',' | '\'' | '’' | '٫' | '٬' | '．' | '，' | '\u{a0}' | '\u{202f}' | '\u{2009}')
}

fn is_blank(letter: char) -> bool {
    letter.is_whitespace()
}

/// Two letters of one word: `kr` is not a price sign in `krona`.
fn joined(one: Option<char>, other: Option<char>) -> bool {
    let latin = |letter: Option<char>| letter.is_some_and(|letter| letter.is_alphabetic() && letter < '\u{2E80}');
    latin(one) && latin(other)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(words: &str) -> Vec<(String, u64)> {
        let all = prices(words, &["EUR".to_owned(), "CHF".to_owned()]);
        all.into_iter().map(|price| (price.currencies[0].clone(), price.hundredths)).collect()
    }

    #[test]
    fn amounts_as_countries_write_them() {
        for (words, currency, hundredths) in [
            ("£10.90", "GBP", 1090),
            ("22,90 €", "EUR", 2290),
            ("22,90\u{a0}EUR", "EUR", 2290),
            ("EUR 22.9", "EUR", 2290),
            ("89 kr", "SEK", 8900),
            ("89 kr.", "SEK", 8900),
            ("￥890", "JPY", 89_000),
            ("1,800円", "JPY", 180_000),
            ("1 299 Ft", "HUF", 129_900),
            ("₪٨٤٫٥٠", "ILS", 8450),
            ("￥１８００", "JPY", 180_000),
            ("CHF 1’250.50", "CHF", 125_050),
            ("49,90 zł", "PLN", 4990),
            ("CAN $22.00", "CAD", 2200),
            ("₹ ४९९", "INR", 49_900),
        ] {
            let words = words.replace("1 299", "1\u{202f}299");
            assert_eq!(read(&words), [(currency.to_owned(), hundredths)], "{words}");
        }
        let two = [("GBP".to_owned(), 1090), ("USD".to_owned(), 1600)];
        assert_eq!(read("£10.90 / US$16.00"), two);
        assert_eq!(read("10 € 16 $"), [("EUR".to_owned(), 1000), ("USD".to_owned(), 1600)]);
    }

    #[test]
    fn other_numbers_are_no_prices() {
        for words in ["312 pages", "89 krona", "1994", "Room 12", "She owed him £500, and he owed her nothing at all."]
        {
            assert_eq!(read(words), [], "{words}");
        }
    }
}
