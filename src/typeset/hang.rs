//! Hanging punctuation: how much of a sign may stand out of the measure, so that edges look straight. Letters stay within:
//! on a title they would be seen to step out.

/// The share of its advance by which a sign hangs at a line's beginning. Common practice, judged by eye.
pub fn at_start(letter: char) -> f64 {
    match letter {
        '“' | '‘' | '"' | '\'' | '„' | '‚' | '”' | '’' | '״' | '׳' => 0.6,
        '«' | '‹' | '»' | '›' => 0.4,
        '(' | '[' | '{' | '¡' | '¿' => 0.12,
        '—' | '–' => 0.2,
        '…' => 0.1,
        _ => 0.0,
    }
}

/// The same at a line's end.
pub fn at_end(letter: char) -> f64 {
    match letter {
        '.' | ',' => 0.7,
        '-' | '\u{2010}' | '\u{2011}' | '\u{AD}' | '־' | '”' | '’' | '"' | '\'' | '“' | '‘' | '״' | '׳' => {
            0.6
        }
        '»' | '›' | '«' | '‹' => 0.4,
        ';' | ':' | '،' | '؛' => 0.45,
        '、' | '。' | '，' | '．' => 0.5,
        '–' => 0.3,
        '—' => 0.2,
        '!' | '?' | ')' | ']' | '}' | '…' => 0.12,
        _ => 0.0,
    }
}
