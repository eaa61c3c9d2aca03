//! Leftovers: what a build takes away because no cover makes it any more, and all that it leaves alone.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

use std::collections::BTreeSet;
use std::process::{Command, Stdio};

const TEMPLATE: &str = "book { pages 100 }\nformat paperback { trim 60 80 }\nedition case { format case { trim 60 80; board thickness=2 } }\n";
const CATALOGUE: &str = "catalogue { template \"template.kdl\"; titles \"titles.csv\" }\n";

struct House(tempfile::TempDir);

impl House {
    fn new() -> House {
        let house = House(tempfile::tempdir().expect("a temporary folder"));
        house.put("catalogue.kdl", CATALOGUE);
        house.put("template.kdl", TEMPLATE);
        house.put("titles.csv", "title\nNoon\nDusk\n");
        house
    }

    fn put(&self, path: &str, text: impl AsRef<[u8]>) {
        let path = self.0.path().join(path);
        std::fs::create_dir_all(path.parent().expect("has a folder")).expect("a folder");
        std::fs::write(path, text).expect("writes");
    }

    /// Only press files are made: it is quick, and they are what must not be out of date.
    fn build(&self, words: &[&str]) -> (i32, String) {
        let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
        command.current_dir(self.0.path()).arg("build").args(words).args(["--only", "press"]).stdin(Stdio::null());
        let output = command.output().expect("the binary runs");
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("words are UTF-8");
        (output.status.code().expect("it ends by itself"), text(output.stdout) + &text(output.stderr))
    }

    /// The press files of a folder, by the names of their covers.
    fn press(&self, folder: &str) -> BTreeSet<String> {
        let entries = std::fs::read_dir(self.0.path().join(folder)).into_iter().flatten().flatten();
        let names = entries.map(|entry| entry.file_name().to_string_lossy().into_owned());
        names.filter_map(|name| name.strip_suffix("-press.pdf").map(str::to_owned)).collect()
    }
}

fn set<const N: usize>(names: [&str; N]) -> BTreeSet<String> {
    names.map(str::to_owned).into()
}

#[test]
fn a_renamed_title_takes_its_old_files_along() {
    let house = House::new();
    assert_eq!(house.build(&["."]).0, 0);
    assert_eq!(house.press("out"), set(["noon", "noon-case", "dusk", "dusk-case"]));
    house.put("titles.csv", "title\nMidnight\nDusk\n");
    // Even when only another title is built: all of them are known.
    let (exit, stated) = house.build(&[".", "--title", "dusk"]);
    assert_eq!((exit, house.press("out")), (0, set(["dusk", "dusk-case"])), "{stated}");
    assert!(stated.contains("out/noon-press.pdf: taken away: no cover makes it any more\n"), "{stated}");
    let (_, stated) = house.build(&["."]);
    assert!(!stated.contains("taken away"), "{stated}");
    assert_eq!(house.press("out"), set(["midnight", "midnight-case", "dusk", "dusk-case"]));
    // An edition that is gone.
    house.put("template.kdl", TEMPLATE.split("edition").next().expect("it begins"));
    house.build(&["."]);
    assert_eq!(house.press("out"), set(["midnight", "dusk"]));
}

#[test]
fn a_misspelt_format_beside_an_edition_leaves_no_press_file() {
    let house = House::new();
    house.put(
        "ink/cover.kdl",
        format!("book {{ title \"Ink\" }}\n{TEMPLATE}")
            .replace("book { title \"Ink\" }\nbook {", "book { title \"Ink\";"),
    );
    let (exit, stated) = house.build(&["ink"]);
    assert_eq!((exit, house.press("ink/out")), (0, set(["ink", "ink-case"])), "{stated}");
    let text = std::fs::read_to_string(house.0.path().join("ink/cover.kdl")).expect("is there");
    house.put("ink/cover.kdl", text.replace("\nformat paperback", "\nfromat paperback"));
    let (exit, stated) = house.build(&["ink"]);
    assert_eq!((exit, house.press("ink/out")), (1, BTreeSet::new()), "{stated}");
    assert!(stated.contains("ink-press.pdf: taken away"), "{stated}");
}

#[test]
fn only_our_own_unchanged_files_are_taken_away() {
    let house = House::new();
    assert_eq!(house.build(&["."]).0, 0);
    house.put("other/cover.kdl", "book { title \"Other\"; pages 100 }\nformat paperback { trim 60 80 }\n");
    assert_eq!(house.build(&["other", "--out", "out"]).0, 0);
    house.put("out/noon-press.pdf", "signed by the author");
    house.put("out/noon-notes.txt", "not ours");
    house.put("titles.csv", "title\nDusk\n");
    let (_, stated) = house.build(&["."]);
    // The cover of another run has its file still.
    assert_eq!(house.press("out"), set(["noon", "dusk", "dusk-case", "other"]), "{stated}");
    assert!(stated.contains("out/noon-press.pdf: no cover makes it any more; it was changed"), "{stated}");
    assert!(house.0.path().join("out/noon-notes.txt").is_file());
    // Neither is anything taken away while the table cannot be read, nor with a list that was meddled with.
    house.put("titles.csv", "title\n\"Dusk\n");
    house.build(&["."]);
    house.put("titles.csv", "title\nDawn\n");
    house.put("out/jaconet.outputs/dusk.sha256", "# made of ../catalogue.kdl\n00  ../titles.csv\n");
    house.build(&["."]);
    assert!(house.0.path().join("titles.csv").is_file());
    assert!(house.press("out").is_superset(&set(["dusk", "dawn", "other"])), "{:?}", house.press("out"));
}

#[test]
fn a_cover_file_that_was_renamed_is_known_by_its_folder() {
    let house = House::new();
    let cover = "book { title \"Ink\"; pages 100 }\nformat paperback { trim 60 80 }\n";
    house.put("ink.kdl", cover);
    assert_eq!(house.build(&["ink.kdl"]).0, 0);
    std::fs::rename(house.0.path().join("ink.kdl"), house.0.path().join("quill.kdl")).expect("renames");
    assert_eq!(house.build(&["quill.kdl"]).0, 0);
    assert_eq!(house.press("out"), set(["quill"]));
}

#[test]
fn lists_are_read_by_sha256sum() {
    let house = House::new();
    assert_eq!(house.build(&["."]).0, 0);
    let lists = std::fs::read_dir(house.0.path().join("out/jaconet.outputs")).expect("a folder").flatten();
    let mut checked = 0;
    for list in lists {
        let mut command = Command::new("sha256sum");
        command.current_dir(house.0.path().join("out")).args(["--check", "--strict"]).arg(list.path());
        let output = command.output().expect("GNU coreutils are there");
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        checked += 1;
    }
    assert_eq!(checked, 4);
}
