//! Settings: the ways in which a text may be set, tried in their order until the words fit.

use crate::cover::{Bench, FoundSize, Limit, Open, Pen, TypeStyle};
use crate::ground::Ink;
use crate::language::context::Context;
use crate::language::fillings::NONE;
use crate::language::headword::WHEN;
use crate::language::nodes::style::{find, style_words, usual};
use crate::language::nodes::text::copy::{copy, keep_whole, one_letter_a_line};
use crate::language::nodes::text::words::{COPY, LINES_OVER, OTHERWISE, STYLE, WORDS};
use crate::language::stated::is_stated;
use crate::language::words::facts_in;
use crate::scene::Origin;
use crate::source::{Datum, Reader, Value};
use crate::typeset::{
    Align, Block, Copy, Edges, MOST_LETTERS, Room, SignsSet, Size, Style, Unset, has_upright, set_signs,
};
use std::sync::Arc;

/// Numbers of millimetres closer than this are one to the eye and to the setter.
pub const SLACK: f64 = 0.01;

pub struct Settings {
    /// One at least.
    all: Vec<TextSetting>,
    /// Their lines run from head to foot, with letters upright in them.
    pub upright: bool,
    /// They are centred by their letters, and all their ink is to stay within the frame.
    pub ink_within: bool,
}

/// How letters stand where they do not stand along the line.
#[derive(Clone, Copy, PartialEq)]
enum Upright {
    No,
    /// One under the other, each a line of its own.
    OneByOne,
    /// As East Asia has them.
    InLines,
}

pub struct TextSetting {
    pub copy: Copy,
    pub style: TypeStyle,
    pub ink: Ink,
    /// Signs that are printed otherwise than they were typed.
    pub signs: SignsSet,
    /// It takes the place of the setting before when that needs more lines.
    lines_over: Option<usize>,
}

impl Settings {
    /// Takes words and style off a text, and off every `otherwise` in it.
    ///
    /// `upright` as it is stated, or for words that need it where the spine reads so.
    pub fn read(reader: &Reader<'_>, context: &Context<'_>, upright: Option<bool>, spine: bool) -> Option<Settings> {
        let style = styled(reader, context, usual(context.facts));
        let own = copy(reader, context, style.chosen_breaks);
        let needed = || spine && own.as_ref().is_some_and(|copy| has_upright(&copy.text()));
        let upright = match (upright.unwrap_or_else(needed), spine) {
            (true, _) => Upright::InLines,
            (false, true) => Upright::OneByOne,
            (false, false) => Upright::No,
        };
        let more: Vec<TextSetting> = reader
            .children(&OTHERWISE)
            .iter()
            .filter_map(|word| otherwise(word, reader, context, &style, own.as_ref(), upright))
            .collect();
        let mut settings = vec![TextSetting::of(reader, context, own?, style, upright)?];
        settings.extend(more);
        let mut settings = Settings { all: settings, upright: upright == Upright::InLines, ink_within: false };
        settings.keep_alike(reader, context);
        Some(settings)
    }

    /// Kept to the size that all covers of the series have for elements of this name.
    fn keep_alike(&mut self, reader: &Reader<'_>, context: &Context<'_>) {
        let name = reader.node.values.first().map(|value| &value.datum);
        let Some(Datum::Text(name)) = name else { return };
        for TextSetting { style, .. } in &mut self.all {
            style.style.at_most = style.alike.and_then(|asked| {
                let asked = context.desk.files.path(asked.file)?;
                context.desk.alike.get(&(asked, context.region.name, name.clone())).copied()
            });
        }
    }

    pub fn styles(&self) -> impl Iterator<Item = &Style> {
        self.all.iter().map(|setting| &setting.style.style)
    }

    /// Whether a setting leaves its letters open and draws nothing around them.
    pub fn shows_nothing(&self) -> bool {
        self.all.iter().any(|setting| setting.style.lettering.hollow && !setting.style.lettering.shows_beside())
    }

