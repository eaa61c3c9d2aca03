//! A line's words placed: shaped as they stand, spread to the measure, in visual order.

use crate::assets::Glyph;
use crate::typeset::{
    Run, Style, hang,
    itemise::{Passage, cursive, is_chosen_break, is_space, visual_order},
    ruler::GAP,
    shape::{Face, Piece, Shaped, Shaper},
};
use std::ops::Range;

/// What one line is to be.
pub struct Setting<'a> {
    pub passage: &'a Passage,
    /// Where ideographs may move apart, in order.
    pub gaps: &'a [usize],
    pub style: &'a Style,
    pub faces: &'a [Face],
    /// The em in millimetres.
    pub em: f64,
}

/// A line's words: `kept` holds ink, the blanks after it were broken at.
#[derive(Clone, Debug)]
pub struct Words {
    pub kept: Range<usize>,
    pub next: usize,
    pub hyphen: bool,
    /// In ems.
    pub measure: f64,
    pub justified: bool,
}

/// A line from its left edge 0, before it is aligned. Millimetres.
pub struct Placed {
    pub runs: Vec<Run>,
    /// Hanging points left out.
    pub width: f64,
    /// What hangs out at the left edge.
    pub hung: f64,
    /// It had to be spread or squeezed beyond the limits.
    pub loose: bool,
    pub missing: Vec<char>,
}

/// What a cluster is to the spacing.
#[derive(Clone, Copy, PartialEq)]
enum Kind {
    Letter,
    Joined,
    Space,
    /// Broken at: no width.
    Blank,
}

/// How a line is spread: by word spaces (in their own width), letters and ideographs (in ems), and glyph scale.
#[derive(Clone, Copy)]
struct Spread {
    space: f64,
    letter: f64,
    gap: f64,
    scale: f64,
}

pub fn place(setting: &Setting<'_>, words: &Words, shaper: &mut Shaper<'_>) -> Placed {
    let style = setting.style;
    let pieces = visual(setting.passage, words);
    let mut shaped: Vec<(Piece, Vec<Shaped>)> = Vec::with_capacity(pieces.len());
    for piece in pieces {
        let mut glyphs = Vec::new();
        let hyphen = hyphen(setting, words, &piece);
        let mut part = piece.clone();
        if let Some((_, at)) = hyphen {
            part.range.end = part.range.end.min(at);
        }
        shaper.shape(&setting.passage.text, words.kept.start..words.next, &part, hyphen, &mut glyphs);
        shaped.push((piece, glyphs));
    }
    let text = setting.passage.text.as_bytes();
    let kind = |piece: &Piece, cluster: usize| match cluster {
        at if at >= words.kept.end && !(words.hyphen && at == words.kept.end) => Kind::Blank,
        at if is_space(text, at) => Kind::Space,
        _ if cursive(piece.script) => Kind::Joined,
        _ => Kind::Letter,
    };
    let gaps = |at: usize| setting.gaps.binary_search(&at).is_ok();
    let mut sum = Totals::default();
    for (piece, glyphs) in &shaped {
        let mut last = usize::MAX;
        for glyph in glyphs {
            let first = std::mem::replace(&mut last, glyph.cluster) != glyph.cluster;
            let kind = kind(piece, glyph.cluster);
            match kind {
                Kind::Blank => continue,
                Kind::Space => {
                    sum.spaces += glyph.advance;
                    sum.space_count += usize::from(first);
                }
                Kind::Letter | Kind::Joined => sum.letters += glyph.advance,
            }
            sum.tracked += usize::from(first && kind != Kind::Joined);
            sum.gaps += usize::from(first && gaps(glyph.cluster) && glyph.cluster > words.kept.start);
        }
    }
    // Between the letters: none after the last, unless that one takes none anyhow.
    let last = setting.passage.pieces.iter().find(|piece| piece.range.end >= words.kept.end);
    let bare = words.kept.is_empty() || last.is_none_or(|piece| !cursive(piece.script));
    sum.tracked = sum.tracked.saturating_sub(usize::from(bare));
    let (start, end) = hung(setting, words, &shaped);
    let (spread, loose) = sum.spread(style, words.measure + start + end, words.justified);
    let mut placed = Placed { runs: Vec::new(), width: 0.0, hung: 0.0, loose, missing: Vec::new() };
    let tracking = style.tracking / 1000.0;
    let mut left = sum.tracked;
    let mut pen = 0.0;
    for (piece, glyphs) in &shaped {
        let mut run = Vec::with_capacity(glyphs.len());
        for (at, glyph) in glyphs.iter().enumerate() {
            let kind = kind(piece, glyph.cluster);
            let first = at == 0 || glyphs[at - 1].cluster != glyph.cluster;
            let last = glyphs.get(at + 1).is_none_or(|next| next.cluster != glyph.cluster);
            let gap = gaps(glyph.cluster) && glyph.cluster > words.kept.start && kind != Kind::Blank;
            // Between ideographs the gap stands where the line could have been broken: before the logical letter.
            if first && gap && !piece.rtl() {
                pen += spread.gap;
            }
            let mut advance = match kind {
                Kind::Blank => 0.0,
                Kind::Space => glyph.advance * spread.space,
                Kind::Letter | Kind::Joined => glyph.advance * spread.scale,
            };
            if last && kind != Kind::Joined && kind != Kind::Blank && left > 0 {
                advance += tracking + spread.letter;
                left -= 1;
            }
            let id = glyph.id;
            if id == 0 {
                placed.missing.extend(setting.passage.text[glyph.cluster..].chars().next());
            }
            run.push(Glyph {
                id,
                x: (pen + glyph.x * spread.scale) * setting.em,
                y: glyph.y * setting.em,
                advance: advance * setting.em,
                text: if first { spoken(piece, glyphs, at) } else { 0..0 },
            });
            pen += advance;
        }
        placed.runs.push(finish(setting, words, piece, run, spread.scale));
    }
    placed.width = (pen - start - end) * setting.em;
    placed.hung = setting.em * if setting.passage.rtl { end } else { start };
    placed
}

