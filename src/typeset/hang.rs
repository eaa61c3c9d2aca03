//! Optical margins: how much of a letter may hang out of the measure, so that edges look straight.

/// The share of its advance by which a letter hangs at a line's beginning. Common practice, judged by eye.
pub fn at_start(letter: char) -> f64 {
    match letter {
        '“' | '‘' | '"' | '\'' | '„' | '‚' | '”' | '’' | '״' | '׳' => 0.6,
        '«' | '‹' | '»' | '›' => 0.4,
        '(' | '[' | '{' | '¡' | '¿' => 0.12,
        '—' | '–' => 0.2,
        '…' => 0.1,
        'A' | 'V' | 'W' | 'Y' | 'T' => 0.06,
        'v' | 'w' | 'y' => 0.04,
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
        'A' | 'V' | 'W' | 'Y' | 'T' | 'L' => 0.05,
        'r' | 'v' | 'w' | 'y' => 0.04,
        _ => 0.0,
    }
}
