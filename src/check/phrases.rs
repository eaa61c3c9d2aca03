//! Phrases: in which of many texts a phrase stands, in a time that the phrase alone decides.
//!
//! A suffix automaton (Blumer and others, 1985): one state for all places at which the same words may end.

/// Texts laid out for questions.
pub struct Phrases {
    states: Vec<PhraseState>,
    /// Where each text ends.
    ends: Vec<usize>,
}

#[derive(Clone, Default)]
struct PhraseState {
    longest: usize,
    shorter: Option<usize>,
    /// By the next byte, in order.
    next: Vec<(u8, usize)>,
    /// Where its words end first.
    first: usize,
}

/// A byte that no text has: it parts them.
const BETWEEN: u8 = 0xFF;

impl Phrases {
    pub fn of<'a>(texts: impl IntoIterator<Item = &'a str>) -> Phrases {
        let mut phrases = Phrases { states: vec![PhraseState::default()], ends: Vec::new() };
        let (mut last, mut length) = (0, 0);
        for text in texts {
            for byte in text.bytes().chain([BETWEEN]) {
                length += 1;
                last = phrases.extend(last, byte, length);
            }
            phrases.ends.push(length);
        }
        phrases
    }

    /// The first text that a phrase stands in.
    pub fn text_with(&self, phrase: &str) -> Option<usize> {
        let mut at = 0;
        for byte in phrase.bytes() {
            at = self.states[at].to(byte)?;
        }
        Some(self.ends.partition_point(|end| *end < self.states[at].first))
    }

    fn extend(&mut self, last: usize, byte: u8, length: usize) -> usize {
        let new = self.states.len();
        self.states.push(PhraseState { longest: length, first: length, ..PhraseState::default() });
        let mut at = Some(last);
        while let Some(state) = at.filter(|state| self.states[*state].to(byte).is_none()) {
            self.states[state].set(byte, new);
            at = self.states[state].shorter;
        }
        let shorter = match at {
            None => 0,
            Some(state) => {
                let next = self.states[state].to(byte).expect("the walk ends where there is a way on");
                self.split(state, next, byte)
            }
        };
        self.states[new].shorter = Some(shorter);
        new
    }

    /// The state for what ends at `next` and is no longer than what comes by `state`.
    fn split(&mut self, state: usize, next: usize, byte: u8) -> usize {
        let longest = self.states[state].longest + 1;
        if self.states[next].longest == longest {
            return next;
        }
        let part = self.states.len();
        self.states.push(PhraseState { longest, ..self.states[next].clone() });
        self.states[next].shorter = Some(part);
        let mut at = Some(state);
        while let Some(state) = at.filter(|state| self.states[*state].to(byte) == Some(next)) {
            self.states[state].set(byte, part);
            at = self.states[state].shorter;
        }
        part
    }
}

impl PhraseState {
    fn to(&self, byte: u8) -> Option<usize> {
        let at = self.next.binary_search_by_key(&byte, |(byte, _)| *byte).ok()?;
        Some(self.next[at].1)
    }

    fn set(&mut self, byte: u8, to: usize) {
        match self.next.binary_search_by_key(&byte, |(byte, _)| *byte) {
            Ok(at) => self.next[at].1 = to,
            Err(at) => self.next.insert(at, (byte, to)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        /// As the standard library finds them.
        #[test]
        fn phrases_are_found_where_they_stand(texts in prop::collection::vec("[abé]{0,12}", 0..6), phrase in "[abé]{1,4}") {
            let phrases = Phrases::of(texts.iter().map(String::as_str));
            let wanted = texts.iter().position(|text| text.contains(&phrase));
            prop_assert_eq!(phrases.text_with(&phrase), wanted, "{:?} in {:?}", phrase, texts);
        }
    }
}
