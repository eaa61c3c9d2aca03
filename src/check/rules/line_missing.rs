//! Words that must stand on the cover and do not.
//!
//! The imprint, the country of printing or a credit is often noticed only after printing, and then a sticker covers the place.
//!
//! - words that a `must-say` of the cover or its series asks for, and that no text says: warning. Capitals, blanks and marks do
//!   not count, and a part of a line is enough. What stands in a picture is not read.
//!
//! ```kdl
//! must-say "Printed in"
//! panel back { text imprint words="Tern Passage" { left safe; right safe; bottom safe } }
//! ```
//!
//! Way out: print it, on the back or a flap; or waive it here with a reason.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::words::{excerpt, folded};
use crate::ground::Severity;
use crate::scene::{Kind, Media};

pub const RULE: CheckRule = CheckRule {
    name: "line-missing",
    severity: Severity::Warning,
    media: Media::Print,
    limits: &[],
    source: include_str!("line_missing.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let wanted = &exam.facts().must_say;
    if wanted.is_empty() {
        return;
    }
    let said: Vec<String> = exam.of(Kind::Text).map(|element| folded(&element.words())).collect();
    for words in wanted {
        let folded = folded(&words.value);
        if !said.iter().any(|said| said.contains(&folded)) {
            let message = format!("no text of the cover says {:?}", excerpt(&words.value));
            findings.fact(Severity::Warning, words.span, message, "print it, on the back or a flap");
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn what_must_be_said() {
        assert_eq!(example(&RULE)[0].message, "no text of the cover says \"Printed in\"");
        let cover = |words: &str| {
            let text = format!("text a words={words:?} {{ left safe; right safe; bottom safe; size 8 }}");
            reported(&RULE, &format!("must-say \"Printed in\"\nmust-say \"{{author}}\"\npanel back {{ {text} }}")).len()
        };
        let said = ["PRINTED IN IRELAND · Mirela Anand", "printed  in Ireland", "Mirela Anand", "Salt"];
        assert_eq!(said.map(cover), [0, 1, 1, 2]);
    }
}
