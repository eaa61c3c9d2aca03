//! Letters that the font does not have.
//!
//! A font without a letter prints an empty box in its place, or nothing: on paper, in every copy.
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
use crate::scene::{Mark, Origin};

pub const RULE: CheckRule =
    CheckRule { name: "missing-glyph", severity: Severity::Error, source: include_str!("missing_glyph.rs"), run };

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let mut told: Vec<(&Origin, Vec<char>, &str)> = Vec::new();
    exam.scene.walk(&mut |item| {
        let Mark::Glyphs(run) = &item.mark else { return };
        for glyph in run.glyphs.iter().filter(|glyph| glyph.id == 0) {
            let letters = run.text.get(glyph.text.clone()).unwrap_or_default();
            for letter in letters.chars().filter(|letter| !letter.is_whitespace()) {
                let same =
                    |(origin, ..): &&mut (&Origin, Vec<char>, &str)| std::ptr::eq(*origin, &raw const *item.origin);
                match told.last_mut().filter(same) {
                    Some((_, known, _)) if known.contains(&letter) => {}
                    Some((_, known, _)) => known.push(letter),
                    None => told.push((&item.origin, vec![letter], run.font.name())),
                }
            }
        }
    });
    for (origin, letters, font) in told {
        let codes: Vec<String> =
            letters.iter().map(|letter| format!("{letter} (U+{:04X})", u32::from(*letter))).collect();
        let message = format!("the font {font} of `{}` has no {}", origin.element, codes.join(", "));
        findings.place(Severity::Error, origin.span, origin.frame, message, "choose a font that has them");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, told};

    #[test]
    fn devanagari_in_a_gothic() {
        let said = example(&RULE);
        assert_eq!(said.len(), 1);
        assert!(said[0].message.contains("म (U+092E)"), "{}", said[0].message);
    }

    #[test]
    fn letters_that_are_there_pass() {
        let cover = "panel front { text title words=\"Łódź, œuvre — naïve\" { left safe; right safe; top safe 20 } }";
        assert_eq!(told(&RULE, cover), []);
    }
}
