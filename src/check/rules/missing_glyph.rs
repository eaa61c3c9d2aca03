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
use crate::typeset::lacking;

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
        let mut cluster = "";
        for glyph in &run.glyphs {
            // The first glyph of a cluster speaks for all of it: a letter and its marks.
            if !glyph.text.is_empty() {
                cluster = run.text.get(glyph.text.clone()).unwrap_or_default();
            }
            let letters = if glyph.id == 0 { lacking(&run.font, cluster) } else { Vec::new() };
            for letter in letters.into_iter().filter(|letter| !letter.is_whitespace()) {
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

    /// A mark, or a letter under one, is part of a cluster whose other letters the font may have.
    #[test]
    fn marks_and_letters_under_them_are_named_by_themselves() {
        let named = |font: &str, words: &str| {
            let cover = format!(
                "panel front {{ text a words=\"{words}\" {{ font {font:?}; left safe; right safe; top safe 20 }} }}"
            );
            reported(&RULE, &cover).into_iter().map(|finding| finding.message).collect::<Vec<_>>()
        };
        let one = |said: &str| vec![format!("the font {said}")];
        // A double arrow below, and a Hebrew letter, which begins its run at the right.
        assert_eq!(named("Zilla Slab", "o\u{362}p"), one("ZillaSlab-Regular of `a` has no \u{362} (U+0362)"));
        assert_eq!(named("Caveat", "\u{5e7}\u{335}"), one("Caveat-Regular of `a` has no \u{5e7} (U+05E7)"));
        // The font has the mark, and not the letter; a letter it has in two parts.
        assert_eq!(
            named("Playfair Display", "\u{2111}\u{301}"),
            one("PlayfairDisplay-Regular of `a` has no \u{2111} (U+2111)")
        );
        assert!(named("Playfair Display", "\u{227}\u{301}").is_empty());
    }

    #[test]
    fn letters_that_are_there_pass() {
        let cover = "panel front { text title words=\"Łódź, œuvre — naïve\" { left safe; right safe; top safe 20 } }";
        assert_eq!(reported(&RULE, cover), []);
    }
}
