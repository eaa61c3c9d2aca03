//! Known: the files that were parsed last. A build reads a cover's file to see whether it is a series, again to find its
//! editions, and once more for each cover that is laid over it.

use crate::ground::{Digest, FileId, Findings, Memo};
use crate::source::parse::parse;
use crate::source::tree::Tree;
use std::sync::{Arc, LazyLock};

struct KnownTree {
    tree: Tree,
    letters: usize,
}

/// Bytes of trees that a process remembers, and those that a letter of a file comes to: measured with many small nodes.
const TREES: usize = 16 << 20;
const LETTER: usize = 40;

static KNOWN: LazyLock<Memo<KnownTree>> = LazyLock::new(|| Memo::bounded(TREES, |known| known.letters * LETTER));

/// What [`parse`] gives. Files without a finding are remembered by their number and text.
pub fn parse_file(findings: &mut Findings, file: FileId, text: &str) -> Tree {
    let key = Digest::of_all(&[&file.0.to_le_bytes(), text.as_bytes()]);
    let mut own = Findings::default();
    let found: Result<Arc<KnownTree>, Tree> = KNOWN.get_or(key, || {
        let tree = parse(&mut own, file, text);
        if own.is_empty() { Ok(KnownTree { tree, letters: text.len() }) } else { Err(tree) }
    });
    findings.take_in(own);
    match found {
        Ok(known) => known.tree.clone(),
        Err(tree) => tree,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_is_the_same_tree_at_every_reading_and_its_places_are_its_own() {
        let text = "band known-tree { left 1 }";
        let read = |file| {
            let mut findings = Findings::default();
            (parse_file(&mut findings, FileId(file), text), findings)
        };
        let (first, again, other) = (read(3), read(3), read(4));
        assert_eq!((&first, first.0.nodes[0].span), (&again, again.0.nodes[0].span));
        assert_eq!((first.0.nodes[0].span.file, other.0.nodes[0].span.file), (FileId(3), FileId(4)));
    }

    #[test]
    fn what_is_wrong_is_reported_at_every_reading() {
        for _ in 0..2 {
            let mut findings = Findings::default();
            parse_file(&mut findings, FileId(5), "size 10pt");
            assert_eq!(findings.len(), 1);
        }
    }
}
