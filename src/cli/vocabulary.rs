//! Vocabulary: every word of the language as data, for editors that complete and explain words.

use crate::language;
use crate::output::OUTPUTS;
use crate::source::Word;

/// What holds the words of the outputs.
pub const DELIVER: &str = "deliver";

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
    if path == [DELIVER] { outputs().collect() } else { language::words_at(path) }
}

/// Every word in every place where it may stand: the words around it, from the top of a file, and itself last. Elements
/// are shown inside `panel` alone; what else may hold them says so itself, by its `besides`.
pub fn vocabulary() -> Vec<Vec<&'static Word>> {
    let deliver = language::words_at(&[]).into_iter().find(|word| word.name == DELIVER);
    let outputs = deliver.into_iter().flat_map(|deliver| outputs().map(move |output| vec![deliver, output]));
    language::vocabulary().into_iter().chain(outputs).collect()
}

fn outputs() -> impl Iterator<Item = &'static Word> {
    OUTPUTS.iter().map(|output| &output.word)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_outputs_are_among_the_words() {
        let inside: Vec<&str> = words_at(&["deliver"]).iter().map(|word| word.name).collect();
        assert!(inside.starts_with(&["press", "flat", "panels"]) && inside.len() == OUTPUTS.len(), "{inside:?}");
        assert!(vocabulary().iter().any(|path| path.iter().map(|word| word.name).eq(["deliver", "flat"])));
        assert!(words_at(&["deliver", "flat"]).is_empty());
    }
}
