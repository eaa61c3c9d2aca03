//! ISBN: a book's number, its check digit verified, written with the hyphens of the agency that gave it out.

/// Thirteen digits that check.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Isbn {
    digits: String,
    shown: String,
    ranged: bool,
}

/// Why a text is no ISBN, and what it should say.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct IsbnFault {
    pub message: String,
    pub help: String,
}

impl Isbn {
    /// The day of the range table (International ISBN Agency, RangeMessage) that places the hyphens.
    pub const RANGES: &'static str = "2026-11-02";

    /// Hyphens and spaces may stand anywhere, `ISBN` before it.
    pub fn read(text: &str) -> Result<Isbn, IsbnFault> {
        let number = bare(text)?;
        match number.len() {
            13 => thirteen(number),
            10 => Err(ten(&number)),
            12 if number.starts_with("978") || number.starts_with("979") => {
                let whole = with_check_digit(&number);
                Err(fault("an ISBN has 13 digits, this one 12", format!("if the last digit is missing, write {whole}")))
            }
            0 => Err(fault(
                "there is no digit here, and an ISBN has 13",
                "write them, with or without hyphens; while the number is not known, take `isbn` away",
            )),
            9 => Err(fault(
                "an ISBN has 13 digits, or 10 in the form used until 2006; this one has 9",
                "compare it with the source: of 13 digits 4 are missing, of 10 one",
            )),
            11 => Err(fault(
                "an ISBN has 13 digits, or 10 in the form used until 2006; this one has 11",
                "compare it with the source: of 13 digits 2 are missing; for 10 there is one too many",
            )),
            count => {
                let off = count.abs_diff(13);
                let is = if off == 1 { "is" } else { "are" };
                let what = if count < 13 { "missing" } else { "too many" };
                let help = format!("compare it with the source: {} {is} {what}", crate::ground::count(off, "digit"));
                Err(fault(format!("an ISBN has 13 digits, this one {count}"), help))
            }
        }
    }

    /// The digits alone, as a bar code wants them.
    pub fn digits(&self) -> &str {
        &self.digits
    }

    /// As it is printed: `978-1-83742-615-7`; without hyphens where the range is not known.
    pub fn shown(&self) -> &str {
        &self.shown
    }

    /// Whether the range table knows where its hyphens go. If not, it is mistyped or younger than the table.
    pub fn ranged(&self) -> bool {
        self.ranged
    }
}

/// The check digit that twelve digits ask for (ISO 2108: weights 1 and 3, to the next ten).
pub fn check_digit(twelve: &str) -> char {
    let sum: u32 = twelve.chars().zip([1, 3].into_iter().cycle()).map(|(digit, weight)| value(digit) * weight).sum();
    figure((10 - sum % 10) % 10)
}

const SOURCE: &str = "compare all digits with the source";

fn thirteen(number: String) -> Result<Isbn, IsbnFault> {
    if number.starts_with("9790") {
        return Err(fault(
            "979-0 begins the number of printed music (ISMN), not of a book",
            "give the book's own ISBN",
        ));
    }
    if !number.starts_with("978") && !number.starts_with("979") {
        return Err(fault(format!("an ISBN begins with 978 or 979, this one with {}", &number[..3]), SOURCE));
    }
    if number.contains('X') {
        return Err(fault("an ISBN of 13 digits has no X", SOURCE));
    }
    let (twelve, last) = number.split_at(12);
    let right = check_digit(twelve);
    if !last.starts_with(right) {
        let whole = hyphenated(&with_check_digit(twelve)).0;
        return Err(fault(
            format!("the check digit is wrong: {last} should be {right}"),
            format!("compare all digits with the source; if the others are right, it is {whole}"),
        ));
    }
    let (shown, ranged) = hyphenated(&number);
    Ok(Isbn { digits: number, shown, ranged })
}

