//! Type names: one word has one meaning, so no two types of the house share a name.

use crate::files::below;
use crate::house::bare;
use crate::{root, shown};
use std::collections::BTreeMap;

/// Names that a trait of the standard library or of serde asks for.
const ASKED_FOR: [&str; 1] = ["Value"];

#[test]
fn no_two_types_share_a_name() {
    let mut homes: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for path in below(&root(), &["src", "tests/kit"], &["rs"]) {
        let text = std::fs::read_to_string(&path).expect("a file can be read");
        for name in declared(&text) {
            homes.entry(name).or_default().push(shown(&path));
        }
    }
    assert!(homes.len() > 300, "the types were not understood: {}", homes.len());
    let twice: Vec<_> =
        homes.iter().filter(|(name, homes)| homes.len() > 1 && !ASKED_FOR.contains(&name.as_str())).collect();
    assert!(twice.is_empty(), "these names mean two things; rename one of them: {twice:#?}");
}

#[test]
fn a_declaration_is_seen_wherever_it_stands() {
    let text = "pub struct One;\n// struct Two;\nfn f() {\n    enum Three { A }\n}\npub(crate) type Four<'a> = &'a str;\n\
                pub trait Five {}\nconst SIX: &str = \"struct Seven\";\n";
    assert_eq!(declared(text), ["One", "Three", "Four", "Five"]);
}

/// The names of the types that a file declares.
fn declared(text: &str) -> Vec<String> {
    let mut names = Vec::new();
    for line in bare(text).lines() {
        let mut words = line.split_whitespace().skip_while(|word| word.starts_with("pub"));
        let (Some("struct" | "enum" | "type" | "trait" | "union"), Some(name)) = (words.next(), words.next()) else {
            continue;
        };
        let name: String = name.chars().take_while(|letter| letter.is_alphanumeric()).collect();
        if name.starts_with(char::is_uppercase) {
            names.push(name);
        }
    }
    names
}
