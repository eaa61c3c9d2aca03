//! Spine words that run another way than the books beside them on the shelf.
//!
//! A spine that reads the other way stands upside down among its neighbours on the shelf.
//!
//! - words running up where the language's custom is down: warning. Words running down where the custom is up: note,
//!   since that custom is no longer uniform. Words across the spine are always right: ISO 6357 prefers them where they fit.
//!
//! ISO 6357:1985 and ANSI/NISO Z39.41 let spine titles run down (cited from summaries); the upward custom of continental
//! Europe and Latin America is common practice.
//!
//! ```kdl
//! panel spine {
//!     reads up
//!     text spine-title words="{title}" { head safe 5; size 12 }
//! }
//! ```
//!
//! Way out: `reads auto`, or leave it where the market wants it so.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::visible::VisibleElement;
use crate::cover::Reading;
use crate::ground::{Severity, Vec2};
use crate::scene::Media;

pub const RULE: CheckRule = CheckRule {
    name: "spine-direction-unlike-market",
    severity: Severity::Warning,
    media: Media::Print,
    limits: &[],
    source: include_str!("spine_direction_unlike_market.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let language = &exam.facts().book.language.value;
    let (custom, why) = Reading::of_language(language);
    let right_to_left = exam.facts().book.right_to_left();
    for element in exam.spine_words() {
        let runs = match direction(element, right_to_left) {
            Some(runs) if runs != custom && !(custom == Reading::Upright && runs == Reading::Down) => runs,
            _ => continue,
        };
        let severity = if custom == Reading::Up { Severity::Note } else { Severity::Warning };
        let word = |reading| if reading == Reading::Up { "up" } else { "down" };
        let usual = if custom == Reading::Up { "up" } else { "down" };
        let message = format!(
            "{} reads {}; a spine in `{language}` is expected to read {usual}: {why}",
            element.name(),
            word(runs)
        );
        findings.element(severity, element, message, "write `reads auto`, unless the market wants it so");
    }
}

/// Where its first line runs; `None` for one across the spine or at an angle.
fn direction(element: &VisibleElement<'_>, right_to_left: bool) -> Option<Reading> {
    let (run, _) = element.runs().next()?;
    let [a, b, ..] = run.transform.as_coeffs();
    let along = Vec2::new(a, b);
    if along.y.abs() < 0.9 * along.hypot() {
        return None;
    }
    // Clockwise by a quarter reads down where words run from left to right, and up where they run from right to left.
    Some(if (along.y > 0.0) == right_to_left { Reading::Up } else { Reading::Down })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn up_in_english() {
        assert_eq!(example(&RULE)[0].severity, Severity::Warning);
    }

    #[test]
    fn the_custom_of_each_language_passes() {
        for language in ["en-GB", "fr", "he", "ja"] {
            let book = format!("book {{ title \"T\"; author \"A\"; pages 320; language {language} }}\n");
            let cover = book + "panel spine { text a words=\"{title}\" { head safe 5; size 8 } }";
            assert_eq!(reported(&RULE, &cover), [], "{language}");
        }
    }

    #[test]
    fn down_in_french_is_worth_a_word() {
        let book = "book { title \"T\"; author \"A\"; pages 320; language fr }\n";
        let found = reported(
            &RULE,
            &format!("{book}panel spine {{ reads down; text a words=\"Nuit\" {{ head safe 5; size 8 }} }}"),
        );
        assert_eq!(found[0].severity, Severity::Note);
    }
}
