//! Key: by what a node is known again when a tree is laid over another.

use crate::language::nodes::panel::{PANEL, WRAP};
use crate::language::nodes::word_inside;
use crate::scene::PanelName;
use crate::source::{Besides, Datum, KnownBy, Laid, Node, Word};

/// Whose children are compared.
#[derive(Clone, Copy)]
pub struct Parent {
    /// None at the top of a file.
    word: Option<&'static Word>,
    /// On a spine some words fix the other axis.
    spine: bool,
}

/// Takes names away, and stays.
pub fn is_drop(node: &Node) -> bool {
    node.name.value == "drop"
}

/// Nodes of one key stand for each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Key<'a> {
    pub kind: &'a str,
    pub name: Option<&'a str>,
}

impl Parent {
    pub const TOP: Parent = Parent { word: None, spine: false };

    fn word(self, name: &str) -> Option<&'static Word> {
        word_inside(self.word, name)
    }

    /// Where the children of a node that merges are compared; `None`: the node is replaced as a whole.
    pub fn within(self, node: &Node) -> Option<Parent> {
        let word = self.word(&node.name.value).filter(|word| word.laid == Laid::Inside)?;
        let spine = match self.word {
            // Inside a group the axes are those of any panel.
            Some(panel) => self.spine && [PANEL.name, WRAP.name].contains(&panel.name),
            None => word.name == PANEL.name && first(node) == Some(PanelName::Spine.word()),
        };
        Some(Parent { word: Some(word), spine })
    }

    /// Where the children of a node are compared that adds to the one below: `pages state=estimated`.
    pub fn adding(self, node: &Node) -> Option<Parent> {
        let word = self.word(&node.name.value).filter(|word| word.laid == Laid::More && node.values.is_empty())?;
        Some(Parent { word: Some(word), spine: false })
    }

    /// Whether a property of a node that is replaced stays where the new one says nothing of it.
    pub fn stays(self, node: &Node, property: &str) -> bool {
        let word = self.word(&node.name.value).and_then(|word| word.property(property));
        word.is_some_and(|word| word.laid == Laid::Stays)
    }

    /// Panels may stand several times in a file, so that their order is the order on paper.
    pub fn is_block(self, node: &Node) -> bool {
        self.word(&node.name.value).is_some_and(|word| word.many && word.laid == Laid::Inside)
    }

    /// Whether whatever stands at the top of a file may stand in a node: it is laid over its cover later.
    pub fn is_whole(self, node: &Node) -> bool {
        self.word(&node.name.value).is_some_and(|word| word.besides == Besides::Everything)
    }

    pub fn key(self, node: &Node) -> Key<'_> {
        let kind = node.name.value.as_str();
        let Some(word) = self.word(kind) else { return Key { kind, name: None } };
        match word.known_by {
            KnownBy::Word => Key { kind, name: None },
            KnownBy::Name => {
                let other = word.property("as").and_then(|word| property(node, word.name));
                Key { kind, name: other.or(first(node)) }
            }
            KnownBy::Second => Key { kind, name: stated(node, 1) },
            KnownBy::AnyOfName => Key { kind: "", name: first(node) },
            KnownBy::Fixing(what) => Key { kind: self.fixed(what), name: None },
        }
    }

    fn fixed(self, what: &'static str) -> &'static str {
        match what {
            "along" if self.spine => "y",
            "along" => "x",
            _ => what,
        }
    }

    /// What a word or property inside fixes together with others.
    pub fn fixing(self, name: &str) -> Option<&'static str> {
        match self.word(name).or(self.word?.property(name))?.known_by {
            KnownBy::Fixing(what) => Some(self.fixed(what)),
            _ => None,
        }
    }

    /// What properties fix: who writes one of them takes away the words that fix the same.
    pub fn fixed_by_properties(self) -> impl Iterator<Item = &'static str> {
        let properties = self.word.map_or(&[][..], |word| word.properties);
        properties.iter().filter_map(move |word| self.fixing(word.name))
    }

    /// The key that `drop NAME` takes away, when this node has it: its name, or its word where it has none.
    pub fn drops(self, name: &str, node: &Node) -> bool {
        let key = self.key(node);
        match key.name {
            Some(own) => own == name,
            None => node.name.value == name || self.fixing(name) == Some(key.kind),
        }
    }

    /// What `drop` may say of a node.
    pub fn name(self, node: &Node) -> &str {
        self.key(node).name.unwrap_or(&node.name.value)
    }
}

fn first(node: &Node) -> Option<&str> {
    stated(node, 0)
}

fn stated(node: &Node, at: usize) -> Option<&str> {
    match &node.values.get(at)?.datum {
        Datum::Text(text) => Some(text),
        _ => None,
    }
}

fn property<'a>(node: &'a Node, name: &str) -> Option<&'a str> {
    match &node.properties.iter().find(|(key, _)| key.value == name)?.1.datum {
        Datum::Text(text) => Some(text),
        _ => None,
    }
}
