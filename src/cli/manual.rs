//! Manual: all pages there are. A page of a word is the head of the file that reads it; topics have texts of their own.

use crate::check;
use crate::language::NODES;

/// One page. Its first line says in a sentence what it is about.
pub struct Page {
    pub name: &'static str,
    /// `topic`, `word` or `rule`.
    pub kind: &'static str,
    pub text: String,
}

/// Every page; those of one kind stand together.
pub fn pages() -> Vec<Page> {
    let topics = TOPICS.iter().map(|(name, text)| Page { name, kind: "topic", text: (*text).to_owned() });
    let words = NODES.iter().map(|node| Page { name: node.name, kind: "word", text: node.manual() });
    let rules = check::names().map(|name| Page { name, kind: "rule", text: check::explain(name).unwrap_or_default() });
    topics.chain(words).chain(rules).collect()
}

const TOPICS: &[(&str, &str)] = &[
    ("kdl", include_str!("topics/kdl.txt")),
    ("tidy", include_str!("topics/tidy.txt")),
    ("files", include_str!("topics/files.txt")),
    ("units", include_str!("topics/units.txt")),
    ("fonts", include_str!("topics/fonts.txt")),
    ("order", include_str!("topics/order.txt")),
    ("recipes", include_str!("topics/recipes.txt")),
    ("limits", include_str!("topics/limits.txt")),
    ("compare", include_str!("topics/compare.txt")),
    ("catalogue", include_str!("topics/catalogue.txt")),
    ("tables", include_str!("topics/tables.txt")),
    ("shelf", include_str!("topics/shelf.txt")),
    ("exit-codes", include_str!("topics/exit-codes.txt")),
    ("inputs", include_str!("topics/inputs.txt")),
    ("bounds", include_str!("topics/bounds.txt")),
    ("store", include_str!("topics/store.txt")),
];

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_page_begins_with_a_sentence() {
        for page in pages() {
            let first = page.text.lines().next().unwrap_or_default();
            assert!(first.ends_with('.') && first.chars().count() < 120, "{}: {first}", page.name);
        }
    }
}
