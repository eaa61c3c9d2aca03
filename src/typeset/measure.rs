//! A paragraph measured: every place where a line may end, and the widths between. In ems, so that it holds at any size.

use crate::typeset::chances::{self, Opening};
use crate::typeset::hang;
use crate::typeset::hyphen::patterns;
use crate::typeset::itemise::{CHOSEN_BREAK, Passage};
use crate::typeset::lines::{Chance, Sum};
use crate::typeset::shape::{Face, Piece, Shaped, Shaper};
use crate::typeset::{Case, Style};
use std::collections::BTreeMap;
use std::ops::Range;
use unicode_script::Script;

/// Between the breaks that the author chose.
#[derive(Clone, Debug, Default)]
pub struct Segment {
    pub chances: Vec<Chance>,
    /// What each chance means in the text.
    pub places: Vec<Place>,
}

#[derive(Clone, Copy, Debug)]
pub struct Place {
    /// The line's words end here, the next line begins at `next`; blanks lie between.
    pub at: usize,
    pub next: usize,
    pub hyphen: bool,
}

/// What ideographs may move apart, in ems, where a latin line would use its word spaces.
pub const GAP: f64 = 0.12;

/// Where a cluster of glyphs begins.
#[derive(Clone, Copy, Default)]
struct Cluster {
    begins: bool,
    joined: bool,
    tracked: bool,
    advance: f64,
}

/// From byte `start` of a passage (a drop cap may have taken what is before). Beside the segments come the places where
/// ideographs may move apart.
pub fn measure(
    passage: &Passage,
    start: usize,
    style: &Style,
    faces: &[Face],
    shaper: &mut Shaper<'_>,
) -> (Vec<Segment>, Vec<usize>) {
    let mut ruler = Ruler::new(passage, style, faces, shaper);
    let mut openings = Vec::new();
    chances::openings(&passage.text, start, &style.language, style.is_ragged(), &mut openings);
    ruler.gaps(&openings);
    ruler.sum();
    ruler.hyphens(start, &mut openings);
    openings.sort_by_key(|opening| opening.next);
    let mut segments = Vec::new();
    let mut segment = Segment::default();
    ruler.open(&mut segment, start);
    for opening in openings {
        let chance = ruler.chance(&opening);
        segment.chances.push(chance);
        segment.places.push(Place { at: opening.at, next: opening.next, hyphen: opening.hyphenates });
        if opening.forced {
            segments.push(std::mem::take(&mut segment));
            ruler.open(&mut segment, opening.next);
        }
    }
    let gaps = (0..ruler.gap.len()).filter(|at| ruler.gap[*at]).collect();
    (segments, gaps)
}

struct Ruler<'a, 's, 'f> {
    passage: &'a Passage,
    style: &'a Style,
    faces: &'a [Face],
    shaper: &'s mut Shaper<'f>,
    clusters: Vec<Cluster>,
    /// A line may part before this byte, between ideographs.
    gap: Vec<bool>,
    sums: Vec<Sum>,
    joints: Vec<u32>,
    hyphen_widths: BTreeMap<(usize, char), f64>,
    glyphs: Vec<Shaped>,
}

