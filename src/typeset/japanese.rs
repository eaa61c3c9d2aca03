//! Room between letters of Japanese and Chinese: signs that follow each other stand closer, and words of other scripts
//! a quarter of an em apart.
//!
//! JLREQ (Requirements for Japanese Text Layout, W3C) 3.1.2 and 3.1.4 for signs: brackets, commas and full stops are drawn
//! in half of their square, and of the empty halves between two of them one is kept at the most; 3.2.6 for the quarter em.
//! JIS X 4051 has the same tables. Clauses from memory.

use crate::typeset::{
    script::{Script, script_of},
    shaped::{ScriptRun, Shaped},
    stance::{Stance, short_figure, stand_of},
};
use std::ops::Range;

/// The empty half of a sign's square, in ems.
pub const HALF: f64 = 0.5;
/// Between letters of East Asia and words of other scripts.
const QUARTER: f64 = 0.25;
/// A sign narrower than this is drawn without its empty half, in ems.
pub const SQUARE: f64 = 0.9;

/// In UTF-8 the letters of East Asia and their signs, from U+3000 on, begin with this byte or a higher one; Latin, Greek and
/// Cyrillic ones do not.
const EAST_ASIA: u8 = 0xE3;

/// What is added between two letters, in ems; `square` tells whether the first is drawn in a square of its own.
pub fn between(before: char, after: char, language: &str, square: bool) -> f64 {
    if is_letter(before) && is_western(after) || is_western(before) && is_letter(after) {
        return QUARTER;
    }
    let close = square && !centred_signs(language);
    if close && (ends(before) && is_sign(after) || (opens(before) || is_dot(before)) && opens(after)) {
        return -HALF;
    }
    0.0
}

pub fn opens(letter: char) -> bool {
    matches!(letter, '「' | '『' | '（' | '［' | '｛' | '〔' | '〈' | '《' | '【' | '〖' | '〘')
}

/// Closing brackets.
pub fn closes(letter: char) -> bool {
    matches!(letter, '」' | '』' | '）' | '］' | '｝' | '〕' | '〉' | '》' | '】' | '〗' | '〙')
}

/// Closing brackets, commas and full stops.
fn ends(letter: char) -> bool {
    closes(letter) || matches!(letter, '、' | '。' | '，' | '．')
}

fn is_dot(letter: char) -> bool {
    matches!(letter, '・' | '：' | '；')
}

fn is_sign(letter: char) -> bool {
    opens(letter) || ends(letter) || is_dot(letter)
}

/// Kana and ideographs, but not their signs.
fn is_letter(letter: char) -> bool {
    letter == '々'
        || letter == 'ー'
        || matches!(script_of(letter), Some(Script::Han | Script::Hiragana | Script::Katakana))
}

fn is_western(letter: char) -> bool {
    letter.is_ascii_digit()
        || matches!(script_of(letter), Some(Script::Latin | Script::Greek | Script::Cyrillic))
            && stand_of(letter) == Stance::Along
}

/// Traditional Chinese draws commas and full stops in the middle of their squares (CLREQ 3.1.2, from memory).
fn centred_signs(language: &str) -> bool {
    let tag = language.to_ascii_lowercase();
    tag.starts_with("zh") && ["hant", "tw", "hk", "mo"].iter().any(|part| tag.split(['-', '_']).any(|own| own == *part))
}

/// Spaces the glyphs of a run, which stand in a line of `text` from `line.start` to `line.end`. A line that parts between
/// two of them is shaped again.
pub fn space_out(text: &str, line: &Range<usize>, run: &ScriptRun, language: &str, glyphs: &mut [Shaped]) {
    // Only what stands in the run, and one letter on either side of it, may make room.
    let is_wide = |letter: Option<char>| letter.is_some_and(|letter| is_letter(letter) || is_sign(letter));
    let (before, after) = (&text[line.start.min(run.range.start)..run.range.start], &text[run.range.end..]);
    let around = || is_wide(before.chars().next_back()) || is_wide(after.chars().next());
    if !text[run.range.clone()].bytes().any(|byte| byte >= EAST_ASIA) && !around() {
        return;
    }
    // A short figure across the line takes the room of a letter, and no more.
    let figure = |at: usize| run.stance == Stance::Upright && short_figure(text, at).is_some();
    let room = |at: usize, square: bool| {
        let before = text[line.start.min(at)..at].chars().next_back();
        let after = text[at..line.end.max(at)].chars().next();
        let letters = before.zip(after).filter(|(before, _)| !figure(at) && !figure(at - before.len_utf8()));
        letters.map_or(0.0, |(before, after)| between(before, after, language, square))
    };
    for at in 0..glyphs.len() {
        let cluster = glyphs[at].cluster;
        if at > 0 && glyphs[at - 1].cluster == cluster {
            continue;
        }
        let square = at.checked_sub(1).is_some_and(|last| glyphs[last].advance >= SQUARE);
        let by = room(cluster, square);
        if by != 0.0 {
            glyphs[at].joined = true;
            if at > 0 {
                glyphs[at - 1].advance += by;
                glyphs[at - 1].room += by;
            }
        }
    }
    // Before what follows in another run.
    if run.range.end < line.end
        && let Some(last) = glyphs.last_mut()
    {
        let by = room(run.range.end, last.advance >= SQUARE);
        last.advance += by;
        last.room += by;
    }
}

#[cfg(test)]
mod tests {
    use crate::ground::MM_PER_PT;
    use crate::typeset::laws::{WIDE, set, styled};
    use crate::typeset::{Align, Room, Size, Style};