/// The old form is known for what it is, and answered with the new one.
fn ten(number: &str) -> IsbnFault {
    let nine = &number[..9];
    let sum: u32 = nine.chars().zip((2..=10).rev()).map(|(digit, weight)| value(digit) * weight).sum();
    let right = figure((11 - sum % 11) % 11);
    if !number.ends_with(right) {
        let message = format!("an ISBN of ten digits whose check digit is wrong: it should be {right}");
        return fault(message, "compare it with the source, and give the one of 13 digits");
    }
    let whole = hyphenated(&with_check_digit(&format!("978{nine}"))).0;
    fault("an ISBN of ten digits, the form used until 2006", format!("write {whole}"))
}

fn with_check_digit(twelve: &str) -> String {
    format!("{twelve}{}", check_digit(twelve))
}

/// The number without what stands between its digits. Dashes of every length count as hyphens.
fn bare(text: &str) -> Result<String, IsbnFault> {
    let text = text.trim();
    let named = text.get(..4).is_some_and(|head| head.eq_ignore_ascii_case("isbn"));
    let rest = if named { without_kind(&text[4..]).trim_start_matches([':', ' ']) } else { text };
    if !rest.chars().any(|letter| letter.is_ascii_digit()) && !rest.is_empty() {
        return Err(fault(format!("{text:?} is not an ISBN"), "write its 13 digits, with or without hyphens"));
    }
    let mut number = String::new();
    for letter in rest.chars() {
        match letter {
            '0'..='9' => number.push(letter),
            'x' | 'X' => number.push('X'),
            '-' | '\u{2010}'..='\u{2015}' | '\u{2212}' => {}
            _ if letter.is_whitespace() => {}
            _ => {
                return Err(fault(
                    format!("`{letter}` cannot stand in an ISBN"),
                    "write its 13 digits, with or without hyphens",
                ));
            }
        }
    }
    if number.chars().rev().skip(1).any(|letter| letter == 'X') {
        return Err(fault("an X can only be the last digit of an ISBN", SOURCE));
    }
    Ok(number)
}

/// Without the `-13` or `-10` that goes with the name.
fn without_kind(text: &str) -> &str {
    let kind =
        ["-13", "-10", "\u{2013}13", "\u{2013}10", " 13:", " 10:"].iter().find_map(|kind| text.strip_prefix(kind));
    kind.filter(|rest| !rest.starts_with(|letter: char| letter.is_ascii_digit())).unwrap_or(text)
}

fn hyphenated(number: &str) -> (String, bool) {
    let digits: Vec<u8> = number.chars().map(|digit| value(digit) as u8).collect();
    let known = <[u8; 13]>::try_from(digits).ok().and_then(|digits| isbn::Isbn13::new(digits).ok());
    match known.and_then(|known| known.hyphenate().ok()) {
        Some(shown) => (shown.to_string(), true),
        None => (number.to_owned(), false),
    }
}

fn value(digit: char) -> u32 {
    digit.to_digit(10).unwrap_or(0)
}

/// Ten is written X.
fn figure(value: u32) -> char {
    char::from_digit(value, 10).unwrap_or('X')
}

