//! Bounds: a PDF that would take too much memory or time is refused before it is read.

use crate::ground::inflated_length;

/// Bytes of a file, and of all its streams together once they are inflated.
const FILE: usize = 400 << 20;
const INFLATED: u64 = 512 << 20;

/// Why a file is not read; `None` when it keeps within all bounds.
pub fn too_much(bytes: &[u8]) -> Option<String> {
    if bytes.len() > FILE {
        return Some(format!("it has more than {} MB, the limit", FILE >> 20));
    }
    let mut left = INFLATED;
    let mut rest = bytes;
    while let Some(at) = find(rest, b"stream") {
        let head = &rest[at.saturating_sub(DICTIONARY)..at];
        rest = &rest[at + b"stream".len()..];
        if head.ends_with(b"end") {
            continue;
        }
        // One filter over another inflates a little to anything.
        let head = head.rsplit(|byte| *byte == b'<').next().unwrap_or(head);
        if expanding(head) > 1 {
            return Some("a stream in it is compressed twice".to_owned());
        }
        let body = rest.strip_prefix(b"\r\n").or(rest.strip_prefix(b"\n")).unwrap_or(rest);
        left = left.saturating_sub(inflated_length(body, left));
        if left == 0 {
            return Some(format!("its streams inflate to more than {} MB, the limit", INFLATED >> 20));
        }
    }
    None
}

/// So much of what stands before a stream is its dictionary.
const DICTIONARY: usize = 1024;

/// Filters among some bytes that can make much of little.
fn expanding(head: &[u8]) -> usize {
    [&b"FlateDecode"[..], b"LZWDecode", b"RunLengthDecode", b"/Fl ", b"/Fl]"]
        .iter()
        .map(|name| head.windows(name.len()).filter(|part| part == name).count())
        .sum()
}

fn find(bytes: &[u8], word: &[u8]) -> Option<usize> {
    let mut from = 0;
    while let Some(at) = bytes[from..].iter().position(|byte| *byte == word[0]) {
        from += at;
        if bytes[from..].starts_with(word) {
            return Some(from);
        }
        from += 1;
    }
    None
}
