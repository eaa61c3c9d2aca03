//! Vocabulary: every word of the language as data, for editors that complete and explain words, and for the tests.

use crate::language::nodes::{element_words, top_words, word_inside, words_inside};
use crate::source::Word;

/// The words that may stand at a place of a cover. The place is given by the words around it, from the top of the file:
/// `words_at(&[])` are those of a whole file, `words_at(&["panel", "text"])` those inside the braces of a text. What
/// stands after each word, its properties and its default are in the [`Word`]. Empty where the path holds an unknown word.
///
/// ```
/// let inside_a_text = jaconet::words_at(&["panel", "text"]);
/// let size = inside_a_text.iter().find(|word| word.name == "size").expect("a text has a size");
/// assert!(size.says.starts_with("the size of type"));
/// assert!(jaconet::words_at(&["panel", "no-such-element"]).is_empty());
/// ```
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
