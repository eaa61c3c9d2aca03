//! The words of look, taken off an element.

use crate::cover::{Clip, Look, Order};
use crate::ground::Blend;
use crate::language::path_data::path_data;
use crate::source::{KnownBy, Reader, Word, choice, name, number, percent, text, words_of};

const PIVOTS: [(&str, (f64, f64)); 9] = [
    ("centre", (0.5, 0.5)),
    ("top-left", (0.0, 0.0)),
    ("top", (0.5, 0.0)),
    ("top-right", (1.0, 0.0)),
    ("left", (0.0, 0.5)),
    ("right", (1.0, 0.5)),
    ("bottom-left", (0.0, 1.0)),
    ("bottom", (0.5, 1.0)),
    ("bottom-right", (1.0, 1.0)),
];
const BLENDS: [(&str, Blend); 2] = [("normal", Blend::Normal), ("multiply", Blend::Multiply)];
const CLIPS: [&str; 3] = ["frame", "oval", "path"];
const DATA: Word =
    Word::new("data", "with `clip path`: path data of SVG, in millimetres from the frame's upper left corner")
        .takes(&[text("path data")]);

const FROM: Word =
    Word::new("from", "what stays in its place").takes(&[choice("a point", &words_of(&PIVOTS))]).default("centre");
const TURN: Word =
    Word::new("turn", "degrees clockwise. A quarter turn fills the frame as it is; any other turns the frame itself")
        .takes(&[number("degrees clockwise", -3600.0, 3600.0)])
        .properties(&[FROM])
        .default("0");
const OPACITY: Word =
    Word::new("opacity", "how much it covers, in percent").takes(&[percent(0.0, 100.0)]).default("100");
const BLEND: Word = Word::new("blend", "how its inks meet those under it")
    .takes(&[choice("a way to mix", &words_of(&BLENDS))])
    .default("normal");
const CLIP: Word =
    Word::new("clip", "cuts it to a shape").takes(&[choice("a shape to cut to", &CLIPS)]).properties(&[DATA]);
const UNDER: Word = Word::new("under", "printed just before another element, whatever the order in the file")
    .takes(&[name("an element's name")])
    .properties(&[OF])
    .known_by(KnownBy::Fixing("order"));
const OVER: Word = Word::new("over", "printed just after another element")
    .takes(&[name("an element's name")])
    .properties(&[OF])
    .known_by(KnownBy::Fixing("order"));
const OF: Word = Word::new("of", "the panel in which that element stands").takes(&[name("a panel's name")]);

/// Every word of look.
pub const LOOK: &[Word] = &[TURN, OPACITY, BLEND, CLIP, UNDER, OVER];

/// Takes the words of look off an element.
pub fn read_look(reader: &Reader<'_>) -> Look {
    let mut look = Look::default();
    if let Some(word) = reader.child(&TURN) {
        look.turn = word.number().map_or(0.0, |turn| turn.value % 360.0);
        if let Some(pivot) = word.choose_property(&FROM, &PIVOTS) {
            look.pivot = pivot;
        }
    }
    if let Some(word) = reader.child(&OPACITY) {
        look.opacity = word.percent().unwrap_or(1.0);
    }
    if let Some(word) = reader.child(&BLEND) {
        look.blend = word.choose(&BLENDS).unwrap_or(Blend::Normal);
    }
    if let Some(word) = reader.child(&CLIP) {
        look.clip = clip(&word);
    }
    let order = |word| {
        let found = reader.child(word)?;
        Some(Order { over: word.name == OVER.name, panel: found.text_property(&OF), name: found.text()? })
    };
    let (under, over) = (order(&UNDER), order(&OVER));
    if let (Some(_), Some(over)) = (&under, &over) {
        reader.error(over.name.span, "`under` and `over` stand here both", "keep one of the two");
    }
    look.order = under.or(over);
    look
}

fn clip(word: &Reader<'_>) -> Option<Clip> {
    let shape = word.choice()?;
    let data = word.text_property(&DATA);
    match (shape.value, data) {
        ("frame", None) => Some(Clip::Frame),
        ("oval", None) => Some(Clip::Oval),
        ("path", Some(data)) => path_data(word, &data).map(Clip::Path),
        (_, None) => {
            word.error(word.span(), "a path lacks its data", "write `clip path data=\"M0 0 L30 0 L15 20 Z\"`");
            None
        }
        (_, Some(data)) => {
            word.error(data.span, "only a path has data", "write `clip path data=…`, or take `data=` away");
            None
        }
    }
}
