//! House: a small house with a catalogue, and the binary at work in it.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

use serde_json::Value;
use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

const CATALOGUE: &str = "catalogue {\n    template \"template.kdl\"\n    titles \"titles.csv\"\n}\n";
const TEMPLATE: &str = r#"book { publisher "Bryn"; fact plate "" }
format paperback { trim 110 178; paper grammage=80 bulk=1.5; cover-stock caliper=0.3; bleed 3; safe 4 }
press coated ink-limit=300
swatches { swatch sea c=10 m=4; swatch text k=90 }
type {
    style plain { font "EB Garamond"; size 14; leading 16; swatch text }
    style small { font "EB Garamond"; size 9; leading 11; swatch text }
}
deliver { flat ppi=30; panels ppi=30 }
wrap { band ground { swatch sea; left bleed; right bleed; top bleed; bottom bleed } }
panel front {
    text title words="{title}" style=plain { left 10; width 60; top 20; otherwise style=small lines-over=1 }
    image plate file="art/{plate}.svg" when=plate { left 10; width 40; top 60 }
}
panel back {
    each quote gap=5 { left 10; right 10; top 20; text said words="{quote} {quote.by}" style=plain }
    barcode barcode { right 10; bottom 10; scale 100 }
}
"#;
const PLATE: &str = r#"<svg xmlns="http://www.w3.org/2000/svg" width="9" height="9"><path d="M0 0h9v9z"/></svg>"#;
/// Check digits by hand: ISO 2108, annex C.
pub const TITLES: &str = "title,isbn,language,pages,plate,quote,quote.by,overrides\n\
    Salt,978-1-83744-101-3,en-GB,200,plate,,,\n\
    Ferry,978-1-83744-108-2,en-GB,208,,\"Fine.\nBold.\",\"E. Rowe\nT. Lind\",\n\
    A Ledger of Tides and of Other Things,978-1-83744-109-9,en-GB,216,,,,\n\
    Noon,978-1-83744-110-5,de,224,,,,overrides/noon.kdl\n";

pub struct House(tempfile::TempDir);

impl House {
    pub fn new() -> House {
        let house = House(tempfile::tempdir().expect("a temporary folder"));
        house.write("catalogue.kdl", CATALOGUE);
        house.write("template.kdl", TEMPLATE);
        house.write("titles.csv", TITLES);
        house.write("art/plate.svg", PLATE);
        house.write("overrides/noon.kdl", "swatches { swatch sea y=20 }\n");
        house
    }

    pub fn folder(&self) -> &Path {
        self.0.path()
    }

    pub fn write(&self, path: &str, text: impl AsRef<[u8]>) {
        let path = self.folder().join(path);
        std::fs::create_dir_all(path.parent().expect("has a folder")).expect("a folder");
        std::fs::write(path, text).expect("writes");
    }

    pub fn swap(&self, path: &str, from: &str, to: &str) {
        let text = std::fs::read_to_string(self.folder().join(path)).expect("is there");
        assert!(text.contains(from), "{from}");
        self.write(path, text.replace(from, to));
    }

    pub fn command(&self) -> Command {
        let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
        command.current_dir(self.folder()).env_remove("NO_COLOR").stdin(Stdio::null());
        command.env("JACONET_STORE", self.folder().join(".store"));
        command
    }

    /// Exit code and both streams.
    pub fn run(&self, words: &str) -> (i32, String, String) {
        let output = self.command().args(words.split_whitespace()).output().expect("the binary runs");
        let text = |bytes: Vec<u8>| String::from_utf8(bytes).expect("words are UTF-8");
        (output.status.code().expect("it ends by itself"), text(output.stdout), text(output.stderr))
    }

    /// A build told to programs.
    pub fn build(&self, words: &str) -> (i32, Value) {
        let (exit, out, error) = self.run(&format!("build --report json {words}"));
        (exit, serde_json::from_str(&out).unwrap_or_else(|_| panic!("{out}\n{error}")))
    }

    /// Every file of a folder by name.
    pub fn files(&self, folder: &str) -> BTreeMap<String, Vec<u8>> {
        let entries = std::fs::read_dir(self.folder().join(folder)).into_iter().flatten().flatten();
        let paths: Vec<PathBuf> = entries.map(|entry| entry.path()).filter(|path| path.is_file()).collect();
        let named = |path: &PathBuf| path.file_name().expect("a name").to_string_lossy().into_owned();
        paths.iter().map(|path| (named(path), std::fs::read(path).expect("is a file"))).collect()
    }
}

/// The names of the covers in a state, in order.
pub fn names(reported: &Value, state: &str) -> Vec<String> {
    let covers = reported["covers"].as_array().expect("a list");
    let covers = covers.iter().filter(|cover| cover["state"] == state);
    covers.map(|cover| cover["name"].as_str().expect("a name").to_owned()).collect()
}
