//! A picture whose inks are limited, and what that costs.
//!
//! With `limit-inks`, a picture with more ink on one spot than the limit is printed with more black and less of the other inks.
//! By the press profile most colours look as they did; the deepest become a little lighter.
//!
//! - a picture in which colours change: note, with the mean and the largest difference of the changed ones (CIEDE2000, by the
//!   press profile) and the ink that is saved.
//! - their mean difference is over 3: warning. A difference of 1 is just seen; 3 shows beside the original. Common practice.
//! - `limit-inks` over the `ink-limit` of the press: warning. A picture within it may have more ink than the press takes.
//!
//! Measured on up to 40,000 pixels, evenly spread.
//!
//! ```kdl
//! panel front { image dark file="art/deep.png" { limit-inks 180; left 40; width 20; top 60 } }
//! ```
//!
//! Way out: nothing needs to be done where the difference is small. A higher limit changes less; ask the printer for it.

use crate::assets::{Separation, difference};
use crate::check::exam::Exam;
use crate::check::limit::{PRACTICE, RuleLimit, bare};
use crate::check::rule::{CheckRule, RuleFindings, percent};
use crate::ground::{Process, Severity, number};
use crate::scene::{Media, PlacedPicture};

pub const RULE: CheckRule = CheckRule {
    name: "inks-limited",
    severity: Severity::Warning,
    media: Media::Print,
    limits: &[SEEN],
    source: include_str!("inks_limited.rs"),
    run,
};

const SEEN: RuleLimit =
    bare("difference", "a mean difference in CIEDE2000 of more than this is a warning", "3", PRACTICE).most();

/// Pixels that are looked at.
const LOOKED_AT: usize = 40_000;

struct LimitCost {
    /// Of the pixels that were looked at.
    changed: f64,
    mean: f64,
    most: f64,
    /// Of all its ink.
    saved: f64,
}

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let seen = findings.limit(&SEEN);
    higher_than_the_press(exam, findings);
    let mut known: Vec<&PlacedPicture> = Vec::new();
    for element in &exam.elements {
        for (placed, _) in element.pictures() {
            let same = |other: &&PlacedPicture| {
                other.picture.digest() == placed.picture.digest() && other.separation == placed.separation
            };
            if known.iter().any(same) {
                continue;
            }
            known.push(placed);
            let limit = exam.scene.profile.kept_limit(&placed.picture, placed.separation);
            let Some((limit, cost)) = limit.and_then(|limit| Some((limit, cost(exam, placed)?))) else {
                continue;
            };
            let tenth = |value: f64| number((value * 10.0).round() / 10.0);
            let message = format!(
                "{:?} is kept within {limit} % of ink: {} of its pixels change, by {} on average and {} at most (CIEDE2000)",
                placed.picture.name(),
                share(cost.changed),
                tenth(cost.mean),
                tenth(cost.most)
            );
            let most = whole_percent(exam.facts().press.ink_limit);
            let way = if f64::from(limit) < most {
                format!("a higher `limit-inks`, up to {most} on this press, changes less")
            } else {
                "the press takes no more".to_owned()
            };
            let help = format!("that saves {} of its ink; {way}", share(cost.saved));
            let severity = if cost.mean > seen { Severity::Warning } else { Severity::Note };
            findings.element(severity, element, message, help);
            findings.measured(cost.mean, &SEEN);
        }
    }
}

/// The whole percent of a limit, which a sum of binary fractions may lie just under.
fn whole_percent(limit: f64) -> f64 {
    (limit * 100.0 + 1e-6).floor()
}

/// Limits that let through more than the press takes, where pictures have them: once where they are those of all pictures.
fn higher_than_the_press(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let press = &exam.facts().press;
    let most = whole_percent(press.ink_limit);
    if most < LEAST_LIMIT {
        return;
    }
    let usual = press.limit_inks.map(|limit| (limit * 100.0).round());
    let mut is_said = false;
    for element in &exam.elements {
        let limits = element.pictures().filter_map(|(placed, _)| {
            let limit = exam.scene.profile.kept_limit(&placed.picture, placed.separation)?;
            (placed.paint.is_none() && f64::from(limit) > most).then_some(f64::from(limit))
        });
        let Some(limit) = limits.reduce(f64::max) else { continue };
        let message = |whose: &str| format!("{whose} within {limit} % of ink, and the press takes {most} %");
        if usual != Some(limit) {
            let help = format!("write `limit-inks {most}` or less in the image");
            findings.element(Severity::Warning, element, message(&format!("{} is kept", element.name())), help);
        } else if !is_said {
            let help = format!("write `press … limit-inks={most}` or less");
            findings.fact(Severity::Warning, press.span, message("all pictures are kept"), help);
            is_said = true;
        }
    }
}

