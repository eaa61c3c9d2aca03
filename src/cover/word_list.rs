//! Word list: words that a house knows in a language. There is no dictionary inside.

use crate::ground::Spanned;
use std::collections::BTreeSet;
use std::sync::Arc;

#[derive(Clone, Debug)]
pub struct WordList {
    pub language: Spanned<String>,
    /// As they stand in the file: in lines, with blanks between, and with remarks after `#`.
    pub text: Arc<str>,
}

impl WordList {
    /// Whether it is one of a book's language: a list of `en` is one of `en-GB`, too.
    pub fn is_of(&self, language: &str) -> bool {
        let (own, asked) = (self.language.value.to_lowercase(), language.to_lowercase());
        asked.strip_prefix(&own).is_some_and(|rest| rest.is_empty() || rest.starts_with('-'))
    }

    pub fn words(&self) -> impl Iterator<Item = &str> {
        self.text.lines().flat_map(|line| line.split('#').next().unwrap_or_default().split_whitespace())
    }

    /// Takes away from what is asked, in small letters, all that it knows.
    pub fn take_known(&self, asked: &mut BTreeSet<String>) {
        for word in self.words() {
            if asked.is_empty() {
                return;
            }
            let plain = word.bytes().all(|byte| byte.is_ascii_lowercase());
            if plain {
                asked.remove(word);
            } else {
                asked.remove(&WordList::plain(word));
            }
        }
    }

    /// A word in small letters, its apostrophes straight.
    pub fn plain(word: &str) -> String {
        word.to_lowercase().replace('’', "'")
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Span;

    #[test]
    fn lists_and_languages() {
        let language = Spanned::new("en".to_owned(), Span::default());
        let list = WordList { language, text: "sea # the water\nIsn’t harbour\n# Storm".into() };
        assert_eq!(["en-GB", "EN", "eng", "de"].map(|tag| list.is_of(tag)), [true, true, false, false]);
        let mut asked: BTreeSet<String> = ["sea", "isn't", "storm", "harbour"].map(str::to_owned).into();
        list.take_known(&mut asked);
        assert_eq!(asked.into_iter().collect::<Vec<_>>(), ["storm"]);
    }
}
