//! Price: an amount of money as a language writes it, by the patterns of Unicode's CLDR. The one door to their library.

use icu_experimental::dimension::currency::formatter::CurrencyFormatter;
use icu_experimental::dimension::currency::options::CurrencyFormatterOptions;
use icu_locale_core::Locale;
use icu_locale_core::extensions::unicode::Value;
use icu_locale_core::preferences::extensions::unicode::keywords::CurrencyType;
use writeable::Writeable as _;

/// `14,90 €` in German, `£10.90` in British English. An amount without decimals keeps none: Swedish `189 kr`.
/// Where the patterns have no answer, the code stands before the amount.
pub fn price(language: &str, currency: &str, amount: &str) -> String {
    shown(language, currency, &amount.replace(',', ".")).unwrap_or_else(|| format!("{currency}\u{a0}{amount}"))
}

fn shown(language: &str, currency: &str, amount: &str) -> Option<String> {
    let locale: Locale = language.parse().ok()?;
    let code = CurrencyType::try_from(Value::try_from_str(&currency.to_lowercase()).ok()?).ok()?;
    let formatter =
        CurrencyFormatter::try_new_symbol((&locale).into(), code, CurrencyFormatterOptions::default()).ok()?;
    let text = formatter.format_fixed_decimal(&amount.parse().ok()?).write_to_string().into_owned();
    if amount.contains('.') { Some(text) } else { Some(whole(&text)) }
}

/// Without the decimals that nobody wrote: the last sign between figures and the zeros behind it, at most two, for a
/// group of thousands has three.
fn whole(text: &str) -> String {
    let figures: Vec<(usize, char)> = text.char_indices().filter(|(_, letter)| letter.is_numeric()).collect();
    let Some(&(last, letter)) = figures.last() else { return text.to_owned() };
    let end = last + letter.len_utf8();
    let Some((from, _)) = text[..end].char_indices().rev().find(|(_, letter)| !letter.is_numeric()) else {
        return text.to_owned();
    };
    let decimals = text[from..end].chars().skip(1);
    let after_a_figure = text[..from].ends_with(char::is_numeric);
    let nothing = decimals.clone().all(|figure| figure.to_digit(10).or(arabic(figure)) == Some(0));
    if after_a_figure && nothing && decimals.count() <= 2 {
        format!("{}{}", &text[..from], &text[end..])
    } else {
        text.to_owned()
    }
}

/// The value of a figure of Arabic or Persian script.
fn arabic(figure: char) -> Option<u32> {
    let value = |zero: char| u32::from(figure).checked_sub(u32::from(zero)).filter(|value| *value < 10);
    value('\u{660}').or_else(|| value('\u{6f0}'))
}

#[cfg(test)]
mod tests {
    use super::*;

    // As Python's Babel 2.19 writes them, another reader of CLDR: `format_currency(amount, code, locale)`; but amounts
    // without decimals keep none here, where Babel adds `.00`.
    #[test]
    fn prices_are_written_as_their_language_does() {
        for (language, currency, amount, written) in [
            ("en-GB", "GBP", "10.90", "£10.90"),
            ("en-US", "USD", "18.00", "$18.00"),
            ("en-GB", "USD", "18.00", "US$18.00"),
            ("de", "EUR", "14.90", "14,90\u{a0}€"),
            ("de-AT", "EUR", "14.90", "€\u{a0}14,90"),
            ("fr", "EUR", "14,90", "14,90\u{a0}€"),
            ("nl", "EUR", "12.50", "€\u{a0}12,50"),
            ("sv", "SEK", "189", "189\u{a0}kr"),
            ("pl", "PLN", "39.90", "39,90\u{a0}zł"),
            ("pt-BR", "BRL", "49.90", "R$\u{a0}49,90"),
            ("ja", "JPY", "1600", "￥1,600"),
            ("de-CH", "CHF", "24.90", "CHF\u{a0}24.90"),
            ("en-GB", "GBP", "1000", "£1,000"),
            ("en-GB", "GBP", "10", "£10"),
        ] {
            assert_eq!(price(language, currency, amount), written, "{language} {currency} {amount}");
        }
    }

    #[test]
    fn what_no_pattern_knows_is_written_plainly() {
        assert_eq!(price("not a tag!", "XTS", "3.5"), "XTS\u{a0}3.5");
    }
}
