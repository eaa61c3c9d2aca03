//! Tree: a cover file as written: names, values and places, nothing understood.

use crate::ground::{Span, Spanned};

#[derive(Clone, Debug, Default, PartialEq)]
pub struct Tree {
    pub nodes: Vec<Node>,
}

/// Two are equal when they say the same, wherever they stand.
#[derive(Clone, Debug)]
pub struct Node {
    pub name: Spanned<String>,
    /// Arguments, in order.
    pub values: Vec<Value>,
    /// `name=value`, in order.
    pub properties: Vec<(Spanned<String>, Value)>,
    pub children: Vec<Node>,
    /// From the name to the end of the line or of the children.
    pub span: Span,
}

/// A value and the unit that a KDL annotation gives it: `(in)5.5`.
#[derive(Clone, Debug)]
pub struct Value {
    pub datum: Datum,
    pub unit: Option<String>,
    pub span: Span,
}

#[derive(Clone, Debug)]
pub enum Datum {
    Text(String),
    Number(f64),
    Flag(bool),
    Null,
}

impl Node {
    /// Whether a child of some kind bears a name.
    pub fn holds(&self, kind: &str, name: &str) -> bool {
        let named = |node: &Node| matches!(node.values.first().map(|value| &value.datum), Some(Datum::Text(text)) if text == name);
        self.children.iter().any(|child| child.name.value == kind && named(child))
    }
}

impl PartialEq for Node {
    fn eq(&self, other: &Self) -> bool {
        let Node { name, values, properties, children, span: _ } = self;
        (name, values, properties, children) == (&other.name, &other.values, &other.properties, &other.children)
    }
}

impl PartialEq for Datum {
    /// What is written `#nan` twice is the same.
    fn eq(&self, other: &Self) -> bool {
        match (self, other) {
            (Datum::Text(one), Datum::Text(other)) => one == other,
            (Datum::Number(one), Datum::Number(other)) => one == other || (one.is_nan() && other.is_nan()),
            (Datum::Flag(one), Datum::Flag(other)) => one == other,
            (Datum::Null, Datum::Null) => true,
            _ => false,
        }
    }
}

impl PartialEq for Value {
    fn eq(&self, other: &Self) -> bool {
        self.datum == other.datum && self.unit == other.unit
    }
}

impl Value {
    /// As an author would most likely have written it: plain words bare, units before numbers.
    pub fn written(&self) -> String {
        let unit = self.unit.as_ref().map_or(String::new(), |unit| format!("({unit})"));
        match &self.datum {
            Datum::Text(text) if text.chars().all(|c| c.is_alphabetic() || c == '-') && !text.is_empty() => {
                text.clone()
            }
            _ => unit + &self.shown(),
        }
    }

    pub fn text(&self) -> Option<&str> {
        match &self.datum {
            Datum::Text(text) => Some(text),
            _ => None,
        }
    }

    /// Text that was written without quotes: its place is as long as itself.
    pub fn is_bare(&self) -> bool {
        matches!(&self.datum, Datum::Text(text) if self.span.end - self.span.start == text.len())
    }

    /// Without the quotes that `shown` puts around text.
    pub fn plain(&self) -> String {
        match &self.datum {
            Datum::Text(text) => text.clone(),
            _ => self.shown(),
        }
    }

    /// As it would be written.
    pub fn shown(&self) -> String {
        match &self.datum {
            Datum::Text(text) => format!("{text:?}"),
            Datum::Number(number) => crate::ground::number(*number),
            Datum::Flag(true) => "#true".to_owned(),
            Datum::Flag(false) => "#false".to_owned(),
            Datum::Null => "#null".to_owned(),
        }
    }
}
