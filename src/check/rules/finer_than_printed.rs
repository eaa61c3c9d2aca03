//! A picture with more pixels than a press can show.
//!
//! A press shows 300 pixels per inch. The pixels of a finer picture are averaged on paper all the same; until then they make
//! files that are slow to send and to check.
//!
//! - more pixels per inch at its size than `deliver { press finest=… }` says, 450 by default: note. The press file has the
//!   picture scaled down to so many, averaged as light. Half as much again as 300 is common practice.
//!
//! ```kdl
//! panel front { image harbour file="art/fine.png" { left 40; width 20; top 60 } }
//! ```
//!
//! Way out: nothing needs to be done. `deliver { press finest=none }` keeps every pixel; a file of fewer pixels is quicker to
//! build.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::ground::{MM_PER_INCH, Severity};
use crate::scene::{Media, ScaledDown};

pub const RULE: CheckRule = CheckRule {
    name: "finer-than-printed",
    severity: Severity::Note,
    media: Media::Print,
    limits: &[],
    source: include_str!("finer_than_printed.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let chosen = exam.facts().delivery.get("press").copied().unwrap_or_default().press;
    let Some(finest) = chosen.finest else { return };
    let mut all = exam.scene.scaled_down(finest);
    for element in &exam.elements {
        for (placed, _) in element.pictures() {
            let Some(at) = all.iter().position(|scaled| std::ptr::eq(scaled.placed, placed)) else { continue };
            let (message, help) = said(&all.swap_remove(at), exam);
            findings.element(Severity::Note, element, message, help);
        }
    }
}

fn said(scaled: &ScaledDown<'_>, exam: &Exam<'_>) -> (String, String) {
    let (placed, (width, height)) = (scaled.placed, scaled.size);
    let (picture, (across, down)) = (&placed.picture, placed.size());
    let kept = f64::from(width) * MM_PER_INCH / across;
    let kept = kept.min(f64::from(height) * MM_PER_INCH / down);
    let (all, few) = (count(picture.width(), picture.height()), count(width, height));
    let inks = exam.scene.profile.picture_plates(picture, placed.separation).len() as f64;
    let message = format!(
        "{:?} has {:.0} pixels per inch at {} × {}; the press file has it with {kept:.0}, {width} × {height} pixels",
        picture.name(),
        placed.ppi(),
        mm(across),
        mm(down)
    );
    let saved = (all - few) * inks / 1e6;
    let help = format!(
        "that is {saved:.0} MB of ink less, before it is compressed; `deliver {{ press finest=none }}` keeps every pixel"
    );
    (message, help)
}

fn count(width: u32, height: u32) -> f64 {
    f64::from(width) * f64::from(height)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    // The picture has 1200 × 1000 pixels: at 25.4 mm across, 1200 to the inch by the definition of the inch.
    fn at(mm: f64, deliver: &str) -> Vec<String> {
        let cover =
            format!("panel front {{ image a file=\"art/fine.png\" {{ left 20; top 20; width {mm} }} }}\n{deliver}");
        reported(&RULE, &cover).into_iter().map(|found| found.message).collect()
    }

    #[test]
    fn what_the_press_file_keeps() {
        assert!(example(&RULE)[0].help.as_ref().is_some_and(|help| help.contains("MB of ink less")));
        let said = at(25.4, "");
        assert!(
            said[0].contains("has 1200 pixels per inch") && said[0].contains("with 450, 450 × 375 pixels"),
            "{said:?}"
        );
        let said = at(25.4, "deliver { press finest=600 }");
        assert!(said[0].contains("with 600, 600 × 500 pixels"), "{said:?}");
    }

    #[test]
    fn what_keeps_its_pixels() {
        assert_eq!(at(1200.0 / 449.0 * 25.4, ""), [""; 0]);
        assert_eq!(at(25.4, "deliver { press finest=none }"), [""; 0]);
        assert_eq!(at(25.4, "deliver { press bleed finest=1200 }"), [""; 0]);
        // Sixteen by sixteen pixels on a millimetre: 406 to the inch, and on half of one 813.
        let small = "panel front { image a file=\"art/small.jpg\" { left 20; top 20; width 0.5 } }";
        assert_eq!(reported(&RULE, small), []);
    }

    #[test]
    fn a_picture_placed_twice_keeps_what_the_larger_place_needs() {
        let twice = "panel front {
            image a file=\"art/fine.png\" { left 10; top 20; width 25.4 }
            image b file=\"art/fine.png\" { left 40; top 20; width 50.8 }
        }";
        let said = reported(&RULE, twice);
        assert_eq!(said.len(), 1);
        assert!(said[0].message.contains("has 600 pixels per inch at 50.8 mm"), "{}", said[0].message);
    }
}
