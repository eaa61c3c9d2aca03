//! `press`: the printing condition: whose inks on which paper.
//!
//! ```kdl
//! press coated ink-limit=300
//! ```
//!
//! The conditions `coated` and `uncoated` are bundled, characterised by the open data sets FOGRA39 and FOGRA29. They are made
//! from published measurements, not from your printer's press: the printer's own profile is the better choice. It is a CMYK
//! output profile (ICC up to version 4, class `prtr`): `press profile="printer.icc"`. Facts may stand in the path:
//! `profile="{printer}.icc"`.
//!
//! The most ink on one spot is what the profile's own tables lay down at most, unless `ink-limit` says less or more. A
//! condition that is stated for a profile is compared with the one that the profile names, which the press file keeps; a house
//! keeps each press in a file of its printer (`printer`).
//!
//! `ink-limit` is what is checked; `limit-inks=280` keeps every picture within so much, as `image` describes.
//!
//! `text-plate=black` says that all words stand on one plate, so that no other plate has to be made again for an edition in
//! another language; `words-on-more-plates` then reports words that do not. A house states it in its series, and it stays
//! where a printer's file or a cover states another press and says nothing of it; `text-plate=none` takes it back. The job
//! line beside the sheet, in which editions differ as well, stands on that plate; otherwise on black.

use crate::assets::{Profile, nearest};
use crate::cover::{Facts, Press};
use crate::ground::{Finding, REGISTERED, Severity, Span, Spanned, same_condition};
use crate::language::context::Desk;
use crate::language::headword::{Headword, Role};
use crate::language::words::fill_path;
use crate::source::{Laid, Reader, Word, choice, percent, text};

pub const HEADWORD: Headword = Headword::new(
    Word::new("press", "the printing condition")
        .takes(&[choice("a press", Profile::BUNDLED)])
        .properties(&[PROFILE, CONDITION, INK_LIMIT, LIMIT_INKS, TEXT_PLATE])
        .default("coated"),
    include_str!("press.rs"),
    Role::Fact(read),
);

const PROFILE: Word = Word::new("profile", "the printer's profile, instead of a bundled one").takes(&[text("a path")]);
const CONDITION: Word = Word::new("condition", "the name of the output condition, where the profile does not carry it")
    .takes(&[text("a name")]);
pub const INK_LIMIT: Word = Word::new(
    "ink-limit",
    "the most ink on one spot; by default what the profile's own tables lay down at most, or 300",
)
.takes(&[percent(100.0, 400.0)]);

pub const LIMIT_INKS: Word = Word::new("limit-inks", "pictures with more ink on one spot are printed with more black and less of the others; otherwise they keep their inks")
    .takes(&[percent(150.0, 400.0)]);

/// Its blanks side by side are one.
fn stated_condition(reader: &Reader<'_>) -> Option<String> {
    let stated = reader.text_property(&CONDITION)?;
    let condition = stated.value.split_whitespace().collect::<Vec<_>>().join(" ");
    if condition.is_empty() {
        let help = "write the name that the printer gives it, such as condition=\"FOGRA39\", or take it away";
        reader.error(stated.span, "the condition has no name", help);
        return None;
    }
    Some(condition)
}

/// A condition that is not the profile's, or that hardly any printer knows by this name.
fn doubt(stated: &str, profile: &Profile, span: Span, desk: &Desk<'_>) -> Option<Finding> {
    if let Some(own) = profile.characterised() {
        let message =
            format!("the condition {stated:?} is not that of the profile, which names {own:?}; so does the press file");
        let is_meant = |name: &&&str| {
            let press = desk.darkroom.press(name);
            press.is_some_and(|press| same_condition(stated, press.condition()))
        };
        let help = match Profile::BUNDLED.iter().find(is_meant) {
            Some(name) => format!("write `press {name}` for that one, or take `condition` away"),
            None => format!("write `condition={own:?}`, or take the profile of {stated}"),
        };
        let finding = Finding::new(Severity::Warning, "condition-disagrees", span, message).help(help);
        return (!same_condition(stated, own)).then_some(finding);
    }
    if REGISTERED.iter().any(|known| same_condition(stated, known)) {
        return None;
    }
    let near = nearest(stated, REGISTERED.iter().copied())?;
    let message = format!("no condition {stated:?} is registered that we know of; the nearest name is {near:?}");
    let help = format!("write `condition={near:?}` if that is meant; a name that the printer gave you may stay");
    Some(Finding::new(Severity::Note, "condition-unknown", span, message).help(help))
}

