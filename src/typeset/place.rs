//! A line's words placed: shaped as they stand, spread to the measure, in visual order.

use crate::assets::{Glyph, RunEnd, Sequence};
use crate::typeset::{
    apart::parted,
    block::TextRun,
    clean::is_chosen_break,
    edges::bearings,
    hang,
    itemise::{Passage, visual_order},
    lacking::lacking,
    script::{cursive, is_space},
    shape::{Cut, ScriptRun, Shaped, Shaper, turns},
    spread::{LineFit, LineTotals},
    style::{Edges, Style},
    text_run::text_run,
};
use std::ops::Range;

/// A composing stick: what a line is set with.
pub struct Stick<'a> {
    pub passage: &'a Passage,
    /// Where ideographs may move apart, in order.
    pub gaps: &'a [usize],
    pub style: &'a Style,
    pub cuts: &'a [Cut],
    /// The em in millimetres.
    pub em: f64,
}

/// A line's words: `kept` holds ink, the blanks after it were broken at.
#[derive(Clone, Debug)]
pub struct LineWords {
    pub kept: Range<usize>,
    pub next: usize,
    /// The first sign is the hyphen that the line before ends with.
    pub again: bool,
    /// A hyphen is added.
    pub hyphen: bool,
    /// In ems.
    pub measure: f64,
    pub fit: LineFit,
}

/// A line from its left edge 0, before it is aligned. Millimetres.
pub struct SetLine {
    pub runs: Vec<TextRun>,
    /// Hanging points left out.
    pub width: f64,
    /// What hangs out at the left edge.
    pub hung: f64,
    /// It had to be spread or squeezed beyond the limits.
    pub loose: bool,
    pub missing: Vec<char>,
}

impl SetLine {
    pub fn shift(&mut self, by: f64) {
        self.runs.iter_mut().flat_map(|run| &mut run.glyphs).for_each(|glyph| glyph.x += by);
    }
}

/// What a cluster is to the spacing.
#[derive(Clone, Copy, PartialEq)]
enum ClusterKind {
    Letter,
    Joined,
    Space,
    /// Broken at: no width.
    Blank,
}

