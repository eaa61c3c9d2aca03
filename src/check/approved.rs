//! Approved: whether what somebody approved is still what the cover shows.

use crate::cover::{Approval, Cover, Reach};
use crate::ground::{Digest, Finding, Point, Rect, Severity, Spanned};
use crate::scene::{ApprovalStanding, Item, Mark, Origin, Scene, Sheet, Sketch, Standing, Surface, words_of};
use std::fmt::Write as _;

/// Reports what has changed since it was approved, and approvals that state nothing yet. Only the printed cover is approved.
pub fn approved(cover: &Cover, scene: &Scene, findings: &mut Vec<Finding>) {
    if scene.sheet.pixels.is_some() {
        return;
    }
    // Several people may approve the same: it is read once.
    let mut read: Vec<(&Reach, Shown)> = Vec::new();
    for approval in &cover.approvals {
        let at = read.iter().rposition(|(reach, _)| *reach == &approval.reach).unwrap_or_else(|| {
            read.push((&approval.reach, Present::of(&approval.reach, scene).shown(&approval.reach, &scene.sheet)));
            read.len() - 1
        });
        findings.extend(changed(approval, &read[at].1));
    }
}

/// How the cover that is drawn stands against all of its approvals.
pub fn standing(cover: &Cover, scene: &Scene) -> Standing {
    let look = Present::of(&Reach::Cover, scene).look();
    let mut found = Vec::new();
    approved(cover, scene, &mut found);
    let of = |rule: Option<&str>| {
        let own = |approval: &&Approval| {
            let told = found.iter().find(|finding| finding.span == approval.span);
            told.map(|finding| finding.rule) == rule
        };
        let mut all: Vec<&str> = cover.approvals.iter().filter(own).map(|approval| approval.by.as_str()).collect();
        all.dedup();
        (!all.is_empty()).then(|| all.join(", "))
    };
    let approval = if cover.approvals.is_empty() || scene.sheet.pixels.is_some() {
        ApprovalStanding::NotStated
    } else if let Some(by) = of(Some(CHANGED)) {
        ApprovalStanding::Changed(by)
    } else if let Some(by) = of(Some(OPEN)) {
        ApprovalStanding::Open(by)
    } else {
        ApprovalStanding::Holds(of(None).unwrap_or_default())
    };
    Standing { look, approval }
}

const OPEN: &str = "approval-open";
const CHANGED: &str = "changed-since-approval";

fn changed(approval: &Approval, now: &Shown) -> Option<Finding> {
    let by = &approval.by;
    let parts = [
        ("words", "the words", &approval.words, &now.words),
        ("place", "the place", &approval.place, &now.place),
        ("look", "the look", &approval.look, &now.look),
    ];
    let is_other = |stated: &Option<Spanned<String>>, present: &str| {
        stated.as_ref().is_some_and(|stated| !stated.value.eq_ignore_ascii_case(present))
    };
    let write = |wanted: &dyn Fn(&Option<Spanned<String>>, &str) -> bool| {
        let wanted = parts.iter().filter(|(_, _, stated, present)| wanted(stated, present));
        wanted.map(|(word, _, _, present)| format!("{word}={present:?}")).collect::<Vec<String>>().join(" ")
    };
    let finding = if parts.iter().all(|(_, _, stated, _)| stated.is_none()) {
        let message = format!("the approval by {by} does not say yet what it holds");
        let help = format!("write what was approved: {}", write(&|_, _| true));
        Finding::new(Severity::Note, OPEN, approval.span, message).help(help)
    } else {
        let others = parts.iter().filter(|(_, _, stated, present)| is_other(stated, present));
        let others: Vec<&str> = others.map(|(_, what, ..)| *what).collect();
        let (last, first) = others.split_last()?;
        let what = if first.is_empty() { (*last).to_owned() } else { format!("{} and {last}", first.join(", ")) };
        let have = if first.is_empty() && *last != "the words" { "has" } else { "have" };
        let message = format!("{what} of {} {have} changed since the approval by {by}", now.subject);
        let help = format!("have it approved again, and write {}", write(&is_other));
        Finding::new(Severity::Warning, CHANGED, approval.span, message).help(help)
    };
    Some(match now.frame {
        Some(frame) => finding.at(frame),
        None => finding,
    })
}

