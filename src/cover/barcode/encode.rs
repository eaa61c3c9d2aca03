//! Digits to modules: EAN-13 and EAN-5 (ISO/IEC 15420, as the GS1 General Specifications print the tables).

use crate::cover::isbn::check_digit;

/// Dark and light modules in their order.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Modules(Vec<bool>);

/// Seven modules a digit, the light one first. The other two sets follow from it.
const LEFT_ODD: [u8; 10] = [
    0b000_1101, 0b001_1001, 0b001_0011, 0b011_1101, 0b010_0011, 0b011_0001, 0b010_1111, 0b011_1011, 0b011_0111,
    0b000_1011,
];

/// The first digit shows only in which of the next six are mirrored: 1 is mirrored, first digit first.
const MIRRORED: [u8; 10] =
    [0b00_0000, 0b00_1011, 0b00_1101, 0b00_1110, 0b01_0011, 0b01_1001, 0b01_1100, 0b01_0101, 0b01_0110, 0b01_1010];

/// The same for the add-on, whose check sum shows in nothing else.
const ADD_ON_MIRRORED: [u8; 10] =
    [0b1_1000, 0b1_0100, 0b1_0010, 0b1_0001, 0b0_1100, 0b0_0110, 0b0_0011, 0b0_1010, 0b0_1001, 0b0_0101];

/// 95 modules; `None` unless the thirteen digits check.
pub fn ean13(code: &str) -> Option<Modules> {
    let digits: [usize; 13] = digits(code)?;
    if !code.ends_with(check_digit(&code[..12])) {
        return None;
    }
    let mut modules = Modules(Vec::with_capacity(95));
    modules.push(0b101, 3);
    for (at, digit) in digits[1..7].iter().enumerate() {
        modules.push_left(*digit, MIRRORED[digits[0]] >> (5 - at) & 1 == 1);
    }
    modules.push(0b01010, 5);
    for digit in &digits[7..] {
        modules.push(right(*digit), 7);
    }
    modules.push(0b101, 3);
    Some(modules)
}

/// 47 modules; `None` unless there are five digits.
pub fn ean5(code: &str) -> Option<Modules> {
    let digits: [usize; 5] = digits(code)?;
    let sum = 3 * (digits[0] + digits[2] + digits[4]) + 9 * (digits[1] + digits[3]);
    let mut modules = Modules(Vec::with_capacity(47));
    modules.push(0b1011, 4);
    for (at, digit) in digits.iter().enumerate() {
        if at > 0 {
            modules.push(0b01, 2);
        }
        modules.push_left(*digit, ADD_ON_MIRRORED[sum % 10] >> (4 - at) & 1 == 1);
    }
    Some(modules)
}

/// The thirteen digits of 95 modules, dark and light, from left to right; `None` where they are no EAN-13.
pub fn read_bars(modules: &[bool]) -> Option<String> {
    if modules.len() != 95 {
        return None;
    }
    let pattern = |at: usize| modules[at..at + 7].iter().fold(0, |bits: u8, dark| bits << 1 | u8::from(*dark));
    let (mut mirrored, mut code) = (0, String::new());
    for at in 0..12 {
        let found = pattern(if at < 6 { 3 + at * 7 } else { 8 + at * 7 });
        let is = |digit: &usize, mirror: bool| match (at < 6, mirror) {
            (true, false) => LEFT_ODD[*digit] == found,
            (true, true) => reversed(right(*digit)) == found,
            (false, _) => right(*digit) == found,
        };
        let digit = (0..10).find(|digit| is(digit, false)).or_else(|| {
            mirrored |= if at < 6 { 1 << (5 - at) } else { 0 };
            (0..10).find(|digit| is(digit, true))
        })?;
        code.push(char::from_digit(digit as u32, 10)?);
    }
    let first = MIRRORED.iter().position(|known| *known == mirrored)?;
    code.insert(0, char::from_digit(first as u32, 10)?);
    // The guards, and the check digit.
    (ean13(&code)?.0 == modules).then_some(code)
}

impl Modules {
    /// Bars as runs of dark modules: where each starts and where it ends.
    pub fn bars(&self) -> Vec<(usize, usize)> {
        let mut bars: Vec<(usize, usize)> = Vec::new();
        for at in (0..self.0.len()).filter(|at| self.0[*at]) {
            match bars.last_mut() {
                Some((_, end)) if *end == at => *end = at + 1,
                _ => bars.push((at, at + 1)),
            }
        }
        bars
    }

    fn push(&mut self, pattern: u8, width: u32) {
        self.0.extend((0..width).rev().map(|bit| pattern >> bit & 1 == 1));
    }

    fn push_left(&mut self, digit: usize, mirrored: bool) {
        self.push(if mirrored { reversed(right(digit)) } else { LEFT_ODD[digit] }, 7);
    }
}

fn right(digit: usize) -> u8 {
    !LEFT_ODD[digit] & 0x7f
}

fn reversed(pattern: u8) -> u8 {
    pattern.reverse_bits() >> 1
}

