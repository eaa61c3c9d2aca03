//! Reader: takes typed values off a node, and when it goes, reports what nobody took.

use crate::assets::nearest;
use crate::ground::{Findings, Length, Span, Spanned};
use crate::source::habits::{ONE_TEXT, habit};
use crate::source::leftovers::Leftovers;
use crate::source::tree::{Datum, Node, Value};
use crate::source::unit::Unit;
use std::cell::{Cell, RefCell};

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
        let value = self.want(what)?;
        if ONE_TEXT.contains(&self.node.name.value.as_str())
            && let Some(whole) = self.unquoted(value)
        {
            return Some(whole);
        }
        self.as_text(value, what)
    }

    /// Words without quotes that were meant as one text: told, and taken as if they had them.
    fn unquoted(&self, first: &Value) -> Option<Spanned<String>> {
        let rest = self.node.values.get(self.next.get()..).filter(|rest| !rest.is_empty())?;
        let plain = |value: &Value| value.is_bare() || matches!(value.datum, Datum::Number(_));
        let last = rest.last().filter(|_| first.is_bare() && rest.iter().all(plain))?;
        let words: Vec<String> = std::iter::once(first).chain(rest).map(Value::plain).collect();
        let (words, span) = (words.join(" "), Span { end: last.span.end, ..first.span });
        self.next.set(self.node.values.len());
        let help = format!("put the words in quotes: \"{words}\"");
        self.error(span, format!("`{words}` stands without quotes"), help);
        Some(Spanned::new(words, span))
    }

    /// Whether something on this node was meant for a word, under another name or in the wrong place: what is wrong with
    /// it has been told there.
    pub fn attempts(&self, word: &str) -> bool {
        let children = self.node.children.iter().map(|child| &child.name.value);
        let mut said = children.chain(self.node.properties.iter().map(|(key, _)| &key.value));
        said.any(|said| {
            said == word
                || habit(said).is_some_and(|habit| habit.ours == word)
                || nearest(said, std::iter::once(word)).is_some()
        })
    }

    pub fn optional_text(&self, what: &str) -> Option<Spanned<String>> {
        self.value().and_then(|value| self.as_text(value, what))
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
}

impl Drop for Reader<'_> {
    fn drop(&mut self) {
        let (properties, children) = (self.properties.borrow(), self.children.borrow());
        let left = Leftovers {
            node: self.node,
            values: self.node.values.get(self.next.get()..).unwrap_or_default(),
            properties: &properties,
            children: &children,
            free: self.free.get(),
            open: self.open.get(),
        };
        left.report(&mut self.findings.borrow_mut());
    }
}