/// `limit-inks` takes no less.
const LEAST_LIMIT: f64 = 150.0;

/// Not nothing, where there is something.
fn share(share: f64) -> String {
    if share < 0.005 { "less than 1 %".to_owned() } else { percent(share) }
}

/// `None` where nothing changes.
fn cost(exam: &Exam<'_>, placed: &PlacedPicture) -> Option<LimitCost> {
    let (picture, profile) = (&placed.picture, &exam.scene.profile);
    if placed.paint.is_some() {
        return None;
    }
    let pixels = picture.width() as usize * picture.height() as usize;
    let count = pixels.min(LOOKED_AT);
    let which: Vec<usize> = (0..count).map(|at| at * pixels / count).collect();
    let free = Separation { limit: None, ..placed.separation };
    let [before, after] = [free, placed.separation]
        .map(|separation| exam.darkroom.few_inks(picture, separation, profile, &which).samples);
    let inks = |samples: &[u8; 4]| -> Process { samples.map(|ink| f64::from(ink) / 255.0) };
    let pairs = before.as_chunks::<4>().0.iter().zip(after.as_chunks::<4>().0);
    let changed: Vec<f64> = pairs
        .filter(|(one, other)| one != other)
        .map(|(one, other)| difference(profile.lab(inks(one)), profile.lab(inks(other))))
        .collect();
    let sum = |samples: &[u8]| samples.iter().map(|ink| f64::from(*ink)).sum::<f64>();
    (!changed.is_empty()).then(|| LimitCost {
        changed: changed.len() as f64 / count as f64,
        mean: changed.iter().sum::<f64>() / changed.len() as f64,
        most: changed.iter().copied().fold(0.0, f64::max),
        saved: 1.0 - sum(&after) / sum(&before).max(1.0),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 230 % is 2.3, and a hundred times that is less than 230.
    #[test]
    fn every_whole_percent_is_itself() {
        for stated in 100..=400_u32 {
            assert_eq!(whole_percent(f64::from(stated) / 100.0).to_string(), stated.to_string());
        }
        assert_eq!(whole_percent(2.299).to_string(), "229");
    }
    use crate::check::testing::{example, example_text, reported};

    #[test]
    fn what_a_limit_costs_and_saves() {
        let found = &example(&RULE)[0];
        assert!(found.message.contains("kept within 180 % of ink"), "{}", found.message);
        assert!(found.help.as_ref().is_some_and(|help| help.contains("of its ink; ")), "{found:?}");
        let cover = example_text(RULE.source).expect("an example");
        assert_eq!(reported(&RULE, &cover.replace("limit-inks 180", "limit-inks 300")), []);
        assert_eq!(reported(&RULE, &cover.replace("limit-inks 180", "limit-inks none")), []);
        let press = format!("press coated limit-inks=180\n{}", cover.replace("limit-inks 180; ", ""));
        assert_eq!(reported(&RULE, &press)[0].message, found.message);
    }

    // The bundled coated press takes 300 % (300 % is usual on coated paper).
    #[test]
    fn a_limit_over_that_of_the_press_is_said_once() {
        let cover = example_text(RULE.source).expect("an example");
        let said = |press: &str, limit: &str| -> Vec<String> {
            let cover = format!("{press}\n{}", cover.replace("limit-inks 180; ", limit));
            reported(&RULE, &cover).into_iter().map(|found| found.message).collect()
        };
        let own = ["`dark` is kept within 320 % of ink, and the press takes 300 %"];
        assert_eq!(said("press coated ink-limit=300", "limit-inks 320; "), own);
        assert_eq!(said("press coated ink-limit=330", "limit-inks 320; "), [""; 0]);
        let all = "all pictures are kept within 340 % of ink, and the press takes 330 %";
        assert_eq!(said("press coated ink-limit=330 limit-inks=340", ""), [all]);
        assert_eq!(said("press coated ink-limit=330 limit-inks=340", "limit-inks none; "), [""; 0]);
    }

    #[test]
    fn greys_in_black_alone_have_nothing_to_limit() {
        let grey = "panel front { image a file=\"art/small.jpg\" { limit-inks 150; left 40; width 20; top 60 } }";
        assert_eq!(reported(&RULE, grey), []);
    }
}
