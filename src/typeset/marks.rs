//! Marks on letters, and letters written in one way. The one door to Unicode's normal forms.

use unicode_normalization::UnicodeNormalization as _;

pub use unicode_normalization::char::is_combining_mark;

/// A text whose letters are each written in one way: NFC of UAX 15.
pub fn composed(text: &str) -> String {
    text.nfc().collect()
}

/// A letter and its marks: NFD of UAX 15.
pub fn parts(letter: char) -> impl Iterator<Item = char> {
    std::iter::once(letter).nfd()
}

/// A text without the marks on its letters, and with plain letters for those that are no marked ones: *Sorholm*, *Lodz*.
pub fn unaccented(text: &str) -> String {
    let mut plain = String::with_capacity(text.len());
    for letter in text.nfd().filter(|letter| !is_combining_mark(*letter)) {
        match letter {
            'ø' => plain.push('o'),
            'ł' => plain.push('l'),
            'đ' | 'ð' => plain.push('d'),
            'ħ' => plain.push('h'),
            'ı' => plain.push('i'),
            'æ' => plain.push_str("ae"),
            'œ' => plain.push_str("oe"),
            'ß' => plain.push_str("ss"),
            'þ' => plain.push_str("th"),
            letter => plain.push(letter),
        }
    }
    plain
}
