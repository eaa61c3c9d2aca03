//! Doctype: what an SVG file declares before its first element (XML 1.0, 2.8): where that stands, and the names that it gives.

use std::ops::Range;

pub struct Doctype<'a> {
    pub place: Range<usize>,
    /// In the order of the file; the first of a name holds.
    pub entities: Vec<(&'a str, Declared<'a>)>,
}

/// What a name stands for.
#[derive(Clone, Copy)]
pub enum Declared<'a> {
    Here(&'a str),
    Elsewhere,
}

const OPEN: &str = "<!DOCTYPE";

/// Whether a file begins one.
pub fn has_doctype(text: &str) -> bool {
    start(text, OPEN).is_some()
}

/// `None` where there is none, or where it has no end.
pub fn doctype(text: &str) -> Option<Doctype<'_>> {
    const ENTITY: &str = "<!ENTITY";
    let start = start(text, OPEN)?;
    let (mut at, mut inside, mut entities) = (start + OPEN.len(), false, Vec::new());
    loop {
        at += text[at..].find(['<', '>', '"', '\'', '[', ']'])?;
        let rest = &text[at..];
        match rest.as_bytes()[0] {
            b'<' if rest.starts_with("<!--") => at += rest.find("-->")? + 3,
            b'<' if rest.starts_with("<?") => at += rest.find("?>")? + 2,
            // No quotes may stand there.
            b'<' if rest.starts_with("<!ELEMENT") => at += rest.find('>')? + 1,
            b'<' if rest.starts_with(ENTITY) => {
                let (declared, length) = entity(&rest[ENTITY.len()..])?;
                entities.extend(declared);
                at += ENTITY.len() + length;
            }
            quote @ (b'"' | b'\'') => at += rest[1..].find(char::from(quote))? + 2,
            b'>' if !inside => return Some(Doctype { place: start..at + 1, entities }),
            other => {
                inside = if other == b'[' { true } else { inside && other != b']' };
                at += 1;
            }
        }
    }
}

/// Where it begins: only remarks and instructions may stand before it.
fn start(text: &str, open: &str) -> Option<usize> {
    let mut rest = text.trim_start_matches(['\u{feff}', ' ', '\t', '\r', '\n']);
    loop {
        let close = [("<!--", "-->"), ("<?", "?>")].into_iter().find(|(open, _)| rest.starts_with(open));
        let Some((_, close)) = close else { break };
        rest = rest[rest.find(close)? + close.len()..].trim_start();
    }
    rest.starts_with(open).then_some(text.len() - rest.len())
}

/// A name and what it stands for, of what follows `<!ENTITY`, and how much of that it takes. Names for declarations alone are
/// none.
fn entity(text: &str) -> Option<(Option<(&str, Declared<'_>)>, usize)> {
    let length = |rest: &str| text.len() - rest.len();
    let rest = text.trim_start();
    let (is_parameter, rest) = rest.strip_prefix('%').map_or((false, rest), |rest| (true, rest.trim_start()));
    let (name, rest) = rest.split_once(char::is_whitespace)?;
    let rest = rest.trim_start();
    let (declared, rest) = match rest.chars().next()? {
        quote @ ('"' | '\'') => {
            let (value, rest) = rest[1..].split_once(quote)?;
            (Declared::Here(value), rest)
        }
        _ => (Declared::Elsewhere, rest),
    };
    Some(((!is_parameter).then_some((name, declared)), length(rest)))
}
