//! `type`: the type styles of the cover.
//!
//! ```kdl
//! type {
//!     style title { font "Playfair Display" weight=black; size 46; leading 44; swatch black; align centre }
//!     style blurb { font "EB Garamond"; size 11; leading 14.5; align justify; hyphenate #false }
//!     style quote like=blurb { font "EB Garamond" italic=#true }
//!     style spine like=title { size between 9 20; tracking 20; case upper }
//! }
//! ```
//!
//! Without a word a text is set in EB Garamond, 11 points, in solid black. Bundled families are Alegreya, Amiri, Barlow
//! Condensed, Bodoni Moda, Caveat, Dancing Script, EB Garamond, Frank Ruhl Libre, Inter, League Gothic, Libre Franklin,
//! Playfair Display, Shippori Mincho and Zilla Slab.
//!
//! Sizes, leading, indents and spaces are points; tracking is thousandths of an em. A `text` may say any of these
//! words again for itself.
//!
//! - `style NAME like=STYLE`: a style, and another that it begins with.
//! - `font FAMILY weight= italic=`: a bundled family or one of the cover's own `fonts/` folder; never the system's.
//!   Weights are `thin light regular medium semibold bold extrabold black` or 100 to 900.
//! - `size N`, or `size between LEAST MOST`: the largest that fits its frame.
//! - `leading N`: from baseline to baseline; without it 1.2 times the size.
//! - `swatch NAME percent= overprint=`: the ink. Solid black overprints by itself.
//! - `align start|end|left|right|centre|justify`: `start` follows the script.
//! - `hyphenate #true|#false`, with `before= after= in-row=`: letters that stay together, hyphens in a row. Without a
//!   word justified copy is hyphenated, and nothing else is.
//! - `keep-whole "Salcombe" "Lowestoft"`: words that are never hyphenated.
//! - `tracking`, `case as-written|upper|small-caps`, `features "onum" "ss01"` or `features liga=#false`.
//! - `word-space LEAST IDEAL MOST`: in percent of the font's own; `letter-space MINUS PLUS`: what justification may take
//!   and add; `letter-width LEAST MOST` in percent.
//! - `indent`, `space-between`: first lines and the space between paragraphs.
//! - `hanging-punctuation #true|#false`: punctuation hangs into the margin.
//! - `drop-cap lines=3 letters=1`: of the first paragraph.
//! - `breaks chosen|free`: whether titles break where the book's `lines` say.
//! - `language fr`: where it is not the book's.

use crate::assets::nearest;
use crate::cover::{Facts, TypeStyle};
use crate::ground::{Finding, Severity, Spanned};
use crate::language::nodes::book::language;
use crate::language::{Desk, Node, Role, ranged};
use crate::source::{Datum, Reader, Unit, Value};
use crate::typeset::{Align, Case, DropCap, Size, Style};

pub const NODE: Node = Node { name: "type", source: include_str!("style.rs"), role: Role::Fact(read) };

const WEIGHTS: [(&str, u16); 9] = [
    ("thin", 100),
    ("extralight", 200),
    ("light", 300),
    ("regular", 400),
    ("medium", 500),
    ("semibold", 600),
    ("bold", 700),
    ("extrabold", 800),
    ("black", 900),
];

const ALIGNS: [(&str, Align); 6] = [
    ("start", Align::Start),
    ("end", Align::End),
    ("left", Align::Left),
    ("right", Align::Right),
    ("centre", Align::Centre),
    ("justify", Align::Justify),
];

fn read(reader: &Reader<'_>, facts: &mut Facts, desk: &Desk<'_>) {
    for word in reader.children("style") {
        let Some(name) = word.text("a name") else { continue };
        let mut style = match word.text_property("like") {
            Some(like) if !facts.styles.contains_key(&like.value) && reader.node.holds("style", &like.value) => {
                let message = format!("the style `{}` stands further down", like.value);
                word.error(like.span, message, "put it above those that are like it");
                usual(facts)
            }
            Some(like) => find(&word, facts, &like),
            None => usual(facts),
        };
        style.span = name.span;
        style_words(&word, &mut style, desk);
        // Asked for here, so that an unknown swatch is told even where no text uses the style.
        facts.palette.ink(&mut desk.findings.borrow_mut(), &style.swatch);
        if facts.styles.insert(name.value.clone(), style).is_some() {
            word.error(name.span, format!("the style `{}` is defined twice", name.value), "give it another name");
        }
    }
    // What a misspelled word was to define is told once, where it stands, and not again wherever it is used.
    for child in &reader.node.children {
        let name = child.values.first().and_then(Value::text);
        if let Some(name) = name.filter(|name| !facts.styles.contains_key(*name)) {
            facts.styles.insert(name.to_owned(), usual(facts));
        }
    }
}

