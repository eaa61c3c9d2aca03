//! Topics: the pages of the manual beside words and rules show what builds; the program draws its fonts and views.
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

/// The pictures of bundled fonts, of what type can do, and of pictures in ink are drawn by the program itself, and are what it draws today.
#[test]
fn the_specimens_of_type_and_ink_are_current() {
    let trial = CoverTester::default();
    let mut stale = Vec::new();
    let grove = "../../examples/birzei-hapardes/art/grove.webp";
    let bytes = std::fs::read(root().join("docs/inks").join(grove)).expect("the picture");
    for name in ["pictures/fonts", "type/around", "type/capitals", "type/lettering", "inks/tones"] {
        let kept = root().join("docs").join(name);
        let text = std::fs::read_to_string(kept.with_extension("kdl")).expect("the specimen");
        let tried = trial.build(&text, [(grove, &bytes[..])]);
        assert_eq!(tried.notes, [], "{name}");
        let scene = tried.scene.expect("it is drawn");
        let made = trial.files(&scene, SPECIMEN_PPI).into_iter().find(|(name, _)| name == "front.png");
        let (_, made) = made.expect("it has a front");
        let kept = kept.with_extension("png");
        if close(&std::fs::read(&kept).unwrap_or_default(), &made) {
            continue;
        }
        if std::env::var_os("BLESS").is_some() {
            std::fs::write(kept, made).expect("a picture can be written");
        } else {
            stale.push(name);
        }
    }
    assert!(stale.is_empty(), "{stale:?} in docs are stale; `BLESS=1 cargo test` draws them again");
}

const SPECIMEN_PPI: f64 = 100.0;

/// The bindings of the specimen of views, one to a row, and the poses from left to right.
const STANDING: [&str; 6] = [
    "format paperback { trim 129 198; hinge 6 }",
    "format flapped-paperback { trim 129 198; flap 86 }",
    "format case { trim 129 198 }",
    "format case { trim 129 198; spine-shape rounded }",
    "format jacket { trim 129 198; flap 86 }",
    "format stapled { trim 129 198 }",
];
const POSES: [&str; 6] = ["standing", "behind", "spine-on", "lying", "leaning", "open"];

/// The picture of all bindings and poses is put together from what the program draws, and is what it draws today.
#[test]
fn the_specimen_of_views_is_current() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let text = std::fs::read_to_string(root().join("docs/pictures/standing.kdl")).expect("the specimen");
    let (mut sheet, mut row) = (image::RgbImage::new(0, 0), 0);
    for format in STANDING {
        let pages = if format.contains("stapled") { "pages 40" } else { "pages 320" };
        let boards = format.contains("case") || format.contains("jacket");
        let lines = text.lines().filter(|line| boards || !line.starts_with("materials"));
        let lines = lines.map(|line| if line.starts_with("format") { format } else { line });
        let cover = lines.collect::<Vec<_>>().join("\n").replace("pages 320", pages);
        std::fs::write(home.path().join("book.kdl"), cover).expect("writes");
        let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_jaconet"));
        let ended = command.args(["build", "book.kdl", "--only", "view"]).current_dir(home.path()).output();
        let ended = ended.expect("it runs");
        assert_eq!(ended.status.code(), Some(0), "{}", String::from_utf8_lossy(&ended.stderr));
        for (pose, column) in POSES.into_iter().zip(0_i64..) {
            let view = image::open(home.path().join(format!("out/book-view-{pose}.png"))).expect("a view").to_rgb8();
            if sheet.width() == 0 {
                sheet = image::RgbImage::new(view.width() * 6, view.height() * 6);
            }
            image::imageops::replace(&mut sheet, &view, i64::from(view.width()) * column, row);
            row += if column == 5 { i64::from(view.height()) } else { 0 };
        }
    }
    let mut made = Vec::new();
    let encoder = image::codecs::jpeg::JpegEncoder::new_with_quality(&mut made, 88);
    sheet.write_with_encoder(encoder).expect("a picture");
    let kept = root().join("docs/pictures/standing.jpg");
    let decoded = |bytes: &[u8]| image::load_from_memory(bytes).map(image::DynamicImage::into_rgb8);
    let old = std::fs::read(&kept).ok().and_then(|bytes| decoded(&bytes).ok());
    let new = decoded(&made).expect("a picture");
    let alike = |old: &image::RgbImage| {
        // Converting colours may round either way, and a JPEG's blocks with it.
        old.dimensions() == new.dimensions() && old.iter().zip(new.iter()).all(|(old, new)| old.abs_diff(*new) <= 8)
    };
    if old.is_some_and(|old| alike(&old)) {
        return;
    }
    assert!(
        std::env::var_os("BLESS").is_some(),
        "docs/pictures/standing.jpg is stale; `BLESS=1 cargo test` draws it again"
    );
    std::fs::write(kept, made).expect("a picture can be written");
}

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

/// The list says what the font files say of themselves (their tables as fontTools 4.68 prints them: EB Garamond's weights and
/// features, Inter's axes), and the specimen is a picture as high as it needs.
#[test]
fn faces_are_listed_and_drawn() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let jaconet = |words: &[&str]| {
        let mut command = std::process::Command::new(env!("CARGO_BIN_EXE_jaconet"));
        let ended = command.args(words).current_dir(home.path()).output().expect("it runs");
        let text = |bytes: &[u8]| String::from_utf8_lossy(bytes).into_owned();
        (ended.status.code().expect("it ends by itself"), text(&ended.stdout), text(&ended.stderr))
    };
    let (exit, out, error) = jaconet(&["faces", "--family", "EB Garamond", "inter", "--specimen", "two.png"]);
    assert_eq!((exit, error.as_str()), (0, ""), "{out}");
    for line in [
        "EB Garamond\n  weights    400, 600, 700\n  italic     400, 700\n",
        "opsz 14 to 32",
        "wght 100 to 900",
        " swsh ",
        "allowed, in part",
    ] {
        assert!(out.contains(line), "{line}: {out}");
    }
    let picture = std::fs::read(home.path().join("two.png")).expect("a picture");
    // PNG: the width stands in the first chunk; 200 mm at 150 ppi.
    assert_eq!(u32::from_be_bytes(picture[16..20].try_into().expect("four bytes")), 1181);
    let (exit, out, error) = jaconet(&["faces", "--family", "EB Garamont"]);
    assert_eq!((exit, out.as_str()), (2, ""));
    assert!(error.contains("did you mean \"EB Garamond\"?"), "{error}");
    let (exit, out, _) = jaconet(&["faces", "--report", "json"]);
    let report: serde_json::Value = serde_json::from_str(&out).expect("JSON");
    assert_eq!((exit, report["families"].as_array().map(Vec::len)), (0, Some(14)));
    // A file that is no font is named, and the rest is listed.
    std::fs::create_dir(home.path().join("fonts")).expect("a folder");
    std::fs::write(home.path().join("fonts/own.ttf"), "no font").expect("writes");
    let (exit, out, error) = jaconet(&["faces"]);
    assert!(exit == 1 && out.contains("Inter") && error.contains("fonts/own.ttf"), "{exit} {error}");
}
