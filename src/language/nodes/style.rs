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
//! By default a text is set in EB Garamond, 11 points, in solid black. Bundled families are Alegreya, Amiri, Barlow
//! Condensed, Bodoni Moda, Caveat, Dancing Script, EB Garamond, Frank Ruhl Libre, Inter, League Gothic, Libre Franklin,
//! Playfair Display, Shippori Mincho and Zilla Slab; a cover's own stand in its `fonts/` folder. Fonts of the system are
//! never used.
//!
//! Sizes, leading, indents and spaces are points; tracking is thousandths of an em. A `text` may hold any of these words
//! for itself: they hold for this text alone. Solid black overprints by default. Justified copy is hyphenated by default,
//! and nothing else is.
//!
//! # Paragraphs
//!
//! - All lines of a paragraph are weighed together: word spaces near the font's own, neighbouring lines alike, few hyphens,
//!   none into the last line where that costs no hole, and a last line of a fifth of the measure at least.
//! - `word-space`, `letter-space` and `letter-width` say how far justified lines may give. Letters keep their width and
//!   their distance unless a style allows otherwise: `letter-width 99 101; letter-space -3 5` goes unseen.
//! - `lines fewer=1` takes in a line and `lines more=1` gives one, in the paragraph where that costs least: for a word alone
//!   on the last line, or copy that stands over by a line. What cannot be had is reported; so is a line that comes out loose.
//! - Words part by the patterns of their language: Danish, Dutch, English, Finnish, French, German, Italian, Norwegian,
//!   Polish, Portuguese and Spanish. For others a house brings patterns, in TeX's format: `hyphenation "sv" file="hyph-sv.tex"`
//!   in `type`; without them words part at soft hyphens (U+00AD) alone, see `jaconet explain no-hyphenation`. Addresses,
//!   numbers and words in capitals get no hyphen, and no word parts where it would be spelled otherwise.
//!
//! - `columns 2 gap=6` sets a text in columns of its frame, millimetres apart and as even as they go. No column begins with
//!   the last line of a paragraph, or ends with a first one, where that can be helped.
//!
//! # Signs
//!
//! `signs quotes dashes spaces` prints what a keyboard has not as the language does: quotation marks and apostrophes (`"` and
//! `'`), dashes and ellipses (`--`, ` - `, `1914-18`, `...`), and blanks that do not break (in French before `; : ! ?` and in
//! guillemets, everywhere between a number and its unit). Name those that you want; `signs none` leaves all as they are
//! typed, as does a style that says nothing. What was set is noted in the report, see `jaconet explain signs-set`.
//!
//! # Small words
//!
//! No line ends with an abbreviation before its name or number (`Dr.`, `No.`), with an opening guillemet and its blank,
//! or, in Belarusian, Czech, Polish, Russian, Slovak and Ukrainian, with a word of one letter. None begins with a
//! spaced dash or ellipsis, or with `; : ! ? »` after a blank. A Spanish opening dash stays with its word. A word is
//! not broken at a hyphen of its own where that leaves a single letter; in Croatian, Czech, Polish, Portuguese and Slovak
//! the next line writes the hyphen between two words again (`guarda-` and `-chuva`), and copied words have it once. Lines
//! of Thai, Lao, Khmer and Burmese end between words that a dictionary knows; a word joiner (U+2060) keeps two together,
//! a zero-width space (U+200B) parts them. Most of the rest is common practice.
//!
//! # Drop caps
//!
//! `drop-cap lines=3` sets the first letter as high as three lines. `snug=#true` lets every line follow its contour, which
//! suits A, L and V; `small-caps=3` sets the first three words in small capitals. A quotation mark before it, with its
//! blank, hangs at the text's size, and so do dots; a dash stands within the measure.
//!
//! # Titles
//!
//! ```kdl
//! type {
//!     style title { size between 24 60; leading percent=100; breaks good; lines 2 4; hold "Salt and" }
//! }
//! ```
//!
//! - `breaks good`: even lines, and no article, preposition, number or initial torn from its word, in Czech, Danish, Dutch,
//!   English, French, German, Italian, Norwegian, Polish, Portuguese, Spanish and Swedish. Lines that the book chooses win.
//! - `lines` says how many; `hold` keeps words together, whatever their capitals.
//! - `size between 24 60 alike=#true` in a series file, or in a template, sets elements of one name at one size in all covers,
//!   the smallest that one of them needs, whether they are built together or alone. The report says which decided.
//! - `size each-line 20 200` gives every line its own size, so that all are as wide as their frame. Lines are
//!   those that the book or the copy chooses, or as many as `lines` says. Between a line's foot and the next line's capitals
//!   stands what `leading` has beyond 100 percent, of the mean size: `leading percent=115` is close.
//!
//! # Lettering
//!
//! ```kdl
//! swatches { swatch night c=100 m=80 k=30; swatch lamp y=90 m=20 }
//! type {
//!     style sign { size 60; swatch lamp; outline night weight=2; shadow night right=3 down=3 block=#true }
//!     style inlaid { size 60; swatch night; inline lamp weight=0.8 depth=1.4 }
//!     style open { size 60; swatch none; outline night weight=1.5 corners=sharp }
//!     style dusk { size 60; gradient night lamp angle=90 }
//! }
//! ```
//!
//! - `outline` draws a line around letters and leaves their form as it is; `inline` draws one inside them; `shadow` sets
//!   their shape beside and under them, in an ink, or all the way with `block=#true`. Weights and distances are points.
//!   `outline none` leaves out what a style has.
//! - `swatch none` leaves the letters open: what lies under them shows. `gradient` runs through all words of a text.
//!   Letters whose gradient fades to `none` have no outline and no shadow behind them, and their inline fades with them.
//! - Letters that lie over each other count as one: no line shows where they meet.
//! - Letters with an outline or a shadow knock it out, black ones too. `trap=0.15` prints it over their edge, so that no
//!   white shows where plates are a little off.
//! - Words stay text, to be read and searched, whatever shows of them.
//!
//! # Letters and words apart
//!
//! ```kdl
//! swatches { swatch brick m=80 y=70 }
//! type {
//!     style title {
//!         font "EB Garamond"; size 48
//!         letter "Q" { features "swsh"; swatch brick }
//!         letter "a" only=2 { size percent=130; raise 8; turn -9 }
//!         word "and" { size percent=55; raise 18 }
//!         word "1/2" { features "frac" }
//!     }
//! }
//! ```
//!
//! `letter` sets letters apart wherever they stand, `word` whole words; `only=2` means the second of them alone. They may
//! have another `swatch`, a size in percent of the text's, a height over the line in percent of its size, a turn in degrees
//! clockwise, and features of the font: swashes, stylistic sets, fractions. In capitals both are found as they are shown.
//!
//! # Variable fonts
//!
//! `axis wght=620 opsz=14` names places on the axes of a variable font, by their tags; `jaconet faces` lists them. The
//! optical size, where a font has one (Inter has), follows the size of type in points, also one that is found: small type
//! gets sturdier letters than a title. `axis opsz=14` keeps one drawing for all sizes, `axis opsz=auto` lets it follow
//! again.
//!
//! # Edges and pairs
//!
//! ```kdl
//! type {
//!     style title { size 60; edges eye; kern "f?" 60; kern "Vä" 50 }
//! }
//! ```
//!
//! - `edges` says what stands on the edge of a frame: letters with the room that their font gives them, which shows in
//!   large type; their ink; or the edge that the eye sees: round and sloping letters stand out by up to 0.018 em besides.
//!   Punctuation hangs in any case, and East Asian brackets give up their empty half, unless `hanging-punctuation #false`.
//! - `kern` adds between two letters, as they are shown (in capitals for `case upper`), thousandths of an em. Letters
//!   whose ink meets are reported with what sets them apart, see `jaconet explain letters-touch`.
//! - `kern even` gives all neighbouring capitals the same white, counted on their outlines: as much as the font's `HH` and
//!   `OO` have, or up to 1.2 times as much where a pair such as `LA` asks for it. `tracking` and numbers for pairs are added
//!   to it; `kern font` takes it back. It also mends a letter to which its font gives too much room, such as the capital Ø
//!   of Barlow Condensed.

