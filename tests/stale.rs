//! Stale: whatever changes around a cover, a store that knows the last build says and leaves what a build without one
//! does, by its files and by its words.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

use std::collections::BTreeMap;
use std::path::Path;
use std::process::{Command, Stdio};

const BOOK: &str = "book { title \"T\"; pages 100 }\n";
const FORMAT: &str = "format paperback { trim 120 180 }\n";
const JACKET: &str = "format jacket { trim 120 180; board thickness=2; flap 60 }\n";
const TYPE: &str = "swatches { swatch text k=100 }\ntype { style s { font \"EB Garamond\"; size 11; swatch text } }\n";

fn run(folder: &Path, words: &[&str]) -> (Option<i32>, String, String) {
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    command.current_dir(folder).arg("build").args(words).env("JACONET_STORE", "").stdin(Stdio::null());
    let output = command.output().expect("the binary runs");
    let text = |bytes: &[u8]| String::from_utf8(bytes.to_vec()).expect("words are UTF-8");
    (output.status.code(), text(&output.stdout), text(&output.stderr))
}

fn put(path: &Path, bytes: impl AsRef<[u8]>) {
    std::fs::create_dir_all(path.parent().expect("it lies in a folder")).expect("a folder");
    std::fs::write(path, bytes).expect("writes");
}

fn files(folder: &Path) -> BTreeMap<String, Vec<u8>> {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let entries = entries.filter(|entry| entry.path().is_file());
    let read = |path: &Path| std::fs::read(path).expect("a file");
    entries.map(|entry| (entry.file_name().to_string_lossy().into_owned(), read(&entry.path()))).collect()
}

/// Builds with the store of all builds before, and without one into a new folder: no one can tell the two apart.
fn agree(root: &Path, what: &str) {
    let (_, _, error) = run(root, &["book", "--store", "store"]);
    let kept = files(&root.join("book/out"));
    std::fs::rename(root.join("book/out"), root.join("before")).expect("moves");
    let (_, _, fresh) = run(root, &["book", "--no-store"]);
    assert_eq!(error, fresh, "{what}");
    let made = files(&root.join("book/out"));
    assert_eq!(kept.keys().collect::<Vec<_>>(), made.keys().collect::<Vec<_>>(), "{what}");
    assert!(kept == made && !made.is_empty(), "{what}: other bytes");
    std::fs::remove_dir_all(root.join("book/out")).expect("goes");
    std::fs::rename(root.join("before"), root.join("book/out")).expect("moves back");
}

#[test]
fn no_change_of_a_cover_leaves_what_was() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let root = home.path();
    let reported = "panel back { text blurb copy=\"art/blurb.md\" style=s { left safe; right safe; top safe } }\n";
    let cover = |format: &str| format!("series \"../series.kdl\"\n{BOOK}{format}{reported}");
    let book = root.join("book/cover.kdl");
    put(&root.join("series.kdl"), TYPE);
    put(&book, cover(FORMAT));
    agree(root, "a missing file");
    put(&root.join("book/art/blrub.md"), "Words.");
    agree(root, "a name like that of the missing file");
    put(&root.join("book/art/blurb.md"), "Words.");
    agree(root, "the missing file");
    put(&book, cover(JACKET));
    agree(root, "panels more");
    put(&book, cover(FORMAT));
    agree(root, "panels fewer, as they were once");
    put(&root.join("series.kdl"), format!("\u{feff}{}", TYPE.replace("size 11", "size 2")));
    agree(root, "a mark of byte order, and words too small");
    agree(root, "the same again");
    put(&book, cover(FORMAT) + "panel front { image i file=\"fonts\" { left safe; top safe; width 9; height 9 } }\n");
    put(&root.join("book/fonts/read.me"), "none");
    agree(root, "a folder of fonts that is named as a picture");
    put(&root.join("book/fonts/new.ttf"), "no font");
    agree(root, "a font more");
}

