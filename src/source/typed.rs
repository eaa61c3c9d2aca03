//! Typed: a value as the text, number, length, word or flag that was asked for, or what to write instead.

use crate::assets::nearest;
use crate::ground::{Finding, Length, Severity, Spanned, number as shown_number};
use crate::source::habits::habit;
use crate::source::reader::Reader;
use crate::source::tree::{Datum, Value};
use crate::source::unit::Unit;
use crate::source::word::{Slot, Takes};

impl Reader<'_> {
    pub fn as_text(&self, value: &Value, what: &str) -> Option<Spanned<String>> {
        match &value.datum {
            Datum::Text(text) => Some(Spanned::new(text.clone(), value.span)),
            Datum::Number(number) if number.fract() == 0.0 => {
                let help = if what.starts_with("a swatch") {
                    format!(
                        "name the ink of the swatches first: `{} black`; what it measures stands behind it",
                        self.word.name
                    )
                } else {
                    format!("put it in quotes: \"{}\"", value.shown())
                };
                self.refuse(value, what, "text", &help)
            }
            _ => self.refuse(value, what, "text", "put it in quotes, so that no zero is lost"),
        }
    }

    pub fn as_number(&self, value: &Value, slot: Slot, what: &str) -> Option<Spanned<f64>> {
        let number = match value.datum {
            Datum::Number(number) if number.is_finite() => number,
            _ => return self.refuse(value, what, "a number", &unquoted(value, "write a number, such as 12 or 4.5")),
        };
        if let Some(unit) = &value.unit {
            let message = format!("{} takes no unit, so `({unit})` says nothing", self.taker(what));
            self.error(value.span, message, "write the bare number");
        }
        let (least, most, whole) = match slot.takes {
            Takes::Number(least, most) | Takes::Percent(least, most) => (least, most, false),
            Takes::Whole(least, most) => (least, most, true),
            _ => return Some(Spanned::new(number, value.span)),
        };
        if (least..=most).contains(&number) && !(whole && number.fract() != 0.0) {
            return Some(Spanned::new(number, value.span));
        }
        let shown = value.shown();
        let (message, kind) = match slot.takes {
            Takes::Percent(..) => (format!("{shown} % is out of range here"), "a number"),
            Takes::Whole(..) => (format!("{shown} is not {}", slot.what), "a whole number"),
            _ => (format!("{shown} is out of range here"), "a number"),
        };
        self.error(value.span, message, format!("write {kind} {}", within(least, most)));
        None
    }

    /// A percentage as a share.
    pub fn as_percent(&self, value: &Value, slot: Slot, what: &str) -> Option<f64> {
        let stated = self.as_number(value, slot, what)?.value;
        if stated > 0.0 && stated < 1.0 {
            let shown = value.shown();
            let finding = Finding::new(
                Severity::Warning,
                "language",
                value.span,
                format!("{shown} is {shown} percent: hardly anything"),
            );
            let help = format!("write {} if that is meant", shown_number(stated * 100.0));
            self.findings().borrow_mut().push(finding.help(help));
        }
        Some(stated / 100.0)
    }

    pub fn as_length(&self, value: &Value, slot: Slot, what: &str) -> Option<Spanned<Length>> {
        let (unit, least, most) = match slot.takes {
            Takes::Length(unit, least, most) => (unit, least, most),
            _ => (Unit::Mm, f64::NEG_INFINITY, f64::INFINITY),
        };
        let bare = unit.word();
        let Datum::Number(number) = value.datum else {
            let help = format!("write a number of {bare}, or `(in)0.5`, `(pt)12`, `(mm)4`");
            return self.refuse(value, what, "a length", &unquoted(value, &help));
        };
        let length = match (value.unit.as_deref(), unit) {
            (Some("mm"), _) | (None, Unit::Mm) => Length::from_mm(number),
            (Some("pt"), _) | (None, Unit::Pt) => Length::from_pt(number),
            (Some("in"), _) => Length::from_inch(number),
            (Some("cm"), _) => Length::from_mm(number * 10.0),
            (Some(other), _) => {
                let help = format!("units are (mm), (cm), (in) and (pt); a bare number is {bare}");
                self.error(value.span, format!("`({other})` is not a unit of length"), help);
                return None;
            }
        };
        // A sheet is never wider than ten metres; beyond that a number is a slip.
        let Some(length) = length.filter(|length| length.mm().abs() <= 10_000.0) else {
            let message = format!("{} is longer than ten metres", value.shown());
            self.error(value.span, message, "check the number and its unit");
            return None;
        };
        let counted = if unit == Unit::Mm { length.mm() } else { length.pt() };
        // Points that were millimetres for a moment are a hair off.
        let hair = counted.abs() * 1e-12;
        if (least - hair..=most + hair).contains(&counted) {
            return Some(Spanned::new(length, value.span));
        }
        let message = format!("{} {} is out of range here", shown_number(counted), unit.sign());
        let range = within(least, most);
        self.error(value.span, message, format!("write {bare} {range}; another unit stands first: (in)5.5"));
        None
    }

    pub fn as_choice(&self, value: &Value, slot: Slot, what: &str) -> Option<Spanned<&'static str>> {
        let choices = if let Takes::Choice(choices) = slot.takes { choices } else { &[] };
        if let Datum::Text(text) = &value.datum {
            if let Some(choice) = choices.iter().find(|choice| *choice == text) {
                return Some(Spanned::new(choice, value.span));
            }
            let known = choices.join(", ");
            if text.trim().parse::<f64>().is_ok() {
                return self.refuse(value, what, "a word", &unquoted(value, ""));
            }
            let meant = habit(text).filter(|habit| choices.contains(&habit.ours));
            if let Some((property, choice)) = self.takes_elsewhere(text) {
                let help = format!("write `{} {property}={choice}`", self.node.name.value);
                self.error(value.span, format!("`{text}` is unknown as {what}"), help);
                return None;
            }
            let near = nearest(text, choices.iter().copied()).or_else(|| held(text, choices));
            let help = match (meant, near) {
                (Some(habit), _) if habit.says.contains(&format!("`{} {}", self.node.name.value, habit.ours)) => {
                    format!("{}; known are {known}", habit.says)
                }
                (Some(habit), _) => format!("did you mean `{}`? Known are {known}", habit.ours),
                (None, _) if let Some(habit) = self.said_of(text) => habit.to_owned(),
                (None, Some(near)) => format!("did you mean `{near}`? Known are {known}"),
                (None, None) => format!("known are {known}"),
            };
            self.error(value.span, format!("`{text}` is unknown as {what}"), help);
            return None;
        }
        self.refuse(value, what, "a word", &format!("known are {}", choices.join(", ")))
    }

    /// The property of this node that takes a word which stands where it does not belong, and how it writes the word.
    fn takes_elsewhere(&self, text: &str) -> Option<(&'static str, &'static str)> {
        self.word.properties.iter().find_map(|word| Some((word.name, word.choice_of(text)?)))
    }

    /// What a habit says of a word, where it shows this node.
    fn said_of(&self, text: &str) -> Option<&'static str> {
        let here = format!(" {} ", self.node.name.value);
        habit(text).map(|habit| habit.says).filter(|says| says.contains(&here))
    }

    pub fn as_flag(&self, value: &Value, what: &str) -> Option<bool> {
        if let Datum::Flag(flag) = value.datum {
            return Some(flag);
        }
        let meant = value.text().map_or_else(|| value.shown(), str::to_lowercase);
        let help = match meant.as_str() {
            "true" | "yes" | "on" | "1" => "write #true",
            "false" | "no" | "off" | "0" | "none" => "write #false",
            _ => "write #true for yes, #false for no",
        };
        self.refuse(value, what, "#true or #false", help)
    }

    fn refuse<T>(&self, value: &Value, what: &str, wanted: &str, help: &str) -> Option<T> {
        let wanted = if is_property(what) { wanted } else { what };
        self.error(value.span, format!("{} takes {wanted}, not {}", self.taker(what), value.shown()), help);
        None
    }

    /// Whose value it is: a property goes by its own name, an argument by its node's.
    fn taker(&self, what: &str) -> String {
        if is_property(what) { what.to_owned() } else { format!("`{}`", self.node.name.value) }
    }
}

