//! Paths: the `room::file::Thing` that a file's code names, imports taken apart.

use crate::house::{bare, code_of};
use std::collections::BTreeSet;

#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Import {
    /// Named in the code itself.
    No,
    /// `use`.
    Own,
    /// `pub use`.
    HandedOn,
}

/// A path as it stands in the code, of two words or more.
pub struct Named {
    pub path: Vec<String>,
    pub import: Import,
    alias: Option<String>,
}

impl Named {
    /// By what the file calls it.
    pub fn name(&self) -> &str {
        self.alias.as_deref().unwrap_or_else(|| self.path.last().expect("a path has words"))
    }
}

/// What the code of a file speaks of.
#[derive(Default)]
pub struct Spoken {
    pub named: Vec<Named>,
    /// Every word outside its imports.
    pub words: BTreeSet<String>,
    /// The files it declares by `mod`.
    pub modules: BTreeSet<String>,
}

pub fn spoken(text: &str) -> Spoken {
    let code = bare(&code_of(text)).replace("pub use ", "pub_use ");
    let tokens = tokens(&code);
    let mut spoken = Spoken::default();
    let mut at = 0;
    while at < tokens.len() {
        let import = match tokens[at] {
            "use" => Import::Own,
            "pub_use" => Import::HandedOn,
            _ => Import::No,
        };
        if import != Import::No {
            // `::png` is the crate of that name, whatever else is called so.
            at += usize::from(tokens.get(at + 1) == Some(&"::"));
            at = path(&tokens, at + 1, &[], import, &mut spoken.named);
        } else if tokens[at] == "mod" {
            spoken.modules.extend(tokens.get(at + 1).map(|name| (*name).to_owned()));
            at += 2;
        } else if is_word(tokens[at]) {
            let end = path(&tokens, at, &[], import, &mut spoken.named);
            spoken.words.extend(tokens[at..end].iter().map(|token| (*token).to_owned()));
            at = end;
        } else {
            at += 1;
        }
    }
    spoken.named.retain(|named| named.path.len() > 1);
    spoken
}

/// Reads one path, and all that its braces hold; the place after it.
fn path(tokens: &[&str], mut at: usize, before: &[String], import: Import, named: &mut Vec<Named>) -> usize {
    let (mut path, start) = (before.to_vec(), at);
    while let Some(token) = tokens.get(at) {
        if *token == "{" && path.len() > before.len() {
            while tokens.get(at).is_some_and(|token| *token != "}") {
                at = self::path(tokens, at + 1, &path, import, named);
            }
            return at + 1;
        }
        if !is_word(token) {
            break;
        }
        // `a::{self}` is `a`.
        if *token != "self" || path.is_empty() {
            path.push((*token).to_owned());
        }
        at += 1;
        let more = tokens.get(at) == Some(&"::");
        let braces = import != Import::No && tokens.get(at + 1) == Some(&"{");
        if !more || !(braces || tokens.get(at + 1).is_some_and(|next| is_word(next))) {
            break;
        }
        at += 1;
    }
    let alias = (tokens.get(at) == Some(&"as") && import != Import::No).then(|| tokens[at + 1].to_owned());
    at += if alias.is_some() { 2 } else { 0 };
    // Behind a last comma stands nothing.
    if at > start {
        named.push(Named { path, import, alias });
    }
    at
}

/// Words, `::`, and all other signs one by one.
fn tokens(code: &str) -> Vec<&str> {
    let mut tokens = Vec::new();
    let mut rest = code.trim_start();
    while let Some(first) = rest.chars().next() {
        let end = if is_letter(first) {
            rest.find(|letter| !is_letter(letter)).unwrap_or(rest.len())
        } else if rest.starts_with("::") {
            2
        } else {
            first.len_utf8()
        };
        tokens.push(&rest[..end]);
        rest = rest[end..].trim_start();
    }
    tokens
}

fn is_letter(letter: char) -> bool {
    letter.is_alphanumeric() || letter == '_'
}

fn is_word(token: &str) -> bool {
    token.starts_with(is_letter)
}
