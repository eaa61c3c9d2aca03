//! How the colours of an image become ink, as its words say.

use crate::assets::{Inking, RenderingIntent, Separation};
use crate::language::fillings::PERCENT;
use crate::source::{Reader, Word, choice, name, percent, words_of};

pub const PAINT: Word = Word::new("paint", "prints the image's alpha, or if it has none its darkness, in one ink")
    .takes(&[name("a swatch")])
    .properties(&[PERCENT]);
pub const INKS: Word = Word::new("inks", "how its colours become ink: by what the file says of them, the file's numbers as they are, or greys in four inks, too")
    .takes(&[choice("a way", &words_of(&INKINGS))])
    .default("by-profile");
pub const INTENT: Word =
    Word::new("intent", "the rendering intent: what becomes of colours that the press cannot print")
        .takes(&[choice("an intent", &words_of(&INTENTS))])
        .properties(&[BLACK_POINT])
        .default("relative");
pub const LIMIT_INKS: Word = Word::new("limit-inks", "the most ink on one spot of the picture: more is printed with more black and less of the others; by default as `press` says")
    .takes(&[percent(150.0, 400.0)])
    .or(&[choice("a limit, or none", &["none"])]);
const BLACK_POINT: Word = Word::new("black-point", "whether the darkest colour becomes the darkest ink")
    .takes(&[choice("a way", &words_of(&BLACK_POINTS))])
    .default("compensated");

const INKINGS: [(&str, Inking); 3] =
    [("by-profile", Inking::ByProfile), ("as-they-are", Inking::AsTheyAre), ("four-colour", Inking::FourColour)];
/// The words of ICC.1.
const INTENTS: [(&str, RenderingIntent); 4] = [
    ("relative", RenderingIntent::Relative),
    ("perceptual", RenderingIntent::Perceptual),
    ("saturation", RenderingIntent::Saturation),
    ("absolute", RenderingIntent::Absolute),
];
/// Whether it is kept. ISO 18619 speaks of compensation.
const BLACK_POINTS: [(&str, bool); 2] = [("compensated", false), ("kept", true)];

/// `usual` is the limit of the press for its pictures.
pub fn separation(reader: &Reader<'_>, usual: Option<f64>) -> Separation {
    let inking = reader.child(&INKS).and_then(|word| word.choose(&INKINGS)).unwrap_or_default();
    let (intent, keeps_black_point) = reader.child(&INTENT).map_or((RenderingIntent::default(), false), |word| {
        let kept = word.choose_property(&BLACK_POINT, &BLACK_POINTS).unwrap_or(false);
        (word.choose(&INTENTS).unwrap_or_default(), kept)
    });
    let limit = match reader.child(&LIMIT_INKS) {
        Some(word) if word.says_text() => {
            word.choice();
            None
        }
        Some(word) => word.percent(),
        None => usual,
    };
    // Tenths of a per cent say nothing about ink.
    Separation { inking, intent, keeps_black_point, limit: limit.map(|limit| (limit * 100.0).round() as u16) }
}
