//! Editions: what the trees of a cover say of each, and which one begins as another.

use crate::ground::{Findings, Spanned};
use crate::source::{Datum, Node, Tree, offer};
use std::cell::RefCell;

/// The names of all editions; they become parts of file names.
pub fn editions(tree: &Tree, findings: &RefCell<Findings>) -> Vec<String> {
    let mut names = Vec::new();
    for node in tree.nodes.iter().filter(|node| node.name.value == "edition") {
        match edition_name(node) {
            Some(name) if names.iter().any(|known| known == name) => {
                let message = format!("the edition `{name}` stands here a second time");
                findings.borrow_mut().error(node.name.span, message, "say it all in one place");
            }
            Some(name) if is_named(name) => names.push(name.to_owned()),
            _ => {
                let help = "write `edition case { … }`: letters, digits and hyphens, for files are named by it";
                findings.borrow_mut().error(node.name.span, "an edition needs a name of letters and digits", help);
            }
        }
        for (key, value) in &node.properties {
            if key.value != LIKE {
                let message = format!("`edition` has no property `{}`", key.value);
                findings.borrow_mut().error(key.span, message, HOW);
            } else if value.text().is_none() {
                let message = format!("`like=` names an edition, not {}", value.shown());
                findings.borrow_mut().error(value.span, message, HOW);
            }
        }
    }
    names
}

const LIKE: &str = "like";
const HOW: &str = "an edition that begins as another is written `edition us like=case { … }`";

pub fn edition_name(node: &Node) -> Option<&str> {
    match (node.name.value.as_str(), node.values.first().map(|value| &value.datum)) {
        ("edition", Some(Datum::Text(name))) => Some(name),
        _ => None,
    }
}

/// What the files of a cover say of one edition, in the order in which it is laid over the cover: first what it begins
/// as. `laid` is the whole cover. What is unknown or goes round in a circle is reported, and left out.
pub fn edition(chain: &[Tree], laid: &Tree, wanted: &Spanned<String>, findings: &RefCell<Findings>) -> Vec<Tree> {
    let mut line = vec![wanted.clone()];
    while let Some(below) = line.last().and_then(|edition| like(laid, &edition.value)) {
        let known = |name: &str| laid.nodes.iter().any(|node| edition_name(node) == Some(name));
        if let Some(at) = line.iter().position(|edition| edition.value == below.value) {
            let round: Vec<&str> = line[at..].iter().chain([&below]).map(|edition| edition.value.as_str()).collect();
            let message = format!("these editions begin as each other in a circle: {}", round.join(" → "));
            findings.borrow_mut().error(below.span, message, "take `like=` away from one of them");
            break;
        }
        if !known(&below.value) {
            let names: Vec<&str> = laid.nodes.iter().filter_map(edition_name).collect();
            let message = format!("there is no edition `{}` to begin as", below.value);
            findings.borrow_mut().error(below.span, message, offer(&below.value, &names));
            break;
        }
        line.push(below);
    }
    line.iter().rev().flat_map(|edition| chain.iter().filter_map(|layer| stated_of(layer, &edition.value))).collect()
}

/// The edition that one begins as.
fn like(laid: &Tree, edition: &str) -> Option<Spanned<String>> {
    let node = laid.nodes.iter().find(|node| edition_name(node) == Some(edition))?;
    let (_, value) = node.properties.iter().find(|(key, _)| key.value == LIKE)?;
    Some(Spanned::new(value.text()?.to_owned(), value.span))
}

/// What a file says of one edition.
fn stated_of(tree: &Tree, wanted: &str) -> Option<Tree> {
    let stated: Vec<&Node> = tree.nodes.iter().filter(|node| edition_name(node) == Some(wanted)).collect();
    (!stated.is_empty()).then(|| Tree { nodes: stated.iter().flat_map(|node| node.children.clone()).collect() })
}

fn is_named(edition: &str) -> bool {
    edition.starts_with(char::is_alphanumeric)
        && edition.chars().all(|letter| letter.is_alphanumeric() || letter == '-')
}