/// What stands behind the end of a profile is not for the printer's eyes: it may be anything.
fn tell_rest(reader: &Reader<'_>, path: &Spanned<String>, rest: usize) {
    if rest > 0 {
        let message = format!("{:?} has {rest} bytes behind its stated end, which are left out", path.value);
        let help = "its colours are whole; the file may have been joined with another on its way";
        let finding = Finding::new(Severity::Note, "file", path.span, message).help(help);
        reader.findings().borrow_mut().push(finding);
    }
}

const TEXT_PLATE: Word =
    Word::new("text-plate", "the one plate for all words, so that a foreign edition changes no other")
        .takes(&[text("a plate")])
        .laid(Laid::Stays);

/// Takes back what a file below says of it.
const NO_PLATE: &str = "none";

/// Where neither cover nor profile says more: sheet-fed offset on coated paper. Common practice.
const USUAL_LIMIT: f64 = 3.0;

/// Lays what is stated into the facts.
pub fn read(reader: &Reader<'_>, facts: &mut Facts, desk: &Desk<'_>) {
    let mut is_named = true;
    let condition = stated_condition(reader);
    if let Some(path) = reader.text_property(&PROFILE) {
        if reader.peek().is_some()
            && let Some(name) = reader.choice()
        {
            let message = format!("`press` names two presses, `{}` and a profile", name.value);
            reader.error(name.span, message, format!("take `{}` away: the profile is the press", name.value));
        }
        let path = fill_path(desk.findings, &facts.book, &path);
        if let Some(path) = path
            && let Some(bytes) = desk.bytes(&path)
        {
            let whole = bytes.len();
            match desk.darkroom.profile(bytes, condition.as_deref()) {
                Ok(profile) => {
                    tell_rest(reader, &path, whole - profile.bytes().len());
                    facts.press.profile = profile;
                }
                Err(fault) => {
                    let help = "a press profile is an ICC profile of class prtr for CMYK; ask your printer for it";
                    reader.error(path.span, format!("{:?}: {}", path.value, fault.0), help);
                }
            }
        }
    } else if reader.peek().is_none() {
        let help = "write `press coated` or `press uncoated`, or `press profile=\"printer.icc\"`; what else it states \
                    stands after that";
        reader.error(reader.span(), "`press` names neither a bundled press nor a profile", help);
        is_named = false;
    } else if let Some(name) = reader.choice()
        && let Some(profile) = desk.darkroom.press(name.value)
    {
        facts.press.profile = profile;
    }
    if let Some(stated) = condition.filter(|_| is_named) {
        reader.findings().borrow_mut().extend(doubt(&stated, &facts.press.profile, reader.span(), desk));
    }
    let limit = facts.press.profile.ink_limit().unwrap_or(USUAL_LIMIT);
    let text_plate =
        reader.text_property(&TEXT_PLATE).map(|plate| Spanned::new(plate.value.trim().to_owned(), plate.span));
    let text_plate = text_plate.filter(|plate| !plate.value.eq_ignore_ascii_case(NO_PLATE));
    let limit_inks = reader.percent_property(&LIMIT_INKS);
    facts.press =
        Press { ink_limit: limit, limit_inks, text_plate, span: reader.span(), profile: facts.press.profile.clone() };
    if let Some(limit) = reader.percent_property(&INK_LIMIT) {
        facts.press.ink_limit = limit;
    }
}
