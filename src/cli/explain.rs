//! `jaconet explain`: the manual, offline.

use crate::assets::nearest;
use crate::cli::args::ExplainArgs;
use crate::cli::exit::Exit;
use crate::cli::manual::{Page, pages};
use crate::cli::say;

pub fn run(args: &ExplainArgs) -> Exit {
    let pages = pages();
    let Some(word) = &args.word else {
        say::out(&list(&pages));
        return Exit::Clean;
    };
    let found: Vec<&Page> = pages.iter().filter(|page| page.name == word).collect();
    if found.is_empty() {
        let near = nearest(word, pages.iter().map(|page| page.name));
        let help = near.map_or_else(
            || "`jaconet explain` alone lists all words".to_owned(),
            |near| format!("did you mean `{near}`? `jaconet explain` alone lists all words"),
        );
        say::stopped(&format!("the manual has no page on `{word}`"), &help);
        return Exit::Stopped;
    }
    // A word may be both a node and a rule: each has its page.
    let texts: Vec<String> =
        found.iter().map(|page| format!("{} ({})\n\n{}\n", page.name, page.kind, page.text)).collect();
    say::out(&texts.join("\n"));
    Exit::Clean
}

/// Names by kind, each with its first sentence.
fn list(pages: &[Page]) -> String {
    let width = pages.iter().map(|page| page.name.len()).max().unwrap_or(0);
    let kinds = pages.chunk_by(|one, next| one.kind == next.kind).map(|pages| {
        let first = |page: &Page| page.text.lines().next().unwrap_or_default().to_owned();
        let lines: Vec<String> =
            pages.iter().map(|page| format!("  {:width$}  {}\n", page.name, first(page))).collect();
        format!("{}s\n{}", pages[0].kind, lines.concat())
    });
    kinds.collect::<Vec<String>>().join("\n")
}
