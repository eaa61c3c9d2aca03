//! `text`: words, set in a type style.
//!
//! ```kdl
//! text title words="{title}" style=title { left safe; right safe; top safe 20 }
//! text blurb copy="blurb.md" style=blurb {
//!     left safe 4; right safe 4; below title 8
//!     drop-cap lines=3 letters=1
//! }
//! text quote words="{quote}" when=quote style=quote { left safe; right safe; below blurb 4 }
//! ```
//!
//! - `words="…"`: words in line, with facts in braces. `copy="blurb.md"`: a Markdown file of paragraphs with *emphasis*,
//!   **strong**, line breaks and `<sc>small caps</sc>`; facts work there, too.
//! - `style=NAME`, and any word of style for this text alone: see `jaconet explain type`.
//! - Place: two of `left right width centre-x`, and of `top bottom height centre-y`. Words may leave their height, or
//!   their width, to themselves. `cap-top` hangs the capitals of the first line, `baseline` stands the first line, on
//!   a guide. `below above after before NAME GAP` measure from neighbours.
//! - `vertical head|middle|foot`: where the words stand in a frame higher than they need.
//! - `baselines`: the first line stands on the next of the panel's `baselines`, and all do if the leading is theirs.
//! - On a spine the words run as the panel `reads`; lines that run along it are centred between the folds by their
//!   letters, not by their boxes. In a group on a spine they run as on any panel: turn the group.
//! - `stand-in words=120` sets placeholder copy, which the press check refuses.
//! - Words that do not fit are an error that says by how many lines and millimetres; so is a word too long for its line.

use crate::cover::nodes::style::{find, style_words, usual};
use crate::cover::{
    Baselines, Bench, Context, Draw, FirstLine, Natural, Node, Open, Pen, Reading, Role, TypeStyle, fill_words,
};
use crate::ground::{Finding, Ink, MM_PER_PT, Rect, Severity, number};
use crate::scene::Kind;
use crate::source::Reader;
use crate::typeset::{Align, Block, Copy, Room, Size, Unset};
use std::sync::Arc;

pub const NODE: Node = Node { name: "text", source: include_str!("text.rs"), role: Role::Element(read) };

struct Text {
    copy: Copy,
    style: TypeStyle,
    ink: Ink,
    vertical: Vertical,
    baselines: Option<Baselines>,
    /// Centred between folds by the letters' heights.
    spine: bool,
}

#[derive(Clone, Copy, PartialEq)]
enum Vertical {
    Head,
    Middle,
    Foot,
}

/// Numbers of millimetres closer than this are one to the eye and to the setter.
const SLACK: f64 = 0.01;

fn read(reader: &Reader<'_>, context: &Context<'_>) -> Option<Arc<dyn Draw>> {
    let facts = context.facts;
    let mut style = match reader.text_property("style") {
        Some(name) => find(reader, facts, &name),
        None => usual(facts),
    };
    style_words(reader, &mut style, &context.desk);
    let mut copy = copy(reader, context, style.chosen_breaks)?;
    for words in copy.paragraphs.iter_mut().flat_map(|paragraph| &mut paragraph.words) {
        keep_whole(&mut words.text, &style.keep_whole);
    }
    // A group on a spine is a region of its own, as on any panel.
    let spine = context.region.spine && !context.region.inner;
    if spine && context.reading == Reading::Upright {
        copy = upright(&copy);
        style.style.align = Align::Centre;
    }
    let tinted = facts.palette.ink(&mut reader.findings().borrow_mut(), &style.swatch).tinted(style.percent);
    let solid_black = tinted.is_black() && tinted.total() >= 1.0;
    let ink = Ink { overprint: style.overprint.unwrap_or(solid_black || tinted.overprint), ..tinted };
    let vertical = match reader.child("vertical").and_then(|word| word.word("a place", &["head", "middle", "foot"])) {
        Some(word) if word.value == "middle" => Vertical::Middle,
        Some(word) if word.value == "foot" => Vertical::Foot,
        None if spine && matches!(context.reading, Reading::Down | Reading::Up) => Vertical::Middle,
        _ => Vertical::Head,
    };
    let baselines = reader.child("baselines").and_then(|word| {
        if context.region.baselines.is_none() {
            word.error(word.span(), "the panel has no baselines", "write `baselines 14.5 top=20` in this panel");
        }
        context.region.baselines
    });
    Some(Arc::new(Text { copy, style, ink, vertical, baselines, spine }))
}

