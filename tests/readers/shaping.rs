//! Shaping: words of thirteen scripts are set as another shaper, HarfBuzz, sets them.

use crate::kit::shown;
use crate::python::python;
use jaconet::testing::{AskedWord, shape_word};
use serde_json::Value;
use std::collections::BTreeMap;
use std::path::Path;
use std::sync::Arc;

/// Lengths are whole units of the font there; here they went through ems.
const ROUNDING: f64 = 1e-6;

/// Scripts, and how many glyphs of each are compared at the least. The bundled fonts have letters of the first eight; of the
/// others the order of glyphs and what they stand for is compared.
const SCRIPTS: [(&str, usize); 13] = [
    ("Latn", 28_000),
    ("Cyrl", 4_000),
    ("Grek", 900),
    ("Arab", 500),
    ("Hebr", 300),
    ("Hani", 80),
    ("Hira", 70),
    ("Kana", 80),
    ("Deva", 1_900),
    ("Taml", 900),
    ("Thai", 900),
    ("Khmr", 900),
    ("Hang", 300),
];

/// Every bundled face, a variable one at two places; numbers of glyphs, advances, offsets, and the bytes they stand for.
#[test]
fn words_of_thirteen_scripts_are_set_as_another_shaper_sets_them() {
    let home = Path::new(env!("CARGO_MANIFEST_DIR")).join("fonts-open");
    let mut fonts = BTreeMap::<String, Arc<[u8]>>::new();
    let mut compared = BTreeMap::<String, usize>::new();
    for line in python("shaping.py", &[&shown(&home)]).lines() {
        let stated: Value = serde_json::from_str(line).expect("a line of JSON");
        let text = |name: &str| stated[name].as_str().expect("a text");
        let font = fonts.entry(text("font").to_owned()).or_insert_with_key(|path| {
            let bytes = std::fs::read(path).expect("a font is there");
            bytes.into()
        });
        let values = |name: &str| {
            let values = stated[name].as_object().expect("tags and values").iter();
            let values = values.map(|(tag, value)| {
                let tag: [u8; 4] = tag.as_bytes().try_into().expect("a tag of four letters");
                (tag, value.as_f64().expect("a number"))
            });
            values.collect::<Vec<_>>()
        };
        let place: Vec<_> = values("place").into_iter().map(|(tag, at)| (tag, at as f32)).collect();
        let features: Vec<_> = values("features").into_iter().map(|(tag, value)| (tag, value as u32)).collect();
        let asked = AskedWord {
            text: text("word"),
            script: text("script"),
            language: text("language"),
            rtl: stated["rtl"].as_bool().expect("yes or no"),
            place: &place,
            features: &features,
        };
        let ours = shape_word(font, &asked).expect("a font, and a script that is known");
        let ours: Vec<[f64; 5]> = ours
            .iter()
            .map(|glyph| [f64::from(glyph.id), glyph.cluster as f64, glyph.advance, glyph.x, glyph.y])
            .collect();
        let theirs: Vec<[f64; 5]> = serde_json::from_value(stated["glyphs"].clone()).expect("glyphs of five numbers");
        let same = ours.len() == theirs.len()
            && ours.iter().flatten().zip(theirs.iter().flatten()).all(|(one, other)| (one - other).abs() < ROUNDING);
        assert!(same, "{} {place:?} {features:?} {}: {ours:?}\n{theirs:?}", text("font"), asked.text);
        *compared.entry(asked.script.to_owned()).or_default() += ours.len();
    }
    assert_eq!(compared.len(), SCRIPTS.len(), "{compared:?}");
    for (script, least) in SCRIPTS {
        assert!(compared.get(script).is_some_and(|count| *count >= least), "{script}: {compared:?}");
    }
}
