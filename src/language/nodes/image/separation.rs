//! How the colours of an image become ink, as its words say.

use crate::assets::{Inking, RenderingIntent, Separation};
use crate::source::{Reader, Word, choice, words_of};

pub const INKS: Word = Word::new("inks", "how its colours become ink: by what the file says of them, the file's numbers as they are, or greys in four inks, too")
    .takes(&[choice("a way", &words_of(&INKINGS))])
    .default("by-profile");
pub const INTENT: Word =
    Word::new("intent", "the rendering intent: what becomes of colours that the press cannot print")
        .takes(&[choice("an intent", &words_of(&INTENTS))])
        .properties(&[BLACK_POINT])
        .default("relative");
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

pub fn separation(reader: &Reader<'_>) -> Separation {
    let inking = reader.child(&INKS).and_then(|word| word.choose(&INKINGS)).unwrap_or_default();
    let (intent, keeps_black_point) = reader.child(&INTENT).map_or((RenderingIntent::default(), false), |word| {
        let kept = word.choose_property(&BLACK_POINT, &BLACK_POINTS).unwrap_or(false);
        (word.choose(&INTENTS).unwrap_or_default(), kept)
    });
    Separation { inking, intent, keeps_black_point }
}