    /// Made ready to follow a line: no drop cap, no columns, and on an oval in its middle.
    pub fn follow(&mut self, centred: bool) {
        self.upright = false;
        for setting in &mut self.all {
            setting.style.style.upright = false;
            setting.style.style.drop_cap = None;
            setting.style.style.columns = Style::default().columns;
            if centred {
                setting.style.style.align = Align::Centre;
            }
        }
    }

    /// The first that fits on a line of so many millimetres, or the last, and its words as set. Lines that the author chose
    /// lie side by side.
    pub fn on_line(&self, length: f64, bench: &Bench<'_>) -> Option<(&TextSetting, Arc<Block>)> {
        let open = Open { width: Limit::Fixed(length), height: Limit::Most(f64::INFINITY) };
        let mut chosen = None;
        for setting in &self.all {
            let lines = setting.copy.text().lines().filter(|line| !line.trim().is_empty()).count().max(1);
            let block = setting.set(open, Some(lines), bench)?;
            let fits = block.overmatter.is_none() && block.overwide <= 0.0;
            chosen = Some((setting, block));
            if fits {
                break;
            }
        }
        chosen
    }

    /// The first that fits, or the last, and its words as set.
    pub fn choose(&self, open: Open, bench: &Bench<'_>) -> Option<(&TextSetting, Arc<Block>)> {
        let most = open.height.most() + SLACK;
        let mut chosen = None;
        for (at, setting) in self.all.iter().enumerate() {
            let next = self.all.get(at + 1);
            let lines = next.and_then(|next| next.lines_over);
            let set = |style: &Style| setting.set_in(style, open, lines, bench);
            let style = &setting.style.style;
            let block = if self.ink_within { within::ink_within(style, most, &set) } else { set(style) }?;
            let ink_fits = !self.ink_within || within::ink_share(&block, most) >= 1.0;
            let fits = block.overmatter.is_none() && block.overwide <= 0.0 && block.height <= most && ink_fits;
            chosen = Some((setting, block));
            if fits {
                break;
            }
        }
        chosen
    }
}

/// The style that a text or an `otherwise` names, or else one that it begins with; then its words of style.
fn styled(reader: &Reader<'_>, context: &Context<'_>, from: TypeStyle) -> TypeStyle {
    let mut style = match reader.text_property(&STYLE) {
        Some(name) => find(reader, context.facts, &name),
        None => from,
    };
    style_words(reader, &mut style, (&context.facts.palette, &context.desk));
    style
}

/// Another setting; none where the book lacks a fact that it names.
fn otherwise(
    word: &Reader<'_>,
    text: &Reader<'_>,
    context: &Context<'_>,
    from: &TypeStyle,
    own: Option<&Copy>,
    upright: Upright,
) -> Option<TextSetting> {
    let style = styled(word, context, from.clone());
    let lines_over = word.number_property(&LINES_OVER).map(|lines| lines.value as usize);
    let asked = word.property(&WHEN).is_none_or(|fact| is_stated(fact, context));
    let said = [word.property(&WORDS), word.property(&COPY)];
    let lacks = |value: &&Value| match &value.datum {
        Datum::Text(words) => !facts_in(words).into_iter().all(|fact| {
            let fact = Value { datum: Datum::Text(fact.to_owned()), unit: None, span: value.span };
            is_stated(&fact, context)
        }),
        _ => false,
    };
    if !asked || said.iter().flatten().any(lacks) {
        return None;
    }
    let copy = if said.iter().any(Option::is_some) {
        copy(word, context, style.chosen_breaks)?
    } else if text.property(&WORDS).is_some() {
        // Once more, since this style may ask for other breaks.
        copy(text, context, style.chosen_breaks)?
    } else {
        own?.clone()
    };
    Some(TextSetting { lines_over, ..TextSetting::of(word, context, copy, style, upright)? })
}

