//! Text to runs of one face, script and direction.

use crate::assets::{Font, Library};
use crate::ground::right_to_left;
use crate::typeset::{
    Case, Paragraph, Style, Words,
    shape::{Face, Piece},
};
use std::ops::Range;
use std::sync::Arc;
use unicode_bidi::{BidiInfo, Direction, Level, ParagraphBidiInfo, get_base_direction};
use unicode_script::UnicodeScript as _;

pub use unicode_script::Script;

/// Where the author breaks a line: U+2028, in the paragraph's text.
pub const CHOSEN_BREAK: char = '\u{2028}';

/// A paragraph's text as it will be shown, and its pieces in logical order. Chosen breaks belong to no piece.
#[derive(Clone, Debug, Default)]
pub struct Passage {
    pub text: String,
    pub pieces: Vec<Piece>,
    pub rtl: bool,
}

/// The faces that a text needs, each once.
pub struct Faces<'a> {
    pub library: &'a Library,
    pub style: &'a Style,
    pub list: Vec<Face>,
    keys: Vec<Key>,
}

#[derive(Clone, Copy, PartialEq)]
struct Key {
    italic: bool,
    strong: bool,
    small: Small,
}

#[derive(Clone, Copy, PartialEq)]
enum Small {
    No,
    /// The font's own small capitals.
    Drawn,
    /// Capitals of the font, scaled.
    Scaled,
}

/// Tracking beyond this (thousandths of an em, either way) parts ligatures, or they would stand as dark spots in the
/// line. Common practice.
const LIGATURE_TRACKING: f64 = 20.0;

/// Scaled capitals rise a little over x-height. Common practice.
const SMALL_CAPITAL_RISE: f64 = 1.06;

impl<'a> Faces<'a> {
    pub fn new(library: &'a Library, style: &'a Style) -> Faces<'a> {
        Faces { library, style, list: Vec::new(), keys: Vec::new() }
    }

    /// The style's own face, emphasised or strong.
    pub fn font(&self, emphasis: bool, strong: bool) -> Option<Arc<Font>> {
        let weight = match (strong, self.style.weight) {
            (false, weight) => weight,
            // What CSS calls bolder, but always a step that the eye sees.
            (true, ..550) => 700,
            (true, _) => 900,
        };
        self.library.find(&self.style.family, weight, self.style.italic != emphasis)
    }

    fn of(&mut self, words: &Words, small: Small) -> Option<usize> {
        let key = Key { italic: words.emphasis, strong: words.strong, small };
        if let Some(at) = self.keys.iter().position(|known| *known == key) {
            return Some(at);
        }
        let font = self.font(key.italic, key.strong)?;
        let mut features = Vec::new();
        if self.style.tracking.abs() > LIGATURE_TRACKING {
            features.extend([(*b"liga", 0), (*b"clig", 0)]);
        }
        if self.style.case == Case::Upper {
            features.push((*b"case", 1));
        }
        let mut scale = 1.0;
        match small {
            Small::No => {}
            Small::Drawn => features.push((*b"smcp", 1)),
            Small::Scaled => {
                let metrics = font.metrics();
                scale = (metrics.x_height / metrics.cap_height.max(0.1) * SMALL_CAPITAL_RISE).clamp(0.5, 1.0);
            }
        }
        features.extend_from_slice(&self.style.features);
        self.list.push(Face { font, scale, features });
        self.keys.push(key);
        Some(self.list.len() - 1)
    }
}