    fn ems(text: &str, language: &str) -> f64 {
        let style =
            Style { size: Size::Fixed(10.0), hanging: false, ..styled("Shippori Mincho", language, Align::Start) };
        set(text, &style, WIDE).width / (10.0 * MM_PER_PT)
    }

    /// JLREQ 3.1.4 (from memory): what stands between two signs.
    #[test]
    fn signs_share_their_room() {
        for (text, wide) in [
            // Between two letters, each with its square: what the signs take of them.
            ("国」、（国", 2.0 + 2.0),
            ("国。「国", 2.0 + 1.5),
            ("国」「国", 2.0 + 1.5),
            ("国「『国", 2.0 + 1.5),
            ("国』」国", 2.0 + 1.5),
            ("国」。国", 2.0 + 1.5),
            ("国」・国", 2.0 + 1.5),
            ("国・「国", 2.0 + 1.5),
            ("国、国", 3.0),
            ("国「国」国", 5.0),
        ] {
            assert!((ems(text, "ja") - wide).abs() < 1e-6, "{text} {}", ems(text, "ja"));
        }
        // Commas in the middle of their squares keep them.
        assert!((ems("国、「国", "zh-Hant") - 4.0).abs() < 1e-6);
        assert!((ems("国、「国", "zh-Hans") - 3.5).abs() < 1e-6);
    }

    #[test]
    fn other_scripts_stand_a_quarter_apart() {
        let latin = ems("Salt", "ja");
        assert!((ems("国Salt国", "ja") - (2.0 + latin + 0.5)).abs() < 1e-6);
        assert!((ems("国2026年", "ja") - (2.0 + ems("2026", "ja") + 0.5)).abs() < 1e-6);
        // A blank that the author wrote, and signs, ask for no more.
        assert!((ems("国、Salt", "ja") - (2.0 + latin)).abs() < 1e-6);
        assert!(
            (ems("国 Salt", "ja") - ems("国", "ja") - ems(" Salt", "ja") - ems("a a", "ja") + 2.0 * ems("a", "ja"))
                .abs()
                < 1e-6
        );
    }

    /// No line begins or ends with the room that belongs between.
    #[test]
    fn lines_end_without_that_room() {
        let style =
            Style { size: Size::Fixed(10.0), hanging: false, ..styled("Shippori Mincho", "ja", Align::Justify) };
        let text = "名前Saltはまだ2026年に「無い」、「と」。（見当）Lanternがつかぬ。";
        for width in 20..70 {
            let room = Room { width: f64::from(width), ..WIDE };
            let block = set(text, &style, room);
            for line in &block.lines[..block.lines.len() - 1] {
                let glyphs = line.runs.iter().flat_map(|run| &run.glyphs).filter(|glyph| glyph.advance > 0.0);
                let ends = glyphs.clone().map(|glyph| glyph.x + glyph.advance).fold(0.0, f64::max);
                let starts = glyphs.map(|glyph| glyph.x).fold(f64::MAX, f64::min);
                assert!(starts.abs() < 1e-6 && (ends - room.width).abs() < 1e-6, "{width} {starts} {ends}");
            }
        }
    }

    /// JLREQ 3.1.5 and 3.1.9 (from memory): a bracket at the head or the end of a line gives up the empty half of its square.
    #[test]
    fn brackets_at_edges_stand_in_half_a_square() {
        let text = "国名「前は」まだ『無い』見当が（つか）ぬ、どこ〔で生〕れた【かと】んと《見当》が〈つ〉かぬ国名「『前』は」まだ「『無』い」見当（『つか』）ぬ「『海』」国";
        let em = 10.0 * MM_PER_PT;
        for upright in [false, true] {
            let style = Style { size: Size::Fixed(10.0), upright, ..styled("Shippori Mincho", "ja", Align::Justify) };
            let (mut heads, mut feet, mut double) = (0, 0, 0);
            for width in 20..60 {
                let room = Room { width: f64::from(width), ..WIDE };
                let block = set(text, &style, room);
                assert!(block.overwide <= 0.0, "{width}");
                for line in &block.lines[..block.lines.len() - 1] {
                    // Its glyphs from the head of the line, which runs to the right.
                    let runs = line.runs.iter().flat_map(|run| run.glyphs.iter().map(move |glyph| (run, glyph)));
                    let mut glyphs: Vec<_> = runs.filter(|(_, glyph)| glyph.advance > 0.0).collect();
                    glyphs.sort_by(|one, other| one.1.x.total_cmp(&other.1.x));
                    let spoken = |at: usize| &glyphs[at].0.text[glyphs[at].1.text.clone()];
                    let last = glyphs.len() - 1;
                    let opens = "「『（〔【《〈".contains(spoken(0));
                    let closes = "」』）〕】》〉、".contains(spoken(last));
                    let half = |is: bool| if is { 0.5 * em } else { 0.0 };
                    let long: f64 = glyphs.iter().map(|(_, glyph)| glyph.advance).sum();
                    // What justification put between letters stands in no advance.
                    let ends = glyphs[last].1.x + glyphs[last].1.advance - glyphs[0].1.x;
                    let long = if upright { long.max(ends) } else { ends };
                    let out = long - room.width - half(opens) - half(closes);
                    assert!(out.abs() < 1e-4 || upright && out < 0.0, "{width} {upright} {out}");
                    assert!(upright || (glyphs[0].1.x + half(opens)).abs() < 1e-4, "{width} {}", spoken(0));
                    (heads, feet) = (heads + usize::from(opens), feet + usize::from(closes));
                    double += usize::from(opens && "『".contains(spoken(1)));
                }
            }
            assert!(heads > 5 && feet > 5 && double > 2, "{heads} {feet} {double}");
        }
    }
}