/// A line's pieces from left to right (UAX #9, L1 and L2).
fn visual(passage: &Passage, words: &Words) -> Vec<Piece> {
    let base = u8::from(passage.rtl);
    let mut pieces: Vec<Piece> = Vec::new();
    for piece in &passage.pieces {
        let start = piece.range.start.max(words.kept.start);
        let end = piece.range.end.min(words.next);
        if start >= end {
            continue;
        }
        let kept = end.min(words.kept.end.max(start));
        if start < kept {
            pieces.push(Piece { range: start..kept, ..piece.clone() });
        }
        if kept < end && !is_chosen_break(&passage.text, kept) {
            pieces.push(Piece { range: kept..end, level: base, ..piece.clone() });
        }
    }
    if pieces.iter().all(|piece| piece.level == 0) {
        return pieces;
    }
    visual_order(&pieces).into_iter().map(|at| pieces[at].clone()).collect()
}

/// The hyphen that a piece ends with: it speaks for the soft hyphen it stands at, or for one of its own.
fn hyphen(setting: &Setting<'_>, words: &Words, piece: &Piece) -> Option<(char, usize)> {
    let end = words.kept.end;
    if !words.hyphen || piece.range.end != end {
        return None;
    }
    let soft = setting.passage.text[..end].ends_with('\u{AD}');
    let at = if soft { end - '\u{AD}'.len_utf8() } else { end };
    Some((setting.faces[piece.face].hyphen(), at))
}

/// What hangs out at the line's beginning and end, in ems.
fn hung(setting: &Setting<'_>, words: &Words, shaped: &[(Piece, Vec<Shaped>)]) -> (f64, f64) {
    let kept = &setting.passage.text[words.kept.clone()];
    if !setting.style.hanging || kept.is_empty() {
        return (0.0, 0.0);
    }
    let advance = |at: usize| -> f64 {
        let glyphs = shaped.iter().flat_map(|(_, glyphs)| glyphs);
        let cluster = glyphs.clone().map(|glyph| glyph.cluster).filter(|cluster| *cluster <= at).max();
        glyphs.filter(|glyph| Some(glyph.cluster) == cluster).map(|glyph| glyph.advance).sum()
    };
    let first = kept.chars().next().map_or(0.0, hang::at_start);
    let last = if words.hyphen { Some('-') } else { kept.chars().next_back() };
    let width = last.map_or(1, char::len_utf8);
    let at = if words.hyphen { words.kept.end } else { words.kept.end - width };
    let last = last.map_or(0.0, hang::at_end);
    // A foreign word at an edge shows another of its letters there.
    let at_home = |at: usize| {
        let piece = shaped.iter().find(|(piece, _)| piece.range.contains(&at));
        piece.is_none_or(|(piece, _)| piece.rtl() == setting.passage.rtl)
    };
    let share = |share: f64, at: usize| if share > 0.0 && at_home(at) { share * advance(at) } else { 0.0 };
    (share(first, words.kept.start), share(last, at))
}