pub fn place(stick: &Stick<'_>, words: &LineWords, shaper: &mut Shaper<'_>) -> SetLine {
    let style = stick.style;
    let shaped = parted(shaped_runs(stick, words, shaper), stick.passage);
    let text = stick.passage.text.as_bytes();
    let kind = |script_run: &ScriptRun, cluster: usize| match cluster {
        at if at >= words.kept.end && !(words.hyphen && at == words.kept.end) => ClusterKind::Blank,
        at if is_space(text, at) => ClusterKind::Space,
        _ if cursive(script_run.script) => ClusterKind::Joined,
        _ => ClusterKind::Letter,
    };
    let gaps = |at: usize| stick.gaps.binary_search(&at).is_ok();
    let mut sum = LineTotals::default();
    for (script_run, glyphs, _) in &shaped {
        let mut last = usize::MAX;
        for glyph in glyphs {
            let first = std::mem::replace(&mut last, glyph.cluster) != glyph.cluster;
            let kind = kind(script_run, glyph.cluster);
            match kind {
                ClusterKind::Blank => continue,
                ClusterKind::Space => {
                    sum.spaces += glyph.advance;
                    sum.space_count += usize::from(first);
                }
                ClusterKind::Letter | ClusterKind::Joined => sum.letters += glyph.advance,
            }
            sum.tracked += usize::from(first && kind != ClusterKind::Joined);
            sum.gaps += usize::from(first && gaps(glyph.cluster) && glyph.cluster > words.kept.start);
        }
    }
    // Between the letters: none after the last, unless that one takes none anyhow.
    let last = stick.passage.runs_from(words.kept.end.saturating_sub(1)).next();
    let bare = words.kept.is_empty() || last.is_none_or(|script_run| !cursive(script_run.script));
    sum.tracked = sum.tracked.saturating_sub(usize::from(bare));
    let (start, end) = hung(stick, words, &shaped);
    let (spread, loose) = sum.spread(style, words.measure + start + end, words.fit);
    let mut line = SetLine { runs: Vec::new(), width: 0.0, hung: 0.0, loose, missing: Vec::new() };
    let tracking = style.tracking / 1000.0;
    let mut left = sum.tracked;
    let mut pen = 0.0;
    for (script_run, glyphs, owner) in &shaped {
        let raise =
            usize::from(*owner).checked_sub(1).and_then(|at| style.apart.get(at)).map_or(0.0, |apart| apart.raise);
        let mut run = Vec::with_capacity(glyphs.len());
        for (at, glyph) in glyphs.iter().enumerate() {
            let kind = kind(script_run, glyph.cluster);
            let first = at == 0 || glyphs[at - 1].cluster != glyph.cluster;
            let last = glyphs.get(at + 1).is_none_or(|next| next.cluster != glyph.cluster);
            let gap = gaps(glyph.cluster) && glyph.cluster > words.kept.start && kind != ClusterKind::Blank;
            // Between ideographs the gap stands where the line could have been broken: before the logical letter.
            if first && gap && !script_run.rtl() {
                pen += spread.gap;
            }
            let mut advance = match kind {
                ClusterKind::Blank => 0.0,
                ClusterKind::Space => glyph.advance * spread.space,
                ClusterKind::Letter | ClusterKind::Joined => glyph.advance * spread.scale,
            };
            if last && kind != ClusterKind::Joined && kind != ClusterKind::Blank && left > 0 {
                advance += tracking + spread.letter;
                left -= 1;
            }
            let id = glyph.id;
            if id == 0 {
                let spoken = spoken(script_run, glyphs, at);
                let text = &stick.passage.text[script_run.range.clone()];
                let cluster = text.get(spoken.start..spoken.end.min(text.len())).unwrap_or_default();
                line.missing.extend(lacking(&stick.cuts[script_run.cut].font, cluster));
            }
            run.push(Glyph {
                id,
                x: (pen + glyph.x * spread.scale) * stick.em,
                y: (glyph.y - raise) * stick.em,
                advance: advance * stick.em,
                text: if first { spoken(script_run, glyphs, at) } else { 0..0 },
            });
            pen += advance;
        }
        let again = words.again && script_run.range.start == words.kept.start;
        let hyphen = words.hyphen && script_run.range.end == words.kept.end;
        let source = &stick.passage.text[script_run.range.clone()];
        let placed = text_run(&stick.cuts[script_run.cut], source, (again, hyphen), run);
        line.runs.push(TextRun {
            size: stick.em * placed.size,
            stretch: spread.scale,
            sequence: Sequence { place: script_run.range.start as u32, end: RunEnd::Within },
            apart: *owner,
            turns: turns(glyphs),
            ..placed
        });
    }
    line.width = (pen - start - end) * stick.em;
    line.hung = stick.em * if stick.passage.rtl { end } else { start };
    line
}

/// Every piece of a line with its glyphs.
fn shaped_runs(stick: &Stick<'_>, words: &LineWords, shaper: &mut Shaper<'_>) -> Vec<(ScriptRun, Vec<Shaped>)> {
    let script_runs = visual(stick.passage, words);
    let mut shaped: Vec<(ScriptRun, Vec<Shaped>)> = Vec::with_capacity(script_runs.len());
    for script_run in script_runs {
        let mut glyphs = Vec::new();
        let hyphen = hyphen(stick, words, &script_run);
        let mut part = script_run.clone();
        if let Some((_, at)) = hyphen {
            part.range.end = part.range.end.min(at);
        }
        shaper.shape(&stick.passage.text, words.kept.start..words.next, &part, hyphen, &mut glyphs);
        shaped.push((script_run, glyphs));
    }
    shaped
}

/// A line's pieces from left to right (UAX #9, L1 and L2).
pub fn visual(passage: &Passage, words: &LineWords) -> Vec<ScriptRun> {
    let base = u8::from(passage.rtl);
    let mut script_runs: Vec<ScriptRun> = Vec::new();
    for script_run in passage.runs_from(words.kept.start).take_while(|run| run.range.start < words.next) {
        let start = script_run.range.start.max(words.kept.start);
        let end = script_run.range.end.min(words.next);
        if start >= end {
            continue;
        }
        let kept = end.min(words.kept.end.max(start));
        if start < kept {
            script_runs.push(ScriptRun { range: start..kept, ..script_run.clone() });
        }
        if kept < end && !is_chosen_break(&passage.text, kept) {
            script_runs.push(ScriptRun { range: kept..end, level: base, ..script_run.clone() });
        }
    }
    if script_runs.iter().all(|script_run| script_run.level == 0) {
        return script_runs;
    }
    visual_order(&script_runs).into_iter().map(|at| script_runs[at].clone()).collect()
}