fn fault(message: impl Into<String>, help: impl Into<String>) -> IsbnFault {
    IsbnFault { message: message.into(), help: help.into() }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn hyphens_stand_where_another_table_puts_them() {
        // python-stdnum 2.2 (PyPI), isbn.format.
        for (digits, shown) in [
            ("9781837426157", "978-1-83742-615-7"),
            ("9780306406157", "978-0-306-40615-7"),
            ("9783161484100", "978-3-16-148410-0"),
            ("9782079999997", "978-2-07-999999-7"),
            ("9788437699998", "978-84-376-9999-8"),
            ("9791034301201", "979-10-343-0120-1"),
            ("9789991700007", "978-99917-0-000-7"),
            ("9786180000009", "978-618-00-0000-9"),
            ("9798886450002", "979-8-88645-000-2"),
        ] {
            let isbn = Isbn::read(digits).expect("it checks");
            assert_eq!((isbn.digits(), isbn.shown(), isbn.ranged()), (digits, shown, true));
        }
        let lock = include_str!("../../Cargo.lock");
        let version = format!("name = \"isbn\"\nversion = \"0.8.{}\"", Isbn::RANGES.replace('-', ""));
        assert!(lock.contains(&version), "the table is newer than stated");
    }

    #[test]
    fn hyphens_and_spaces_are_free() {
        for text in [
            "978-1-83742-615-7",
            " 978 1 83742 615 7",
            "ISBN 9781837426157",
            "isbn-13: 978–1–83742–615–7",
            "ISBN 13: 9781837426157",
        ] {
            assert_eq!(Isbn::read(text).map(|isbn| isbn.digits), Ok("9781837426157".to_owned()), "{text}");
        }
    }

    #[test]
    fn a_range_that_nobody_knows_is_shown_without_hyphens() {
        let isbn = Isbn::read(&with_check_digit("979999000000")).expect("it checks");
        assert!(!isbn.ranged() && isbn.shown() == isbn.digits());
    }

    #[test]
    fn check_digits_agree_with_another_program() {
        // python-stdnum 2.2 (PyPI), ean.calc_check_digit over random digits.
        for number in [
            "9798778932876",
            "9781742180960",
            "9799290810031",
            "9789075793833",
            "9797017468145",
            "9793840191618",
            "9796100330765",
            "9796193451453",
            "9786123100773",
            "9788378326618",
            "9796304940326",
            "9799910237408",
        ] {
            assert_eq!(with_check_digit(&number[..12]), number);
            let read = Isbn::read(number);
            assert!(read.is_ok(), "{number}");
            for wrong in ('0'..='9').filter(|digit| !number.ends_with(*digit)) {
                let fault = Isbn::read(&format!("{}{wrong}", &number[..12])).expect_err("another digit");
                assert_eq!(fault.message, format!("the check digit is wrong: {wrong} should be {}", &number[12..]));
                assert!(fault.help.replace('-', "").ends_with(number), "{}", fault.help);
            }
        }
    }

    #[test]
    fn ten_digits_are_answered_with_thirteen() {
        // python-stdnum 2.2 (PyPI), isbn.to_isbn13.
        for (ten, thirteen) in [
            ("9546111392", "9789546111395"),
            ("3095597290", "9783095597297"),
            ("7926224391", "9787926224390"),
            ("3328367918", "9783328367918"),
            ("6011084362", "9786011084369"),
            ("4697482123", "9784697482127"),
            ("3789914339", "9783789914331"),
            ("0-14-673002-x", "9780146730023"),
        ] {
            let fault = Isbn::read(ten).expect_err("ten digits");
            assert!(fault.help.replace('-', "").ends_with(thirteen), "{ten}: {}", fault.help);
        }
        assert!(Isbn::read("0146730021").expect_err("wrong").message.ends_with("it should be X"));
    }

    #[test]
    fn what_is_no_isbn_is_reported_apart() {
        let message = |text: &str| Isbn::read(text).expect_err("no ISBN").message;
        assert!(message("9790060115615").contains("ISMN"));
        assert_eq!(message("4006381333931"), "an ISBN begins with 978 or 979, this one with 400");
        assert_eq!(message("978-1-83742-615"), "an ISBN has 13 digits, this one 12");
        for ten in ["ISBN-10 1-83742-615-5", "isbn-10: 1837426155", "ISBN 10: 1837426155"] {
            assert!(message(ten).starts_with("an ISBN of ten digits, the form"), "{ten}: {}", message(ten));
        }
        for (text, count) in [("1-83742-615", 9), ("1-83742-615-55", 11)] {
            assert!(message(text).contains(" 13 digits, or 10 ") && message(text).ends_with(&format!("has {count}")));
        }
        assert_eq!(message(""), "there is no digit here, and an ISBN has 13");
        assert_eq!(message("to follow"), "\"to follow\" is not an ISBN");
        assert_eq!(message("978-1-8374Z-615-7"), "`Z` cannot stand in an ISBN");
        assert_eq!(message("978X837426157"), "an X can only be the last digit of an ISBN");
        assert_eq!(message("978183742615X"), "an ISBN of 13 digits has no X");
        assert_eq!(
            Isbn::read("978183742615").expect_err("12").help,
            "if the last digit is missing, write 9781837426157"
        );
    }
}
