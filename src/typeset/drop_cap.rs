//! Drop caps: the first letters, as high as several lines.

use crate::assets::{Glyph, RunEnd, Sequence};
use crate::ground::{ParamCurve as _, Path};
use crate::typeset::{
    block::TextRun,
    itemise::{Cuts, Passage},
    marks::is_combining_mark,
    script::cursive,
    shape::{Cut, ScriptRun, Shaped, Shaper},
    style::{DropCap, Size, Style},
};
use std::ops::Range;

/// The letters taken out of a paragraph, in ems of their own size.
#[derive(Clone, Debug)]
pub struct Initial {
    pub lines: usize,
    /// Where the rest of the paragraph begins.
    pub rest: usize,
    quote: CapPart,
    letters: CapPart,
    /// Ink from the pen's place: left and right.
    ink: (f64, f64),
    /// How high it stands, where it is no capital and has to say so itself.
    height: Option<f64>,
    snug: bool,
    /// Its opening signs hang out of the measure.
    hangs: bool,
    /// The word goes on in the first line, from left to right.
    goes_on: bool,
}

/// Letters of one cut, and where they stand in the text.
#[derive(Clone, Debug)]
struct CapPart {
    range: Range<usize>,
    glyphs: Vec<Shaped>,
    cut: usize,
}

/// An initial at a size: how far it pushes the lines beside it. In ems of the text.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Fitted {
    /// Its em.
    pub em: f64,
    pub first: f64,
    /// Line by line, from the first.
    pub beside: [f64; MOST_LINES],
    /// What the line under its foot makes way for: a tail that reaches down into it.
    pub below: f64,
    /// The opening quote's room, if it does not hang.
    quote: f64,
}

/// Lines that an initial is high at the most.
pub const MOST_LINES: usize = 20;
/// Signs that may stand before an initial: a quotation mark and its blank, a dash, an ellipsis.
const MOST_SIGNS: usize = 4;
/// These stand within the measure.
const DASHES: [char; 4] = ['-', '–', '—', '―'];

/// Between an initial's ink and the lines, in ems of the text. Common practice.
const GAP: f64 = 0.28;

/// A first line may reach in over a sloping letter by this share of the initial's em, at most.
const TUCK: f64 = 0.2;
const LEAST_TUCK: f64 = 0.06;

/// `None` where the style asks for none or the paragraph cannot have one.
///
/// With the cut of its letters where that is not the text's.
pub fn initial(
    passage: &Passage,
    style: &Style,
    (cuts, own): (&[Cut], Option<usize>),
    shaper: &mut Shaper<'_>,
) -> Option<Initial> {
    let (drop_cap, opening) = opening(passage, style)?;
    let text = &passage.text;
    let mut end = opening;
    let mut count = 0;
    for letter in text[opening..].chars() {
        if !is_combining_mark(letter) {
            if count == drop_cap.letters || !letter.is_alphanumeric() {
                break;
            }
            count += 1;
        }
        end += letter.len_utf8();
    }
    let mut glyphs = |range: Range<usize>, own: Option<usize>| {
        let script_run = passage.script_runs.iter().find(|script_run| script_run.range.contains(&range.start))?;
        let (cut, end) = (own.unwrap_or(script_run.cut), range.end.min(script_run.range.end));
        let part = ScriptRun { range: range.start..end, cut, ..script_run.clone() };
        let mut shaped = Vec::new();
        shaper.shape(text, range, &part, None, &mut shaped);
        Some((part, shaped))
    };
    let (script_run, letters) = glyphs(opening..end, own)?;
    // Joined letters do not stand alone.
    if cursive(script_run.script) || letters.is_empty() {
        return None;
    }
    let quote = if opening > 0 { glyphs(0..opening, None) } else { None };
    let (quote_cut, quote) = quote.map_or((0, Vec::new()), |(part, shaped)| (part.cut, shaped));
    let font = &cuts[script_run.cut].font;
    let mut pen = 0.0;
    let mut ink = (f64::MAX, f64::MIN);
    let mut top = 0.0_f64;
    for glyph in &letters {
        if let Some(bounds) = font.glyph_bounds(glyph.id) {
            top = top.max(-bounds.y0);
            ink = (ink.0.min(pen + glyph.x + bounds.x0), ink.1.max(pen + glyph.x + bounds.x1));
        }
        pen += glyph.advance;
    }
    let end = script_run.range.end;
    let rest = end + text[end..].len() - text[end..].trim_start_matches(' ').len();
    (ink.0 < ink.1).then(|| Initial {
        lines: drop_cap.lines.min(MOST_LINES),
        snug: drop_cap.snug,
        hangs: style.hanging && !text[..opening].contains(DASHES),
        rest,
        quote: CapPart { range: 0..opening, glyphs: quote, cut: quote_cut },
        // With the blank behind it: a word of one letter is a word of its own.
        letters: CapPart { range: opening..rest, glyphs: letters, cut: script_run.cut },
        ink,
        height: (!text[opening..].starts_with(char::is_uppercase)).then_some(top),
        goes_on: !passage.rtl && rest == end && text[end..].starts_with(char::is_alphanumeric),
    })
}

