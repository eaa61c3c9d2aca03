//! Reader: takes typed values off a node as its word declares them, and when it goes, reports what nobody took.

use crate::assets::nearest;
use crate::ground::{Findings, Length, Span, Spanned};
use crate::source::habits::habit;
use crate::source::leftovers::Leftovers;
use crate::source::tree::{Datum, Node, Value};
use crate::source::word::{Slot, Takes, Times, Word};
use std::cell::{Cell, RefCell};

/// Reads one node. Everything it is asked for it also offers, when an unknown word looks like it.
pub struct Reader<'a> {
    pub node: &'a Node,
    /// What may stand on the node.
    pub word: &'static Word,
    findings: &'a RefCell<Findings>,
    next: Cell<usize>,
    /// What was asked for, by name.
    properties: RefCell<Vec<(&'static str, &'static Word)>>,
    children: RefCell<Vec<(&'static str, &'static Word)>>,
    /// Someone else answers for the properties, or for the children.
    free: Cell<bool>,
    open: Cell<bool>,
    /// What the node lacks: place, message and way out.
    lacks: RefCell<Vec<(Span, String, String)>>,
}

/// For a value that no word declares.
const UNDECLARED: Slot = Slot::new("a value", Takes::Text);

impl<'a> Reader<'a> {
    pub fn new(node: &'a Node, word: &'static Word, findings: &'a RefCell<Findings>) -> Reader<'a> {
        Reader {
            node,
            word,
            findings,
            next: Cell::new(0),
            properties: RefCell::default(),
            children: RefCell::default(),
            free: Cell::new(false),
            open: Cell::new(false),
            lacks: RefCell::default(),
        }
    }

    pub fn span(&self) -> Span {
        self.node.name.span
    }

    pub fn error(&self, span: Span, message: impl Into<String>, help: impl Into<String>) {
        self.findings.borrow_mut().error(span, message, help);
    }

    /// Something that the node must have is not there. It is reported unless something unknown stands there: then that was
    /// meant, and is the one fault.
    pub fn lacks(&self, span: Span, message: impl Into<String>, help: impl Into<String>) {
        self.lacks.borrow_mut().push((span, message.into(), help.into()));
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

    /// Whether text comes next, for words that take either a word or a number.
    pub fn says_text(&self) -> bool {
        matches!(self.peek().map(|value| &value.datum), Some(Datum::Text(_)))
    }

    /// The place that the word declares for the next argument.
    fn slot(&self) -> Slot {
        let form = form(self.word, self.node.values.first());
        let repeated = || form.last().filter(|slot| slot.times == Times::Any);
        form.get(self.next.get()).or_else(repeated).copied().unwrap_or(UNDECLARED)
    }

    /// The next argument with its place. One that must be there and is not is reported.
    fn next(&self) -> Option<(&'a Value, Slot)> {
        let slot = self.slot();
        if let Some(value) = self.value() {
            return Some((value, slot));
        }
        if slot.times == Times::Once {
            let (name, what) = (&self.node.name.value, slot.what);
            let last = self.node.values.last().map_or_else(|| name.clone(), Value::plain);
            self.error(self.span(), format!("`{name}` lacks {what}"), format!("write {what} after `{last}`"));
            // What follows cannot be judged without it: one fault, one finding.
            self.skip();
        }
        None
    }

    pub fn text(&self) -> Option<Spanned<String>> {
        let (value, slot) = self.next()?;
        if matches!(self.word.takes, [Slot { takes: Takes::Text, times: Times::Once, .. }])
            && let Some(whole) = self.unquoted(value)
        {
            return Some(whole);
        }
        self.as_text(value, slot.what)
    }

    /// Words without quotes that were meant as one text: reported, and taken as if they had them.
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
    /// it has been reported there.
    pub fn attempts(&self, word: &str) -> bool {
        let children = self.node.children.iter().map(|child| &child.name.value);
        let mut stated = children.chain(self.node.properties.iter().map(|(key, _)| &key.value));
        stated.any(|stated| {
            stated == word
                || habit(stated).is_some_and(|habit| habit.ours == word)
                || nearest(stated, std::iter::once(word)).is_some()
        })
    }

    pub fn number(&self) -> Option<Spanned<f64>> {
        self.next().and_then(|(value, slot)| self.as_number(value, slot, slot.what))
    }

    /// A percentage as a share.
    pub fn percent(&self) -> Option<f64> {
        self.next().and_then(|(value, slot)| self.as_percent(value, slot, slot.what))
    }

    pub fn length(&self) -> Option<Spanned<Length>> {
        self.next().and_then(|(value, slot)| self.as_length(value, slot, slot.what))
    }

    /// A length in millimetres.
    pub fn mm(&self) -> Option<f64> {
        self.length().map(|length| length.value.mm())
    }

    /// A length in points.
    pub fn pt(&self) -> Option<f64> {
        self.length().map(|length| length.value.pt())
    }

    pub fn choice(&self) -> Option<Spanned<&'static str>> {
        self.next().and_then(|(value, slot)| self.as_choice(value, slot, slot.what))
    }

    /// What a word stands for in a table.
    pub fn choose<T: Copy>(&self, table: &[(&'static str, T)]) -> Option<T> {
        self.choice().and_then(|word| meant(table, word.value))
    }

    pub fn flag(&self) -> Option<bool> {
        self.next().and_then(|(value, slot)| self.as_flag(value, slot.what))
    }

    // Properties, by name.

    pub fn property(&self, word: &'static Word) -> Option<&'a Value> {
        let name = word.name;
        self.properties.borrow_mut().push((name, word));
        let mut found = self.node.properties.iter().filter(|(key, _)| key.value == name);
        let first = found.next()?;
        if let Some((key, _)) = found.next() {
            self.error(key.span, format!("`{name}=` stands here twice"), "keep one of the two");
        }
        Some(&first.1)
    }

    /// A property with its place and its name as messages have it.
    pub fn property_slot(&self, word: &'static Word) -> Option<(&'a Value, Slot, String)> {
        let value = self.property(word)?;
        Some((value, form(word, Some(value)).first().copied().unwrap_or(UNDECLARED), format!("`{}=`", word.name)))
    }

    /// Every property, for words whose properties are names of the author's choosing.
    pub fn free_properties(&self) -> &'a [(Spanned<String>, Value)] {
        self.free.set(true);
        &self.node.properties
    }

    // Children.

    /// Every child of a name, each with a reader of its own.
    pub fn children(&self, word: &'static Word) -> Vec<Reader<'a>> {
        self.children.borrow_mut().push((word.name, word));
        let named = self.node.children.iter().filter(|child| child.name.value == word.name);
        named.map(|child| Reader::new(child, word, self.findings)).collect()
    }

    /// The one child of a name; a second is an error.
    pub fn child(&self, word: &'static Word) -> Option<Reader<'a>> {
        let mut named = self.children(word).into_iter();
        let first = named.next()?;
        for (at, other) in named.enumerate() {
            other.skip();
            if at == 0 {
                self.error(other.span(), format!("`{}` stands here twice", word.name), "keep one of the two");
            }
        }
        Some(first)
    }

    /// The children of any of several names, in the order of the file, as they stand.
    pub fn nodes(&self, words: impl Iterator<Item = &'static Word>) -> Vec<&'a Node> {
        let mut known = self.children.borrow_mut();
        let from = known.len();
        known.extend(words.map(|word| (word.name, word)));
        let is_known = |child: &&Node| known[from..].iter().any(|(name, _)| *name == child.name.value);
        self.node.children.iter().filter(is_known).collect()
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
        let mut findings = self.findings.borrow_mut();
        if !left.report(&mut findings) {
            for (span, message, help) in self.lacks.take() {
                findings.error(span, message, help);
            }
        }
    }
}

/// Which of the two forms of a word is meant: its first value tells.
fn form(word: &Word, first: Option<&Value>) -> &'static [Slot] {
    let Some(first) = first else { return word.takes };
    let says_text = matches!(first.datum, Datum::Text(_));
    let takes_text = |slot: &Slot| matches!(slot.takes, Takes::Text | Takes::Name | Takes::Choice(_));
    let fits = |form: &[Slot]| form.first().is_some_and(|slot| takes_text(slot) == says_text);
    if fits(word.or) && !fits(word.takes) { word.or } else { word.takes }
}

/// What a word of a table stands for.
pub fn meant<T: Copy>(table: &[(&'static str, T)], word: &str) -> Option<T> {
    table.iter().find(|(known, _)| *known == word).map(|(_, meaning)| *meaning)
}