fn copy(reader: &Reader<'_>, context: &Context<'_>, chosen: bool) -> Option<Copy> {
    let words = reader.text_property("words");
    let file = reader.text_property("copy");
    let stand_in = reader.child("stand-in");
    let book = &context.facts.book;
    let findings = reader.findings();
    match (words, file, stand_in) {
        (Some(words), None, None) => {
            if words.value.trim().is_empty() {
                reader.error(words.span, "these words are empty", "say something, or take the text away");
            }
            let text = fill_words(&mut findings.borrow_mut(), book, &words.value, words.span, chosen);
            Some(Copy::plain(&text))
        }
        (None, Some(path), None) => {
            let (file, text) = context.desk.text(&path)?;
            let text = fill_words(&mut findings.borrow_mut(), book, &text, path.span, false);
            Some(Copy::markdown(&mut findings.borrow_mut(), file, &text))
        }
        (None, None, Some(word)) => {
            let count = word.number_property("words").map_or(80.0, |count| count.value.clamp(1.0, 2000.0));
            let finding = Finding::new(Severity::Error, "stand-in-left", word.span(), "placeholder copy stands here")
                .help("put the true copy in its place before this goes to press");
            findings.borrow_mut().push(finding);
            Some(Copy::plain(&placeholder(count as usize)))
        }
        // One that was said and could not be read has been reported.
        (None, None, None) if reader.property("words").or(reader.property("copy")).is_some() => None,
        _ => {
            let message = "a text takes its words from one place";
            reader.error(reader.span(), message, "write `words=\"…\"`, or `copy=\"blurb.md\"`, or `stand-in words=80`");
            None
        }
    }
}

/// Words that look like prose and can be taken for nothing else.
fn placeholder(count: usize) -> String {
    const WORDS: [&str; 18] = [
        "here", "the", "words", "of", "the", "copy", "will", "stand", "as", "soon", "as", "somebody", "has", "written",
        "them", "and", "not", "before",
    ];
    let words: Vec<&str> = WORDS.iter().cycle().take(count).copied().collect();
    let mut text = words.join(" ");
    text.replace_range(..1, "H");
    text + "."
}

/// Marks words that may not part: a word joiner before the first letter tells the hyphenator so, and stays out of the
/// way of kerning and ligatures.
fn keep_whole(text: &mut String, whole: &[String]) {
    for word in whole.iter().filter(|word| !word.is_empty()) {
        let letter = |letter: Option<char>| letter.is_some_and(char::is_alphabetic);
        let found: Vec<usize> = text.match_indices(word.as_str()).map(|(at, _)| at).collect();
        // From the end, so that places before it stay true.
        for at in found.into_iter().rev() {
            let (before, after) = (text[..at].chars().next_back(), text[at + word.len()..].chars().next());
            if !letter(before) && !letter(after) {
                text.insert(at, '\u{2060}');
            }
        }
    }
}

/// One letter a line.
fn upright(copy: &Copy) -> Copy {
    let text = copy.text();
    let letters: Vec<String> = text
        .chars()
        .filter(|c| !c.is_control())
        .map(|c| if c == ' ' { String::from('\u{a0}') } else { c.to_string() })
        .collect();
    Copy::plain(&letters.join("\n"))
}

impl Text {
    fn set(&self, room: Room, bench: &Bench<'_>) -> Option<Arc<Block>> {
        bench.typesetter.set(&self.copy, &self.style.style, room).map_err(|unset| self.refuse(&unset, bench)).ok()
    }

    fn refuse(&self, unset: &Unset, bench: &Bench<'_>) {
        let (message, help) = match unset {
            Unset::Family { wanted, .. } => {
                (format!("there is no font {wanted:?}"), "see the families with `jaconet explain type`".to_owned())
            }
            Unset::TooLong { limit } => {
                (format!("a text of more than {limit} letters is no cover copy"), "shorten it".to_owned())
            }
        };
        bench.findings.borrow_mut().error(self.style.span, message, help);
    }

    fn room(&self, open: Open) -> Room {
        let limit = |side: Result<f64, f64>| side.unwrap_or_else(|most| most);
        let between = matches!(self.style.style.size, Size::Between(..));
        let height = match open.height {
            Ok(height) => Some(height + SLACK),
            Err(most) if between && most.is_finite() => Some(most + SLACK),
            Err(_) => None,
        };
        Room { width: limit(open.width).clamp(0.0, 1e5) + SLACK, height, lines: None }
    }
}