/// `None` when the family is not known.
pub fn itemise(paragraph: &Paragraph, faces: &mut Faces<'_>) -> Option<Passage> {
    let mut text = String::new();
    // Where each face takes over.
    let mut spans: Vec<(Range<usize>, usize)> = Vec::new();
    for words in &paragraph.words {
        let plain = faces.of(words, Small::No)?;
        let small = words.small_caps || faces.style.case == Case::SmallCaps;
        let small = match small {
            false => plain,
            true if faces.list[plain].font.has_feature(*b"smcp") => faces.of(words, Small::Drawn)?,
            true => faces.of(words, Small::Scaled)?,
        };
        let scaled = faces.list[small].scale < 1.0;
        for letter in words.text.chars() {
            let start = text.len();
            let mut face = plain;
            match letter {
                '\n' | '\u{2029}' => text.push(CHOSEN_BREAK),
                '\t' | '\r' | '\u{B}' | '\u{C}' | '\u{85}' => text.push(' '),
                letter if letter.is_control() => continue,
                // A line begins with a letter.
                ' ' if text.is_empty() || text.ends_with(CHOSEN_BREAK) => continue,
                letter if faces.style.case == Case::Upper => upper(letter, &faces.style.language, &mut text),
                letter if scaled && letter.is_lowercase() => {
                    upper(letter, &faces.style.language, &mut text);
                    face = small;
                }
                letter => {
                    text.push(letter);
                    face = if scaled { plain } else { small };
                }
            }
            match spans.last_mut() {
                Some((span, last)) if *last == face => span.end = text.len(),
                _ => spans.push((start..text.len(), face)),
            }
        }
    }
    let levels = levels(&text, &faces.style.language);
    let rtl = levels.as_ref().is_some_and(|(base, _)| base.is_rtl());
    let pieces = pieces(&text, &spans, levels.as_ref().map(|(_, levels)| levels.as_slice()));
    Some(Passage { text, pieces, rtl })
}

fn upper(letter: char, language: &str, text: &mut String) {
    match letter {
        'i' if ["tr", "az"].contains(&language.split('-').next().unwrap_or_default()) => text.push('İ'),
        letter => text.extend(letter.to_uppercase()),
    }
}

/// The paragraph's level and each byte's, by UAX #9; `None` where all runs from left to right.
fn levels(text: &str, language: &str) -> Option<(Level, Vec<Level>)> {
    let rtl_language = right_to_left(language);
    // The first right-to-left letters stand at U+0590; bidi controls above U+2000.
    if !rtl_language && text.chars().all(|letter| letter < '\u{590}' || ('\u{2010}'..='\u{2027}').contains(&letter)) {
        return None;
    }
    // Without a letter of either direction the language decides.
    let base = (rtl_language && get_base_direction(text) == Direction::Mixed).then(Level::rtl);
    let info = ParagraphBidiInfo::new(text, base);
    (info.paragraph_level.is_rtl() || info.has_rtl()).then(|| (info.paragraph_level, info.levels.clone()))
}

fn pieces(text: &str, spans: &[(Range<usize>, usize)], levels: Option<&[Level]>) -> Vec<Piece> {
    let known = |letter: char| Some(letter.script()).filter(|script| !neutral(*script));
    let mut script = text.chars().find_map(known).unwrap_or(Script::Latin);
    let mut pieces: Vec<Piece> = Vec::new();
    for (span, face) in spans {
        for (at, letter) in text[span.clone()].char_indices() {
            let at = span.start + at;
            if letter == CHOSEN_BREAK {
                continue;
            }
            script = known(letter).unwrap_or(script);
            let level = levels.map_or(0, |levels| levels[at].number());
            let end = at + letter.len_utf8();
            match pieces.last_mut() {
                Some(piece)
                    if piece.range.end == at
                        && piece.face == *face
                        && piece.script == script
                        && piece.level == level =>
                {
                    piece.range.end = end;
                }
                _ => pieces.push(Piece { range: at..end, face: *face, script, level }),
            }
        }
    }
    pieces
}

/// The pieces of a line from left to right, by their places in logical order (UAX #9, L2).
pub fn visual_order(pieces: &[Piece]) -> Vec<usize> {
    let levels: Vec<Level> = pieces.iter().map(|piece| Level::new(piece.level).unwrap_or(Level::ltr())).collect();
    BidiInfo::reorder_visual(&levels)
}

fn neutral(script: Script) -> bool {
    matches!(script, Script::Common | Script::Inherited | Script::Unknown)
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

/// Whether a chosen break stands here.
pub fn is_chosen_break(text: &str, at: usize) -> bool {
    text[at..].starts_with(CHOSEN_BREAK)
}

/// Letters that stand in a square each, and may be parted anywhere.
pub fn ideograph(letter: char) -> bool {
    matches!(letter.script(), Script::Han | Script::Hiragana | Script::Katakana | Script::Bopomofo)
        || ('\u{3000}'..='\u{303F}').contains(&letter)
        || ('\u{FF00}'..='\u{FFEF}').contains(&letter)
}