/// A style that nobody has said anything about yet.
pub fn usual(facts: &Facts) -> TypeStyle {
    let style = Style { language: facts.book.language.value.clone(), ..Style::default() };
    let swatch = Spanned::new("black".to_owned(), facts.book.span);
    TypeStyle {
        style,
        swatch,
        percent: 1.0,
        overprint: None,
        hyphenate: None,
        chosen_breaks: false,
        keep_whole: Vec::new(),
        span: facts.book.span,
    }
}

/// A style by name; the usual one, and an error, when nobody defined it.
pub fn find(reader: &Reader<'_>, facts: &Facts, name: &Spanned<String>) -> TypeStyle {
    if let Some(style) = facts.styles.get(&name.value) {
        return style.clone();
    }
    let known = facts.styles.keys().map(String::as_str);
    let help = match nearest(&name.value, known.clone()) {
        Some(near) => format!("did you mean `{near}`?"),
        None if facts.styles.is_empty() => "none is defined so far: see `jaconet explain type`".to_owned(),
        None => format!("styles so far are {}", known.collect::<Vec<_>>().join(", ")),
    };
    reader.error(name.span, format!("there is no style `{}`", name.value), help);
    usual(facts)
}

/// Takes the words of style off a node, over what a style says already.
pub fn style_words(reader: &Reader<'_>, into: &mut TypeStyle, desk: &Desk<'_>) {
    font(reader, &mut into.style, desk);
    if let Some(word) = reader.child("size") {
        size(&word, &mut into.style);
    }
    if let Some(word) = reader.child("swatch") {
        into.swatch = word.text("a swatch").unwrap_or_else(|| into.swatch.clone());
        into.percent = crate::language::percent_property(&word, "percent").unwrap_or(1.0);
        into.overprint = word.flag_property("overprint");
    }
    if let Some(word) = reader.child("breaks") {
        into.chosen_breaks = word.word("which breaks", &["chosen", "free"]).is_some_and(|w| w.value == "chosen");
    }
    if let Some(word) = reader.child("keep-whole") {
        while word.peek().is_some() {
            into.keep_whole.extend(word.text("a word").map(|whole| whole.value));
        }
    }
    if let Some(said) = hyphenation(reader, &mut into.style) {
        into.hyphenate = Some(said);
    }
    let style = &mut into.style;
    if let Some(points) = points(reader, "leading", 0.1, 2000.0) {
        style.leading = Some(points);
    }
    if let Some(word) = reader.child("tracking") {
        style.tracking = ranged(&word, word.number("thousandths of an em"), -500.0, 2000.0).unwrap_or(0.0);
    }
    if let Some(word) = reader.child("case") {
        style.case = match word.word("a case", &["as-written", "upper", "small-caps"]).map(|word| word.value) {
            Some("upper") => Case::Upper,
            Some("small-caps") => Case::SmallCaps,
            _ => Case::AsWritten,
        };
    }
    if let Some(word) = reader.child("align")
        && let Some(align) = word.word("an alignment", &ALIGNS.map(|(name, _)| name))
    {
        style.align = ALIGNS.iter().find(|(name, _)| *name == align.value).map_or(Align::Start, |(_, align)| *align);
    }
    style.hyphenation.on = into.hyphenate.unwrap_or(style.align == Align::Justify);
    features(reader, style);
    spaces(reader, style);
    style.indent = points(reader, "indent", -500.0, 500.0).unwrap_or(style.indent);
    style.space_between = points(reader, "space-between", 0.0, 500.0).unwrap_or(style.space_between);
    if let Some(word) = reader.child("hanging-punctuation") {
        style.hanging = word.flag("#true or #false").unwrap_or(style.hanging);
    }
    if let Some(word) = reader.child("drop-cap") {
        if let Some(value) = word.value() {
            word.error(value.span, "a drop cap names its lines", format!("write `drop-cap lines={}`", value.shown()));
        }
        let whole = |value: Option<Spanned<f64>>, usual: usize, most: f64| {
            ranged(&word, value, 1.0, most).map_or(usual, |value| value as usize)
        };
        let lines = whole(word.number_property("lines"), 3, 12.0);
        let letters = whole(word.number_property("letters"), 1, 40.0);
        style.drop_cap = (lines > 1).then_some(DropCap { lines, letters });
    }
    if let Some(language) = reader.child("language").and_then(|word| language(&word)) {
        style.language = language.value;
    }
}

