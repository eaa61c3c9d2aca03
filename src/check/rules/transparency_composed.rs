//! Transparency that a standard cannot hold.
//!
//! PDF/X-1a:2003, `deliver { press standard=x-1a }`, knows no transparency. What is thinned, multiplied or faded is composed with
//! all that lies under it, and the place becomes a picture of its plates, with 450 pixels per inch; what lies over it stays as
//! it is. On paper a picture looks alike; letters in it have softer edges.
//!
//! - a place that is composed: note.
//! - words or a bar code in it, under what is transparent: warning.
//! - more than eight inks in it: warning, since some readers take no more in one picture. From memory.
//! - a press profile of ICC version 4: error, since PDF/X-1a takes version 2 and the file would not be what it says. From
//!   memory.
//!
//! ```kdl
//! swatches { swatch night c=90 m=70 y=40 k=20 }
//! panel front { band veil { swatch night; left 20; width 40; top 20; height 40; opacity 50 } }
//! deliver { press standard=x-1a }
//! ```
//!
//! Way out: place words over what is transparent, by writing them after it; or `standard=x-4`, if the printer takes it.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings, mm};
use crate::ground::{Severity, listed};
use crate::scene::{FlatRegion, Kind, Media, Origin, PressStandard, Scene};
use std::sync::Arc;

pub const RULE: CheckRule = CheckRule {
    name: "transparency-composed",
    severity: Severity::Error,
    media: Media::Print,
    limits: &[],
    source: include_str!("transparency_composed.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let standard = exam.facts().delivery.get("press").copied().unwrap_or_default().press.standard;
    profile(exam, standard, findings);
    if standard.transparency {
        return;
    }
    let regions = exam.scene.flat_regions();
    for region in &regions.all {
        let veils = region.origins.iter().map(|origin| origin.element.as_str());
        let place = format!("{} × {}", mm(region.place.width()), mm(region.place.height()));
        let message = format!(
            "{} knows no transparency: {} is composed with what lies under it, {place}, as a picture of {:.0} pixels per inch",
            standard.name,
            named(veils),
            regions.ppi
        );
        let words = words_in(exam.scene, region);
        let inks = exam.scene.plates_in(region).count();
        let letters = also(&words);
        let (severity, more, help) = if inks > standard.inks_of_a_picture {
            let most = standard.inks_of_a_picture;
            let help = format!("readers may take no more than {most}: ask the printer");
            (Severity::Warning, format!("{letters}; it has {inks} inks"), help)
        } else if words.is_empty() {
            let help = "what lies over it stays as it is; `standard=x-4` keeps all of it".to_owned();
            (Severity::Note, letters, help)
        } else if words.iter().all(|word| region.origins.iter().any(|origin| std::ptr::eq(Arc::as_ptr(origin), *word)))
        {
            let help =
                "print them in a tint, without `opacity`, `blend` or a fade, and they stay as they are".to_owned();
            (Severity::Warning, letters, help)
        } else {
            let help = "write the words after what is transparent, so that they lie over it".to_owned();
            (Severity::Warning, letters, help)
        };
        let span = region.origins.first().map_or(exam.facts().press.span, |origin| origin.span);
        findings.place(severity, span, region.place, message + &more, help);
    }
}

/// ICC.1: the version stands in the ninth byte of a profile.
fn profile(exam: &Exam<'_>, standard: &PressStandard, findings: &mut RuleFindings) {
    let version = exam.scene.profile.bytes().get(8).copied().unwrap_or_default();
    if !standard.profiles.contains(&version) {
        let message = format!("{} takes no press profile of ICC version {version}", standard.name);
        let help = "ask the printer for the profile in version 2, or write `standard=x-4`";
        findings.fact(Severity::Error, exam.facts().press.span, message, help);
    }
}

/// Whose words or bar codes lie in a picture.
fn words_in<'a>(scene: &'a Scene, region: &FlatRegion) -> Vec<&'a Origin> {
    let mut all: Vec<&Origin> = Vec::new();
    scene.marks_in(region, &mut |item| {
        let origin = &*item.origin;
        let are_words = !matches!(origin.kind, Kind::Shape | Kind::Picture);
        if are_words && !all.last().is_some_and(|last| std::ptr::eq(*last, origin)) {
            all.push(origin);
        }
    });
    all
}

