//! A paragraph measured: every place where a line may end, and the widths between. In ems, so that it holds at any size.

use crate::typeset::{
    Case, Style,
    chances::{self, Opening},
    hang,
    hyphen::patterns,
    itemise::Passage,
    lines::Chance,
    ruler::Ruler,
    shape::{Face, Shaper},
};
use std::ops::Range;

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
    for opening in openings.iter().filter(|opening| opening.gap) {
        ruler.gap[opening.next] = true;
    }
    ruler.sum();
    ruler.hyphens(start, &mut openings);
    openings.sort_by_key(|opening| opening.next);
    let mut segments = Vec::new();
    let mut segment = Segment::default();
    ruler.open(&mut segment, start);
    for opening in openings {
        let chance = ruler.chance(&opening);
        segment.chances.push(chance);
        segment.places.push(Place { at: opening.at, next: opening.next, hyphen: opening.word.is_some() });
        if opening.forced {
            segments.push(std::mem::take(&mut segment));
            ruler.open(&mut segment, opening.next);
        }
    }
    let gaps = (0..ruler.gap.len()).filter(|at| ruler.gap[*at]).collect();
    (segments, gaps)
}

impl Ruler<'_, '_, '_> {
    fn open(&mut self, segment: &mut Segment, start: usize) {
        let first = self.start(start);
        segment.chances.push(Chance { start: first, joints: (0, self.joints[start]), ..Chance::default() });
        segment.places.push(Place { at: start, next: start, hyphen: false });
    }

    fn chance(&mut self, opening: &Opening) -> Chance {
        let (mut end, mut start) = (self.end(opening.at), self.start(opening.next));
        if let Some(word) = &opening.word {
            let at = opening.at;
            let hyphen = (self.hyphen_at(at), at);
            let cluster = self.clusters[at];
            end = self.sums[at];
            if cluster.joined || !cluster.begins {
                // The two parts look otherwise than the whole: a ligature or kerning stands between.
                let hung = start.width - self.sums[at].width;
                let foot = self.foot(word.end);
                end.width = self.sums[word.start].width + self.width(word.start..at, Some(hyphen));
                start.width = self.sums[foot].width - self.width(at..foot, None) + hung;
            } else {
                end.width += self.hyphen_width(hyphen);
            }
            end.width -= self.hyphen_width(hyphen) * self.hang(hang::at_end('-'));
        }
        let joints = (self.joints[opening.at], self.joints[opening.next] + u32::from(self.gap[opening.next]));
        Chance { end, start, cost: opening.cost, hyphen: opening.hyphen, joints }
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

#[cfg(test)]
mod tests {
    use crate::assets::Library;
    use crate::typeset::layout::{itemised, prepare};
    use crate::typeset::place::{Setting, Words, place};
    use crate::typeset::shape::Shaper;
    use crate::typeset::{Copy, Style};

    /// What the line breaker believes of a line's width is what the line has once it is set, ligatures, kerning at the
    /// break, hyphen, tracking and hanging points included.
    #[test]
    fn lines_come_out_as_wide_as_measured() {
        let (library, _) = Library::open(&[]);
        let english = "“Affluent officers,” she wrote, “offered waffles.” AVA Toynbee’s well-known halfhearted fjord.";
        for (family, language, tracking, text, near) in [
            ("EB Garamond", "en-GB", 0.0, english, 1e-9),
            ("Inter", "en-US", 30.0, english, 1e-9),
            ("Frank Ruhl Libre", "he", 30.0, "הספר Salt and Lanterns יצא לאור בשנת 2026 (מהדורה ראשונה).", 1e-9),
            ("Amiri", "ar", 30.0, "كان يا ما كان في قديم الزمان، في مدينة على شاطئ البحر.", 1e-9),
            // These kern across blanks, and contextually.
            ("Playfair Display", "en-GB", 0.0, english, 0.06),
            ("Alegreya", "en-GB", 0.0, english, 0.06),
        ] {
            let style =
                Style { family: family.to_owned(), language: language.to_owned(), tracking, ..Style::default() };
            let (faces, passages) = itemised(&Copy::plain(text), &style, &library).expect("bundled");
            let mut shaper = Shaper::new(&faces, language);
            let prepared = prepare(passages, &style, &faces, &mut shaper);
            let paragraph = &prepared.paragraphs[0];
            let (passage, gaps, segment) = (&paragraph.passage, &paragraph.gaps, &paragraph.segments[0]);
            let setting = Setting { passage, gaps, style: &style, faces: &faces, em: 1.0 };
            for from in 0..segment.places.len() {
                for to in from + 1..segment.places.len() {
                    let (start, end) = (segment.places[from].next, segment.places[to]);
                    let kept = start..end.at;
                    let words = Words { kept, next: end.next, hyphen: end.hyphen, measure: 1e6, justified: false };
                    let measured = segment.chances[to].end.minus(segment.chances[from].start).width;
                    let set = place(&setting, &words, &mut shaper).width;
                    assert!((set - measured).abs() < near, "{family} {:?} {set} {measured}", &passage.text[words.kept]);
                }
            }
        }
    }
}
