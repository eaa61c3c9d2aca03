//! Draft: the nodes that a row has said so far. Nodes of one word are told apart by their place in its list.

use crate::ground::{Span, Spanned};
use crate::source::{Datum, Node, Tree, Value};

pub struct Draft {
    /// Of the row.
    span: Span,
    book: Vec<(usize, Node)>,
    format: Vec<(usize, Node)>,
    binding: Option<Value>,
    swatches: Vec<(usize, Node)>,
    prices: usize,
    facts: usize,
}

impl Draft {
    pub fn new(span: Span) -> Draft {
        let (book, format, swatches) = Default::default();
        Draft { span, book, format, binding: None, swatches, prices: 0, facts: 0 }
    }

    /// The node of a word of `book`, made when it is new.
    pub fn book(&mut self, word: &str, at: usize, span: Span) -> &mut Node {
        node(&mut self.book, word, at, span)
    }

    pub fn format(&mut self, word: &str, at: usize, span: Span) -> &mut Node {
        node(&mut self.format, word, at, span)
    }

    pub fn binding(&mut self, binding: Value) {
        self.binding = Some(binding);
    }

    pub fn price(&mut self, currency: Value, amount: Value) {
        let node = node(&mut self.book, "price", self.prices, amount.span);
        node.values.extend([currency, amount]);
        self.prices += 1;
    }

    pub fn fact(&mut self, name: Spanned<String>, stated: Value) {
        let node = node(&mut self.book, "fact", self.facts, stated.span);
        node.values.extend([Value { datum: Datum::Text(name.value), unit: None, span: name.span }, stated]);
        self.facts += 1;
    }

    /// The swatch of a name, as its column has it.
    pub fn swatch(&mut self, name: &str, column: Span, span: Span) -> &mut Node {
        let text = Datum::Text(name.to_owned());
        let known =
            self.swatches.iter().position(|(_, node)| node.values.first().is_some_and(|stated| stated.datum == text));
        let at = known.unwrap_or(self.swatches.len());
        let node = node(&mut self.swatches, "swatch", at, span);
        if known.is_none() {
            node.values.push(Value { datum: text, unit: None, span: column });
        }
        node
    }

    /// What a word of `book` says, when it is text.
    pub fn text(&self, word: &str) -> Option<Spanned<String>> {
        let (_, node) = self.book.iter().find(|(_, node)| node.name.value == word)?;
        let stated = node.values.first()?;
        let Datum::Text(text) = &stated.datum else { return None };
        Some(Spanned::new(text.clone(), stated.span))
    }

    pub fn tree(self) -> Tree {
        let span = self.span;
        let whole = |name: &str, values: Vec<Value>, mut nodes: Vec<(usize, Node)>| {
            // Lists in the order of their places, whichever column spoke first.
            nodes.sort_by_key(|(at, _)| *at);
            let children: Vec<Node> = nodes.into_iter().map(|(_, node)| node).collect();
            let speaks = !values.is_empty() || !children.is_empty();
            speaks.then(|| Node { values, children, ..bare(name, span) })
        };
        let book = whole("book", Vec::new(), self.book);
        let format = whole("format", self.binding.into_iter().collect(), self.format);
        let swatches = whole("swatches", Vec::new(), self.swatches);
        Tree { nodes: [book, format, swatches].into_iter().flatten().collect() }
    }
}

impl Node {
    /// Takes over what another node says after its name.
    pub fn take(&mut self, other: Node) {
        self.values.extend(other.values);
        self.properties.extend(other.properties);
        self.children.extend(other.children);
    }
}

/// The child of a name, made when it is new.
pub fn child<'a>(node: &'a mut Node, name: &str, span: Span) -> &'a mut Node {
    let at = node.children.iter().position(|child| child.name.value == name).unwrap_or_else(|| {
        node.children.push(bare(name, span));
        node.children.len() - 1
    });
    &mut node.children[at]
}

fn node<'a>(nodes: &'a mut Vec<(usize, Node)>, word: &str, at: usize, span: Span) -> &'a mut Node {
    let known = nodes.iter().position(|(place, node)| *place == at && node.name.value == word).unwrap_or_else(|| {
        nodes.push((at, bare(word, span)));
        nodes.len() - 1
    });
    &mut nodes[known].1
}

fn bare(name: &str, span: Span) -> Node {
    let name = Spanned::new(name.to_owned(), span);
    Node { name, values: Vec::new(), properties: Vec::new(), children: Vec::new(), span }
}
