//! Letters that the font does not have.
//!
//! Where a font lacks a letter, an empty box or nothing is printed, in every copy.
//!
//! - any letter without a glyph: error, naming the letters.
//!
//! ```kdl
//! panel front {
//!     text title words="मेला" { font "League Gothic"; left safe; right safe; top safe 20 }
//! }
//! ```
//!
//! Way out: another font for this text, or put one that has the letters into the cover's `fonts` folder.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::Severity;
use crate::scene::{Mark, Media, Origin};

pub const RULE: CheckRule = CheckRule {
    name: "missing-glyph",
    severity: Severity::Error,
    media: Media::Both,
    limits: &[],
    source: include_str!("missing_glyph.rs"),
    run,
};

/// An element, letters, and the font that lacks them.
type Lacking<'a> = (&'a Origin, Vec<char>, &'a str);

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let mut reported: Vec<Lacking<'_>> = Vec::new();
    exam.scene.walk(&mut |item| {
        let Mark::Glyphs(run) = &item.mark else { return };
        for glyph in run.glyphs.iter().filter(|glyph| glyph.id == 0) {
            let letters = run.text.get(glyph.text.clone()).unwrap_or_default();
            for letter in letters.chars().filter(|letter| !letter.is_whitespace()) {
                let font = run.font.name();
                let same = |reported: &&mut Lacking<'_>| {
                    std::ptr::eq(reported.0, &raw const *item.origin) && reported.2 == font
                };
                match reported.iter_mut().find(same) {
                    Some((_, known, _)) if known.contains(&letter) => {}
                    Some((_, known, _)) => known.push(letter),
                    None => reported.push((&item.origin, vec![letter], font)),
                }
            }
        }
    });
    for (origin, letters, font) in reported {
        let codes: Vec<String> =
            letters.iter().map(|letter| format!("{letter} (U+{:04X})", u32::from(*letter))).collect();
        let message = format!("the font {font} of `{}` has no {}", origin.element, codes.join(", "));
        findings.place(Severity::Error, origin.span, origin.frame, message, "choose a font that has them");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{drawn, example, reported, reported_with};

    #[test]
    fn devanagari_in_a_gothic() {
        let found = example(&RULE);
        assert_eq!(found.len(), 1);
        assert!(found[0].message.contains("म (U+092E)"), "{}", found[0].message);
    }

    #[test]
    fn each_font_of_an_element_is_named() {
        let cover = |font: &str| {
            format!("panel front {{ text a words=\"मे\" {{ font {font:?}; left safe; right safe; top safe 20 }} }}")
        };
        let item = |font: &str| drawn(&cover(font)).1.items.last().expect("words are drawn").clone();
        let (one, mut other) = (item("League Gothic"), item("Zilla Slab"));
        other.origin = one.origin.clone();
        let found = reported_with(&RULE, "", vec![one, other]);
        assert_eq!(found.len(), 2, "{found:?}");
        assert!(found[0].message.contains("League") && found[1].message.contains("Zilla"), "{found:?}");
    }

    #[test]
    fn letters_that_are_there_pass() {
        let cover = "panel front { text title words=\"Łódź, œuvre — naïve\" { left safe; right safe; top safe 20 } }";
        assert_eq!(reported(&RULE, cover), []);
    }
}