/// A drawing draws on the fonts of the cover and on pictures beside it.
#[test]
fn what_a_drawing_draws_on_is_followed() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let root = home.path();
    let drawing = "<svg xmlns='http://www.w3.org/2000/svg' width='90' height='90'><text y='50' font-size='40' \
        font-family='League Gothic'>Salt</text><image href='pics/p.png' width='20' height='20'/></svg>";
    put(&root.join("book/art/a.svg"), drawing);
    put(
        &root.join("book/cover.kdl"),
        format!("{BOOK}{FORMAT}panel front {{ image a file=\"art/a.svg\" {{ left 20; width 60; top 30 }} }}\n"),
    );
    let art = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/covers/art");
    let picture = |name: &str| std::fs::read(art.join(name)).expect("it is there");
    let mut before = BTreeMap::new();
    let mut changes = |what: &str| {
        agree(root, what);
        let now = files(&root.join("book/out"));
        assert!(before != now, "{what} changes nothing");
        before = now;
    };
    changes("a missing picture");
    put(&root.join("book/art/pics/p.png"), picture("quarters.png"));
    changes("a picture beside the drawing");
    put(&root.join("book/art/pics/p.png"), picture("disc.png"));
    changes("another picture in its place");
    let font = Path::new(env!("CARGO_MANIFEST_DIR")).join("fonts-open/LeagueGothic/LeagueGothic-Regular.ttf");
    let mut font = std::fs::read(font).expect("it is there");
    // OpenType, head: `unitsPerEm` is 18 bytes in; twice as many make letters half as large.
    let record = (0..40).map(|at| 12 + 16 * at).find(|at| &font[*at..*at + 4] == b"head").expect("it has a head");
    let place = u32::from_be_bytes(font[record + 8..record + 12].try_into().expect("four bytes")) as usize + 18;
    let units = u16::from_be_bytes([font[place], font[place + 1]]) * 2;
    font[place..place + 2].copy_from_slice(&units.to_be_bytes());
    put(&root.join("book/fonts/own.ttf"), font);
    changes("a font of the same name");
}

#[test]
fn a_row_that_reads_the_same_may_say_something_else() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let root = home.path();
    put(&root.join("book/catalogue.kdl"), "catalogue { template \"template.kdl\"; titles \"titles.csv\" }\n");
    let stated = "panel front { text a words=\"{author}\" style=s { left safe; right safe; top safe } }\n";
    put(&root.join("book/template.kdl"), format!("{BOOK}{FORMAT}{TYPE}{stated}"));
    for header in ["title,subtitle,author\n", "title;subtitle;author\n"] {
        // Either separator parts it into as many cells, and the title names the same files.
        put(&root.join("book/titles.csv"), format!("{header}Noon;,Q,;R\n"));
        agree(root, header);
    }
}

#[cfg(unix)]
#[test]
fn an_edited_output_is_made_again_whatever_its_time_says() {
    use std::fs::{File, FileTimes};
    let home = tempfile::tempdir().expect("a temporary folder");
    let root = home.path();
    put(&root.join("book/cover.kdl"), format!("{BOOK}{FORMAT}"));
    agree(root, "new");
    let press = root.join("book/out/book-press.pdf");
    let time = std::fs::metadata(&press).and_then(|about| about.modified()).expect("has a time");
    let mut bytes = std::fs::read(&press).expect("is there");
    bytes[200] ^= 1;
    std::thread::sleep(std::time::Duration::from_millis(50));
    std::fs::write(&press, bytes).expect("writes");
    let file = File::options().write(true).open(&press).expect("opens");
    file.set_times(FileTimes::new().set_modified(time)).expect("takes the time");
    agree(root, "edited, and as old as before");
}

#[test]
fn what_a_cover_reads_is_never_written_over() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let root = home.path();
    put(&root.join("book/cover.kdl"), format!("{BOOK}{FORMAT}"));
    assert_eq!(run(root, &["book", "--no-store"]).0, Some(0));
    let front = root.join("book/book-front.png");
    std::fs::rename(root.join("book/out/book-front.png"), &front).expect("moves");
    let flap = root.join("book/book-front-flap.png");
    std::fs::copy(&front, &flap).expect("copies");
    let picture =
        |name: &str| format!("panel front {{ image i file=\"{name}\" {{ left safe; top safe; width 9 }} }}\n");
    for (file, exit) in [(&front, 2), (&flap, 0)] {
        let name = file.file_name().expect("a name").to_string_lossy();
        put(&root.join("book/cover.kdl"), format!("{BOOK}{FORMAT}{}", picture(&name)));
        let before = std::fs::read(file).expect("is there");
        // Known from another folder, too.
        for words in [&["book", "--store", "store"][..], &["book", "--store", "store", "--out", "book"]] {
            let (ended, _, error) = run(root, words);
            assert_eq!(ended, Some(if words.len() > 3 { exit } else { 0 }), "{error}");
            assert_eq!(exit == 2 && words.len() > 3, error.contains("the cover reads it"), "{error}");
            assert!(std::fs::read(file).is_ok_and(|now| now == before), "{name}");
        }
    }
}
