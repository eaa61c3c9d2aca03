//! Tidied: a text in the one layout, given out when it says the same with every comment.

use crate::ground::{FileId, Findings};
use crate::source::parse::TEXT_LIMIT;
use crate::source::tidy::comments::placed;
use crate::source::tidy::outline::outline;
use crate::source::tidy::print::rows;
use crate::source::tokens::{TokenKind, pieces, tight};
use crate::source::{Tree, parse};

/// Why a text was not laid out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Untidied {
    /// It is not KDL, which the findings say.
    Faulty,
    /// The new text would be larger than a file may be.
    TooLarge,
    /// The new text would not say the same, which is a fault of the program.
    Changed,
}

/// The text in the one layout. Content it says and its comments are compared before it is given out.
pub fn tidied(findings: &mut Findings, file: FileId, text: &str) -> Result<String, Untidied> {
    let before = parse(findings, file, text);
    if findings.has_errors() {
        return Err(Untidied::Faulty);
    }
    // Line ends of another system are no part of what is said, in quotes and comments neither.
    let text = text.replace("\r\n", "\n");
    let laid = laid_out(&text);
    if laid.len() > TEXT_LIMIT {
        return Err(Untidied::TooLarge);
    }
    if says_the_same(file, &before, &text, &laid) { Ok(laid) } else { Err(Untidied::Changed) }
}

pub fn laid_out(text: &str) -> String {
    placed(&rows(&outline(text)))
}

pub fn says_the_same(file: FileId, before: &Tree, old: &str, new: &str) -> bool {
    let mut findings = Findings::default();
    let after = parse(&mut findings, file, new);
    !findings.has_errors() && after == *before && words(old) == words(new)
}

/// Words, signs and comments in their order, without the blanks between them; those that `/-` took away are among them.
fn words(text: &str) -> Vec<&str> {
    let stated = pieces(text).into_iter().flat_map(|piece| {
        let stated = &text[piece.range];
        match piece.kind {
            TokenKind::Blank | TokenKind::End => Vec::new(),
            // Without its backslash; the comments behind it stay.
            TokenKind::Join => words(&stated[1..]),
            TokenKind::Unit => vec![tight(stated)],
            _ => vec![stated],
        }
    });
    stated.collect()
}
