//! Topics: the pages of the manual beside words and rules show what builds, and the picture that the program draws of its fonts.
#![expect(clippy::disallowed_methods, reason = "it reads and blesses the manual")]

use jaconet::testing::{CoverTester, language};
use std::collections::BTreeSet;
use std::path::{Path, PathBuf};

#[path = "kit/base.rs"]
mod base;
#[path = "kit/blocks.rs"]
#[expect(dead_code, reason = "what makes a block whole is asked for")]
mod blocks;

/// What topics show as pieces of a cover builds, too.
#[test]
fn whatever_the_topics_show_builds() {
    let trial = CoverTester::default();
    let tops: BTreeSet<&str> =
        language().into_iter().filter(|(_, kind, _)| *kind != "element").map(|(name, ..)| name).collect();
    let mut shown = 0;
    for name in ["order", "recipes"] {
        let page = std::fs::read_to_string(root().join(format!("src/cli/topics/{name}.txt"))).expect("a topic");
        let indented = |block: &&str| block.lines().all(|line| line.starts_with("    "));
        for block in page.split("\n\n").filter(indented) {
            shown += 1;
            let block = block[4..].replace("\n    ", "\n") + "\n";
            let text = blocks::whole(base::BASE, &block, |word| word == "wrap" || tops.contains(word));
            let tried = trial.build(&text, [("art/lantern.svg", &include_bytes!("covers/art/kite.svg")[..])]);
            let faults: Vec<_> =
                tried.notes.iter().filter(|note| note.severity == "error" && note.rule != "stand-in-left").collect();
            assert!(faults.is_empty(), "{name}: {faults:#?}\n{text}");
        }
    }
    assert!(shown >= 5, "{shown}");
}

/// The README shows a message as the program prints it for the cover that stands above it.
#[test]
fn the_message_in_the_readme_is_what_is_printed() {
    let page = std::fs::read_to_string(root().join("README.md")).expect("the README");
    let block = |kind: &str| {
        let (_, rest) = page.split_once(&format!("```{kind}\n")).expect("a block");
        rest.split_once("```").expect("its end").0
    };
    let (cover, message) = (block("kdl"), block("text"));
    let wrong = cover.replacen("swatch night; left", "swatch nihgt; left", 1);
    assert_ne!(cover, wrong);
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR")).join("readme");
    std::fs::create_dir_all(&folder).expect("a folder");
    std::fs::write(folder.join("cover.kdl"), wrong).expect("the cover");
    std::fs::write(folder.join("blurb.md"), "A novel of the sea.\n").expect("its copy");
    let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_jaconet"));
    let ended = command.args(["check", "cover.kdl"]).current_dir(&folder).output().expect("it runs");
    let printed = String::from_utf8_lossy(&ended.stderr);
    assert!(printed.contains(message), "the README shows\n{message}\nand the program prints\n{printed}");
}

/// The picture of the bundled fonts is drawn by the program itself, and is what it draws today.
#[test]
fn the_specimen_of_fonts_is_current() {
    let folder = root().join("docs/pictures");
    let text = std::fs::read_to_string(folder.join("fonts.kdl")).expect("the specimen");
    let trial = CoverTester::default();
    let tried = trial.build(&text, []);
    assert_eq!(tried.notes, []);
    let scene = tried.scene.expect("it is drawn");
    let made = trial.files(&scene, SPECIMEN_PPI).into_iter().find(|(name, _)| name == "front.png");
    let (_, made) = made.expect("it has a front");
    let kept = folder.join("fonts.png");
    if close(&std::fs::read(&kept).unwrap_or_default(), &made) {
        return;
    }
    assert!(
        std::env::var_os("BLESS").is_some(),
        "docs/pictures/fonts.png is stale; `BLESS=1 cargo test` draws it again"
    );
    std::fs::write(kept, made).expect("a picture can be written");
}

const SPECIMEN_PPI: f64 = 100.0;

/// Pictures of one size whose samples are much the same: converting colours may round either way.
fn close(one: &[u8], other: &[u8]) -> bool {
    let decoded = |bytes: &[u8]| {
        let mut reader = png::Decoder::new(std::io::Cursor::new(bytes)).read_info().ok()?;
        let mut samples = vec![0; reader.output_buffer_size()?];
        let info = reader.next_frame(&mut samples).ok()?;
        samples.truncate(info.buffer_size());
        Some((info.width, samples))
    };
    let (Some((width, one)), Some((other_width, other))) = (decoded(one), decoded(other)) else { return false };
    (width, one.len()) == (other_width, other.len())
        && one.iter().zip(&other).all(|(one, other)| one.abs_diff(*other) <= 3)
}

fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).to_owned()
}
