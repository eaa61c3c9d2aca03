//! A paragraph measured: every place where a line may end, and the widths between. In ems, so that it holds at any size.

use crate::typeset::{
    chances::{Opportunity, around, is_hyphen, opportunities, words},
    hang,
    hyphen::Hyphenator,
    itemise::Passage,
    lines::LineEnd,
    place::LineWords,
    ruler::Ruler,
    shape::{Cut, Shaper},
    spread::LineFit,
    style::{Case, Style},
};
use std::ops::Range;

/// Between the breaks that the author chose.
#[derive(Clone, Debug, Default)]
pub struct Segment {
    pub chances: Vec<LineEnd>,
    /// What each chance means in the text.
    pub places: Vec<BreakPlace>,
}

#[derive(Clone, Copy, Debug)]
pub struct BreakPlace {
    /// The line's words end here.
    pub at: usize,
    /// The next line begins here: behind blanks, or before a hyphen that it writes again.
    pub next: usize,
    pub hyphen: bool,
}

impl BreakPlace {
    /// The words of a line from here to `end`.
    pub fn words_to(self, end: BreakPlace, measure: f64, fit: LineFit) -> LineWords {
        let kept = self.next..end.at.max(self.next);
        let next = end.next.max(end.at);
        LineWords { kept, next, again: self.next < self.at, hyphen: end.hyphen, measure, fit }
    }
}

/// From byte `start` of a passage (a drop cap may have taken what is before). Beside the segments come the places where
/// ideographs may move apart.
pub fn measure(
    passage: &Passage,
    start: usize,
    style: &Style,
    cuts: &[Cut],
    shaper: &mut Shaper<'_>,
) -> (Vec<Segment>, Vec<usize>) {
    let mut ruler = Ruler::new(passage, style, cuts, shaper);
    let mut found = Vec::new();
    opportunities(&passage.text, start, style, &mut found);
    for opportunity in found.iter().filter(|opportunity| opportunity.gap) {
        ruler.gap[opportunity.next] = true;
    }
    ruler.sum();
    ruler.hyphens(start, &mut found);
    found.sort_by_key(|opportunity| opportunity.next);
    let mut segments = Vec::new();
    let mut segment = Segment::default();
    ruler.open(&mut segment, start);
    for opportunity in found {
        let chance = ruler.chance(&opportunity);
        segment.chances.push(chance);
        segment.places.push(BreakPlace {
            at: opportunity.at,
            next: opportunity.next,
            hyphen: opportunity.word.is_some(),
        });
        if opportunity.forced {
            segments.push(std::mem::take(&mut segment));
            ruler.open(&mut segment, opportunity.next);
        }
    }
    let gaps = (0..ruler.gap.len()).filter(|at| ruler.gap[*at]).collect();
    (segments, gaps)
}

