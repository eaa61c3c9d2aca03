//! Around: which node and property a word stands in, and the words beside it.

use crate::source::tokens::{Token, TokenKind};
use std::ops::Range;

pub struct Around<'a> {
    /// The name of the node; empty where the word is the name itself.
    pub node: &'a str,
    /// The property whose value the word is.
    pub property: Option<&'a str>,
    /// From the first to the last of the values that stand side by side with it, in bytes.
    pub run: Range<usize>,
    /// The first of them, and all as they are written.
    pub first: &'a str,
    pub stated: &'a str,
    /// How many bare words with letters are among them.
    pub words: usize,
}

/// What stands around the token at a place.
pub fn around<'a>(text: &'a str, tokens: &[Token], place: usize) -> Around<'a> {
    let ends = |token: &Token| matches!(token.kind, TokenKind::End | TokenKind::Open | TokenKind::Close);
    let begin = tokens[..place].iter().rposition(ends).map_or(0, |end| end + 1);
    let slashed = tokens[begin..place].iter().take_while(|token| token.kind == TokenKind::Slashdash).count();
    let name = begin + slashed;
    let stated = |at: usize| &text[tokens[at].range.clone()];
    let is_value = |at: usize| matches!(tokens[at].kind, TokenKind::Word | TokenKind::Unit | TokenKind::Text);
    let names_a_property = |at: usize| tokens.get(at + 1).is_some_and(|token| token.kind == TokenKind::Equals);
    let (mut first, mut last) = (place, place);
    while first > name + 1 && is_value(first - 1) && !names_a_property(first - 1) {
        first -= 1;
    }
    while last + 1 < tokens.len() && is_value(last + 1) && !names_a_property(last + 1) {
        last += 1;
    }
    let property =
        (first >= 2 && first > name + 1 && tokens[first - 1].kind == TokenKind::Equals).then(|| stated(first - 2));
    let plain = |at: &usize| {
        tokens[*at].kind == TokenKind::Word
            && stated(*at).starts_with(char::is_alphabetic)
            && !matches!(stated(*at), "true" | "false" | "null")
    };
    let run = tokens[first].range.start..tokens[last].range.end;
    Around {
        stated: &text[run.clone()],
        node: if name < place { stated(name) } else { "" },
        property,
        run,
        first: stated(first),
        words: (first..=last).filter(plain).count(),
    }
}