/// What a line has to be spread with, in ems.
#[derive(Default)]
struct Totals {
    letters: f64,
    spaces: f64,
    space_count: usize,
    tracked: usize,
    gaps: usize,
}

impl Totals {
    fn spread(&self, style: &Style, measure: f64, justified: bool) -> (Spread, bool) {
        let [least, ideal, most] = style.word_space;
        let plain = Spread { space: ideal, letter: 0.0, gap: 0.0, scale: 1.0 };
        let natural = self.letters + self.spaces * ideal + self.tracked as f64 * style.tracking / 1000.0;
        let short = measure - natural;
        if short >= 0.0 && !justified {
            return (plain, false);
        }
        let wide = short >= 0.0;
        let (space, letter, scale) = if wide {
            (most - ideal, style.letter_space.1 / 1000.0, style.letter_width.1 - 1.0)
        } else {
            (ideal - least, -style.letter_space.0 / 1000.0, 1.0 - style.letter_width.0)
        };
        let (space, letter, scale) = (space.max(0.0), letter.max(0.0), scale.max(0.0));
        let gap = if wide { GAP } else { 0.0 };
        let by_space = self.spaces * space + self.gaps as f64 * gap;
        let others = self.tracked as f64 * letter + self.letters * scale;
        let wanted = short.abs();
        let sign = if wide { 1.0 } else { -1.0 };
        let ratio = wanted / (by_space + others).max(1e-12);
        let give = |ratio: f64, rest: f64| Spread {
            space: ideal + sign * (space * ratio + rest),
            letter: sign * letter * ratio,
            gap: sign * gap * ratio,
            scale: 1.0 + sign * scale * ratio,
        };
        if ratio <= 1.0 {
            return (give(ratio, 0.0), false);
        }
        // Beyond the limits: letters stay at theirs, word spaces and ideographs take the rest. A line that has
        // neither is left short, or long.
        let rest = wanted - others;
        if wide && self.gaps > 0 {
            let ratio = rest / by_space.max(1e-12);
            return (Spread { space: ideal + space * ratio, gap: gap * ratio, ..give(1.0, 0.0) }, ratio > 3.0);
        }
        if self.space_count == 0 {
            return (if wide { plain } else { give(1.0, 0.0) }, justified && self.letters > 0.0);
        }
        let space = ideal + sign * rest / self.spaces.max(1e-12);
        (Spread { space: space.max(least * 0.75), ..give(1.0, 0.0) }, justified && ratio > 1.0 + 1e-6)
    }
}

/// The bytes that a cluster stands for.
fn spoken(piece: &Piece, glyphs: &[Shaped], at: usize) -> Range<usize> {
    let cluster = glyphs[at].cluster;
    let other = |glyph: &&Shaped| glyph.cluster > cluster;
    let next = if piece.rtl() { glyphs[..at].iter().rev().find(other) } else { glyphs[at..].iter().find(other) };
    let base = piece.range.start;
    // A hyphen's cluster at the end of the piece is closed when the run's text is made.
    let end = next.map_or(usize::MAX, |glyph| glyph.cluster - base);
    cluster - base..end
}

fn finish(setting: &Setting<'_>, words: &Words, piece: &Piece, mut glyphs: Vec<Glyph>, stretch: f64) -> Run {
    let face = &setting.faces[piece.face];
    let mut text = setting.passage.text[piece.range.clone()].to_owned();
    if words.hyphen && piece.range.end == words.kept.end && !text.ends_with('\u{AD}') {
        text.push('\u{AD}');
    }
    for glyph in &mut glyphs {
        glyph.text.end = glyph.text.end.min(text.len());
    }
    // Letters that show nothing before the first glyph go with it.
    let first = glyphs.iter_mut().filter(|glyph| !glyph.text.is_empty()).min_by_key(|glyph| glyph.text.start);
    if let Some(first) = first {
        first.text.start = 0;
    }
    Run { font: face.font.clone(), size: setting.em * face.scale, stretch, glyphs, text: text.into() }
}