/// Beyond this nobody means an end.
const FAR: f64 = 10_000.0;
/// And short of this nobody means a beginning but zero.
const NEAR: f64 = 0.001;

/// A range in words.
fn within(least: f64, most: f64) -> String {
    let start =
        if least > 0.0 && least <= NEAR { "above 0".to_owned() } else { format!("from {}", shown_number(least)) };
    if most >= FAR && least > 0.0 && least <= NEAR { start } else { format!("{start} to {}", shown_number(most)) }
}

/// A number in quotes is text: without them it is one.
fn unquoted(value: &Value, otherwise: &str) -> String {
    let text = value.text().unwrap_or_default().trim();
    let figures = text.trim_end_matches(char::is_alphabetic);
    let unit = &text[figures.len()..];
    let figures = figures.trim_end();
    match unit {
        _ if !figures.parse::<f64>().is_ok_and(f64::is_finite) => otherwise.to_owned(),
        "" => format!("numbers stand without quotes: {figures}"),
        "mm" | "cm" | "in" | "pt" => format!("a length stands without quotes, its unit first: ({unit}){figures}"),
        _ => otherwise.to_owned(),
    }
}

/// Properties are asked for as `` `weight=` ``, arguments in words.
fn is_property(what: &str) -> bool {
    what.starts_with('`')
}

/// A choice that a longer word has in it, whatever stands between its letters: `pdfx1a` means `x-1a`.
fn held(text: &str, choices: &[&str]) -> Option<String> {
    let bare = |text: &str| text.chars().filter(char::is_ascii_alphanumeric).collect::<String>().to_lowercase();
    let text = bare(text);
    let within = choices.iter().filter(|choice| bare(choice).len() > 1 && text.contains(&bare(choice)));
    within.max_by_key(|choice| choice.len()).map(|choice| (*choice).to_owned())
}
