//! Scan: where the cells of one CSV record stand, by its quotes and separators, and which quote went wrong.

use std::ops::Range;

/// One record, from its first byte to the end of its line.
#[derive(Debug, Default, PartialEq)]
pub struct Scanned {
    /// Quotes included.
    pub cells: Vec<Range<usize>>,
    /// Before the line end.
    pub end: usize,
    pub fault: Option<QuoteFault>,
}

#[derive(Clone, Copy, Debug, PartialEq)]
pub enum QuoteFault {
    /// The quote here is never closed: it takes in the rest of the file.
    Open(usize),
    /// Text follows the closing quote of the cell that begins at `quote`.
    After { quote: usize, at: usize },
}

pub fn scan(text: &str, start: usize, separator: u8) -> Scanned {
    let bytes = text.as_bytes();
    let mut scanned = Scanned::default();
    let mut at = start;
    loop {
        let from = at;
        if bytes.get(at) == Some(&b'"') {
            let Some(close) = closing(bytes, at) else {
                scanned.fault = scanned.fault.or(Some(QuoteFault::Open(from)));
                scanned.cells.push(from..bytes.len());
                scanned.end = bytes.len();
                return scanned;
            };
            at = close + 1;
            if bytes.get(at).is_some_and(|byte| !ends(*byte, separator)) {
                scanned.fault = scanned.fault.or(Some(QuoteFault::After { quote: from, at }));
            }
        }
        while bytes.get(at).is_some_and(|byte| !ends(*byte, separator)) {
            at += 1;
        }
        scanned.cells.push(from..at);
        if bytes.get(at) != Some(&separator) {
            scanned.end = at;
            return scanned;
        }
        at += 1;
    }
}

/// The quote that closes the one at `open`: the first that is not doubled.
fn closing(bytes: &[u8], open: usize) -> Option<usize> {
    let mut at = open + 1;
    loop {
        at += bytes.get(at..)?.iter().position(|byte| *byte == b'"')?;
        if bytes.get(at + 1) != Some(&b'"') {
            return Some(at);
        }
        at += 2;
    }
}

fn ends(byte: u8, separator: u8) -> bool {
    byte == separator || byte == b'\n' || byte == b'\r'
}

/// Comma, semicolon or tab: whichever the first line that says something has most of, outside its quotes.
pub fn separator(text: &str) -> u8 {
    let mut counts = [0_usize; SEPARATORS.len()];
    let mut quoted = false;
    for byte in text.trim_start_matches(['\r', '\n']).bytes() {
        match byte {
            b'"' => quoted = !quoted,
            b'\r' | b'\n' if !quoted => break,
            _ if quoted => {}
            _ => {
                if let Some(found) = SEPARATORS.iter().position(|separator| *separator == byte) {
                    counts[found] += 1;
                }
            }
        }
    }
    let most = counts.iter().max().copied().unwrap_or_default();
    let first = counts.iter().position(|count| *count == most).unwrap_or_default();
    SEPARATORS[first]
}

/// A first line that does nothing but name the separator, `sep=;`, as some spreadsheets write and none shows: how long it
/// is, and the separator.
pub fn stated(text: &str) -> Option<(usize, u8)> {
    let line = text.split(['\r', '\n']).next()?;
    let bare = line.strip_prefix('"').and_then(|rest| rest.strip_suffix('"')).unwrap_or(line);
    let rest = bare.get(..4).filter(|head| head.eq_ignore_ascii_case("sep=")).and_then(|_| bare.get(4..))?;
    let separator = SEPARATORS.into_iter().find(|known| rest.as_bytes() == [*known])?;
    let ends = if text[line.len()..].starts_with("\r\n") { 2 } else { 1 };
    Some(((line.len() + ends).min(text.len()), separator))
}

const SEPARATORS: [u8; 3] = *b",;\t";

/// The lines of a text, separated by CRLF, LF or CR: a text without a break is one line.
pub fn lines(text: &str) -> Vec<Range<usize>> {
    let mut found = Vec::new();
    let mut start = 0;
    while let Some(length) = text[start..].find(['\r', '\n']) {
        let end = start + length;
        found.push(start..end);
        start = end + if text[end..].starts_with("\r\n") { 2 } else { 1 };
    }
    found.push(start..text.len());
    found
}
