//! A passage laid along a ruler: how wide its parts are, in ems, together and by themselves.

use crate::typeset::{
    chances::{REACH, around, is_hyphen},
    edges::bearings,
    hang,
    itemise::Passage,
    lines::Sum,
    script::{cursive, is_space},
    shape::{Cut, ScriptRun, Shaped, Shaper},
    style::Style,
};
use std::collections::BTreeMap;
use std::ops::Range;

/// What ideographs may move apart, in ems, where a latin line would use its word spaces.
pub const GAP: f64 = 0.12;

/// Bytes that a cluster has at most; letters that show nothing may follow it without end.
const LONGEST: usize = 4 * REACH;

/// Where a cluster of glyphs begins.
#[derive(Clone, Copy, Default)]
pub struct Cluster {
    pub begins: bool,
    /// Before it the text cannot be split without shaping again.
    pub joined: bool,
    tracked: bool,
    advance: f64,
    /// What of its advance belongs between it and the next letter.
    room: f64,
    /// What stands out at a line's beginning and end, in ems.
    bearings: (f64, f64),
}

pub struct Ruler<'a, 's, 'f> {
    pub passage: &'a Passage,
    pub style: &'a Style,
    pub cuts: &'a [Cut],
    shaper: &'s mut Shaper<'f>,
    pub clusters: Vec<Cluster>,
    /// A line may part before this byte, between ideographs.
    pub gap: Vec<bool>,
    pub sums: Vec<Sum>,
    pub joints: Vec<u32>,
    hyphen_widths: BTreeMap<(usize, char), f64>,
    glyphs: Vec<Shaped>,
}