use crate::cover::{Facts, Palette, TypeStyle};
use crate::language::context::Desk;
use crate::language::fillings::NONE;
use crate::language::headword::{Headword, NAME, Role};
use crate::language::lettering::read_lettering;
use crate::language::nodes::book::language;
use crate::source::{KnownBy, Laid, Reader, Value, Word, name};
use words::{
    ALIGN, ALIGNS, CASE, CASES, EDGES, EDGES_OF, HANGING, INDENT, KEEP_WHOLE, LANGUAGE, LEADING, OVERPRINT,
    PARAGRAPH_SPACE, PERCENT, SIGNS, SWATCH, TRACKING,
};

mod apart;
mod apart_words;
mod caps;
mod face;
mod hyphenation;
mod letters;
mod named;
mod signs;
mod sizes;
mod titles;
mod words;

pub use named::{find, usual};
pub use words::{ALIKE, SIZE, STYLE_WORDS};

pub const HEADWORD: Headword = Headword::new(
    Word::new("type", "the type styles of the cover").holds(&[&[STYLE, hyphenation::PATTERNS]]).laid(Laid::Inside),
    include_str!("style.rs"),
    Role::Fact(read),
);

const STYLE: Word = Word::new("style", "a type style")
    .takes(NAME)
    .properties(&[LIKE])
    .holds(&[STYLE_WORDS])
    .known_by(KnownBy::Name)
    .laid(Laid::Inside);
