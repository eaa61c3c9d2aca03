//! Splice: large streams put into a file when it is finished, each shared with whoever keeps it, so that none lies in memory
//! twice. Until then they stand in the file as empty ones.

use crate::ground::{Pieces, SharedBytes};
use pdf_writer::Pdf;
use std::ops::Range;

/// A stream that stands as an empty one yet.
pub struct LaterStream {
    /// Where its object begins.
    pub object: usize,
    pub data: SharedBytes,
}

/// The first entry of a stream's dictionary.
const LENGTH: &[u8] = b"/Length ";
/// How an empty stream ends. No string holds these bytes: the library writes a string as visible characters.
const EMPTY: &[u8] = b">>\nstream\n\nendstream\n";
const BEFORE_DATA: usize = b">>\nstream\n".len();
/// An entry of a cross-reference table (ISO 32000-1, 7.5.4): ten digits of an offset, five of a generation, `n` or `f`.
const ENTRY: usize = 20;
const OFFSET: usize = 10;
const KIND: usize = 17;

/// The whole file. It relies on how the library lays out a file, so `Cargo.toml` names one release of it. The offsets of its table are those of the file with its streams.
pub fn finish(pdf: Pdf, later: Vec<LaterStream>) -> Pieces {
    let table = pdf.as_bytes().len();
    let mut bytes = pdf.finish();
    let mut splices = Splices::default();
    for LaterStream { object, data } in later {
        let length = after(&bytes, object, LENGTH);
        let end = after(&bytes, length, EMPTY);
        let place = end - EMPTY.len() + BEFORE_DATA;
        splices.push(length..length + 1, data.bytes().len().to_string().into_bytes().into());
        splices.push(place..place, data);
    }
    let start = table.to_string();
    let stated = format!("startxref\n{start}\n%%EOF");
    assert!(bytes.ends_with(stated.as_bytes()), "the library ends a file with the place of its table");
    let digits = bytes.len() - stated.len() + "startxref\n".len();

    let first = after(&bytes, after(&bytes, table, b"\n"), b"\n");
    let entries = bytes[first..].chunks_exact_mut(ENTRY).take_while(|entry| matches!(entry[KIND], b'n' | b'f'));
    for entry in entries.filter(|entry| entry[KIND] == b'n') {
        let offset = std::str::from_utf8(&entry[..OFFSET]).ok().and_then(|digits| digits.parse().ok());
        let offset = splices.moved(offset.expect("the table has digits"));
        entry[..OFFSET].copy_from_slice(format!("{offset:010}").as_bytes());
    }
    let start_now = splices.moved(table).to_string();
    splices.push(digits..digits + start.len(), start_now.into_bytes().into());
    splices.made(&bytes.into())
}

/// The place behind the next of these bytes.
fn after(bytes: &[u8], from: usize, what: &[u8]) -> usize {
    let found = bytes[from..].windows(what.len()).position(|bytes| bytes == what);
    from + found.expect("the library writes them") + what.len()
}

/// What stands in the place of some bytes.
struct Splice {
    from: usize,
    to: usize,
    put: SharedBytes,
    /// By so much all that follows is moved.
    moves: usize,
}

/// From the head of a file to its end. Nothing is put in the place of something longer.
#[derive(Default)]
struct Splices(Vec<Splice>);

impl Splices {
    fn push(&mut self, range: Range<usize>, put: SharedBytes) {
        let moves = self.0.last().map_or(0, |splice| splice.moves) + put.bytes().len() - range.len();
        self.0.push(Splice { from: range.start, to: range.end, put, moves });
    }

    fn moved(&self, place: usize) -> usize {
        let before = self.0.partition_point(|splice| splice.to <= place);
        place + self.0[..before].last().map_or(0, |splice| splice.moves)
    }

    /// The file with all that is put in, in pieces of what was there.
    fn made(self, bytes: &SharedBytes) -> Pieces {
        let mut pieces = Pieces::default();
        let mut at = 0;
        for Splice { from, to, put, .. } in self.0 {
            pieces.push(bytes.part(at..from));
            pieces.push(put);
            at = to;
        }
        pieces.push(bytes.after(at));
        pieces
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use pdf_writer::{Filter, Name, Ref, Settings, Str};

    /// The library that writes the files puts the same streams in their places itself. Colour tables may hold any bytes, those
    /// of a stream's own edges too, as letters and beside what is none.
    #[test]
    fn a_file_is_what_it_is_with_its_streams_written_at_once() {
        let edges = b">>/Length 0>>\nstream\n\nendstream\nendobj\n";
        let streams: [(i32, Vec<u8>); 4] = [
            (2, vec![7; 90_000]),
            (4, Vec::new()),
            (7, edges.to_vec()),
            (9, [&edges[..], &[0, 255, 128], b")(\\startxref\n1\n%%EOF"].concat()),
        ];
        let write = |at_once: bool| {
            let mut pdf = Pdf::with_settings(Settings { pretty: false });
            let mut later = Vec::new();
            for (id, data) in &streams {
                later.push(LaterStream { object: pdf.as_bytes().len(), data: data.clone().into() });
                let mut image = pdf.image_xobject(Ref::new(*id), if at_once { data } else { &[] });
                image.width(3).height(4).filter(Filter::FlateDecode);
                let table = &data[..data.len().min(99)];
                image.insert(Name(b"ColorSpace")).array().item(Name(b"Indexed")).item(Str(table));
                drop(image);
                pdf.stream(Ref::new(id + 1), b"words between");
            }
            pdf.catalog(Ref::new(1)).pages(Ref::new(12));
            pdf.set_file_id((vec![1; 16], vec![2; 16]));
            if at_once { pdf.finish() } else { finish(pdf, later).whole().into_owned() }
        };
        assert!(write(true) == write(false));
    }
}
