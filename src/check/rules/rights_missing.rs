//! A picture, font or quotation without the rights that the cover needs.
//!
//! A picture without a licence, or one whose licence ended with the first edition, is pulped with the books it stands on.
//!
//! - a right whose last day, `until`, lies before the date of the cover's `version`: error. Where the cover states no date:
//!   warning.
//! - a country where the book is sold, `sold-in`, that is not in the `territory`: error.
//! - what the cover uses and of which a part is not stated that `require` asks for: error.
//!
//! The limits are those stated in `rights`. Common practice; whether a licence is what it says, no program knows.
//!
//! ```kdl
//! book { title "T"; author "A"; pages 320; version 2 date="2026-04-02" }
//! rights { picture "art/small.jpg" licence="letter of 2021" until="2025-12-31" }
//! panel front { image harbour file="art/small.jpg" { left 40; width 20; top 60 } }
//! ```
//!
//! Way out: renew the right and state it, or use another picture. See `jaconet explain rights`.

use crate::check::exam::Exam;
use crate::check::rule::{CheckRule, RuleFindings};
use crate::check::words::folded;
use crate::cover::{Element, Licensed, Right};
use crate::ground::{Severity, Span};
use crate::scene::{Kind, Media};

pub const RULE: CheckRule = CheckRule {
    name: "rights-missing",
    severity: Severity::Error,
    media: Media::Both,
    limits: &[],
    source: include_str!("rights_missing.rs"),
    run,
};

fn run(exam: &Exam<'_>, findings: &mut RuleFindings) {
    let rights = &exam.facts().rights;
    if rights.all.is_empty() && rights.required.is_empty() {
        return;
    }
    let used = used(exam);
    for right in &rights.all {
        if used.iter().any(|work| work.of == right.of && names(right, &work.name)) {
            ended(exam, right, findings);
            reaches(exam, right, findings);
        }
    }
    for UsedWork { of, name, span } in &used {
        let right = rights.all.iter().find(|right| right.of == *of && names(right, name));
        let required = rights.required.iter().filter(|required| required.of == *of);
        let lacking: Vec<&str> = required
            .filter(|required| right.is_none_or(|right| !right.states(required.part)))
            .map(|required| required.part.word())
            .collect();
        if !lacking.is_empty() {
            let kind = of.word();
            let message = format!("the {kind} {name:?} states no {}, and `require` asks for it", lacking.join(", no "));
            let value = if *of == Licensed::Quote { name.clone() } else { format!("{name:?}") };
            let help = format!("write it in `rights`: `{kind} {value} {}=\"…\"`", lacking[0]);
            findings.fact(Severity::Error, *span, message, help);
        }
    }
}

/// Something that the cover shows.
struct UsedWork {
    of: Licensed,
    name: String,
    span: Span,
}

fn used(exam: &Exam<'_>) -> Vec<UsedWork> {
    let mut all: Vec<UsedWork> = Vec::new();
    let mut add = |of: Licensed, name: &str, span: Span| {
        if !all.iter().any(|work| work.of == of && work.name == name) {
            all.push(UsedWork { of, name: name.to_owned(), span });
        }
    };
    art(&exam.cover.elements, &mut |path, span| add(Licensed::Picture, path, span));
    for element in &exam.elements {
        element.runs().for_each(|(run, _)| add(Licensed::Font, run.font.family(), element.origin.span));
    }
    let said: Vec<(String, Span)> =
        exam.of(Kind::Text).map(|element| (folded(&element.words()), element.origin.span)).collect();
    for (fact, quote) in &exam.facts().book.words {
        let number = match fact.as_str() {
            "quote" => Some("1"),
            other => other.strip_prefix("quote.").filter(|rest| rest.chars().all(|letter| letter.is_ascii_digit())),
        };
        let words = folded(&quote.value);
        if let (Some(number), Some((_, span))) = (number, said.iter().find(|(said, _)| said.contains(&words))) {
            add(Licensed::Quote, number, *span);
        }
    }
    all
}

fn art(elements: &[Element], add: &mut dyn FnMut(&str, Span)) {
    for element in elements {
        if let Some(path) = element.body.art() {
            add(path, element.name.span);
        }
        art(element.body.inner(), add);
    }
}

