//! Markup: what the text of an SVG file may hold, asked before anything reads it as XML; and that text as XML.

use crate::assets::drawing::bounds::{self, refused};
use crate::assets::{PictureFault, decode};
use std::collections::BTreeSet;
use usvg::roxmltree::{Document, ParsingOptions};

pub fn bounded(text: &str) -> Result<(), PictureFault> {
    if text.len() > bounds::TEXT {
        let message = format!("the SVG has {} MB; the limit is {} MB", text.len() >> 20, bounds::TEXT >> 20);
        return Err(refused(message));
    }
    let mut prefixes = BTreeSet::new();
    for (at, _) in text.match_indices('<') {
        let (attributes, declared) = attributes(&text[at..]);
        if attributes > bounds::ATTRIBUTES {
            let message =
                format!("an element in line {} of the SVG has {attributes} attributes", bounds::line(text, at));
            return Err(refused(format!("{message}; the limit is {}", bounds::ATTRIBUTES)));
        }
        prefixes.extend(declared);
    }
    if prefixes.len() > bounds::NAMESPACES {
        let message = format!("the SVG has {} XML namespaces; the limit is {}", prefixes.len(), bounds::NAMESPACES);
        return Err(refused(message));
    }
    Ok(())
}

/// Of text that is `bounded`.
pub fn parsed(text: &str) -> Result<Document<'_>, PictureFault> {
    let options = ParsingOptions { allow_dtd: true, nodes_limit: bounds::PIECES, ..ParsingOptions::default() };
    Document::parse_with_options(text, options).map_err(|why| {
        decode::fault(format!("the SVG is malformed in line {}: {why}", why.pos().row), "save it again as plain SVG")
    })
}

/// How many attributes a tag has, and the names of the namespaces it declares. A `>` between quotes ends nothing; a `<`
/// may stand nowhere in a tag.
fn attributes(tag: &str) -> (usize, Vec<&str>) {
    let (mut count, mut declared, mut quote, mut name) = (0, Vec::new(), None, 0);
    for (at, byte) in tag.bytes().enumerate().skip(1) {
        match (quote, byte) {
            (_, b'<') | (None, b'>') => break,
            (Some(open), _) if open == byte => quote = None,
            (None, b'"' | b'\'') => quote = Some(byte),
            (None, b'=') => {
                count += 1;
                declared.extend(tag[name..at].strip_prefix("xmlns:"));
            }
            (None, byte) if byte.is_ascii_whitespace() => name = at + 1,
            _ => {}
        }
    }
    (count, declared)
}
