//! Key: by what a node is known again when a tree is laid over another.

use crate::language::element_words;
use crate::source::{Datum, Node};

/// Whose children are compared.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Level {
    /// The top of a file, or of an edition.
    Top,
    /// Words known by themselves: those of `format`, a style.
    Words,
    /// Those of `book`: they have a value, and more may be said of them without it.
    Book,
    /// Things known by the name after their word: swatches, styles, levels.
    Names,
    Panel {
        spine: bool,
    },
    Element {
        spine: bool,
    },
}

/// Nodes of one key stand for each other.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Key<'a> {
    kind: &'a str,
    name: Option<&'a str>,
}

const ACROSS: [&str; 4] = ["left", "right", "width", "centre-x"];
const DOWN: [&str; 8] = ["top", "bottom", "height", "centre-y", "below", "above", "cap-top", "baseline"];

impl Level {
    /// Where the children of a node that merges are compared; `None`: the node is replaced as a whole.
    pub fn within(self, node: &Node) -> Option<Level> {
        let name = node.name.value.as_str();
        match (self, name) {
            (Level::Top, "book") => Some(Level::Book),
            (Level::Top, "format" | "deliver") | (Level::Names, "style") => Some(Level::Words),
            (Level::Top, "swatches" | "type" | "guides") => Some(Level::Names),
            (Level::Top, "panel") => Some(Level::Panel { spine: first(node) == Some("spine") }),
            (Level::Top, "wrap") => Some(Level::Panel { spine: false }),
            (Level::Top, "part") => Some(Level::Element { spine: false }),
            (Level::Top, "edition") => Some(Level::Top),
            (Level::Panel { spine }, _) if is_element(name) => Some(Level::Element { spine }),
            // Inside a group the axes are those of any panel.
            (Level::Element { .. }, _) if is_element(name) => Some(Level::Element { spine: false }),
            _ => None,
        }
    }

    /// Whether a word says more of what another says, and leaves its value: `pages state=estimated`.
    pub fn says_more(self, node: &Node) -> bool {
        self == Level::Book && node.values.is_empty()
    }

    /// Panels may stand several times in a file, so that their order is the order on paper.
    pub fn is_block(self, node: &Node) -> bool {
        self == Level::Top && matches!(node.name.value.as_str(), "panel" | "wrap")
    }

    pub fn key(self, node: &Node) -> Key<'_> {
        let word = node.name.value.as_str();
        let named = Key { kind: word, name: first(node) };
        match self {
            _ if word == "drop" => Key { kind: word, name: None },
            Level::Top if matches!(word, "panel" | "part" | "edition") => named,
            Level::Book if word == "fact" => named,
            // A swatch may become a tint, and a spot ink a swatch: the name is the same.
            Level::Names => Key { kind: if word == "style" { word } else { "" }, ..named },
            Level::Panel { .. } | Level::Element { .. } if is_element(word) => {
                Key { kind: word, name: property(node, "as").or(first(node)) }
            }
            Level::Element { spine } => Key { kind: axis(word, spine), name: None },
            _ => Key { kind: word, name: None },
        }
    }

    /// The key that `drop NAME` takes away, when this node has it: its name, or its word where it has none.
    pub fn drops(self, name: &str, node: &Node) -> bool {
        let key = self.key(node);
        match key.name {
            Some(own) => own == name,
            None => {
                node.name.value == name || matches!(self, Level::Element { spine } if axis(name, spine) == key.kind)
            }
        }
    }

    /// What `drop` may say of a node.
    pub fn name(self, node: &Node) -> &str {
        self.key(node).name.unwrap_or(&node.name.value)
    }
}

/// Words that fix one thing together: who says one of them says it anew.
fn axis(word: &str, spine: bool) -> &str {
    match word {
        "swatch" | "gradient" => "swatch",
        "under" | "over" => "under",
        "head" | "foot" => "top",
        "across" => "left",
        "after" | "before" => {
            if spine {
                "top"
            } else {
                "left"
            }
        }
        _ if ACROSS.contains(&word) => "left",
        _ if DOWN.contains(&word) => "top",
        _ => word,
    }
}

fn is_element(word: &str) -> bool {
    element_words().any(|known| known == word)
}

fn first(node: &Node) -> Option<&str> {
    match &node.values.first()?.datum {
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