/// Whether a right is stated of this: by the path or its end, the family, the number.
fn names(right: &Right, name: &str) -> bool {
    let stated = right.name.value.as_str();
    match right.of {
        Licensed::Picture => name == stated || name.ends_with(&format!("/{stated}")),
        Licensed::Font => name.eq_ignore_ascii_case(stated),
        Licensed::Quote => name == stated,
    }
}

fn ended(exam: &Exam<'_>, right: &Right, findings: &mut RuleFindings) {
    let Some(until) = &right.until else { return };
    let kind = right.of.word();
    let name = &right.name.value;
    match exam.facts().book.date.as_deref() {
        Some(date) if date > until.value.as_str() => {
            let message =
                format!("the right to the {kind} {name:?} ended on {}, and the cover is dated {date}", until.value);
            findings.fact(Severity::Error, until.span, message, "renew it and state its new end, or use another");
        }
        Some(_) => {}
        None => {
            let message =
                format!("the right to the {kind} {name:?} ends on {}, and the cover states no date", until.value);
            findings.fact(
                Severity::Warning,
                until.span,
                message,
                "state it in `book`: `version 1 date=\"2026-04-02\"`",
            );
        }
    }
}

fn reaches(exam: &Exam<'_>, right: &Right, findings: &mut RuleFindings) {
    let Some(territory) = right.territory.as_ref().filter(|territory| !territory.value.eq_ignore_ascii_case("world"))
    else {
        return;
    };
    let holds = |country: &str| territory.value.split([' ', ',']).any(|stated| stated.eq_ignore_ascii_case(country));
    let sold = exam.facts().rights.sold_in.iter().map(|country| country.value.as_str());
    let outside: Vec<&str> = sold.filter(|country| !holds(country)).collect();
    if !outside.is_empty() {
        let message = format!(
            "the right to the {} {:?} is for {}, and the book is sold in {}",
            right.of.word(),
            right.name.value,
            territory.value,
            outside.join(", ")
        );
        findings.fact(Severity::Error, territory.span, message, "get the right for these countries, or use another");
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::testing::{example, reported};

    fn said(date: &str, rights: &str) -> Vec<(Severity, String)> {
        let cover = format!(
            "book {{ title \"T\"; author \"A\"; pages 320; {date} quote \"A marvel.\" by=\"E. Rowe\" }}
            rights {{ {rights} }}
            panel front {{
                image harbour file=\"art/small.jpg\" {{ left 40; width 20; top 60 }}
                text praise words=\"{{quote}}\" {{ font Inter; left 40; width 60; top 100 }}
            }}"
        );
        reported(&RULE, &cover).into_iter().map(|found| (found.severity, found.message)).collect()
    }

    #[test]
    fn a_right_that_ended() {
        let ended = "the right to the picture \"art/small.jpg\" ended on 2025-12-31, and the cover is dated 2026-04-02";
        assert_eq!(example(&RULE)[0].message, ended);
        let until = |day: &str| format!("picture \"small.jpg\" until=\"{day}\"");
        assert_eq!(said("version 1 date=\"2026-04-02\";", &until("2026-04-02")), []);
        assert_eq!(said("version 1 date=\"2026-04-03\";", &until("2026-04-02"))[0].0, Severity::Error);
        assert_eq!(said("", &until("2026-04-02"))[0].0, Severity::Warning);
        assert_eq!(said("", "picture \"other.jpg\" until=\"2001-01-01\""), []);
    }

    #[test]
    fn where_it_is_sold() {
        let sold = |territory: &str| {
            said("", &format!("sold-in GB IE; picture \"art/small.jpg\" territory={territory:?}")).len()
        };
        assert_eq!([sold("GB"), sold("GB IE FR"), sold("world")], [1, 0, 0]);
    }

    #[test]
    fn what_a_house_asks() {
        let found = said("", "require picture licence credit; require font licence; require quote source");
        let messages: Vec<&str> = found.iter().map(|found| found.1.as_str()).collect();
        assert_eq!(
            messages,
            [
                "the picture \"art/small.jpg\" states no licence, no credit, and `require` asks for it",
                "the font \"Inter\" states no licence, and `require` asks for it",
                "the quote \"1\" states no source, and `require` asks for it",
            ]
        );
        let all = "require picture licence; require font licence; require quote source; quote 1 source=\"Osselby\"
            picture \"art/small.jpg\" licence=\"bought\"; font Inter licence=\"OFL 1.1\"";
        assert_eq!(said("", all), []);
    }
}
