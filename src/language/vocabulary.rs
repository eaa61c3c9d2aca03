//! Vocabulary: every word of the language as data, without the words of the outputs, which stand above this room.

use crate::language::nodes::{element_words, top_words, word_inside, words_inside};
use crate::source::Word;

/// The words that may stand inside the words of a path, from the top of a file.
pub fn words_at(path: &[&str]) -> Vec<&'static Word> {
    let mut around = None;
    for name in path {
        around = word_inside(around, name);
        if around.is_none() {
            return Vec::new();
        }
    }
    words_inside(around).collect()
}

/// Every word in every place where it may stand: the words around it, from the top of a file, and itself last. Elements
/// are shown inside `panel` alone; what else may hold them says so itself, by its `besides`.
pub fn vocabulary() -> Vec<Vec<&'static Word>> {
    fn below(path: &[&'static Word], all: &mut Vec<Vec<&'static Word>>) {
        all.push(path.to_vec());
        for word in path.last().into_iter().flat_map(|word| word.inside()) {
            below(&[path, &[word]].concat(), all);
        }
    }
    let mut all = Vec::new();
    for word in top_words() {
        below(&[word], &mut all);
    }
    let panel = word_inside(None, "panel").expect("panels stand at the top of a cover");
    for element in element_words() {
        below(&[panel, element], &mut all);
    }
    all
}
