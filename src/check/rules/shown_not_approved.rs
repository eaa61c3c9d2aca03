//! Pictures of a book that show what is no longer approved.
//!
//! Pictures of the finished book and for shops go out months before the book does, and are hard to call back. A cover that
//! has changed since it was approved should not go out as if it were the approved one.
//!
//! - the cover asks for a `view` or a picture for shops, and an approval does not hold any more: warning. What has changed
//!   stands in `changed-since-approval`.
//!
//! Every such picture says in its metadata which version it shows, by number and by the digits of its look, and whether it is the
//! approved one: see `jaconet explain files`.
//!
//! ```kdl
//! view standing
//! panel back { text blurb words="A novel of the sea." { approved by="M. Anand" words="5a0c9be1"; left safe; right safe; top 30 } }
//! ```
//!
//! Way out: have it approved again; or build the version that was approved, from the revision of that day.

use crate::check::approved::standing;
use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::ground::Severity;
use crate::scene::{ApprovalStanding, Media};

pub const RULE: CheckRule = CheckRule {
    name: "shown-not-approved",
    severity: Severity::Warning,
    media: Media::Print,
    limits: &[],
    source: include_str!("shown_not_approved.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let views = exam.facts().views.iter().map(|view| format!("`view {}`", view.name));
    let shop = exam.shop().map(|_| "the picture for shops".to_owned());
    let shown: Vec<String> = views.chain(shop).collect();
    let (Some(first), Some(approval)) = (shown.first(), exam.cover.approvals.first()) else { return };
    if let ApprovalStanding::Changed(by) = standing(exam.cover, exam.scene).approval {
        let others = if shown.len() > 1 { format!(" and {} more", shown.len() - 1) } else { String::new() };
        let verb = if shown.len() > 1 { "show" } else { "shows" };
        let message = format!("{first}{others} {verb} a cover that has changed since the approval by {by}");
        let help = "have it approved again before its pictures go out; they say in their metadata that it is not";
        findings.fact(Severity::Warning, approval.span, message, help);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    #[test]
    fn pictures_of_what_is_not_approved() {
        let found = example(&RULE);
        let wanted = "`view standing` shows a cover that has changed since the approval by M. Anand";
        assert_eq!((found.len(), found[0].message.as_str()), (1, wanted));
        let cover = |approval: &str, wanted: &str| {
            let text = format!("text a words=\"Salt\" {{ {approval}\n left safe; right safe; top 30 }}");
            reported(&RULE, &format!("{wanted}\npanel back {{ {text} }}")).len()
        };
        assert_eq!(cover("approved by=\"A\" words=\"00000000\"", ""), 0, "no picture is asked for");
        assert_eq!(cover("approved by=\"A\"", "view standing"), 0, "still open");
        assert_eq!(cover("", "view standing"), 0, "no approval is stated");
        assert_eq!(cover("approved by=\"A\" words=\"00000000\"", "deliver { shop 400 640 ratio=crop }"), 1);
    }
}