/// What the style asks for, and where the first letter stands in a paragraph that may have it.
fn opening(passage: &Passage, style: &Style) -> Option<(DropCap, usize)> {
    let drop_cap = style.drop_cap.filter(|cap| {
        cap.lines > 1 && cap.letters > 0 && !style.upright && !matches!(style.size, Size::EachLine(..))
    })?;
    let opening = passage.text.find(|letter: char| letter.is_alphanumeric())?;
    (passage.text[..opening].chars().count() <= MOST_SIGNS).then_some((drop_cap, opening))
}

/// The cut of the letters for the optical size of their own points.
pub fn own_cut(passage: &Passage, style: &Style, cuts: &mut Cuts<'_>) -> Option<usize> {
    let (drop_cap, opening) = opening(passage, style)?;
    let run = passage.script_runs.iter().find(|run| run.range.contains(&opening))?;
    let cap = cuts.list[run.cut].font.metrics().cap_height;
    let size = style.largest().max(f64::MIN_POSITIVE);
    cuts.drawn_for(run.cut, ems(drop_cap.lines, style.leading_at(size) / size, cap))
}

/// Its em in ems of the text, whose leading is so many of them: from the first line's capitals to the last one's baseline.
fn ems(lines: usize, leading: f64, cap: f64) -> f64 {
    let cap = cap.max(0.1);
    (lines.clamp(1, MOST_LINES) - 1) as f64 * leading / cap + 1.0
}

impl Initial {
    /// Its top at the cap height of the first line, its foot on the last line's baseline.
    pub fn fit(&self, cuts: &[Cut], leading: f64) -> Fitted {
        let font = &cuts[self.letters.cut].font;
        let cap = self.height.unwrap_or(font.metrics().cap_height).max(0.1);
        let em = ems(self.lines, leading, cap);
        let quote: f64 = self.quote.glyphs.iter().map(|glyph| glyph.advance).sum();
        let quote = if self.hangs { 0.0 } else { quote };
        let metrics = font.metrics();
        // How far lines stand in beside the ink between two heights, in ems of the initial.
        let beside = |top: f64, foot: f64| {
            let mut pen = 0.0;
            let mut edge = f64::MIN;
            for glyph in &self.letters.glyphs {
                edge = edge.max(pen + glyph.x + right_edge(font.outline(glyph.id), top, foot));
                pen += glyph.advance;
            }
            if edge > -1e9 { quote + (edge - self.ink.0) * em + GAP } else { 0.0 }
        };
        // Ink hardly under the foot is no tail.
        let others = beside(f64::MIN, metrics.descender * 0.5 / em);
        let tail = (leading - metrics.x_height - GAP) / em;
        let below = beside(tail.max(0.02), f64::MAX);
        let mut first = others;
        if self.goes_on {
            // From above the letter to the feet of the first line.
            let reached = beside(f64::MIN, -cap + (cap + metrics.descender * 0.5) / em);
            // A round letter leaves no room worth an uneven edge.
            if others - reached > LEAST_TUCK * em {
                first = reached.max(others - TUCK * em);
            }
        }
        let mut lines = [others; MOST_LINES];
        if self.snug {
            for (line, inset) in lines.iter_mut().enumerate().take(self.lines) {
                // From the capitals of a line to the feet of its letters.
                let baseline = -((self.lines - 1 - line) as f64 * leading);
                let feet = baseline + metrics.descender * 0.5;
                *inset = beside((baseline - metrics.cap_height) / em, feet / em).clamp(0.0, others.max(0.0));
            }
        }
        Fitted { em, first, beside: lines, below, quote }
    }