impl TextSetting {
    fn of(
        reader: &Reader<'_>,
        context: &Context<'_>,
        mut copy: Copy,
        mut style: TypeStyle,
        upright: Upright,
    ) -> Option<TextSetting> {
        let phrases = || copy.paragraphs.iter().flat_map(|paragraph| &paragraph.phrases);
        let letters = phrases().map(|phrase| phrase.text.chars().count()).sum();
        if letters > MOST_LETTERS {
            let place = reader.node.values.first().map_or(reader.node.span, |name| name.span);
            let message = format!("a text of {letters} letters is not cover copy; the limit is {MOST_LETTERS}");
            reader.error(place, message, "shorten it: a back cover has 2000; or divide it");
            return None;
        }
        if !context.counts_letters(letters, reader.node.span) {
            return None;
        }
        let signs = set_signs(&mut copy, style.signs, &style.style.language);
        style.style.patterns = context.facts.patterns_for(&style.style.language);
        for phrase in copy.paragraphs.iter_mut().flat_map(|paragraph| &mut paragraph.phrases) {
            keep_whole(&mut phrase.text, &style.keep_whole);
        }
        if style.style.drop_cap.is_some() {
            copy.small_caps_first(style.small_caps_after);
        }
        match upright {
            Upright::No => {}
            Upright::OneByOne => {
                copy = one_letter_a_line(&copy);
                style.style.align = Align::Centre;
            }
            Upright::InLines => {
                style.style.upright = true;
                style.style.edges = Edges::Font;
            }
        }
        let palette = &context.facts.palette;
        let tinted = match style.swatch.value.as_str() {
            NONE => Ink::PAPER,
            _ => palette.ink(&mut reader.findings().borrow_mut(), &style.swatch).tinted(style.percent),
        };
        let solid_black = tinted.is_black() && tinted.total() >= 1.0;
        let ink = Ink {
            overprint: style.overprint.unwrap_or(solid_black && !style.lettering.shows_beside() || tinted.overprint),
            ..tinted
        };
        Some(TextSetting { copy, style, ink, signs, lines_over: None })
    }

    fn set(&self, open: Open, lines: Option<usize>, bench: &Bench<'_>) -> Option<Arc<Block>> {
        self.set_in(&self.style.style, open, lines, bench)
    }

    fn set_in(&self, style: &Style, open: Open, lines: Option<usize>, bench: &Bench<'_>) -> Option<Arc<Block>> {
        let between = matches!(self.style.style.size, Size::Between(..) | Size::EachLine(..));
        let height = match open.height {
            Limit::Fixed(height) => Some(height + SLACK),
            Limit::Most(most) if between && most.is_finite() => Some(most + SLACK),
            Limit::Most(_) => None,
        };
        let close = matches!(open.width, Limit::Most(_));
        let room = Room { width: open.width.most().clamp(0.0, 1e5) + SLACK, close, height, lines, holes: bench.holes };
        bench.typesetter.set(&self.copy, style, room).map_err(|unset| self.refuse(&unset, bench)).ok()
    }

    /// Notes the size of words that fit, for whoever holds the covers of a series side by side.
    pub fn note_size(&self, block: &Block, pen: &Pen<'_>) {
        let fits = block.overmatter.is_none() && block.overwide <= 0.0;
        if let (Some(found), Some(asked), true) = (pen.bench.found, self.style.alike, fits) {
            let Origin { panel, element, .. } = pen.origin();
            let (panel, element) = (*panel, element.clone());
            found.borrow_mut().push(FoundSize { asked, panel, element, points: block.size });
        }
    }

    fn refuse(&self, unset: &Unset, bench: &Bench<'_>) {
        let (message, help) = match unset {
            Unset::Family { wanted, .. } => {
                (format!("there is no font {wanted:?}"), "see the families with `jaconet explain type`".to_owned())
            }
            Unset::TooManyMarks { limit } => {
                let message = format!("a letter has more than {limit} combining marks, the limit for a text");
                (message, "take most of them away".to_owned())
            }
            Unset::TooLong { limit } => {
                (format!("a text of more than {limit} letters is not cover copy"), "shorten it".to_owned())
            }
        };
        bench.findings.borrow_mut().error(self.style.span, message, help);
    }
}

mod within;
