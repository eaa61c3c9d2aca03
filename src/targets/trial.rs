//! Trial: facts that are tried, `pages=328`, as a small cover file laid over the cover.

use crate::assets::nearest;
use crate::source::{Node, Tree};
use crate::targets::Refusal;
use std::fmt::Write as _;

/// How a word takes its value.
#[derive(Clone, Copy, PartialEq)]
enum Takes {
    /// All of it is one text.
    Words,
    /// Parted by blanks: numbers bare, the rest as texts.
    Values,
    /// Parted by blanks, all of them texts: no zero of a price is lost.
    Texts,
}

/// A word, its block, how it takes its value, and its properties.
struct TriableFact {
    block: &'static str,
    name: &'static str,
    takes: Takes,
    properties: &'static [&'static str],
}

const fn word(
    block: &'static str,
    name: &'static str,
    takes: Takes,
    properties: &'static [&'static str],
) -> TriableFact {
    TriableFact { block, name, takes, properties }
}

const WORDS: [TriableFact; 26] = [
    word("book", "title", Takes::Words, &[]),
    word("book", "subtitle", Takes::Words, &[]),
    word("book", "author", Takes::Words, &[]),
    word("book", "translator", Takes::Words, &[]),
    word("book", "illustrator", Takes::Words, &[]),
    word("book", "publisher", Takes::Words, &[]),
    word("book", "language", Takes::Words, &[]),
    word("book", "pages", Takes::Values, &["state"]),
    word("book", "isbn", Takes::Words, &[]),
    word("book", "price", Takes::Texts, &[]),
    word("book", "in-series", Takes::Words, &["number"]),
    word("book", "version", Takes::Values, &["date"]),
    word("book", "quote", Takes::Words, &["by", "source"]),
    word("format", "trim", Takes::Values, &[]),
    word("format", PAPER, Takes::Values, &["grammage", "bulk", "caliper", "pages-per-inch"]),
    word("format", "cover-stock", Takes::Values, &["caliper"]),
    word("format", "glue", Takes::Values, &[]),
    word("format", "spine", Takes::Values, &[]),
    word("format", "spine-shape", Takes::Values, &["factor"]),
    word("format", "round-spine", Takes::Values, &[]),
    word("format", "section", Takes::Values, &[]),
    word("format", "bleed", Takes::Values, &[]),
    word("format", "safe", Takes::Values, &[]),
    word("format", "flap", Takes::Values, &[]),
    word("format", "board", Takes::Values, &["thickness", "square", "setback", "joint", "turn-in", "fore-edge"]),
    word("format", "hinge", Takes::Values, &[]),
];

const PAPER: &str = "paper";
const BINDING: &str = "binding";
/// A fact of one's own: `fact.strapline=…`.
const FACT: &str = "fact";
/// Properties that are texts though they may look like numbers.
const TEXTS: [&str; 4] = ["state", "date", "by", "source"];
/// Ways to say a paper's thickness: who says one of them takes the others away.
const THICKNESS: [&[&str]; 3] = [&["grammage", "bulk"], &["caliper"], &["pages-per-inch"]];

/// `FACT=VALUE`, each, as one text in the language of a cover.
pub fn trial(said: &[String]) -> Result<String, Refusal> {
    let (mut binding, mut nodes): (String, Vec<TriedFact>) = (String::new(), Vec::new());
    for said in said {
        let Some((name, value)) = said.split_once('=') else {
            return Err((
                format!("`{said}` names no fact and value"),
                "write FACT=VALUE: pages=328, trim=\"135 216\"".to_owned(),
            ));
        };
        let (name, value) = (name.trim(), value.trim());
        if value.is_empty() {
            return Err((format!("`{said}` lacks its value"), format!("write {name}=VALUE")));
        }
        match name.split_once('.') {
            None if name == BINDING => binding = format!(" {}", quoted(value)),
            Some((FACT, own)) if !own.is_empty() => {
                let key = format!("{FACT} {}", quoted(own));
                nodes.push(TriedFact { block: "book", key, value: quoted(value), properties: String::new() });
            }
            None => {
                let word = known(name)?;
                node(&mut nodes, word).value = values(value, word.takes);
            }
            Some((name, property)) => {
                let word = known(name)?;
                if !word.properties.contains(&property) {
                    let near = nearest(property, word.properties.iter().copied());
                    return Err((format!("`{name}` has no `{property}` to try"), offer(near, name, word.properties)));
                }
                let takes = if TEXTS.contains(&property) { Takes::Words } else { Takes::Values };
                write!(node(&mut nodes, word).properties, " {property}={}", values(value, takes))
                    .expect("a string takes every word");
            }
        }
    }
    Ok(written(&nodes, &binding))
}

fn written(nodes: &[TriedFact], binding: &str) -> String {
    let block = |name: &str, head: &str| {
        let own = nodes.iter().filter(|said| said.block == name);
        let lines: Vec<String> =
            own.map(|said| format!("    {} {}{}\n", said.key, said.value, said.properties)).collect();
        let says = !lines.is_empty() || !head.is_empty();
        if says { format!("{name}{head} {{\n{}}}\n", lines.concat()) } else { String::new() }
    };
    block("book", "") + &block("format", binding)
}

struct TriedFact {
    block: &'static str,
    key: String,
    value: String,
    properties: String,
}

