//! Text to runs of one cut, script and direction.

use crate::assets::{Font, Library};
use crate::ground::right_to_left;
use crate::typeset::{
    block::Lack,
    case::upper,
    clean::CHOSEN_BREAK,
    copy::{Paragraph, Phrase},
    marks::is_combining_mark,
    optical::{OPTICAL_SIZE, optical_size},
    script::{Script, script_of},
    shape::{Cut, ScriptRun},
    sought::parts,
    stance::Stance,
    style::{Case, Style},
    upright::stood,
};
use std::ops::Range;
use std::sync::Arc;
use unicode_bidi::{BidiInfo, Direction, ParagraphBidiInfo, get_base_direction};

pub use unicode_bidi::Level;

/// A paragraph's text as it will be shown, and its runs in logical order. Chosen breaks belong to none.
#[derive(Clone, Debug, Default)]
pub struct Passage {
    pub text: String,
    pub script_runs: Vec<ScriptRun>,
    pub rtl: bool,
    /// Letters and words that the style sets apart, by their numbers from 1.
    pub apart: Vec<(Range<usize>, u16)>,
}

impl Passage {
    /// The runs from the one that a byte lies in, or that follows it.
    pub fn runs_from(&self, at: usize) -> impl Iterator<Item = &ScriptRun> {
        self.script_runs[self.script_runs.partition_point(|run| run.range.end <= at)..].iter()
    }
}

/// The cuts that a text needs, each once.
pub struct Cuts<'a> {
    pub library: &'a Library,
    pub style: &'a Style,
    pub list: Vec<Cut>,
    pub lacks: Vec<Lack>,
    /// The size for which optical sizes are taken, in points.
    points: f64,
    keys: Vec<CutKey>,
    /// How often each of what the style sets apart has been met.
    met: Vec<usize>,
}

#[derive(Clone, Copy, PartialEq)]
struct CutKey {
    italic: bool,
    strong: bool,
    small: Small,
    /// Which of what the style sets apart is shaped by itself.
    apart: u16,
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

impl<'a> Cuts<'a> {
    pub fn new(library: &'a Library, style: &'a Style, points: f64) -> Cuts<'a> {
        let (list, lacks, keys, met) = (Vec::new(), Vec::new(), Vec::new(), Vec::new());
        Cuts { library, style, list, lacks, points, keys, met }
    }

    /// The style's own face, emphasised or strong.
    pub fn font(&self, emphasis: bool, strong: bool) -> Option<Arc<Font>> {
        self.font_sized(emphasis, strong, 1.0)
    }

    fn font_sized(&self, emphasis: bool, strong: bool, scale: f64) -> Option<Arc<Font>> {
        let weight = match (strong, self.style.weight) {
            (false, weight) => weight,
            // What CSS calls bolder, but always a step that the eye sees.
            (true, ..550) => 700,
            (true, _) => 900,
        };
        self.font_at(emphasis, (strong, weight), scale)
    }

    /// The same at so many times the size of the text.
    fn font_at(&self, emphasis: bool, (strong, weight): (bool, u16), scale: f64) -> Option<Arc<Font>> {
        let axes = self.style.axes.iter().filter(|(tag, _)| !strong || tag != b"wght").copied();
        let place: Vec<_> = std::iter::once((OPTICAL_SIZE, optical_size(self.points * scale))).chain(axes).collect();
        self.library.find_at(&self.style.family, weight, self.style.italic != emphasis, &place)
    }

    fn of(&mut self, phrase: &Phrase, small: Small, owner: u16) -> Option<usize> {
        let own = usize::from(owner).checked_sub(1).and_then(|at| self.style.apart.get(at));
        let own = own.filter(|apart| apart.own_cut());
        let apart = if own.is_some() { owner } else { 0 };
        let key = CutKey { italic: phrase.emphasis, strong: phrase.strong, small, apart };
        if let Some(at) = self.keys.iter().position(|known| *known == key) {
            return Some(at);
        }
        let font = self.font_sized(key.italic, key.strong, own.map_or(1.0, |own| own.scale))?;
        self.compare(&font, key)?;
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
        if let Some(own) = own {
            features.extend_from_slice(&own.features);
            scale *= own.scale;
        }
        self.list.push(Cut { font, scale, features });
        self.keys.push(key);
        Some(self.list.len() - 1)
    }

