//! Words in another language than the book's.
//!
//! Hyphenation, quotation marks and the shapes of some letters follow the `language` of the book. A blurb in another one is
//! broken in the wrong places; or the language was never changed when the cover was taken over for a translation.
//!
//! - a text of 15 words or more, of which a fifth or more are small words of another language, and three times as many as of
//!   the book's: warning. The limits are ours.
//!
//! English, German, French, Spanish, Italian, Portuguese, Dutch, Swedish, Danish and Polish are known by their small words;
//! what is written in others is not judged. Neither is a text that states a `language` of its own, in itself or in its
//! style: it is set by that one.
//!
//! ```kdl
//! panel back {
//!     text blurb words="Das ist ein Roman von der See und von denen, die auf ihr leben, und die auf dem Land warten." {
//!         left safe; right safe; top 40; size 10
//!     }
//! }
//! ```
//!
//! Way out: `language de` in the text where a second language is meant, which also hyphenates it correctly; or in `book`.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::text_languages::text_languages;
use crate::ground::{Severity, Span};
use crate::scene::{Kind, Media};

pub const RULE: CheckRule = CheckRule {
    name: "other-language",
    severity: Severity::Warning,
    media: Media::Both,
    limits: &[],
    source: include_str!("other_language.rs"),
    run,
};

const WORDS: usize = 15;
const SHARE: f64 = 0.2;
const TIMES: usize = 3;

/// A tag (ISO 639), the language's name, and words that are common in it. From memory.
const SMALL_WORDS: [(&str, &str, &str); 10] = [
    ("en", "English", "the of and to in is was that for with his her their from by who has not are be which they she"),
    ("de", "German", "der die das und ist von den dem ein eine nicht mit auf sich des im für sie wird als auch einer"),
    ("fr", "French", "le la les de des et un une du dans est que qui pour sur pas au avec son sa ses elle il par ce"),
    ("es", "Spanish", "el la los las de y que en un una por con para su no es se lo como más del al sus pero"),
    ("it", "Italian", "il la le di e che un una per con non si del della nel sono gli i è da come suo sua lo ma"),
    ("pt", "Portuguese", "o a os as de e que um uma do da dos das em no na com para por não se mais seu sua ao"),
    ("nl", "Dutch", "de het een en van in is op dat die te met zijn voor niet aan er om haar ook maar bij naar"),
    ("sv", "Swedish", "och att det en ett som på är av för med den till inte han hon de om sig men var från"),
    ("da", "Danish", "og at det en et som på er af for med den til ikke han hun de om sig men var fra der"),
    ("pl", "Polish", "i w na się nie z do że to jest o jak ale po jej jego od za przez który która są przy"),
];

/// Languages that are not known by words of their own, and one whose small words they share. From memory.
const NEAR: [(&str, &str); 8] =
    [("nb", "da"), ("no", "da"), ("nn", "da"), ("nn", "sv"), ("gl", "pt"), ("gl", "es"), ("ca", "es"), ("af", "nl")];

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let language = &exam.facts().book.language.value;
    let own = language.split('-').next().unwrap_or_default().to_ascii_lowercase();
    let near = |tag: &str| tag == own || NEAR.contains(&(own.as_str(), tag));
    let languages = text_languages(exam);
    let states_another = |place: &Span| languages.get(place).is_some_and(|all| all.iter().any(|own| own != language));
    for element in exam.of(Kind::Text).filter(|element| !states_another(&element.origin.span)) {
        let words = element.words().to_lowercase();
        let words: Vec<&str> =
            words.split(|letter: char| !letter.is_alphabetic()).filter(|word| !word.is_empty()).collect();
        if words.len() < WORDS {
            continue;
        }
        let count = |small: &str| {
            let small: Vec<&str> = small.split(' ').collect();
            words.iter().filter(|word| small.contains(*word)).count()
        };
        let counts = SMALL_WORDS.iter().map(|(tag, name, small)| (count(small), *tag, *name));
        let Some((most, tag, name)) = counts.clone().max_by_key(|(count, ..)| *count) else { continue };
        let ours = counts.filter(|(_, tag, _)| near(tag)).map(|(count, ..)| count).max().unwrap_or(0);
        if !near(tag) && most as f64 >= SHARE * words.len() as f64 && most >= TIMES * ours.max(1) {
            let message = format!("{} reads as {name}; the book's language is {language}", element.name());
            let help = format!("write `language {tag}` in this text, or in `book` where the whole cover is in {name}");
            findings.element(Severity::Warning, element, message, help);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    const GERMAN: &str = "Das ist ein Roman von der See und von denen, die auf ihr leben, und die auf dem Land warten.";

    fn text(language: &str, words: &str) -> usize {
        stating(language, words, "")
    }

    fn stating(language: &str, words: &str, says: &str) -> usize {
        let cover = format!(
            "book {{ title \"T\"; author \"A\"; pages 320; language {language} }}
            panel back {{ text a words={words:?} {{ left safe; right safe; top 40; size 10; {says} }} }}"
        );
        reported(&RULE, &cover).len()
    }

    /// An author who has said so knows, and the words are set by that language. One who says the book's again does not.
    #[test]
    fn a_text_that_states_its_language_is_not_judged() {
        let german = |says: &str| stating("en-GB", GERMAN, says);
        assert_eq!(
            [german("language de"), german("language de-CH"), german("language en-GB"), german("")],
            [0, 0, 1, 1]
        );
        let styled = |name: &str| {
            let words = format!("{GERMAN:?} style={name}");
            let cover = format!(
                "book {{ title \"T\"; author \"A\"; pages 320; language en-GB }}
                type {{ style foreign {{ language de }}; style plain {{ size 9 }} }}
                panel back {{ text a words={words} {{ left safe; right safe; top 40 }} }}"
            );
            reported(&RULE, &cover).len()
        };
        assert_eq!([styled("foreign"), styled("plain")], [0, 1]);
    }

    /// Words that a language shares with its neighbour do not make it that one.
    #[test]
    fn neighbours_are_not_taken_for_each_other() {
        let norwegian =
            "En roman om havet og om dem som lever på det, og om dem som venter på land til de kommer hjem.";
        let galician =
            "Unha novela do mar e dos que viven nel, e das que agardan na terra a que volvan a casa, que non é a súa.";
        assert_eq!([text("nb", norwegian), text("en-GB", norwegian), text("nb", GERMAN)], [0, 1, 1]);
        assert_eq!(text("gl", galician), 0);
    }

    #[test]
    fn a_german_blurb_on_an_english_book() {
        assert_eq!(example(&RULE)[0].message, "`blurb` reads as German; the book's language is en-GB");
        let german = GERMAN;
        let english =
            "A novel of the sea, of those who live on it and of those who wait on land for them to come home.";
        assert_eq!(
            [text("de", german), text("en-GB", english), text("de-AT", english), text("cs", english)],
            [0, 0, 1, 1]
        );
        assert_eq!(
            text(
                "en-GB",
                "Mirela Anand, Osselby, Tern Passage, Sorrel & Stave, Inter, La Mer, Le Soir, Der Tag, Il Mare"
            ),
            0
        );
    }
}