fn digits<const COUNT: usize>(code: &str) -> Option<[usize; COUNT]> {
    let digits: Option<Vec<usize>> =
        code.bytes().map(|byte| byte.is_ascii_digit().then(|| usize::from(byte - b'0'))).collect();
    digits?.try_into().ok()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_three_sets_are_those_of_the_printed_table() {
        // GS1 General Specifications, sets B and C (from memory; that set C is the complement of A and B the mirror of C
        // is how the table is made, and the whole strings below come from other programs).
        let mirrored = [
            0b010_0111, 0b011_0011, 0b001_1011, 0b010_0001, 0b001_1101, 0b011_1001, 0b000_0101, 0b001_0001, 0b000_1001,
            0b001_0111,
        ];
        let rights = [
            0b111_0010, 0b110_0110, 0b110_1100, 0b100_0010, 0b101_1100, 0b100_1110, 0b101_0000, 0b100_0100, 0b100_1000,
            0b111_0100,
        ];
        for digit in 0..10 {
            assert_eq!((right(digit), reversed(right(digit))), (rights[digit], mirrored[digit]));
        }
    }

    #[test]
    fn whole_symbols_are_those_of_other_programs() {
        // python-barcode 0.16.1 (PyPI): every first digit, and some real numbers.
        for (code, modules) in EAN13 {
            assert_eq!(ean13(code).map(drawn).as_deref(), Some(modules), "{code}");
            let dark: Vec<bool> = modules.chars().map(|module| module == '1').collect();
            assert_eq!(read_bars(&dark).as_deref(), Some(code));
            assert_eq!(read_bars(&dark.iter().map(|dark| !dark).collect::<Vec<bool>>()), None);
        }
        // BWIPP, through treepoem (PyPI).
        for (code, modules) in EAN5 {
            assert_eq!(ean5(code).map(drawn).as_deref(), Some(modules), "{code}");
        }
    }

    #[test]
    fn other_texts_are_no_bar_codes() {
        assert!(
            ["", "978183742615", "9781837426158", "97818374261570", "978183742615X", "９781837426157"]
                .iter()
                .all(|code| ean13(code).is_none())
        );
        assert!(["", "5129", "512999", "5129 ", "٥١٢٩٩"].iter().all(|code| ean5(code).is_none()));
    }

    fn drawn(modules: Modules) -> String {
        modules.0.into_iter().map(|dark| if dark { '1' } else { '0' }).collect()
    }

    #[rustfmt::skip]
    const EAN13: [(&str, &str); 16] = [
        ("0012345678905", "10100011010011001001001101111010100011011000101010101000010001001001000111010011100101001110101"),
        ("0234567890129", "10100100110111101010001101100010101111011101101010100100011101001110010110011011011001110100101"),
        ("1234567890128", "10100100110111101001110101100010000101001000101010100100011101001110010110011011011001001000101"),
        ("2234567890127", "10100100110111101001110101110010101111001000101010100100011101001110010110011011011001000100101"),
        ("3234567890126", "10100100110111101001110101110010000101011101101010100100011101001110010110011011011001010000101"),
        ("4006381333931", "10100011010100111010111101111010001001011001101010100001010000101000010111010010000101100110101"),
        ("4234567890125", "10100100110100001010001101100010000101001000101010100100011101001110010110011011011001001110101"),
        ("5234567890124", "10100100110100001001110101100010101111001000101010100100011101001110010110011011011001011100101"),
        ("5901234123457", "10100010110100111011001100100110111101001110101010110011011011001000010101110010011101000100101"),
        ("6234567890123", "10100100110100001001110101110010101111011101101010100100011101001110010110011011011001000010101"),
        ("7234567890122", "10100100110100001010001101110010101111001000101010100100011101001110010110011011011001101100101"),
        ("8234567890121", "10100100110100001010001101110010000101011101101010100100011101001110010110011011011001100110101"),
        ("9234567890120", "10100100110100001001110101100010000101011101101010100100011101001110010110011011011001110010101"),
        ("9780306406157", "10101110110001001010011101111010100111010111101010101110011100101010000110011010011101000100101"),
        ("9781837426157", "10101110110001001011001101101110100001011101101010101110011011001010000110011010011101000100101"),
        ("9791034301201", "10101110110010111011001100011010100001010001101010100001011100101100110110110011100101100110101"),
    ];

    #[rustfmt::skip]
    const EAN5: [(&str, &str); 14] = [
        ("51299", "10110110001010110011010010011010001011010010111"),
        ("90000", "10110001011010100111010001101010100111010001101"),
        ("59999", "10110111001010001011010010111010001011010001011"),
        ("54499", "10110111001010100011010011101010001011010001011"),
        ("39825", "10110111101010010111010110111010011011010110001"),
        ("97919", "10110010111010111011010001011010011001010010111"),
        ("07483", "10110001101010111011010100011010001001010100001"),
        ("37887", "10110111101010111011010001001010110111010010001"),
        ("62328", "10110101111010011011010111101010011011010110111"),
        ("60129", "10110101111010001101010011001010011011010010111"),
        ("04047", "10110100111010100011010001101010100011010010001"),
        ("96669", "10110010111010000101010101111010101111010001011"),
        ("72510", "10110010001010010011010110001010011001010100111"),
        ("27346", "10110011011010111011010111101010011101010101111"),
    ];
}
