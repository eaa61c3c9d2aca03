//! Reader: takes typed values off a node, and when it goes, reports what nobody took.

use crate::assets::nearest;
use crate::ground::{Findings, Length, Span, Spanned};
use crate::source::{Datum, Node, Value};
use std::cell::{Cell, RefCell};

/// What a bare number means.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Unit {
    Mm,
    Pt,
}

/// Reads one node. Everything it is asked for it also offers, when an unknown word looks like it.
pub struct Reader<'a> {
    pub node: &'a Node,
    findings: &'a RefCell<Findings>,
    next: Cell<usize>,
    properties: RefCell<Vec<&'static str>>,
    children: RefCell<Vec<&'static str>>,
    /// Someone else answers for the properties, or for the children.
    free: Cell<bool>,
    open: Cell<bool>,
}

impl<'a> Reader<'a> {
    pub fn new(node: &'a Node, findings: &'a RefCell<Findings>) -> Reader<'a> {
        Reader {
            node,
            findings,
            next: Cell::new(0),
            properties: RefCell::default(),
            children: RefCell::default(),
            free: Cell::new(false),
            open: Cell::new(false),
        }
    }

    pub fn span(&self) -> Span {
        self.node.name.span
    }

    pub fn error(&self, span: Span, message: impl Into<String>, help: impl Into<String>) {
        self.findings.borrow_mut().error(span, message, help);
    }

    pub fn findings(&self) -> &'a RefCell<Findings> {
        self.findings
    }

    // Arguments, one after the other.

    /// The next argument as it stands.
    pub fn value(&self) -> Option<&'a Value> {
        let value = self.node.values.get(self.next.get())?;
        self.next.set(self.next.get() + 1);
        Some(value)
    }

    /// The next argument, left where it is.
    pub fn peek(&self) -> Option<&'a Value> {
        self.node.values.get(self.next.get())
    }

    /// The next argument, which must be there.
    pub fn want(&self, what: &str) -> Option<&'a Value> {
        let value = self.value();
        if value.is_none() {
            let name = &self.node.name.value;
            self.error(self.span(), format!("`{name}` lacks {what}"), format!("write `{name} …` with {what} after it"));
            // What follows cannot be judged without it: one fault, one finding.
            self.skip();
        }
        value
    }

    pub fn text(&self, what: &str) -> Option<Spanned<String>> {
        self.want(what).and_then(|value| self.as_text(value, what))
    }

    pub fn number(&self, what: &str) -> Option<Spanned<f64>> {
        self.want(what).and_then(|value| self.as_number(value, what))
    }

    pub fn length(&self, what: &str, unit: Unit) -> Option<Spanned<Length>> {
        self.want(what).and_then(|value| self.as_length(value, what, unit))
    }

    pub fn optional_length(&self, what: &str, unit: Unit) -> Option<Spanned<Length>> {
        self.value().and_then(|value| self.as_length(value, what, unit))
    }

    pub fn word(&self, what: &str, choices: &[&'static str]) -> Option<Spanned<&'static str>> {
        self.want(what).and_then(|value| self.as_word(value, what, choices))
    }

    pub fn flag(&self, what: &str) -> Option<bool> {
        self.want(what).and_then(|value| self.as_flag(value, what))
    }

    // Properties, by name.

    pub fn property(&self, name: &'static str) -> Option<&'a Value> {
        self.properties.borrow_mut().push(name);
        let mut found = self.node.properties.iter().filter(|(key, _)| key.value == name);
        let first = found.next()?;
        if let Some((key, _)) = found.next() {
            self.error(key.span, format!("`{name}=` is said twice"), "keep one of the two");
        }
        Some(&first.1)
    }

    pub fn text_property(&self, name: &'static str) -> Option<Spanned<String>> {
        self.property(name).and_then(|value| self.as_text(value, &format!("`{name}=`")))
    }

    pub fn number_property(&self, name: &'static str) -> Option<Spanned<f64>> {
        self.property(name).and_then(|value| self.as_number(value, &format!("`{name}=`")))
    }

    pub fn length_property(&self, name: &'static str, unit: Unit) -> Option<Spanned<Length>> {
        self.property(name).and_then(|value| self.as_length(value, &format!("`{name}=`"), unit))
    }

    pub fn word_property(&self, name: &'static str, choices: &[&'static str]) -> Option<Spanned<&'static str>> {
        self.property(name).and_then(|value| self.as_word(value, &format!("`{name}=`"), choices))
    }

    pub fn flag_property(&self, name: &'static str) -> Option<bool> {
        self.property(name).and_then(|value| self.as_flag(value, &format!("`{name}=`")))
    }

    /// Every property, for words whose properties are names of the author's choosing.
    pub fn free_properties(&self) -> &'a [(Spanned<String>, Value)] {
        self.free.set(true);
        &self.node.properties
    }

    // Children.

    /// Every child of a name, each with a reader of its own.
    pub fn children(&self, name: &'static str) -> Vec<Reader<'a>> {
        self.children.borrow_mut().push(name);
        let named = self.node.children.iter().filter(|child| child.name.value == name);
        named.map(|child| Reader::new(child, self.findings)).collect()
    }

    /// The one child of a name; a second is an error.
    pub fn child(&self, name: &'static str) -> Option<Reader<'a>> {
        self.children.borrow_mut().push(name);
        let mut named = self.node.children.iter().filter(|child| child.name.value == name);
        let first = named.next()?;
        if let Some(second) = named.next() {
            self.error(second.name.span, format!("`{name}` is said twice here"), "keep one of the two");
        }
        Some(Reader::new(first, self.findings))
    }

    /// The children of any of several names, in the order of the file, as they stand.
    pub fn nodes(&self, names: impl Iterator<Item = &'static str>) -> Vec<&'a Node> {
        let mut known = self.children.borrow_mut();
        let from = known.len();
        known.extend(names);
        self.node.children.iter().filter(|child| known[from..].contains(&child.name.value.as_str())).collect()
    }

    /// Hands all children to the caller, who answers for the unknown ones.
    pub fn all_children(&self) -> &'a [Node] {
        self.open.set(true);
        &self.node.children
    }

    /// Leaves all that is left unjudged: a fault before it has been reported.
    pub fn skip(&self) {
        self.next.set(self.node.values.len());
        self.free.set(true);
        self.open.set(true);
    }

    // Values, typed.

    pub fn as_text(&self, value: &Value, what: &str) -> Option<Spanned<String>> {
        match &value.datum {
            Datum::Text(text) => Some(Spanned::new(text.clone(), value.span)),
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
            _ => self.refuse(value, what, "a number", "write a number, such as 12 or 4.5"),
        }
    }

    pub fn as_length(&self, value: &Value, what: &str, unit: Unit) -> Option<Spanned<Length>> {
        let bare = if unit == Unit::Mm { "millimetres" } else { "points" };
        let Datum::Number(number) = value.datum else {
            return self.refuse(
                value,
                what,
                "a length",
                &format!("write a number of {bare}, or `(in)0.5`, `(pt)12`, `(mm)4`"),
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
            let help = match nearest(text, choices.iter().copied()) {
                Some(near) => format!("did you mean `{near}`? Known are {known}"),
                None => format!("known are {known}"),
            };
            self.error(value.span, format!("`{text}` is unknown as {what}"), help);
            return None;
        }
        self.refuse(value, what, "a word", &format!("known are {}", choices.join(", ")))
    }

    pub fn as_flag(&self, value: &Value, what: &str) -> Option<bool> {
        match value.datum {
            Datum::Flag(flag) => Some(flag),
            _ => self.refuse(value, what, "#true or #false", "KDL writes them with the sign: #true, #false"),
        }
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

/// Properties are asked for as `` `weight=` ``, arguments in words.
fn is_property(what: &str) -> bool {
    what.starts_with('`')
}

mod leftovers;

pub use leftovers::stands_below;