impl<'a, 's, 'f> Ruler<'a, 's, 'f> {
    pub fn new(
        passage: &'a Passage,
        style: &'a Style,
        cuts: &'a [Cut],
        shaper: &'s mut Shaper<'f>,
    ) -> Ruler<'a, 's, 'f> {
        let length = passage.text.len();
        let mut clusters = vec![Cluster::default(); length + 1];
        let mut glyphs = Vec::new();
        for script_run in &passage.script_runs {
            shaper.shape(&passage.text, 0..length, script_run, None, &mut glyphs);
            let cut = &cuts[script_run.cut];
            for same in glyphs.chunk_by(|one, other| one.cluster == other.cluster) {
                let (left, right) = bearings(same.iter(), cut, style.edges);
                clusters[same[0].cluster].bearings = if script_run.rtl() { (right, left) } else { (left, right) };
            }
            for glyph in &glyphs {
                let cluster = &mut clusters[glyph.cluster];
                cluster.begins = true;
                cluster.tracked = !cursive(script_run.script) || is_space(passage.text.as_bytes(), glyph.cluster);
                cluster.joined |= glyph.joined;
                cluster.advance += glyph.advance;
                cluster.room += glyph.room;
            }
        }
        Ruler {
            passage,
            style,
            cuts,
            shaper,
            clusters,
            gap: vec![false; length + 1],
            sums: Vec::new(),
            joints: Vec::new(),
            hyphen_widths: BTreeMap::new(),
            glyphs,
        }
    }

    /// Running sums to every byte, a gap before it left out.
    pub fn sum(&mut self) {
        let tracking = self.style.tracking / 1000.0;
        let [least, ideal, most] = self.style.word_space;
        let taken = (-self.style.letter_space.0).max(0.0) / 1000.0;
        let added = self.style.letter_space.1.max(0.0) / 1000.0;
        let (narrow, wide) = ((1.0 - self.style.letter_width.0).max(0.0), (self.style.letter_width.1 - 1.0).max(0.0));
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

    /// Up to the end of a line's words, what hangs out left off.
    pub fn end(&mut self, at: usize) -> Sum {
        let mut sum = self.sums[at];
        let kerned = self.clusters[at].joined;
        if kerned {
            // Kerned to the blank that a break would take away.
            let word = around(&self.passage.text, at, |letter| letter != ' ').start;
            sum.width = self.sums[word].width + self.width(word..at, None);
        }
        if let Some(letter) = self.passage.text[..at].chars().next_back() {
            let from = at - letter.len_utf8();
            let cluster = self.cluster(from);
            let tracking = if cluster.tracked { self.style.tracking / 1000.0 } else { 0.0 };
            let alone = kerned && self.style.hanging && hang::hangs_at_end(letter);
            let advance = if alone { self.width(from..at, None) - tracking } else { cluster.advance };
            let hung = self.hang(hang::end_of(letter, advance));
            sum.width -= if hung > 0.0 { hung } else { cluster.bearings.1 } + tracking;
        }
        sum
    }

    /// From the beginning of a line's words.
    pub fn start(&mut self, next: usize) -> Sum {
        let mut sum = self.sums[next];
        let text = &self.passage.text;
        // Kerned to what stays on the line before.
        if self.clusters[next].joined && (text[..next].ends_with(' ') || text[next..].starts_with(is_hyphen)) {
            let foot = around(text, next, |letter| letter != ' ').end;
            sum.width = self.sums[foot].width - self.width(next..foot, None);
        }
        if self.gap[next] {
            sum.stretch += GAP;
        }
        if let Some(letter) = text[next..].chars().next() {
            let cluster = self.clusters[next];
            let hung = self.hang(hang::start_of(letter, cluster.advance - cluster.room));
            sum.width += if hung > 0.0 { hung } else { cluster.bearings.0 };
        }
        sum
    }

    /// What hangs out, where the style lets it.
    pub fn hang(&self, out: f64) -> f64 {
        if self.style.hanging { out } else { 0.0 }
    }

    /// The cluster that a byte belongs to.
    fn cluster(&self, at: usize) -> Cluster {
        self.clusters[..=at].iter().rev().take(LONGEST).find(|cluster| cluster.begins).copied().unwrap_or_default()
    }

    /// Where the marks that follow a word end: they are kerned to it.
    pub fn foot(&self, word_end: usize) -> usize {
        around(&self.passage.text, word_end, |letter| !letter.is_whitespace() && !letter.is_alphabetic()).end
    }

    fn script_run(&self, at: usize) -> Option<&'a ScriptRun> {
        self.passage.runs_from(at).next().filter(|run| run.range.contains(&at))
    }

    pub fn hyphen_at(&self, at: usize) -> char {
        self.script_run(at.saturating_sub(1)).map_or('-', |script_run| self.cuts[script_run.cut].hyphen())
    }

    /// How much wider a word part grows by its hyphen, kerned to its last letter.
    pub fn hyphen_width(&mut self, hyphen: (char, usize)) -> f64 {
        let at = hyphen.1;
        let Some(last) = self.passage.text[..at].chars().next_back() else { return 0.0 };
        let from = at - last.len_utf8();
        let Some(script_run) = self.script_run(from) else { return 0.0 };
        if let Some(known) = self.hyphen_widths.get(&(script_run.cut, last)) {
            return *known;
        }
        let grown = self.width(from..at, Some(hyphen)) - self.width(from..at, None);
        self.hyphen_widths.insert((script_run.cut, last), grown);
        grown
    }

    /// A part of a word, and a hyphen, shaped by themselves.
    pub fn width(&mut self, range: Range<usize>, hyphen: Option<(char, usize)>) -> f64 {
        let passage = self.passage;
        let tracking = self.style.tracking / 1000.0;
        let mut width = 0.0;
        for script_run in passage.runs_from(range.start).take_while(|run| run.range.start < range.end) {
            let part = script_run.range.start.max(range.start)..script_run.range.end.min(range.end);
            let hyphen = hyphen.filter(|_| part.end == range.end);
            let part = ScriptRun { range: part, ..script_run.clone() };
            self.shaper.shape(&passage.text, range.clone(), &part, hyphen, &mut self.glyphs);
            let mut last = usize::MAX;
            for glyph in &self.glyphs {
                width += glyph.advance;
                if glyph.cluster != last && !cursive(script_run.script) {
                    width += tracking;
                }
                last = glyph.cluster;
            }
        }
        // A line ends without tracking: the last letter's counts no more.
        if hyphen.is_some() { width - tracking } else { width }
    }
}
