//! Scripts: which letters join, which stand in squares, what is a blank. The one door to Unicode's script tables.

use unicode_script::UnicodeScript as _;

pub use unicode_script::Script;

/// The script of a letter; `None` for signs that every script uses.
pub fn script_of(letter: char) -> Option<Script> {
    let script = letter.script();
    (!matches!(script, Script::Common | Script::Inherited | Script::Unknown)).then_some(script)
}

/// Word spaces, breaking or not.
pub fn is_space(text: &[u8], at: usize) -> bool {
    matches!(text.get(at..), Some([b' ', ..] | [0xC2, 0xA0, ..]))
}

/// Scripts whose letters join: spacing them would tear them.
pub fn cursive(script: Script) -> bool {
    matches!(
        script,
        Script::Arabic
            | Script::Syriac
            | Script::Nko
            | Script::Mongolian
            | Script::Mandaic
            | Script::Manichaean
            | Script::Phags_Pa
            | Script::Adlam
            | Script::Hanifi_Rohingya
            | Script::Devanagari
            | Script::Bengali
            | Script::Gurmukhi
    )
}

/// Letters that stand in a square each, and may be split anywhere.
pub fn ideograph(letter: char) -> bool {
    matches!(letter.script(), Script::Han | Script::Hiragana | Script::Katakana | Script::Bopomofo)
        || ('\u{3000}'..='\u{303F}').contains(&letter)
        || ('\u{FF00}'..='\u{FFEF}').contains(&letter)
}