    /// The initial's runs, to stand in the first line. `em` and `leading` of the text, `measure`: millimetres.
    pub fn runs(
        &self,
        passage: &Passage,
        cuts: &[Cut],
        fitted: Fitted,
        (em, leading, measure): (f64, f64, f64),
    ) -> Vec<TextRun> {
        let drop = (self.lines - 1) as f64 * leading;
        let size = em * fitted.em;
        let width = (self.ink.1 - self.ink.0) * size;
        let left = if passage.rtl { measure - fitted.quote * em - width } else { fitted.quote * em };
        let run = |part: &CapPart, (size, mut pen, y): (f64, f64, f64)| {
            let CapPart { range, glyphs, cut } = part;
            let mut placed: Vec<Glyph> = Vec::with_capacity(glyphs.len());
            for (at, glyph) in glyphs.iter().enumerate() {
                let first = at == 0 || glyphs[at - 1].cluster != glyph.cluster;
                let start = glyph.cluster - range.start;
                let others = glyphs.iter().map(|other| other.cluster - range.start);
                let end = others.filter(|other| *other > start).min().unwrap_or(range.len());
                placed.push(Glyph {
                    id: glyph.id,
                    x: pen + glyph.x * size,
                    y: y + glyph.y * size,
                    advance: glyph.advance * size,
                    text: if first { start..end } else { 0..0 },
                });
                pen += glyph.advance * size;
            }
            let cut = &cuts[*cut];
            TextRun {
                turns: Vec::new(),
                font: cut.font.clone(),
                size: size * cut.scale,
                stretch: 1.0,
                glyphs: placed,
                text: passage.text[range.clone()].into(),
                sequence: Sequence { place: range.start as u32, end: RunEnd::Within },
                apart: 0,
            }
        };
        let mut runs = Vec::new();
        if !self.quote.glyphs.is_empty() {
            let advance: f64 = self.quote.glyphs.iter().map(|glyph| glyph.advance * em).sum();
            let x = if passage.rtl { left + width } else { left - advance };
            runs.push(run(&self.quote, (em, x, 0.0)));
        }
        runs.push(run(&self.letters, (size, left - self.ink.0 * size, drop)));
        runs
    }
}

/// How far right an outline reaches between two heights (y down).
fn right_edge(outline: &Path, top: f64, foot: f64) -> f64 {
    let points = outline.segments().flat_map(|part| (0..=16).map(move |step| part.eval(f64::from(step) / 16.0)));
    points.filter(|point| point.y >= top && point.y <= foot).map(|point| point.x).fold(f64::MIN, f64::max)
}

#[cfg(test)]
mod tests {
    use crate::typeset::laws::{WIDE, set, styled};
    use crate::typeset::{Align, DropCap, Leading, Size, Style};

    /// OpenType, registered axis `opsz`: the place on it is the size in points. The initial spans a line and its capitals:
    /// at 7 points, 8.4 from line to line, with Inter's capitals of 0.727 em, 7 · (1.2 / 0.727 + 1) = 18.6 points; in
    /// steps of half a point 18.5.
    #[test]
    fn an_initial_is_drawn_for_its_own_points() {
        let drop_cap = Some(DropCap { lines: 2, letters: 1, snug: false });
        let style = Style {
            size: Size::Fixed(7.0),
            leading: Leading::Times(1.2),
            drop_cap,
            ..styled("Inter", "en-GB", Align::Start)
        };
        let place = |style: &Style| {
            let block = set("“On the night the harbour froze, nobody slept", style, WIDE);
            let runs = block.lines.iter().flat_map(|line| &line.runs);
            runs.map(|run| (run.text.to_string(), run.font.coordinates().to_vec())).collect::<Vec<_>>()
        };
        let runs = place(&style);
        assert_eq!(runs.iter().map(|(text, _)| text.as_str()).collect::<Vec<_>>()[..2], ["“", "O"], "{runs:?}");
        let size = |at: usize| runs[at].1.iter().find(|(tag, _)| tag == b"opsz").map(|(_, size)| *size);
        assert_eq!((size(0), size(1), size(2)), (Some(14.0), Some(18.5), Some(14.0)));
        // Named outright it is one for all.
        let named = Style { axes: vec![(*b"opsz", 20.0)], ..style };
        assert!(place(&named).iter().all(|(_, place)| place.contains(&(*b"opsz", 20.0))));
    }
}