/// What an approval is about, as a message calls it, where it lies, and the digests of what it shows now.
struct Shown {
    subject: String,
    frame: Option<Rect>,
    words: String,
    place: String,
    look: String,
}

/// What a cover shows now of all that an approval is about: element by element, in the order of printing.
struct Present<'a>(Vec<PresentElement<'a>>);

struct PresentElement<'a> {
    origin: &'a Origin,
    /// Each with the groups around it.
    items: Vec<(&'a Item, Vec<&'a Item>)>,
}

impl<'a> Present<'a> {
    fn of(reach: &Reach, scene: &'a Scene) -> Present<'a> {
        let mut present = Present(Vec::new());
        present.collect(reach, &scene.sheet, &scene.items, &mut Vec::new());
        present
    }

    fn collect(&mut self, reach: &Reach, sheet: &Sheet, items: &'a [Item], around: &mut Vec<&'a Item>) {
        for item in items {
            if let Mark::Group(group) = &item.mark {
                around.push(item);
                self.collect(reach, sheet, &group.items, around);
                around.pop();
                continue;
            }
            let origin = &*item.origin;
            if !is_about(reach, origin, sheet) {
                continue;
            }
            let at = self.0.iter().rposition(|known| known.origin == origin).unwrap_or_else(|| {
                self.0.push(PresentElement { origin, items: Vec::new() });
                self.0.len() - 1
            });
            self.0[at].items.push((item, around.clone()));
        }
    }

    fn shown(&self, reach: &Reach, sheet: &Sheet) -> Shown {
        Shown {
            subject: self.subject(reach),
            frame: self.frame(),
            words: self.words(),
            place: self.place(sheet),
            look: self.look(),
        }
    }

    fn subject(&self, reach: &Reach) -> String {
        match (reach, self.0.first()) {
            (Reach::Panel(surface), _) => format!("the {surface}"),
            (Reach::Element { .. }, Some(first)) => format!("`{}`", first.origin.element),
            (Reach::Cover, _) => "the cover".to_owned(),
            _ => "what stood here".to_owned(),
        }
    }

    fn frame(&self) -> Option<Rect> {
        self.0.iter().map(|element| element.origin.frame.abs()).reduce(|all, next| all.union(next))
    }

    /// Line breaks and hyphens at them do not count.
    fn words(&self) -> String {
        let texts = self.0.iter().map(|element| {
            let runs = element.items.iter().filter_map(|(item, _)| match &item.mark {
                Mark::Glyphs(run) => Some(run),
                _ => None,
            });
            words_of(runs).split_whitespace().collect::<Vec<&str>>().join(" ")
        });
        short(&texts.filter(|text| !text.is_empty()).collect::<Vec<String>>().join("\n"))
    }

    /// Every frame from the corner of its panel, in hundredths of a millimetre.
    fn place(&self, sheet: &Sheet) -> String {
        let mut said = String::new();
        for PresentElement { origin, .. } in &self.0 {
            let panel = match origin.panel {
                Surface::Panel(name) => sheet.panel(name).map(|panel| panel.rect),
                Surface::Wrap => None,
            };
            let corner = panel.map_or_else(|| sheet.trim.origin(), |panel| Point::new(panel.x0, panel.y0));
            let frame = origin.frame.abs() - corner.to_vec2();
            let fine = [frame.x0, frame.y0, frame.x1, frame.y1].map(|length| (length * 100.0).round() as i64);
            writeln!(said, "{} {fine:?}", origin.element).expect("a string takes every line");
        }
        short(&said)
    }

    fn look(&self) -> String {
        let mut said = String::new();
        for element in &self.0 {
            let mut sketch = Sketch::default();
            element.items.iter().for_each(|(item, around)| sketch.add(item, around));
            writeln!(said, "{} {}", element.origin.element, sketch.digest()).expect("a string takes every line");
        }
        short(&said)
    }
}

fn is_about(reach: &Reach, origin: &Origin, sheet: &Sheet) -> bool {
    match reach {
        Reach::Panel(surface) => origin.panel == *surface,
        _ => reach.holds(origin.span, None, sheet),
    }
}

fn short(text: &str) -> String {
    Digest::of(text.as_bytes()).to_string()[..Approval::DIGITS].to_owned()
}

#[cfg(test)]
mod tests {
    use crate::check::testing::{DARKROOM, drawn};
    use crate::check::{check, measured_plates};
    use crate::ground::{Finding, Findings};
    use std::cell::RefCell;