    /// A cut as it is drawn for so many times its size; `None` where that is the same drawing.
    pub fn drawn_for(&mut self, cut: usize, times: f64) -> Option<usize> {
        let key = *self.keys.get(cut)?;
        let own = usize::from(key.apart).checked_sub(1).and_then(|at| self.style.apart.get(at));
        let font = self.font_sized(key.italic, key.strong, own.map_or(1.0, |own| own.scale) * times)?;
        let known = &self.list[cut];
        if font.coordinates() == known.font.coordinates() {
            return None;
        }
        self.list.push(Cut { font, ..known.clone() });
        self.keys.push(key);
        Some(self.list.len() - 1)
    }
}

impl Cuts<'_> {
    /// Notes what a font has not that a cut asks of it.
    fn compare(&mut self, font: &Font, key: CutKey) -> Option<()> {
        let plain = self.font(key.italic, false)?;
        let own = usize::from(key.apart).checked_sub(1).and_then(|at| self.style.apart.get(at));
        let asked = self.style.features.iter().chain(own.into_iter().flat_map(|own| &own.features));
        let features = asked.filter(|(tag, value)| *value > 0 && !font.has_feature(*tag));
        let found = [
            (key.italic && font.italic() == self.style.italic).then_some(Lack::Emphasis),
            (key.strong && font.weight() == plain.weight()).then_some(Lack::Strong),
            (key.small == Small::Scaled).then_some(Lack::SmallCaps),
        ];
        let axes = font.axes();
        let absent = |tag: &[u8; 4]| !axes.iter().any(|axis| axis.tag == *tag);
        let places = self.style.axes.iter().filter(|(tag, _)| absent(tag)).map(|(tag, _)| Lack::Axis(*tag));
        for lack in found.into_iter().flatten().chain(features.map(|(tag, _)| Lack::Feature(*tag))).chain(places) {
            if !self.lacks.contains(&lack) {
                self.lacks.push(lack);
            }
        }
        Some(())
    }
}

/// `None` when the family is not known.
pub fn itemise(paragraph: &Paragraph, cuts: &mut Cuts<'_>) -> Option<Passage> {
    let mut text = String::new();
    // Where each cut takes over.
    let mut spans: Vec<(Range<usize>, usize)> = Vec::new();
    let mut apart: Vec<(Range<usize>, u16)> = Vec::new();
    for (phrase, letters, owner) in parts(paragraph, cuts.style, &mut cuts.met) {
        let plain = cuts.of(phrase, Small::No, owner)?;
        let small = phrase.small_caps || cuts.style.case == Case::SmallCaps;
        let small = match small {
            false => plain,
            true if cuts.list[plain].font.has_feature(*b"smcp") => cuts.of(phrase, Small::Drawn, owner)?,
            true => cuts.of(phrase, Small::Scaled, owner)?,
        };
        let scaled = small != plain && !cuts.list[small].features.contains(&(*b"smcp", 1));
        let start = text.len();
        let mut add = |words: &str, cut: usize| {
            let start = text.len();
            text.push_str(words);
            match spans.last_mut() {
                Some((span, last)) if *last == cut => span.end = text.len(),
                _ => spans.push((start..text.len(), cut)),
            }
        };
        let language = &cuts.style.language;
        match (cuts.style.case, scaled) {
            (Case::Upper, _) => add(&letters, plain),
            (_, false) => add(&letters, small),
            (_, true) => {
                let mut rest = letters.as_str();
                while let Some(first) = rest.chars().next() {
                    let lower = first.is_lowercase();
                    let same = |letter: char| letter.is_lowercase() == lower || is_combining_mark(letter);
                    let end = rest.find(|letter| !same(letter)).unwrap_or(rest.len());
                    let (words, after) = rest.split_at(end);
                    if lower {
                        add(&upper(words, language), small);
                    } else {
                        add(words, plain);
                    }
                    rest = after;
                }
            }
        }
        if owner > 0 {
            apart.push((start..text.len(), owner));
        }
    }
    let levels = levels(&text, &cuts.style.language);
    let rtl = levels.as_ref().is_some_and(|(base, _)| base.is_rtl());
    let script_runs = script_runs(&text, &spans, levels.as_ref().map(|(_, levels)| levels.as_slice()));
    let script_runs = if cuts.style.upright { stood(&text, &script_runs) } else { script_runs };
    Some(Passage { text, script_runs, rtl, apart })
}