const LIKE: Word = Word::new("like", "another style that it begins with").takes(&[name("a style")]);

fn read(reader: &Reader<'_>, facts: &mut Facts, desk: &Desk<'_>) {
    hyphenation::patterns(reader, facts, desk);
    for word in reader.children(&STYLE) {
        let Some(name) = word.text() else { continue };
        let mut style = match word.text_property(&LIKE) {
            Some(like) if !facts.styles.contains_key(&like.value) && reader.node.holds(STYLE.name, &like.value) => {
                let message = format!("the style `{}` stands further down", like.value);
                word.error(like.span, message, "put it above those that are like it");
                usual(facts)
            }
            Some(like) => find(&word, facts, &like),
            None => usual(facts),
        };
        style.span = name.span;
        style_words(&word, &mut style, (&facts.palette, desk));
        // Asked for here, so that an unknown swatch is reported even where no text uses the style.
        if style.swatch.value != NONE {
            facts.palette.ink(&mut desk.findings.borrow_mut(), &style.swatch);
        }
        if facts.styles.insert(name.value.clone(), style).is_some() {
            word.error(name.span, format!("the style `{}` is defined twice", name.value), "give it another name");
        }
    }
    // What a misspelled word was to define is reported once, where it stands, and not again wherever it is used.
    for child in &reader.node.children {
        let name = child.values.first().and_then(Value::text);
        if let Some(name) = name.filter(|name| !facts.styles.contains_key(*name)) {
            facts.styles.insert(name.to_owned(), usual(facts));
        }
    }
}

/// Takes the words of style off a node, over what a style says already.
pub fn style_words(reader: &Reader<'_>, into: &mut TypeStyle, (palette, desk): (&Palette, &Desk<'_>)) {
    face::read(reader, &mut into.style, desk);
    if let Some(word) = reader.child(&SIZE) {
        sizes::size(&word, into);
    }
    if let Some(word) = reader.child(&SWATCH) {
        into.swatch = word.text().unwrap_or_else(|| into.swatch.clone());
        into.percent = word.percent_property(&PERCENT).unwrap_or(1.0);
        into.overprint = word.flag_property(&OVERPRINT);
        into.lettering.hollow = into.swatch.value == NONE;
    }
    read_lettering(reader, &mut into.lettering, palette);
    apart::read(reader, into, palette);
    titles::breaks(reader, into);
    into.signs = reader.child(&SIGNS).map_or(into.signs, |word| signs::read(&word));
    if let Some(word) = reader.child(&KEEP_WHOLE) {
        while word.peek().is_some() {
            into.keep_whole.extend(word.text().map(|whole| whole.value));
        }
    }
    if let Some(stated) = hyphenation::stated(reader, &mut into.style) {
        into.hyphenate = Some(stated);
    }
    let style = &mut into.style;
    let points = |word| reader.child(word).and_then(|word| word.pt());
    if let Some(stated) = reader.child(&LEADING).and_then(|word| sizes::leading(&word)) {
        style.leading = stated;
    }
    style.indent = points(&INDENT).unwrap_or(style.indent);
    style.space_between = points(&PARAGRAPH_SPACE).unwrap_or(style.space_between);
    if let Some(word) = reader.child(&TRACKING) {
        style.tracking = word.number().map_or(0.0, |tracking| tracking.value);
    }
    if let Some(word) = reader.child(&CASE) {
        style.case = word.choose(&CASES).unwrap_or_default();
    }
    style.align = reader.child(&ALIGN).and_then(|word| word.choose(&ALIGNS)).unwrap_or(style.align);
    style.hyphenation.on = into.hyphenate.unwrap_or(style.align == crate::typeset::Align::Justify);
    letters::features(reader, &mut style.features);
    letters::spaces(reader, style);
    letters::kerns(reader, style);
    style.edges = reader.child(&EDGES).and_then(|word| word.choose(&EDGES_OF)).unwrap_or(style.edges);
    if let Some(word) = reader.child(&HANGING) {
        style.hanging = word.flag().unwrap_or(style.hanging);
    }
    caps::read(reader, into);
    let style = &mut into.style;
    if let Some(language) = reader.child(&LANGUAGE).and_then(|word| language(&word)) {
        style.language = language.value;
    }
}