/// What they are called in the message.
fn also(words: &[&Origin]) -> String {
    let of = |are_texts: bool| -> Vec<&str> {
        let all = words.iter().filter(|origin| (origin.kind == Kind::Text) == are_texts);
        all.map(|origin| origin.element.as_str()).collect()
    };
    let listed = |names: Vec<&str>| named(names.into_iter());
    match (of(true), of(false)) {
        (texts, codes) if texts.is_empty() && codes.is_empty() => String::new(),
        (texts, codes) if codes.is_empty() => format!("; so are the letters of {}", listed(texts)),
        (texts, codes) if texts.is_empty() && codes.len() == 1 => format!("; so is the code {}", listed(codes)),
        (texts, codes) if texts.is_empty() => format!("; so are the codes {}", listed(codes)),
        (texts, codes) => format!("; so are the letters of {}, and the code {}", listed(texts), listed(codes)),
    }
}

/// So many names are said, and of the others how many they are.
const NAMED: usize = 5;

fn named<'a>(names: impl Iterator<Item = &'a str>) -> String {
    listed(&names.map(str::to_owned).collect::<Vec<_>>(), NAMED)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, example_text, reported};

    fn said(cover: &str) -> Vec<(Severity, String)> {
        reported(&RULE, cover).into_iter().map(|found| (found.severity, found.message)).collect()
    }

    #[test]
    fn a_veil_is_composed_and_words_under_it_are_named() {
        let found = example(&RULE);
        assert_eq!(found.len(), 1);
        assert_eq!(found[0].severity, Severity::Note);
        assert!(found[0].message.contains("veil is composed"), "{}", found[0].message);
        let cover = example_text(RULE.source).expect("an example");
        let text = "text title words=\"Salt\" { left 25; width 30; top 30 }";
        let over = cover.replace("opacity 50 }", &format!("opacity 50 }}; {text}"));
        assert_eq!(said(&over)[0].0, Severity::Note);
        let under = cover.replace("band veil", &format!("{text}; band veil"));
        let found = said(&under);
        assert!(found[0].0 == Severity::Warning && found[0].1.ends_with("the letters of title"), "{found:?}");
    }

    /// Groups are composed with all that they hold, and what they are cut to shows no more.
    #[test]
    fn words_within_groups_are_named() {
        let cover = example_text(RULE.source).expect("an example");
        let veil = "band veil { swatch night; left 20; width 40; top 20; height 40; opacity 50 }";
        assert!(cover.contains(veil));
        let text = "text title words=\"Salt\" { left 5; width 30; top 10; swatch night }";
        let frame = "left 20; width 40; top 20; height 40";
        let inside = |group: &str| said(&cover.replace(veil, group));
        let thin = inside(&format!("group some {{ {frame}; opacity 50; {text} }}"));
        assert!(thin[0].0 == Severity::Warning && thin[0].1.ends_with("the letters of title"), "{thin:?}");
        let cut = inside(&format!("group some {{ {frame}; clip oval; {text} }}; {veil}"));
        assert!(cut[0].0 == Severity::Warning && cut[0].1.ends_with("the letters of title"), "{cut:?}");
        // Beside the veil they stay as they are.
        let away = inside(&format!("group some {{ left 20; width 40; top 80; height 40; clip oval; {text} }}; {veil}"));
        assert_eq!(away[0].0, Severity::Note, "{away:?}");
    }

    /// Writing them later would not help.
    #[test]
    fn words_that_are_transparent_themselves() {
        let help = |cover: &str| reported(&RULE, cover)[0].help.clone().unwrap_or_default();
        let cover = |marks: &str| {
            format!(
                "swatches {{ swatch night c=90 m=70 }}\ndeliver {{ press standard=x-1a }}\npanel back {{ {marks} }}"
            )
        };
        for look in ["opacity 60", "blend multiply"] {
            let cover = cover(&format!("text t words=\"Salt\" {{ left 5; width 30; top 10; swatch night; {look} }}"));
            assert!(help(&cover).starts_with("print them in a tint"), "{}", help(&cover));
        }
        let code = "qr-code q words=\"https://l.example\" { left 5; top 10; width 20 }
            band veil { swatch night; left 5; width 30; top 10; height 9; opacity 20 }";
        assert!(help(&cover(code)).starts_with("write the words after"), "{}", help(&cover(code)));
        assert!(said(&cover(code))[0].1.ends_with("; so is the code q"), "{:?}", said(&cover(code)));
    }

    /// Five more inks inside a group make nine.
    #[test]
    fn inks_within_groups_are_counted() {
        let cover = example_text(RULE.source).expect("an example");
        let five = |of: fn(u8) -> String| (1..=5).map(of).collect::<Vec<String>>().concat();
        let spots = five(|at| format!("spot ink{at} ink=\"House {at}\" c=10 m={at}0 y=0 k=0; "));
        let bands = five(|at| format!("band b{at} {{ swatch ink{at}; left {at}; width 1; top 1; height 9 }}; "));
        let cover = cover.replace("swatches { ", &format!("swatches {{ {spots}"));
        let cover = cover.replace(
            "panel front { ",
            &format!("panel front {{ group some {{ left 20; width 40; top 20; height 40; opacity 50; {bands} band n {{ swatch night; left 9; width 9; top 1; height 9 }} }}; "),
        );
        let found = said(&cover);
        assert!(found[0].0 == Severity::Warning && found[0].1.ends_with("; it has 9 inks"), "{found:?}");
    }

    /// Black and seven spots are eight plates: process inks that are nowhere in the place have none.
    #[test]
    fn empty_process_plates_are_not_counted() {
        let cover = example_text(RULE.source).expect("an example").replace("c=90 m=70 y=40 k=20", "k=60");
        let spots = |count: u8| {
            (1..=count).map(|at| format!("spot ink{at} ink=\"House {at}\" c=10; ")).collect::<Vec<_>>().concat()
        };
        let bands = |count: u8| {
            let band = |at: u8| format!("band b{at} {{ swatch ink{at}; left 2{at}; width 1; top 20; height 9 }}; ");
            (1..=count).map(band).collect::<Vec<_>>().concat()
        };
        let with = |count: u8| {
            let cover = cover.replace("swatches { ", &format!("swatches {{ {}", spots(count)));
            said(&cover.replace("panel front { ", &format!("panel front {{ {}", bands(count))))
        };
        assert_eq!(with(7)[0].0, Severity::Note, "{:?}", with(7));
        assert!(with(8)[0].0 == Severity::Warning && with(8)[0].1.ends_with("; it has 9 inks"), "{:?}", with(8));
        // Many inks do not hide that words are composed as well.
        let words = "panel front { text under words=\"Salt\" { left 22; width 30; top 22; size 12 }; ";
        let cover = cover.replace("swatches { ", &format!("swatches {{ {}", spots(8)));
        let found = said(&cover.replace("panel front { ", &format!("{words}{}", bands(8))));
        assert!(found[0].1.ends_with("; so are the letters of under; it has 9 inks"), "{found:?}");
    }

    #[test]
    fn the_usual_standard_keeps_transparency() {
        let cover = example_text(RULE.source).expect("an example");
        assert_eq!(said(&cover.replace("standard=x-1a", "standard=x-4")), []);
        assert_eq!(said(&cover.replace("; opacity 50", "")), []);
    }
}