/// The paragraph's level and each byte's, by UAX #9; `None` where all runs from left to right.
pub fn levels(text: &str, language: &str) -> Option<(Level, Vec<Level>)> {
    let rtl_language = right_to_left(language);
    // The first right-to-left letters stand at U+0590; bidi controls above U+2000.
    if !rtl_language && text.chars().all(|letter| letter < '\u{590}' || ('\u{2010}'..='\u{2027}').contains(&letter)) {
        return None;
    }
    // Without a letter of either direction the language decides.
    let base = (rtl_language && get_base_direction(text) == Direction::Mixed).then(Level::rtl);
    levels_from(text, base)
}

/// The same with the paragraph's level given, or taken from its first letter that has one.
pub fn levels_from(text: &str, base: Option<Level>) -> Option<(Level, Vec<Level>)> {
    let info = ParagraphBidiInfo::new(text, base);
    (info.paragraph_level.is_rtl() || info.has_rtl()).then(|| (info.paragraph_level, info.levels.clone()))
}

/// Signs that every script uses go with the letters before them. In a part that runs leftwards they go with letters that
/// run so, too, or the marks that quote a Latin word would be of two drawings.
pub fn script_runs(text: &str, spans: &[(Range<usize>, usize)], levels: Option<&[Level]>) -> Vec<ScriptRun> {
    let mut last = text.chars().find_map(script_of).unwrap_or(Script::Latin);
    let leftwards = |at: usize| levels.is_some_and(|levels| levels[at].is_rtl());
    let mut last_leftwards =
        text.char_indices().find_map(|(at, letter)| script_of(letter).filter(|_| leftwards(at))).unwrap_or(last);
    let mut runs: Vec<ScriptRun> = Vec::new();
    for (span, cut) in spans {
        for (at, letter) in text[span.clone()].char_indices() {
            let at = span.start + at;
            if letter == CHOSEN_BREAK {
                continue;
            }
            let script = match (script_of(letter), leftwards(at)) {
                (Some(script), _) => script,
                (None, true) => last_leftwards,
                (None, false) => last,
            };
            if script_of(letter).is_some() {
                last = script;
                if leftwards(at) {
                    last_leftwards = script;
                }
            }
            let level = levels.map_or(0, |levels| levels[at].number());
            let end = at + letter.len_utf8();
            match runs.last_mut() {
                Some(run) if run.range.end == at && run.cut == *cut && run.script == script && run.level == level => {
                    run.range.end = end;
                }
                _ => runs.push(ScriptRun { range: at..end, cut: *cut, script, level, stance: Stance::Along }),
            }
        }
    }
    runs
}

/// The runs of a line from left to right, by their places in logical order (UAX #9, L2).
pub fn visual_order(script_runs: &[ScriptRun]) -> Vec<usize> {
    let levels: Vec<Level> =
        script_runs.iter().map(|script_run| Level::new(script_run.level).unwrap_or(Level::ltr())).collect();
    BidiInfo::reorder_visual(&levels)
}