impl<'a, 's, 'f> Ruler<'a, 's, 'f> {
    fn new(passage: &'a Passage, style: &'a Style, faces: &'a [Face], shaper: &'s mut Shaper<'f>) -> Ruler<'a, 's, 'f> {
        let length = passage.text.len();
        let mut clusters = vec![Cluster::default(); length + 1];
        let mut glyphs = Vec::new();
        for piece in &passage.pieces {
            shaper.shape(&passage.text, 0..length, piece, None, &mut glyphs);
            for glyph in &glyphs {
                let cluster = &mut clusters[glyph.cluster];
                cluster.begins = true;
                cluster.tracked = !cursive(piece.script);
                cluster.joined |= glyph.joined;
                cluster.advance += glyph.advance;
            }
        }
        Ruler {
            passage,
            style,
            faces,
            shaper,
            clusters,
            gap: vec![false; length + 1],
            sums: Vec::new(),
            joints: Vec::new(),
            hyphen_widths: BTreeMap::new(),
            glyphs,
        }
    }

    fn gaps(&mut self, openings: &[Opening]) {
        for opening in openings.iter().filter(|opening| opening.gap) {
            self.gap[opening.next] = true;
        }
    }

    /// Running sums to every byte, a gap before it left out.
    fn sum(&mut self) {
        let tracking = self.style.tracking / 1000.0;
        let [least, ideal, most] = self.style.word_space;
        let taken = (-self.style.letter_space.0).max(0.0) / 1000.0;
        let added = self.style.letter_space.1.max(0.0) / 1000.0;
        let (narrow, wide) = ((1.0 - self.style.glyph_scale.0).max(0.0), (self.style.glyph_scale.1 - 1.0).max(0.0));
        let mut sum = Sum::default();
        let mut joints = 0;
        let text = self.passage.text.as_bytes();
        for (at, cluster) in self.clusters.iter().enumerate() {
            self.sums.push(sum);
            self.joints.push(joints);
            if self.gap[at] {
                sum.stretch += GAP;
                joints += 1;
            }
            if !cluster.begins {
                continue;
            }
            let tracked = f64::from(u8::from(cluster.tracked));
            sum.width += tracking * tracked;
            if is_space(text, at) {
                sum.width += cluster.advance * ideal;
                sum.stretch += cluster.advance * (most - ideal).max(0.0);
                sum.shrink += cluster.advance * (ideal - least).max(0.0);
                joints += 1;
            } else {
                sum.width += cluster.advance;
                sum.stretch += cluster.advance * wide + added * tracked;
                sum.shrink += cluster.advance * narrow + taken * tracked;
            }
        }
    }

    fn open(&self, segment: &mut Segment, start: usize) {
        let first = self.start(start);
        segment.chances.push(Chance { start: first, joints: (0, self.joints[start]), ..Chance::default() });
        segment.places.push(Place { at: start, next: start, hyphen: false });
    }

    fn chance(&mut self, opening: &Opening) -> Chance {
        let (mut end, mut start) = (self.end(opening.at), self.start(opening.next));
        if let Some(word) = &opening.word {
            let at = opening.at;
            let advance = self.hyphen_width(at);
            end = self.sums[at];
            end.width += advance * (1.0 - self.hang(hang::at_end('-')));
            let cluster = self.clusters[at];
            if cluster.joined || !cluster.begins {
                // The two parts look otherwise than the whole: a ligature or kerning stands between.
                let hung = start.width - self.sums[at].width;
                end.width += self.width(word.start..at) - (self.sums[at].width - self.sums[word.start].width);
                start.width = self.sums[word.end].width - self.width(at..word.end) + hung;
            }
        }
        let joints = (self.joints[opening.at], self.joints[opening.next] + u32::from(self.gap[opening.next]));
        Chance { end, start, cost: opening.cost, hyphen: opening.hyphen, joints }
    }

    /// Up to the end of a line's words, what hangs out left off.
    fn end(&self, at: usize) -> Sum {
        let mut sum = self.sums[at];
        if let Some(letter) = self.passage.text[..at].chars().next_back() {
            let cluster = self.cluster(at - letter.len_utf8());
            sum.width -= cluster.advance * self.hang(hang::at_end(letter));
            sum.width -= if cluster.tracked { self.style.tracking / 1000.0 } else { 0.0 };
        }
        sum
    }

    fn start(&self, next: usize) -> Sum {
        let mut sum = self.sums[next];
        if self.gap[next] {
            sum.stretch += GAP;
        }
        if let Some(letter) = self.passage.text[next..].chars().next() {
            sum.width += self.clusters[next].advance * self.hang(hang::at_start(letter));
        }
        sum
    }

    fn hang(&self, share: f64) -> f64 {
        if self.style.optical_margins { share } else { 0.0 }
    }

    /// The cluster that a byte belongs to.
    fn cluster(&self, at: usize) -> Cluster {
        self.clusters[..=at].iter().rev().find(|cluster| cluster.begins).copied().unwrap_or_default()
    }

    /// How much wider a word part grows by its hyphen, kerned to its last letter.
    fn hyphen_width(&mut self, at: usize) -> f64 {
        let passage = self.passage;
        let Some(last) = passage.text[..at].chars().next_back() else { return 0.0 };
        let from = at - last.len_utf8();
        let Some(piece) = passage.pieces.iter().find(|piece| piece.range.contains(&from)) else { return 0.0 };
        if let Some(known) = self.hyphen_widths.get(&(piece.face, last)) {
            return *known;
        }
        let letter = Piece { range: from..at, ..piece.clone() };
        let mut width = |hyphen| {
            self.shaper.shape(&passage.text, from..at, &letter, hyphen, &mut self.glyphs);
            self.glyphs.iter().map(|glyph| glyph.advance).sum::<f64>()
        };
        let grown = width(Some((self.faces[piece.face].hyphen(), at))) - width(None);
        self.hyphen_widths.insert((piece.face, last), grown);
        grown
    }

    /// A part of a word, shaped by itself.
    fn width(&mut self, range: Range<usize>) -> f64 {
        let passage = self.passage;
        let tracking = self.style.tracking / 1000.0;
        let mut width = 0.0;
        for piece in &passage.pieces {
            let part = piece.range.start.max(range.start)..piece.range.end.min(range.end);
            if part.is_empty() {
                continue;
            }
            let part = Piece { range: part, ..piece.clone() };
            self.shaper.shape(&passage.text, range.clone(), &part, None, &mut self.glyphs);
            let mut last = usize::MAX;
            for glyph in &self.glyphs {
                width += glyph.advance;
                if glyph.cluster != last && !cursive(piece.script) {
                    width += tracking;
                }
                last = glyph.cluster;
            }
        }
        width
    }

    /// Adds where words may part by a hyphen.
    fn hyphens(&self, start: usize, openings: &mut Vec<Opening>) {
        if !self.style.hyphenation.on {
            return;
        }
        let Some(patterns) = patterns(&self.style.language) else { return };
        let shouted = |word: &Range<usize>| {
            self.style.case == Case::AsWritten
                && !self.passage.pieces.iter().any(|piece| {
                    piece.range.start < word.end && piece.range.end > word.start && self.faces[piece.face].scale < 1.0
                })
        };
        let nouns_are_capital = self.style.language.starts_with("de");
        let mut parts = Vec::new();
        for word in chances::words(&self.passage.text, start) {
            let letters = &self.passage.text[word.clone()];
            if letters.chars().nth(1).is_some() && letters == letters.to_uppercase() && shouted(&word) {
                continue;
            }
            patterns.parts(letters, self.style.hyphenation, &mut parts);
            let plain = self.style.case == Case::AsWritten;
            let name = plain && !nouns_are_capital && letters.starts_with(char::is_uppercase);
            let ragged = self.style.is_ragged();
            openings.extend(parts.iter().map(|part| Opening::hyphen(word.start + part, word.clone(), ragged, name)));
        }
    }
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
