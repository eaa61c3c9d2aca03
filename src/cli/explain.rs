//! `jaconet explain`: the manual, offline.

use crate::assets::nearest;
use crate::cli::exit::Exit;
use crate::cli::in_force::in_force;
use crate::cli::manual::{Page, pages};
use crate::cli::say;
use crate::language::HEADWORDS;
use crate::source::{Takes, habit};
use clap::Args;
use std::fmt::Write as _;
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
    let mut found = about(&pages, word, "");
    let mut lead = String::new();
    if found.is_empty()
        && let Some(habit) = habit(word)
    {
        lead = format!("`{word}` is not a word of a cover. {}\n\n", sentence(habit.says));
        found = about(&pages, habit.ours, habit.says);
    } else if let Some(page) = found.first().filter(|page| chooses(page, word)) {
        lead = format!("`{word}` is a value of `{0}`: `{0} {word}`.", page.name);
        let others = pages.iter().filter(|other| defines(other, word)).map(|other| format!("`{}`", other.name));
        let others: Vec<String> = others.collect();
        if !others.is_empty() {
            write!(lead, " It has another meaning in the page of {}.", others.join(", ")).expect("a string takes all");
        }
        lead += "\n\n";
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

/// The pages of a word, or that of the word whose value it is, or those that explain it in a list. Of a value `shown` in
/// use, such as `format case`, the page of that use.
fn about<'a>(pages: &'a [Page], word: &str, shown: &str) -> Vec<&'a Page> {
    let of = |is: &dyn Fn(&Page) -> bool| pages.iter().filter(|page| is(page)).collect::<Vec<&Page>>();
    let own = of(&|page| is_about(page, word));
    if !own.is_empty() {
        return own;
    }
    let value =
        of(&|page| chooses(page, word) && (shown.is_empty() || shown.contains(&format!("`{} {word}", page.name))));
    if value.is_empty() { of(&|page| defines(page, word)) } else { value }
}

/// Whether a page is about a word of which another is a value: `format case`.
fn chooses(page: &Page, word: &str) -> bool {
    let mut heads = HEADWORDS.iter().filter(|head| page.kind == "word" && head.word.name == page.name);
    heads.any(|head| {
        let mut slots = head.word.takes.iter().chain(head.word.or);
        slots.any(|slot| matches!(slot.takes, Takes::Choice(values) if values.contains(&word)))
    })
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

    /// A word of type has the name of a binding; who says hardback means the binding.
    #[test]
    fn a_binding_leads_to_the_page_of_format() {
        let pages = pages();
        let names =
            |word: &str, shown: &str| about(&pages, word, shown).iter().map(|page| page.name).collect::<Vec<_>>();
        for binding in ["case", "jacket", "paperback", "flapped-paperback", "stapled"] {
            assert_eq!(names(binding, ""), ["format"], "{binding}");
        }
        for typed in ["hardback", "hardcover", "softcover", "dust-jacket"] {
            let habit = habit(typed).expect("a habit");
            assert_eq!(names(habit.ours, habit.says), ["format"], "{typed}");
        }
        let capitals = habit("uppercase").expect("a habit");
        assert!(names(capitals.ours, capitals.says).contains(&"type"));
    }

    /// Nine whole pages are too much to read for one word.
    #[test]
    fn of_a_word_with_many_meanings_each_page_says_its_own() {
        let pages = pages();
        let found = about(&pages, "swatch", "");
        assert!(found.len() > WHOLE, "the word has many pages");
        let text = printed(&found, "swatch");
        assert!(text.lines().count() < 6 * found.len(), "{text}");
        for page in found {
            let (_, after) = text.split_once(&format!("{} ({})\n", page.name, page.kind)).expect("every page is named");
            assert!(after.trim_start().starts_with("- `swatch"), "{after}");
        }
    }
}
