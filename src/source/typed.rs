//! Typed: a value as the text, number, length, word or flag that was asked for, or what to write instead.

use crate::assets::nearest;
use crate::ground::{Length, Spanned};
use crate::source::habits::habit;
use crate::source::reader::Reader;
use crate::source::tree::{Datum, Value};
use crate::source::unit::Unit;

impl Reader<'_> {
    pub fn as_text(&self, value: &Value, what: &str) -> Option<Spanned<String>> {
        match &value.datum {
            Datum::Text(text) => Some(Spanned::new(text.clone(), value.span)),
            Datum::Number(number) if number.fract() == 0.0 => {
                self.refuse(value, what, "text", &format!("put it in quotes: \"{}\"", value.shown()))
            }
            _ => self.refuse(value, what, "text", "put it in quotes, so that no zero is lost"),
        }
    }

    pub fn as_number(&self, value: &Value, what: &str) -> Option<Spanned<f64>> {
        match value.datum {
            Datum::Number(number) if number.is_finite() && value.unit.is_none() => {
                Some(Spanned::new(number, value.span))
            }
            Datum::Number(number) if number.is_finite() => {
                let unit = value.unit.as_deref().unwrap_or_default();
                let message = format!("{} takes no unit, so `({unit})` says nothing", self.taker(what));
                self.error(value.span, message, "write the bare number");
                Some(Spanned::new(number, value.span))
            }
            _ => self.refuse(value, what, "a number", &unquoted(value, "write a number, such as 12 or 4.5")),
        }
    }

    pub fn as_length(&self, value: &Value, what: &str, unit: Unit) -> Option<Spanned<Length>> {
        let bare = unit.word();
        let Datum::Number(number) = value.datum else {
            return self.refuse(
                value,
                what,
                "a length",
                &unquoted(value, &format!("write a number of {bare}, or `(in)0.5`, `(pt)12`, `(mm)4`")),
            );
        };
        let length = match (value.unit.as_deref(), unit) {
            (Some("mm"), _) | (None, Unit::Mm) => Length::from_mm(number),
            (Some("pt"), _) | (None, Unit::Pt) => Length::from_pt(number),
            (Some("in"), _) => Length::from_inch(number),
            (Some("cm"), _) => Length::from_mm(number * 10.0),
            (Some(other), _) => {
                let message = format!("`({other})` is no unit of length");
                self.error(
                    value.span,
                    message,
                    format!("units are (mm), (cm), (in) and (pt); a bare number is {bare}"),
                );
                return None;
            }
        };
        // A sheet is never wider than ten metres; beyond that a number is a slip.
        if let Some(length) = length.filter(|length| length.mm().abs() <= 10_000.0) {
            Some(Spanned::new(length, value.span))
        } else {
            let message = format!("{} is longer than ten metres", value.shown());
            self.error(value.span, message, "check the number and its unit");
            None
        }
    }

    pub fn as_word(&self, value: &Value, what: &str, choices: &[&'static str]) -> Option<Spanned<&'static str>> {
        if let Datum::Text(text) = &value.datum {
            if let Some(choice) = choices.iter().find(|choice| *choice == text) {
                return Some(Spanned::new(choice, value.span));
            }
            let known = choices.join(", ");
            if text.trim().parse::<f64>().is_ok() {
                return self.refuse(value, what, "a word", &unquoted(value, ""));
            }
            let meant = habit(text).filter(|habit| choices.contains(&habit.ours));
            let help = match (meant, nearest(text, choices.iter().copied())) {
                (Some(habit), _) if habit.says.contains(&format!("`{} {}", self.node.name.value, habit.ours)) => {
                    format!("{}; known are {known}", habit.says)
                }
                (Some(habit), _) => format!("did you mean `{}`? Known are {known}", habit.ours),
                (None, Some(near)) => format!("did you mean `{near}`? Known are {known}"),
                (None, None) => format!("known are {known}"),
            };
            self.error(value.span, format!("`{text}` is unknown as {what}"), help);
            return None;
        }
        self.refuse(value, what, "a word", &format!("known are {}", choices.join(", ")))
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
