//! Pointed: letters of Hebrew and Arabic with their points say themselves in the order of speech.

use crate::kit::{cover, shown};
use crate::python::python;

/// What readers make of it differs: some turn such words round letter by letter, points before their letters, in files of
/// a browser as in ours.
#[test]
fn pointed_letters_are_said_in_the_order_of_speech() {
    let lines = [
        ("he", "Frank Ruhl Libre", "שָׁלוֹם הַיָּם בְּרֵאשִׁית ספר ישן"),
        ("he", "Frank Ruhl Libre", "יִצְחָק וְרִבְקָה שָׂמְחוּ מְאֹד"),
        ("ar", "Amiri", "رَجُلٌ مُحَمَّدٌ يَقْرَأُ كِتَابَ الْبَحْرِ"),
        ("ar", "Amiri", "السلام على الملاحين لا غير"),
    ];
    let texts = lines.iter().enumerate().map(|(at, (language, font, words))| {
        let top = 20 + at * 20;
        format!("text a{at} words=\"{words}\" {{ font \"{font}\"; language {language}; size 14; left 10; width 100; top {top} }}\n")
    });
    let text = format!(
        "book {{ title \"Points\"; pages 320 }}\nformat paperback {{ trim 129 198 }}\npanel front {{\n{}}}\n",
        texts.collect::<String>()
    );
    let built = cover("pointed", &text, &[], &["--only", "press"]);
    let said = python("pointed.py", &[&shown(&built.press())]);
    assert_eq!(said.lines().collect::<Vec<_>>(), lines.map(|(.., words)| words));
}
