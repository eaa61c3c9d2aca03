//! `jaconet explain`: the manual, offline.

use crate::assets::nearest;
use crate::cli::exit::Exit;
use crate::cli::in_force::in_force;
use crate::cli::manual::{Page, pages};
use crate::cli::say;
use crate::source::habit;
use clap::Args;
use std::path::PathBuf;

#[derive(Args)]
pub struct ExplainArgs {
    /// A word of the language, a rule, or a topic [default: the list of all pages]
    pub word: Option<String>,
    /// A cover: show the limits of the rule that are in force for it, and where each was set
    pub cover: Option<PathBuf>,
}

pub fn run(args: &ExplainArgs) -> Exit {
    let pages = pages();
    let Some(word) = &args.word else {
        say::out(&list(&pages));
        return Exit::Clean;
    };
    let word = &word.to_lowercase();
    let mut found = about(&pages, word);
    let mut lead = String::new();
    if found.is_empty()
        && let Some(habit) = habit(word)
    {
        lead = format!("`{word}` is not a word of a cover. {}\n\n", sentence(habit.says));
        found = about(&pages, habit.ours);
    }
    if found.is_empty() && lead.is_empty() {
        say::stopped(&format!("the manual has no page on `{word}`"), &elsewhere(&pages, word));
        return Exit::Stopped;
    }
    say::out(&(lead + &printed(&found, word)));
    args.cover.as_ref().map_or(Exit::Clean, |cover| in_force(word, cover))
}

/// So many pages are shown whole: a word may be both a node and a rule, each with its page.
const WHOLE: usize = 2;

/// Pages on a word; of many, what each of them says of it.
fn printed(found: &[&Page], word: &str) -> String {
    if found.len() <= WHOLE {
        let texts = found.iter().map(|page| format!("{} ({})\n\n{}\n", page.name, page.kind, shown(&page.text)));
        return texts.collect::<Vec<String>>().join("\n");
    }
    let texts = found.iter().map(|page| format!("{} ({})\n{}\n", page.name, page.kind, entries(page, word)));
    format!("`{word}` has a meaning in {} pages; `jaconet explain {}` shows one whole.\n\n", found.len(), found[0].name)
        + &texts.collect::<Vec<String>>().concat()
}

/// What a page says of a word in its lists: each entry with the lines that are indented under it.
fn entries(page: &Page, word: &str) -> String {
    let depth = |line: &str| line.len() - line.trim_start().len();
    let mut within = None;
    let lines = page.text.lines().filter(|line| {
        if within.is_some_and(|from| depth(line) <= from) {
            within = None;
        }
        if within.is_none() && item_defines(line, word) {
            within = Some(depth(line));
        }
        within.is_some()
    });
    lines.flat_map(|line| [line, "\n"]).collect()
}

/// The pages of a word, or those that explain it in a list.
fn about<'a>(pages: &'a [Page], word: &str) -> Vec<&'a Page> {
    let own: Vec<&Page> = pages.iter().filter(|page| is_about(page, word)).collect();
    if own.is_empty() { pages.iter().filter(|page| defines(page, word)).collect() } else { own }
}

/// Without the pictures that the pages in `docs/` have.
fn shown(text: &str) -> String {
    let lines: Vec<&str> = text.lines().filter(|line| !line.starts_with("![")).collect();
    (lines.join("\n") + "\n").replace("\n\n\n", "\n\n")
}

fn sentence(says: &str) -> String {
    let mut letters = says.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).chain(['.']).collect())
}

/// A page's own word, or another that it names at its very beginning.
fn is_about(page: &Page, word: &str) -> bool {
    let head = page.text.split(':').next().unwrap_or_default();
    page.name == word || head.split('`').skip(1).step_by(2).any(|named| named == word)
}

/// A page that explains a word in a list of its own, before the colon: `- \`turn DEGREES\`: degrees clockwise`.
fn defines(page: &Page, word: &str) -> bool {
    page.text.lines().any(|line| item_defines(line, word))
}

fn item_defines(line: &str, word: &str) -> bool {
    let Some(item) = line.trim_start().strip_prefix("- `") else { return false };
    let head = item.split("`:").next().unwrap_or_default();
    head.split('`').step_by(2).any(|named| named.split([' ', '=']).next() == Some(word))
}

/// Where else to look: pages that use the word, or the word that was meant.
fn elsewhere(pages: &[Page], word: &str) -> String {
    let part = |letter: char| !(letter.is_alphanumeric() || letter == '-');
    let using = pages.iter().filter(|page| page.text.split(part).any(|used| used == word)).map(|page| page.name);
    let using: Vec<&str> = using.collect();
    let near = nearest(word, pages.iter().map(|page| page.name));
    let hint = match (using.is_empty(), near) {
        (false, _) => format!("it stands in the pages of {}; ", using.join(", ")),
        (true, Some(near)) => format!("did you mean `{near}`? "),
        (true, None) => String::new(),
    };
    format!("{hint}`jaconet explain` alone lists all pages")
}

/// Names by kind, each with its first sentence.
fn list(pages: &[Page]) -> String {
    let width = pages.iter().map(|page| page.name.len()).max().unwrap_or(0);
    let kinds = pages.chunk_by(|one, next| one.kind == next.kind).map(|pages| {
        let lines: Vec<String> =
            pages.iter().map(|page| format!("  {:width$}  {}\n", page.name, first(page))).collect();
        format!("{}s\n{}", pages[0].kind, lines.concat())
    });
    kinds.collect::<Vec<String>>().join("\n")
}

/// The first sentence of a page, without the name that stands before it anyway.
fn first(page: &Page) -> &str {
    let line = page.text.lines().next().unwrap_or_default();
    line.strip_prefix(&format!("`{}`: ", page.name)).unwrap_or(line)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Nine whole pages are too much to read for one word.
    #[test]
    fn of_a_word_with_many_meanings_each_page_says_its_own() {
        let pages = pages();
        let found = about(&pages, "swatch");
        assert!(found.len() > WHOLE, "the word has many pages");
        let text = printed(&found, "swatch");
        assert!(text.lines().count() < 6 * found.len(), "{text}");
        for page in found {
            let (_, after) = text.split_once(&format!("{} ({})\n", page.name, page.kind)).expect("every page is named");
            assert!(after.trim_start().starts_with("- `swatch"), "{after}");
        }
    }
}
