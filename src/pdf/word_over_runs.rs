//! A word over several runs: a large initial and the line that goes on with it, a letter of another size, ink or turn.
//! Readers take letters of two sizes or heights for two words, so one span says the word whole.

use crate::assets::RunEnd;
use crate::ground::Point;
use crate::pdf::actual_text::ascending;
use crate::pdf::content::Content;
use crate::pdf::forme::Forme;
use crate::pdf::layers::finishing;
use crate::pdf::text::open_span;
use crate::scene::{GlyphRun, Item, Mark};
use std::sync::Arc;

/// Sizes that differ by less are one to a reader.
const ALIKE: f64 = 0.02;

/// How many items from the first on are runs of which each begins within the word that the one before it ends with.
pub fn runs_of_words(items: &[Item]) -> usize {
    let joined = items.windows(2).take_while(|pair| match (&pair[0].mark, &pair[1].mark) {
        (Mark::Glyphs(run), Mark::Glyphs(next)) => {
            let one_layer =
                finishing(&pair[0]).map(|spot| spot.name.clone()) == finishing(&pair[1]).map(|spot| spot.name.clone());
            Arc::ptr_eq(&pair[0].origin, &pair[1].origin) && one_layer && joins(run, next)
        }
        _ => false,
    });
    joined.count() + 1
}

fn joins(run: &GlyphRun, next: &GlyphRun) -> bool {
    let height =
        |run: &GlyphRun| run.glyphs.first().map_or(0.0, |glyph| (run.transform * Point::new(glyph.x, glyph.y)).y);
    let apart = (run.size / next.size - 1.0).abs() > ALIKE
        || (height(run) - height(next)).abs() > ALIKE * run.size
        || !run.turns.is_empty()
        || !next.turns.is_empty();
    // A word from right to left is left to its glyphs.
    let ascending = |run: &GlyphRun| ascending(&run.glyphs);
    apart
        && run.sequence.end == RunEnd::Within
        && next.sequence.place == run.sequence.place + 1
        && run.text.ends_with(char::is_alphanumeric)
        && next.text.starts_with(char::is_alphanumeric)
        && ascending(run)
        && ascending(next)
}

impl Forme<'_> {
    /// Runs whose words go on from one to the next.
    pub fn words_over_runs(&mut self, content: &mut Content, runs: &[&GlyphRun]) {
        let blank = |run: &GlyphRun| run.text.find(char::is_whitespace);
        for (at, run) in runs.iter().enumerate() {
            let (first, last) = (at == 0, at + 1 == runs.len());
            // Up to where the word of the run before goes, and from where one begins that goes on.
            let head = if first { 0 } else { blank(run).unwrap_or(run.text.len()) };
            let tail = if last {
                run.text.len()
            } else {
                run.text.rmatch_indices(char::is_whitespace).next().map_or(0, |(at, blank)| at + blank.len())
            };
            let count = |end: usize| run.glyphs.iter().take_while(|glyph| glyph.text.end <= end).count();
            let (head_end, tail_start) = (count(head), count(tail).max(count(head)));
            if !first {
                self.spoken_glyphs(content, &part(run, 0..head_end));
                if last || blank(run).is_some() {
                    content.word("EMC");
                }
            }
            self.glyphs(content, &part(run, head_end..tail_start));
            if !last && (first || blank(run).is_some()) {
                let rest = &runs[at + 1..];
                let whole = rest.iter().position(|run| blank(run).is_some()).unwrap_or(rest.len());
                let mut word = run.text[tail..].to_owned();
                for run in &rest[..whole] {
                    word.push_str(&run.text);
                }
                if let Some(end) = rest.get(whole).and_then(|run| Some(&run.text[..blank(run)?])) {
                    word.push_str(end);
                }
                open_span(content, &word);
                self.spoken_glyphs(content, &part(run, tail_start..run.glyphs.len()));
            }
        }
    }
}

fn part(run: &GlyphRun, range: std::ops::Range<usize>) -> GlyphRun {
    let turns = run.turns.get(range.clone()).map(<[f64]>::to_vec).unwrap_or_default();
    GlyphRun { glyphs: run.glyphs[range].to_vec(), turns, ..run.clone() }
}