impl Text {
    /// Where the block begins so that its first line stands on the panel's baselines.
    fn lined_up(lines: Baselines, top: f64, block: &Block, pen: &Pen<'_>) -> f64 {
        if let [first, second, ..] = &block.lines[..] {
            let steps = (second.baseline - first.baseline) / lines.step;
            if (steps - steps.round()).abs() > 0.01 || steps < 0.5 {
                let leading = number((second.baseline - first.baseline) / MM_PER_PT);
                let message = format!("a leading of {leading} pt leaves the panel's baselines after the first line");
                let help = format!("write `leading {}`, or change the baselines", number(lines.step / MM_PER_PT));
                pen.report(Severity::Warning, "language", message, help);
            }
        }
        lines.next(top + block.first_baseline) - block.first_baseline
    }

    /// Words that take the height they need may take more than the panel has.
    fn off_the_panel(&self, frame: Rect, block: &Block, pen: &Pen<'_>) {
        let foot = pen.region.rect.y1;
        if block.overmatter.is_some() || pen.region.inner || self.spine || frame.y0 >= foot || frame.y1 <= foot + SLACK
        {
            return;
        }
        let lines = block.lines.iter().filter(|line| frame.y0 + line.baseline > foot).count().max(1);
        let unit = if lines == 1 { "line" } else { "lines" };
        let message =
            format!("the words run off the foot of `{}` by {lines} {unit}, {:.1} mm", pen.region.name, frame.y1 - foot);
        let help = "shorten them, or say where they end, with `bottom` or `above`, and let the size find itself: `size between 9 11`";
        pen.report(Severity::Error, "overmatter", message, help);
    }
}

impl Draw for Text {
    fn kind(&self) -> Kind {
        Kind::Text
    }

    fn natural(&self, room: Open, bench: &Bench<'_>) -> Natural {
        // Empty words have been reported, or are the author's own: they keep the place of a letter.
        let least = MM_PER_PT;
        self.set(self.room(room), bench).map_or(Natural::default(), |block| Natural {
            width: Some(block.width.max(least)),
            height: Some(block.height.max(least)),
        })
    }

    fn first_line(&self, room: Open, bench: &Bench<'_>) -> Option<FirstLine> {
        let block = self.set(self.room(room), bench)?;
        Some(FirstLine { cap_top: block.cap_top, baseline: block.first_baseline })
    }

    fn draw(&self, frame: Rect, pen: &mut Pen<'_>) {
        let room = Room { width: frame.width() + SLACK, height: Some(frame.height() + SLACK), lines: None };
        let Some(block) = self.set(room, &pen.bench) else { return };
        let help = |otherwise: &str| match self.style.style.size {
            Size::Between(least, _) => {
                format!("they were set at the least size, {} pt; shorten them or give them room", number(least))
            }
            Size::Fixed(_) => otherwise.to_owned(),
        };
        if let Some(over) = &block.overmatter {
            let lines = if over.lines == 1 { "line" } else { "lines" };
            let message = format!("the words stand over by {} {lines}, {:.1} mm", over.lines, over.mm);
            let help = help("shorten them, give them room, or let the size find itself: `size between 9 11`");
            pen.report(Severity::Error, "overmatter", message, help);
        }
        self.off_the_panel(frame, &block, pen);
        if block.overwide > 0.0 {
            let message = format!("a word is wider than its frame by {:.1} mm", block.overwide);
            let help = help("hyphenate it, widen the frame, or let the size find itself: `size between 9 11`");
            pen.report(Severity::Error, "overmatter", message, help);
        }
        if self.style.style.drop_cap.is_some() && !block.initial && !block.lines.is_empty() {
            let help =
                "joined scripts have none, nor has a text that begins with signs and a blank; leave `drop-cap` out";
            pen.report(Severity::Warning, "language", "these words cannot begin with a drop cap", help);
        }
        let spare = frame.height() - block.height;
        let y = match self.vertical {
            Vertical::Head => 0.0,
            Vertical::Foot => spare,
            Vertical::Middle if self.spine => frame.height() / 2.0 - letters_middle(&block, &self.copy),
            Vertical::Middle => spare / 2.0,
        };
        let y = self.baselines.map_or(y, |lines| Text::lined_up(lines, frame.y0 + y, &block, pen) - frame.y0);
        pen.block(&block, frame.x0, frame.y0 + y, &self.ink);
    }
}

/// The height at which the eye takes the words to be centred: halfway between baseline and capitals for capitals and
/// figures; between the middles of capitals and small letters where both stand.
fn letters_middle(block: &Block, copy: &Copy) -> f64 {
    let small = copy.text().chars().any(char::is_lowercase);
    let top = if small { f64::midpoint(block.cap_top, block.x_top) } else { block.cap_top };
    f64::midpoint(top, block.last_baseline)
}