/// The hyphen that a piece ends with: it speaks for the soft hyphen it stands at, or for one of its own.
fn hyphen(stick: &Stick<'_>, words: &LineWords, script_run: &ScriptRun) -> Option<(char, usize)> {
    let end = words.kept.end;
    if !words.hyphen || script_run.range.end != end {
        return None;
    }
    let soft = stick.passage.text[..end].ends_with('\u{AD}');
    let at = if soft { end - '\u{AD}'.len_utf8() } else { end };
    Some((stick.cuts[script_run.cut].hyphen(), at))
}

/// What hangs out at the line's beginning and end, in ems.
fn hung(stick: &Stick<'_>, words: &LineWords, shaped: &[(ScriptRun, Vec<Shaped>, u16)]) -> (f64, f64) {
    let kept = &stick.passage.text[words.kept.clone()];
    if kept.is_empty() || !stick.style.hanging && stick.style.edges == Edges::Font {
        return (0.0, 0.0);
    }
    // A sign's own advance, and the room beside a letter's ink.
    let cluster_at = |at: usize| -> (f64, (f64, f64)) {
        let (mut advance, mut beside) = (0.0, (0.0, 0.0));
        let of = |run: &ScriptRun| run.range.contains(&at) || words.hyphen && run.range.end == at;
        let Some((script_run, glyphs, _)) = shaped.iter().find(|(run, ..)| of(run)) else { return (advance, beside) };
        let cluster = glyphs.iter().map(|glyph| glyph.cluster).filter(|cluster| *cluster <= at).max();
        let same = glyphs.iter().filter(|glyph| Some(glyph.cluster) == cluster);
        advance += same.clone().map(|glyph| glyph.advance - glyph.room).sum::<f64>();
        beside = bearings(same, &stick.cuts[script_run.cut], stick.style.edges);
        (advance, beside)
    };
    let first = kept.chars().next();
    let last = if words.hyphen { Some('-') } else { kept.chars().next_back() };
    let width = last.map_or(1, char::len_utf8);
    let at = if words.hyphen { words.kept.end } else { words.kept.end - width };
    // A foreign word at an edge shows another of its letters there.
    let at_home = |at: usize| {
        let script_run = shaped.iter().find(|(script_run, ..)| script_run.range.contains(&at));
        script_run.is_none_or(|(script_run, ..)| script_run.rtl() == stick.passage.rtl)
    };
    let out = |(sign, at): (Option<char>, usize), of: Hanging, side: InkSide| {
        if !at_home(at) {
            return 0.0;
        }
        let (advance, beside) = cluster_at(at);
        let hung = sign.filter(|_| stick.style.hanging).map_or(0.0, |sign| of(sign, advance));
        if hung > 0.0 { hung } else { side(beside) }
    };
    // The pen runs from left to right.
    let (before, after) =
        if stick.passage.rtl { (right as InkSide, left as InkSide) } else { (left as InkSide, right as InkSide) };
    (out((first, words.kept.start), hang::start_of, before), out((last, at), hang::end_of, after))
}

/// How much of a sign's advance hangs out.
type Hanging = fn(char, f64) -> f64;
type InkSide = fn((f64, f64)) -> f64;

fn left(beside: (f64, f64)) -> f64 {
    beside.0
}

fn right(beside: (f64, f64)) -> f64 {
    beside.1
}

/// The bytes that a cluster stands for.
fn spoken(script_run: &ScriptRun, glyphs: &[Shaped], at: usize) -> Range<usize> {
    let cluster = glyphs[at].cluster;
    let other = |glyph: &&Shaped| glyph.cluster > cluster;
    let next = if script_run.rtl() { glyphs[..at].iter().rev().find(other) } else { glyphs[at..].iter().find(other) };
    let base = script_run.range.start;
    // A hyphen's cluster at the end of the run is closed when the run's text is made.
    let end = next.map_or(usize::MAX, |glyph| glyph.cluster - base);
    cluster - base..end
}