fn node<'a>(nodes: &'a mut Vec<TriedFact>, word: &TriableFact) -> &'a mut TriedFact {
    let at = nodes.iter().position(|said| said.key == word.name).unwrap_or_else(|| {
        nodes.push(TriedFact {
            block: word.block,
            key: word.name.to_owned(),
            value: String::new(),
            properties: String::new(),
        });
        nodes.len() - 1
    });
    &mut nodes[at]
}

fn known(name: &str) -> Result<&'static TriableFact, Refusal> {
    WORDS.iter().find(|word| word.name == name).ok_or_else(|| {
        let names: Vec<&str> = WORDS.iter().map(|word| word.name).chain([BINDING]).collect();
        let near = nearest(name, names.iter().copied());
        let why = format!("`{name}` is no fact of `book` or `format`");
        let own = format!("; a fact of your own is tried as {FACT}.{name}=…");
        (why, offer(near, "", &names) + &own)
    })
}

fn offer(near: Option<String>, name: &str, all: &[&str]) -> String {
    let dot = if name.is_empty() { "" } else { "." };
    match near {
        Some(near) => format!("did you mean `{name}{dot}{near}`?"),
        None if all.is_empty() => format!("write {name}=VALUE"),
        None => format!("known here: {}", all.join(", ")),
    }
}

fn values(value: &str, takes: Takes) -> String {
    let parts = || value.split_whitespace();
    match takes {
        Takes::Words => quoted(value),
        Takes::Texts => parts().map(quoted).collect::<Vec<String>>().join(" "),
        Takes::Values => parts().map(bare).collect::<Vec<String>>().join(" "),
    }
}

/// A number as a number; anything else is a text, which the reader of the word judges.
fn bare(part: &str) -> String {
    match part.parse::<f64>() {
        // A hundred figures in a row are no number to the reader, an exponent is.
        Ok(number) if number.is_finite() && number.abs() >= MANY => format!("{number:e}"),
        Ok(number) if number.is_finite() => number.to_string(),
        _ => quoted(part),
    }
}

/// More than anything on a cover counts.
const MANY: f64 = 1e12;

fn quoted(text: &str) -> String {
    let mut out = "\"".to_owned();
    for letter in text.chars() {
        match letter {
            '"' | '\\' => out.extend(['\\', letter]),
            letter if letter.is_control() => out.push(' '),
            letter => out.push(letter),
        }
    }
    out + "\""
}

/// The trial with all that it leaves as it was: another grammage keeps the bulk, another extent its state.
pub fn completed(under: &Tree, mut over: Tree) -> Tree {
    for block in &mut over.nodes {
        let below = || under.nodes.iter().filter(|node| node.name == block.name).flat_map(|node| &node.children);
        let mut kept = Vec::new();
        for node in &mut block.children {
            let same = |other: &&Node| other.name == node.name && !is_section(other);
            if let Some(known) = below().find(same) {
                complete(node, known);
            }
            kept.extend(below().filter(|other| other.name == node.name && is_section(other)).cloned());
        }
        block.children.extend(kept);
    }
    over
}

/// A section on other paper stays as it is.
fn is_section(node: &Node) -> bool {
    node.name.value == PAPER && node.properties.iter().any(|(key, _)| key.value == "pages")
}

fn complete(node: &mut Node, known: &Node) {
    if node.values.is_empty() {
        node.values.clone_from(&known.values);
    }
    let says = |name: &str| node.properties.iter().any(|(key, _)| key.value == name);
    let spoken = THICKNESS.iter().find(|way| node.name.value == PAPER && way.iter().any(|name| says(name)));
    let fits = |name: &str| spoken.is_none_or(|way| way.contains(&name));
    let missing = known.properties.iter().filter(|(key, _)| !says(&key.value) && fits(&key.value));
    let missing: Vec<_> = missing.cloned().collect();
    node.properties.extend(missing);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(said: &[&str]) -> Result<String, Refusal> {
        trial(&said.iter().map(|said| (*said).to_owned()).collect::<Vec<String>>())
    }

    #[test]
    fn facts_become_a_small_cover_file() {
        assert_eq!(text(&["pages=328"]).as_deref(), Ok("book {\n    pages 328\n}\n"));
        let format = "format \"case\" {\n    trim 135 216\n    paper  grammage=90 bulk=1.3\n}\n";
        let said = ["paper.grammage=90", "trim=135 216", "binding=case", "paper.bulk=1.3"];
        assert_eq!(
            text(&said)
                .map(|text| text.replace(
                    "    paper  grammage=90 bulk=1.3\n    trim 135 216\n",
                    "    trim 135 216\n    paper  grammage=90 bulk=1.3\n"
                ))
                .as_deref(),
            Ok(format)
        );
        let book = "book {\n    title \"A \\\"B\\\" \\\\ C\"\n    price \"GBP\" \"10.90\"\n    fact \"strapline\" \"Yes\"\n}\n";
        assert_eq!(text(&["title=A \"B\" \\ C", "price=GBP 10.90", "fact.strapline=Yes"]).as_deref(), Ok(book));
    }

    #[test]
    fn the_nearest_word_is_offered() {
        let help = |said: &str| text(&[said]).expect_err("it is no fact").1;
        assert!(help("page=328").contains("did you mean `pages`?"));
        assert!(help("paper.gramage=90").contains("did you mean `paper.grammage`?"));
        assert!(help("zzz=1").contains("fact.zzz="));
        assert!(help("pages").contains("FACT=VALUE") && help("pages=").contains("pages=VALUE"));
    }
}