impl Ruler<'_, '_, '_> {
    fn open(&mut self, segment: &mut Segment, start: usize) {
        let first = self.start(start);
        segment.chances.push(LineEnd { start: first, joints: (0, self.joints[start]), ..LineEnd::default() });
        segment.places.push(BreakPlace { at: start, next: start, hyphen: false });
    }

    fn chance(&mut self, opportunity: &Opportunity) -> LineEnd {
        let (mut end, mut start) = (self.end(opportunity.at), self.start(opportunity.next));
        if let Some(word) = &opportunity.word {
            let at = opportunity.at;
            let hyphen = (self.hyphen_at(at), at);
            let cluster = self.clusters[at];
            end = self.sums[at];
            if cluster.joined || !cluster.begins {
                // The two parts look otherwise than the whole: a ligature or kerning stands between.
                let hung = start.width - self.sums[at].width;
                let near = around(&self.passage.text, at, |_| true);
                let foot = self.foot(word.end).min(near.end);
                let head = word.start.max(near.start);
                end.width = self.sums[head].width + self.width(head..at, Some(hyphen));
                start.width = self.sums[foot].width - self.width(at..foot, None) + hung;
            } else {
                end.width += self.hyphen_width(hyphen);
            }
            let width = self.hyphen_width(hyphen);
            end.width -= self.hang(hang::end_of('-', width));
        }
        let joints =
            (self.joints[opportunity.at], self.joints[opportunity.next] + u32::from(self.gap[opportunity.next]));
        LineEnd { end, start, cost: opportunity.cost, hyphen: opportunity.hyphen, joints }
    }

    /// Adds where words may part by a hyphen.
    fn hyphens(&self, start: usize, found: &mut Vec<Opportunity>) {
        if !self.style.hyphenation.on {
            return;
        }
        let Some(hyphenator) = Hyphenator::of(self.style) else { return };
        let shouted = |word: &Range<usize>| {
            self.style.case == Case::AsWritten
                && !self
                    .passage
                    .runs_from(word.start)
                    .take_while(|run| run.range.start < word.end)
                    .any(|run| self.cuts[run.cut].scale < 1.0)
        };
        let nouns_are_capital = self.style.language.starts_with("de");
        let mut parts = Vec::new();
        for word in words(&self.passage.text, start) {
            let letters = &self.passage.text[word.clone()];
            if letters.chars().nth(1).is_some() && letters == letters.to_uppercase() && shouted(&word) {
                continue;
            }
            hyphenator.parts(letters, self.style.hyphenation, &mut parts);
            let plain = self.style.case == Case::AsWritten;
            let name = plain && !nouns_are_capital && letters.starts_with(char::is_uppercase);
            // A compound parts at its own hyphen first.
            let beside =
                [self.passage.text[..word.start].chars().next_back(), self.passage.text[word.end..].chars().next()];
            let compound = beside.into_iter().flatten().any(is_hyphen);
            let ragged = self.style.is_ragged();
            let hyphen = |part: &usize| Opportunity::hyphen(word.start + part, word.clone(), ragged, name || compound);
            found.extend(parts.iter().map(hyphen));
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::assets::Library;
    use crate::typeset::place::{Stick, place};
    use crate::typeset::plan::{itemised, prepare};
    use crate::typeset::shape::Shaper;
    use crate::typeset::spread::LineFit;
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
            // Hyphens that the next line writes again.
            ("EB Garamond", "pt", 10.0, "Diz-se que o guarda-chuva ficou no porto; faça-o buscar, traga-ma.", 1e-9),
            ("Inter", "pl", 0.0, "Czarno-biała mewa z wyspy Wolin-Wschód, jasno\u{2010}żółta.", 1e-9),
            ("Frank Ruhl Libre", "he", 30.0, "הספר Salt and Lanterns יצא לאור בשנת 2026 (מהדורה ראשונה).", 1e-9),
            ("Amiri", "ar", 30.0, "كان يا ما كان في قديم الزمان، في مدينة على شاطئ البحر.", 1e-9),
            // These kern across blanks, and contextually.
            ("Playfair Display", "en-GB", 0.0, english, 0.06),
            ("Alegreya", "en-GB", 0.0, english, 0.06),
        ] {
            let style =
                Style { family: family.to_owned(), language: language.to_owned(), tracking, ..Style::default() };
            let itemised = itemised(&Copy::plain(text), &style, &library, 11.0).expect("bundled");
            let mut shaper = Shaper::new(&itemised.cuts, language);
            let copy = prepare(&itemised, &style, &mut shaper);
            let cuts = &itemised.cuts;
            let paragraph = &copy.paragraphs[0];
            let (passage, gaps, segment) = (&paragraph.passage, &paragraph.gaps, &paragraph.segments[0]);
            let stick = Stick { passage, gaps, style: &style, cuts, em: 1.0 };
            for from in 0..segment.places.len() {
                for to in from + 1..segment.places.len() {
                    let words = segment.places[from].words_to(segment.places[to], 1e6, LineFit::AsDrawn);
                    let measured = segment.chances[to].end.minus(segment.chances[from].start).width;
                    let set = place(&stick, &words, &mut shaper).width;
                    assert!((set - measured).abs() < near, "{family} {:?} {set} {measured}", &passage.text[words.kept]);
                }
            }
        }
    }
}
