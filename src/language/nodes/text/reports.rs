//! Reports: what came out of the setting of a text otherwise than it was asked for.

use crate::cover::{Baselines, Pen, TypeStyle};
use crate::ground::{MM_PER_PT, Rect, Severity, number};
use crate::language::nodes::text::settings::{SLACK, TextSetting};
use crate::typeset::{Block, Lack, SignsSet, Size, lacks_patterns};

/// How far a size may shrink in what we advise: further down, other words or another frame are the better way.
const LEAST_SHARE: f64 = 0.75;
/// Em of a blank that shows as a hole. Common practice, from memory: a quarter is usual and a half the most.
const HOLE: f64 = 0.4;

/// Words that do not fit, and what a style asks for that they cannot have.
pub fn of_fit(setting: &TextSetting, block: &Block, pen: &Pen<'_>) {
    signs(setting, pen);
    setting.note_size(block, pen);
    let TextSetting { copy, style, .. } = setting;
    let help = |otherwise: &str| match style.style.size {
        Size::Between(least, _) | Size::EachLine(least, _) => {
            format!("they were set at the least size, {} pt; shorten them or give them room", number(least))
        }
        Size::Fixed(size) => format!("{otherwise}, or let the size adjust: {}", between(size)),
    };
    if let Some(over) = block.overmatter {
        let lines = if over.lines == 1 { "line" } else { "lines" };
        let message = format!("the words stand over by {} {lines}, {}", over.lines, past(over.mm));
        let help = help("shorten them, give them room");
        pen.report(Severity::Error, "overmatter", message, help);
    }
    if block.overwide > 0.0 {
        let message = format!("a word is wider than its frame by {}", past(block.overwide));
        let help = help("hyphenate it, widen the frame");
        pen.report(Severity::Error, "overmatter", message, help);
    }
    if block.unreached != 0 {
        let which = if block.unreached < 0 { "fewer" } else { "more" };
        let (asked, left) = (style.style.more_lines.abs(), block.unreached.abs());
        let message = match asked - left {
            0 => format!("these words cannot be set in {asked} {} {which}", lines_of(asked)),
            had => format!("of {asked} lines {which} that are asked for, {had} can be had"),
        };
        let help = "change a word, let blanks give more with `word-space`, or take `lines` away";
        pen.report(Severity::Warning, "language", message, help);
    }
    if style.style.drop_cap.is_some() && !block.initial && !block.lines.is_empty() {
        let help = match style.style.size {
            Size::EachLine(..) => "lines that each find their own size have none; leave `drop-cap` out",
            _ if style.style.upright => {
                "lines from head to foot have none; set the first letter larger, `letter \"…\" only=1 { size percent=200 }`"
            }
            _ => "joined scripts have none, nor has a text that begins with many signs; leave `drop-cap` out",
        };
        pen.report(Severity::Warning, "language", "these words cannot begin with a drop cap", help);
    }
    let chosen = copy.text().matches('\n').count() + 1;
    if style.chosen_breaks && chosen > 1 && block.lines.len() > chosen {
        let message = format!("a chosen line is too wide: {chosen} lines became {}", block.lines.len());
        let help = help("widen the frame, choose other breaks in the book's `lines`");
        pen.report(Severity::Warning, "language", message, help);
    }
}

/// Millimetres beyond what there is, as a sum that is never nothing.
fn past(mm: f64) -> String {
    if mm < 0.05 { "less than 0.1 mm".to_owned() } else { format!("{mm:.1} mm") }
}

fn lines_of(count: i32) -> &'static str {
    if count == 1 { "line" } else { "lines" }
}

/// Words that take the height they need may take more than the panel has.
pub fn off_the_panel(frame: Rect, block: &Block, size: Size, pen: &Pen<'_>) {
    let foot = pen.region.rect.y1;
    if block.overmatter.is_some() || pen.region.inner || frame.y0 >= foot || frame.y1 <= foot + SLACK {
        return;
    }
    let lines = block.lines.iter().filter(|line| frame.y0 + line.baseline > foot).count().max(1);
    let unit = if lines == 1 { "line" } else { "lines" };
    let by = past(frame.y1 - foot);
    let message = format!("the words run off the foot of `{}` by {lines} {unit}, {by}", pen.region.name);
    let help = match size {
        Size::Between(..) | Size::EachLine(..) => {
            "shorten them, or say where they end, with `bottom` or `above`".to_owned()
        }
        Size::Fixed(size) => format!(
            "shorten them, or say where they end, with `bottom` or `above`, and let the size adjust: {}",
            between(size)
        ),
    };
    pen.report(Severity::Error, "overmatter", message, help);
}

