//! Trial: facts that are tried, `pages=328`, as a small cover file laid over the cover.

use crate::assets::nearest;
use crate::language::{BOOK, FACT, FORMAT, PAPER, PAPER_WAYS};
use crate::source::{KnownBy, Node, Slot, Takes, Times, Tree, Word};
use crate::targets::Refusal;
use std::fmt::Write as _;

const BINDING: &str = "binding";

/// `FACT=VALUE`, each, as one text in the language of a cover.
pub fn trial(stated: &[String]) -> Result<String, Refusal> {
    let (mut binding, mut nodes): (String, Vec<TriedFact>) = (String::new(), Vec::new());
    for stated in stated {
        let Some((name, value)) = stated.split_once('=') else {
            return Err((
                format!("`{stated}` names no fact and value"),
                "write FACT=VALUE: pages=328, trim=\"135 216\"".to_owned(),
            ));
        };
        let (name, value) = (name.trim(), value.trim());
        if value.is_empty() {
            return Err((format!("`{stated}` lacks its value"), format!("write {name}=VALUE")));
        }
        match name.split_once('.') {
            None if name == BINDING => binding = format!(" {}", quoted(value)),
            Some((name, own)) if name == FACT.name && !own.is_empty() => {
                let key = format!("{name} {}", quoted(own));
                nodes.push(TriedFact { value: quoted(value), ..TriedFact::of(BOOK, key) });
            }
            None => {
                let (block, word) = known(name)?;
                node(&mut nodes, block, word).value = values(value, word);
            }
            Some((name, part)) => {
                let (block, word) = known(name)?;
                let stated = node(&mut nodes, block, word);
                if let Some(property) = properties(word).find(|property| property.name == part) {
                    write!(stated.properties, " {part}={}", values(value, property))
                        .expect("a string takes every word");
                } else if let Some(child) = word.child(part) {
                    write!(stated.children, "{part} {}; ", values(value, child)).expect("a string takes every word");
                } else {
                    let parts: Vec<&str> = properties(word).chain(word.inside()).map(|part| part.name).collect();
                    let near = nearest(part, parts.iter().copied());
                    return Err((format!("`{name}` has no `{part}` to try"), offer(near, name, &parts)));
                }
            }
        }
    }
    Ok(written(&nodes, &binding))
}

/// What may be tried of a word. A section on other paper stays as it is.
fn properties(word: &'static Word) -> impl Iterator<Item = &'static Word> {
    let thickness = |name: &str| PAPER_WAYS.iter().flat_map(|way| way.iter()).any(|way| way.name == name);
    word.properties.iter().filter(move |property| word.name != PAPER.name || thickness(property.name))
}

fn written(nodes: &[TriedFact], binding: &str) -> String {
    let block = |block: &Word, head: &str| {
        let own = nodes.iter().filter(|stated| stated.block.name == block.name);
        let lines: Vec<String> = own.map(TriedFact::line).collect();
        let says = !lines.is_empty() || !head.is_empty();
        if says { format!("{}{head} {{\n{}}}\n", block.name, lines.concat()) } else { String::new() }
    };
    block(&BOOK, "") + &block(&FORMAT, binding)
}

struct TriedFact {
    block: Word,
    key: String,
    value: String,
    properties: String,
    children: String,
}

impl TriedFact {
    fn of(block: Word, key: String) -> TriedFact {
        TriedFact { block, key, value: String::new(), properties: String::new(), children: String::new() }
    }

    fn line(&self) -> String {
        let TriedFact { key, value, properties, children, .. } = self;
        let children = if children.is_empty() { String::new() } else { format!(" {{ {children}}}") };
        format!("    {key} {value}{properties}{children}\n")
    }
}

fn node<'a>(nodes: &'a mut Vec<TriedFact>, block: Word, word: &Word) -> &'a mut TriedFact {
    let at = nodes.iter().position(|stated| stated.key == word.name).unwrap_or_else(|| {
        nodes.push(TriedFact::of(block, word.name.to_owned()));
        nodes.len() - 1
    });
    &mut nodes[at]
}

/// A word that states a fact, and its block.
fn known(name: &str) -> Result<(Word, &'static Word), Refusal> {
    const BLOCKS: [&Word; 2] = [&BOOK, &FORMAT];
    let all = || BLOCKS.into_iter().flat_map(|block| block.inside().map(move |word| (*block, word)));
    let triable = || all().filter(|(_, word)| word.known_by != KnownBy::Name);
    triable().find(|(_, word)| word.name == name).ok_or_else(|| {
        let names: Vec<&str> = triable().map(|(_, word)| word.name).chain([BINDING]).collect();
        let near = nearest(name, names.iter().copied());
        let why = format!("`{name}` is not a fact of `book` or `format`");
        let own = format!("; a fact of your own is tried as {}.{name}=…", FACT.name);
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

/// A value as its word takes it: all of it as one text, or its parts one by one.
fn values(value: &str, word: &Word) -> String {
    let parts = || value.split_whitespace();
    let is_text = |slot: &Slot| matches!(slot.takes, Takes::Text | Takes::Name | Takes::Choice(_));
    match word.takes {
        [Slot { takes: Takes::Text, times: Times::Once, .. }] => quoted(value),
        // No zero of a price is lost.
        slots if word.or.is_empty() && slots.iter().all(is_text) => {
            parts().map(quoted).collect::<Vec<String>>().join(" ")
        }
        _ => parts().map(bare).collect::<Vec<String>>().join(" "),
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
    node.name.value == PAPER.name && node.properties.iter().any(|(key, _)| key.value == "pages")
}

fn complete(node: &mut Node, known: &Node) {
    if node.values.is_empty() {
        node.values.clone_from(&known.values);
        let says = |name: &str| node.children.iter().any(|child| child.name.value == name);
        let missing: Vec<_> = known.children.iter().filter(|child| !says(&child.name.value)).cloned().collect();
        node.children.extend(missing);
    }
    let says = |name: &str| node.properties.iter().any(|(key, _)| key.value == name);
    let spoken = PAPER_WAYS.iter().find(|way| node.name.value == PAPER.name && way.iter().any(|word| says(word.name)));
    let fits = |name: &str| spoken.is_none_or(|way| way.iter().any(|word| word.name == name));
    let missing = known.properties.iter().filter(|(key, _)| !says(&key.value) && fits(&key.value));
    let missing: Vec<_> = missing.cloned().collect();
    node.properties.extend(missing);
}

#[cfg(test)]
mod tests {
    use super::*;

    fn text(stated: &[&str]) -> Result<String, Refusal> {
        trial(&stated.iter().map(|stated| (*stated).to_owned()).collect::<Vec<String>>())
    }

    #[test]
    fn facts_become_a_small_cover_file() {
        assert_eq!(text(&["pages=328"]).as_deref(), Ok("book {\n    pages 328\n}\n"));
        let format = "format \"case\" {\n    trim 135 216\n    paper  grammage=90 bulk=1.3\n}\n";
        let stated = ["paper.grammage=90", "trim=135 216", "binding=case", "paper.bulk=1.3"];
        assert_eq!(
            text(&stated)
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
        let help = |stated: &str| text(&[stated]).expect_err("it is not a fact").1;
        assert!(help("page=328").contains("did you mean `pages`?"));
        assert!(help("paper.gramage=90").contains("did you mean `paper.grammage`?"));
        assert!(help("zzz=1").contains("fact.zzz="));
        assert!(help("pages").contains("FACT=VALUE") && help("pages=").contains("pages=VALUE"));
    }
}
