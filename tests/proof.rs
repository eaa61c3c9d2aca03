//! What is shown to people: pictures, which are clean even when a cover has errors.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

use std::collections::BTreeMap;
use std::process::{Command, Stdio};

/// A folder with the starter cover in `book/`.
struct House(tempfile::TempDir);

impl House {
    fn started() -> House {
        let house = House(tempfile::tempdir().expect("a temporary folder"));
        assert_eq!(house.run(&["new", "book"]), 0);
        house
    }

    /// How it ends.
    fn run(&self, words: &[&str]) -> i32 {
        let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
        let output = command.current_dir(self.0.path()).args(words).stdin(Stdio::null()).output();
        output.expect("the binary runs").status.code().expect("it ends by itself")
    }

    fn swap(&self, from: &str, to: &str) {
        let path = self.0.path().join("book/cover.kdl");
        let text = std::fs::read_to_string(&path).expect("is there");
        assert!(text.contains(from), "{from}");
        std::fs::write(path, text.replace(from, to)).expect("writes");
    }

    /// Every file that was made, by name.
    fn files(&self) -> BTreeMap<String, Vec<u8>> {
        let entries = std::fs::read_dir(self.0.path().join("book/out")).into_iter().flatten().flatten();
        let files = entries.filter(|entry| entry.path().is_file());
        let named = |entry: std::fs::DirEntry| {
            (entry.file_name().to_string_lossy().into_owned(), std::fs::read(entry.path()).expect("is a file"))
        };
        files.map(named).collect()
    }
}

#[test]
fn errors_are_framed_in_the_marked_picture_alone() {
    let house = House::started();
    house.swap("copy=\"blurb.md\" style=blurb {", "style=blurb { stand-in words=60;");
    assert_eq!(house.run(&["build", "book"]), 1);
    let written = house.files();
    let is_framed = |name: &str| {
        let picture = image::load_from_memory(&written[name]).expect("a picture").into_rgb8();
        picture.pixels().filter(|pixel| pixel.0[0] > 200 && pixel.0[1] < 60 && pixel.0[2] > 90).count() > 100
    };
    assert_eq!(["marked", "flat", "back"].map(|name| is_framed(&format!("book-{name}.png"))), [true, false, false]);
    assert!(!written.contains_key("book-press.pdf"));
    house.swap("style=blurb { stand-in words=60;", "copy=\"blurb.md\" style=blurb {");
    assert_eq!(house.run(&["build", "book"]), 0);
    let written = house.files();
    assert!(written.contains_key("book-press.pdf") && !written.contains_key("book-marked.png"));
}
