//! Dependants: the covers that lie over a series file.

use crate::assets::{Shelf, tidy};
use crate::ground::{Findings, Span, Spanned};
use crate::source::{Files, Tree, parse_file};
use crate::targets::sources::top_text;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};

/// The covers below a series file's folder that are laid over it, over however many files between. One that cannot be read
/// counts, too, wherever it may be one of them: whoever builds it, or asks for its sizes, has it reported.
pub fn dependants(shelf: &dyn Shelf, series: &str) -> Vec<String> {
    let folder = series.rsplit_once('/').map_or("", |(folder, _)| folder);
    let mut over: BTreeMap<String, Vec<String>> = BTreeMap::new();
    for path in shelf.covers(folder) {
        if let Some(under) = under(shelf, &path, series) {
            over.entry(under).or_default().push(path);
        }
    }
    let (mut covers, mut left) = (BTreeSet::new(), vec![series.to_owned()]);
    while let Some(at) = left.pop() {
        // What lies over a file is taken once, so that a circle ends, too.
        match over.remove(&at) {
            Some(laid) => left.extend(laid),
            None if at != series => _ = covers.insert(at),
            None => {}
        }
    }
    covers.into_iter().collect()
}

/// The file that another is laid over, as far as one can tell; one that does not come may lie over `series`.
fn under(shelf: &dyn Shelf, path: &str, series: &str) -> Option<String> {
    let (files, findings) = (Files::default(), RefCell::new(Findings::default()));
    let Ok(bytes) = shelf.read(path) else { return Some(series.to_owned()) };
    let (file, _) = files.add_bytes(&findings, path, &bytes);
    let text = files.text(file).unwrap_or_default();
    let tree = parse_file(&mut findings.borrow_mut(), file, &text);
    let at_its_line = || {
        let path = findings.borrow().has_errors().then(|| series_line(&text)).flatten()?;
        Some(Spanned::new(path, Span::new(file, 0..0)))
    };
    let stated = top_text(&tree, "series").or_else(at_its_line)?;
    Some(tidy(&files.resolve(&stated)))
}

/// What stands behind `series` where a line begins with it, in a text that is not KDL.
fn series_line(text: &str) -> Option<String> {
    // UTF-16 is read as letters with zeros between them.
    let text = text.replace(['\0', char::REPLACEMENT_CHARACTER], "");
    let stated = text.lines().find_map(|line| line.strip_prefix("series")?.strip_prefix([' ', '\t', '"', '=']))?;
    let stated = stated.trim_start_matches([' ', '\t', '=']);
    let end: &[char] = if stated.starts_with('"') { &['"'] } else { &['"', ' ', '\t', ';'] };
    let path = stated.trim_start_matches('"').split(end).next()?.trim_end();
    (!path.is_empty()).then(|| path.to_owned())
}

/// One file as a tree, whatever is wrong in it.
pub fn read(shelf: &dyn Shelf, path: &str) -> Option<Tree> {
    let (files, findings) = (Files::default(), RefCell::new(Findings::default()));
    let bytes = shelf.read(path).ok()?;
    let (file, sound) = files.add_bytes(&findings, path, &bytes);
    sound.then(|| parse_file(&mut findings.borrow_mut(), file, &files.text(file).unwrap_or_default()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::MapShelf;

    fn found(covers: &[(&str, &[u8])]) -> Vec<String> {
        let shelf = MapShelf::default().with("series.kdl", *b"press coated\n");
        let shelf = covers.iter().fold(shelf, |shelf, (path, bytes)| shelf.with(path, *bytes));
        dependants(&shelf, "series.kdl")
    }

    #[test]
    fn a_cover_counts_however_broken_it_is() {
        let utf16: Vec<u8> = "\u{feff}series \"../series.kdl\"\n".encode_utf16().flat_map(u16::to_le_bytes).collect();
        let broken: [&[u8]; 7] = [
            b"series \"../series.kdl\"\nbook { pages 10pt }\n",
            b"series \"../series.kdl\"; book { title \"Salt }\n",
            b"book {\nseries \"../series.kdl\n",
            b"series ../series.kdl\nbook { pages 100 }\n",
            b"series=\"../series.kdl\"\nbook { pages 100 }\n",
            b"series \"../series.kdl\"\nbook { title \"Caf\xe9\" }\n",
            &utf16,
        ];
        for bytes in broken {
            assert_eq!(found(&[("a/cover.kdl", bytes)]), ["a/cover.kdl"], "{}", String::from_utf8_lossy(bytes));
        }
    }

    #[test]
    fn what_is_broken_and_of_another_series_does_not_count() {
        let others: [&[u8]; 5] = [
            b"series \"../other.kdl\"\nbook { pages 10pt }\n",
            b"book { pages 10pt }\n",
            b"// series \"../series.kdl\"\nbook { pages 10pt }\n",
            b"serieses \"../series.kdl\"\nbook { pages 10pt }\n",
            b"series\nbook { pages 10pt }\n",
        ];
        for bytes in others {
            assert_eq!(found(&[("a/cover.kdl", bytes)]), [""; 0], "{}", String::from_utf8_lossy(bytes));
        }
    }

    #[test]
    fn covers_over_a_broken_file_between_count() {
        let between: &[u8] = b"series \"../series.kdl\"\ntype {\n";
        let cover: &[u8] = b"series \"../between.kdl\"\n";
        assert_eq!(found(&[("a/between.kdl", between), ("a/b/cover.kdl", cover)]), ["a/b/cover.kdl"]);
    }

    #[test]
    fn files_in_a_circle_are_no_covers_of_it() {
        let over = |path: &str| format!("series \"{path}\"\n");
        let shelf = |series: &str| {
            let shelf = MapShelf::default().with("series.kdl", over(series).as_bytes());
            let shelf = shelf.with("a.kdl", over("series.kdl").as_bytes()).with("b.kdl", over("a.kdl").as_bytes());
            shelf.with("c.kdl", over("d.kdl").as_bytes()).with("d.kdl", over("c.kdl").as_bytes())
        };
        for series in ["series.kdl", "a.kdl", "c.kdl"] {
            assert_eq!(dependants(&shelf(series), "series.kdl"), ["b.kdl"], "{series}");
        }
        assert_eq!(dependants(&shelf("b.kdl"), "series.kdl"), [""; 0]);
    }

    /// Each was looked for over the whole circle: 4000 took half a minute.
    #[test]
    fn a_circle_costs_no_more_than_its_files() {
        let file = |at: usize| (format!("{at}.kdl"), format!("series \"{}.kdl\"\n", (at + 1) % 4000));
        let shelf =
            (0..4000).map(file).fold(MapShelf::default(), |shelf, (path, text)| shelf.with(&path, text.as_bytes()));
        assert_eq!(dependants(&shelf, "series.kdl"), [""; 0]);
    }
}