/// Signs that are printed otherwise than they were typed.
fn signs(setting: &TextSetting, pen: &Pen<'_>) {
    let SignsSet { quotes, dashes, spaces } = setting.signs;
    let kinds = [
        (quotes, "quotation mark", "quotation marks"),
        (dashes, "dash or ellipsis", "dashes and ellipses"),
        (spaces, "blank", "blanks"),
    ];
    let set = kinds.into_iter().filter(|(count, ..)| *count > 0).map(|(count, one, more)| match count {
        1 => format!("1 {one}"),
        count => format!("{count} {more}"),
    });
    let set: Vec<String> = set.collect();
    if !set.is_empty() {
        let message = format!("printed as `{}` has them: {}", setting.style.style.language, set.join(", "));
        let help = "read the words once more as they are printed; `signs none` leaves them as they are typed";
        pen.report(Severity::Note, "signs-set", message, help);
    }
}

pub fn of_setting(style: &TypeStyle, block: &Block, pen: &Pen<'_>) {
    loose(block, pen);
    unhyphenated(style, block, pen);
    for lack in &block.lacks {
        lacking(*lack, &style.style.family, pen);
    }
    for touch in &block.touching {
        let (left, right) = touch.pair;
        let message = format!("the ink of `{left}{right}` meets in {:?}", style.style.family);
        let help = format!("write `kern \"{left}{right}\" {}`", touch.kern);
        pen.report(Severity::Warning, "letters-touch", message, help);
    }
}

/// Justified lines whose word spaces are wider than the style allows, and so wide that they show.
fn loose(block: &Block, pen: &Pen<'_>) {
    for number in &block.loose {
        let Some(line) = number.checked_sub(1).and_then(|at| block.lines.get(at)) else { continue };
        let blanks = line.runs.iter().flat_map(|run| {
            let blank = |glyph: &&crate::assets::Glyph| run.text.get(glyph.text.clone()) == Some(" ");
            run.glyphs.iter().filter(blank).map(|glyph| glyph.advance / run.size).filter(|em| *em > 0.0)
        });
        let widest = blanks.fold(0.0, f64::max);
        if widest < HOLE {
            continue;
        }
        let message = format!("line {number} is set loose: its word spaces are {widest:.2} em wide");
        let help = "hyphenate, `hyphenate #true`; change a word of the paragraph, or the width; or write `align left`";
        pen.report(Severity::Warning, "loose-line", message, help);
    }
}

/// Copy of several lines that should be hyphenated, in a language that we have no patterns for.
fn unhyphenated(style: &TypeStyle, block: &Block, pen: &Pen<'_>) {
    let language = &style.style.language;
    if !style.style.hyphenation.on
        || block.lines.len() < 2
        || style.style.patterns.is_some()
        || !lacks_patterns(language)
    {
        return;
    }
    let severity = if style.hyphenate == Some(true) { Severity::Warning } else { Severity::Note };
    let message = format!("there are no hyphenation patterns for `{language}`: no word is hyphenated");
    let help = "bring patterns, `hyphenation \"…\" file=\"…\"` in `type`; or put soft hyphens (`&shy;` in Markdown) into long words; \
        or write `hyphenate #false`";
    pen.report(severity, "no-hyphenation", message, help);
}

fn lacking(lack: Lack, family: &str, pen: &Pen<'_>) {
    let (message, help) = match lack {
        Lack::Emphasis => (
            format!("{family:?} has no italic: emphasis is set like the words around it"),
            "take another family, or the marks of emphasis out of the copy".to_owned(),
        ),
        Lack::Strong => (
            format!("{family:?} has no bolder weight: strong words are set like those around them"),
            "take another family or a lighter weight, or the marks out of the copy".to_owned(),
        ),
        Lack::SmallCaps => (
            format!("{family:?} has no small capitals: its capitals are scaled"),
            "they look thin beside the others: take another family, or `case upper` at a smaller size".to_owned(),
        ),
        Lack::Axis(tag) => {
            let tag = String::from_utf8_lossy(&tag).into_owned();
            (format!("{family:?} has no axis {tag:?}: it changes nothing"), "leave it out of `axis`".to_owned())
        }
        Lack::Feature(tag) => {
            let tag = String::from_utf8_lossy(&tag).into_owned();
            (format!("{family:?} has no feature {tag:?}: it changes nothing"), "leave it out of `features`".to_owned())
        }
    };
    let severity = if lack == Lack::SmallCaps { Severity::Note } else { Severity::Warning };
    pen.report(severity, "face-missing", message, help);
}

/// Reports lines that leave the panel's baselines after the first.
pub fn leaves(lines: Baselines, block: &Block, pen: &Pen<'_>) {
    if let [first, second, ..] = &block.lines[..] {
        let steps = (second.baseline - first.baseline) / lines.step;
        if (steps - steps.round()).abs() > 0.01 || steps < 0.5 {
            let leading = number((second.baseline - first.baseline) / MM_PER_PT);
            let message = format!("a leading of {leading} pt leaves the panel's baselines after the first line");
            let help = format!("write `leading {}`, or change the baselines", number(lines.step / MM_PER_PT));
            pen.report(Severity::Warning, "language", message, help);
        }
    }
}

/// A range of sizes that ends with the one that was asked for.
pub fn between(size: f64) -> String {
    let least = (size * LEAST_SHARE * 2.0).round() / 2.0;
    format!("`size between {} {}`", number(least), number(size))
}