fn font(reader: &Reader<'_>, style: &mut Style, desk: &Desk<'_>) {
    let Some(word) = reader.child("font") else { return };
    let family = word.text("a family");
    if let Some(value) = word.property("weight") {
        if let Datum::Number(weight) = value.datum {
            style.weight = ranged(&word, Some(Spanned::new(weight, value.span)), 1.0, 1000.0).unwrap_or(400.0) as u16;
        } else if let Some(name) = word.as_word(value, "a weight", &WEIGHTS.map(|(name, _)| name)) {
            style.weight = WEIGHTS.iter().find(|(known, _)| *known == name.value).map_or(400, |(_, weight)| *weight);
        }
    } else {
        style.weight = 400;
    }
    style.italic = word.flag_property("italic").unwrap_or(false);
    let Some(family) = family else { return };
    let Some(found) = desk.library.find(&family.value, style.weight, style.italic) else {
        let known = desk.library.families();
        let help = match nearest(&family.value, known.iter().copied()) {
            Some(near) => format!("did you mean {near:?}?"),
            None => format!("families are {}; add your own to the cover's `fonts` folder", known.join(", ")),
        };
        word.error(family.span, format!("there is no font {:?}", family.value), help);
        return;
    };
    if style.italic && !found.italic() {
        let help = "take another family, or leave italic out; letters are never slanted by force";
        word.error(family.span, format!("{:?} has no italic", family.value), help);
        style.italic = false;
    }
    if found.weight() != style.weight {
        let message = format!("{:?} has no weight {}: {} is set", family.value, style.weight, found.weight());
        let finding = Finding::new(Severity::Note, "language", family.span, message)
            .help("name the weight that you want to see, or take another family");
        reader.findings().borrow_mut().push(finding);
    }
    style.family = family.value;
}

fn size(word: &Reader<'_>, style: &mut Style) {
    let sane = |value: Option<Spanned<crate::ground::Length>>| {
        ranged(word, value.map(|length| Spanned::new(length.value.pt(), length.span)), 1.0, 2000.0)
    };
    if crate::language::says_word(word) {
        word.word("a size", &["between"]);
        let least = sane(word.length("the least size", Unit::Pt));
        let most = sane(word.length("the largest size", Unit::Pt));
        if let (Some(least), Some(most)) = (least, most) {
            if least > most {
                word.error(word.span(), "the least size is larger than the largest", "write `size between 9 20`");
            }
            style.size = Size::Between(least.min(most), most.max(least));
        }
    } else if let Some(size) = sane(word.length("a size in points", Unit::Pt)) {
        style.size = Size::Fixed(size);
    }
}

/// Whether words part, where it is said; how they do is put into the style.
fn hyphenation(reader: &Reader<'_>, style: &mut Style) -> Option<bool> {
    let word = reader.child("hyphenate")?;
    let hyphens = &mut style.hyphenation;
    for (name, slot) in
        [("before", &mut hyphens.before), ("after", &mut hyphens.after), ("in-row", &mut hyphens.in_row)]
    {
        let said = word.number_property(name);
        *slot = ranged(&word, said, 1.0, 20.0).map_or(*slot, |value| value as usize);
    }
    word.flag("#true or #false")
}

fn points(reader: &Reader<'_>, name: &'static str, least: f64, most: f64) -> Option<f64> {
    let word = reader.child(name)?;
    let length = word.length("points", Unit::Pt)?;
    ranged(&word, Some(Spanned::new(length.value.pt(), length.span)), least, most)
}

mod letters;

use letters::{features, spaces};