    fn findings(cover: &str) -> Vec<Finding> {
        let (cover, scene) = drawn(cover);
        let findings = RefCell::new(Findings::default());
        check(&findings, &cover, &scene, Some(&measured_plates(&scene, &DARKROOM)), &DARKROOM, None);
        let findings = findings.into_inner();
        findings.iter().filter(|finding| finding.rule.contains("approv")).cloned().collect()
    }

    fn back(words: &str, top: u32, size: u32, approval: &str) -> String {
        format!(
            "type {{ style small {{ size {size} }} }}
            panel back {{ text blurb words=\"{words}\" style=small {{ left safe; right safe; top {top}; {approval} }} }}"
        )
    }

    /// What the open approval says to write.
    fn offered(cover: &str) -> String {
        let open = findings(cover);
        assert_eq!((open.len(), open[0].rule), (1, "approval-open"), "{open:?}");
        let help = open[0].help.clone().expect("a way out");
        help.split_once(": ").expect("what to write").1.to_owned()
    }

    #[test]
    fn each_change_is_called_what_it_is() {
        let offer = offered(&back("A novel of the sea.", 30, 12, "approved by=\"M. Anand\""));
        let approved = format!("approved by=\"M. Anand\" {offer}");
        let said = |words: &str, top: u32, size: u32| {
            let found = findings(&back(words, top, size, &approved));
            found.iter().map(|finding| finding.message.clone()).collect::<Vec<String>>().join("; ")
        };
        assert_eq!(said("A novel of the sea.", 30, 12), "");
        for (words, top, size, wanted) in [
            ("A novel of the sea.", 31, 12, "the place of `blurb` has"),
            ("A novel of the see.", 30, 12, "the words and the look of `blurb` have"),
            ("A novel of the sea.", 30, 13, "the place and the look of `blurb` have"),
        ] {
            assert_eq!(said(words, top, size), format!("{wanted} changed since the approval by M. Anand"));
        }
    }

    /// One of them approved other words, in the same place of the same element.
    #[test]
    fn everybody_hears_of_their_own_approval() {
        let offer = offered(&back("A novel.", 30, 12, "approved by=\"M. Anand\""));
        let words = offer.split(' ').next().expect("the words come first").to_owned();
        let both = format!("approved by=\"M. Anand\" {words}\n approved by=\"E. Rowe\" words=\"00000000\"\n");
        let found = findings(&back("A novel.", 30, 12, &both));
        assert_eq!(found.len(), 1, "{found:?}");
        assert!(found[0].message.ends_with("the approval by E. Rowe"), "{found:?}");
    }

    /// A panel is approved as a whole, and what stands on another one may change.
    #[test]
    fn panels_and_covers_are_approved_whole() {
        let cover = |back: &str, front: &str, approval: &str| {
            format!(
                "panel back {{ {approval}\n text blurb words=\"{back}\" {{ left safe; right safe; top 30 }} }}
                panel front {{ text line words=\"{front}\" {{ left safe; right safe; top 30 }} }}"
            )
        };
        let offer = offered(&cover("One", "Two", "approved by=\"A\""));
        let approved = format!("approved by=\"A\" {offer}");
        assert_eq!(findings(&cover("One", "Three", &approved)), []);
        let found = findings(&cover("Other", "Two", &approved));
        assert!(found[0].message.contains("of the back have changed"), "{found:?}");
        let thicker = format!("book {{ title \"Salt\"; pages 640 }}\n{}", cover("One", "Three", &approved));
        assert_eq!(findings(&thicker), [], "another spine moves nothing");
        let top = |back: &str, front: &str, approval: &str| format!("{approval}\n{}", cover(back, front, ""));
        let offer = offered(&top("One", "Two", "approved by=\"A\""));
        let found = findings(&top("One", "Three", &format!("approved by=\"A\" {offer}")));
        assert!(found[0].message.contains("of the cover have changed"), "{found:?}");
    }
}
