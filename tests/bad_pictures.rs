//! Bad pictures: what is wrong with a picture is reported where the cover names it, and nothing stale is left behind.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

use std::path::Path;
use std::process::Command;

#[path = "kit/png.rs"]
mod written;

use written::{chunk, png};

const COVER: &str = "book { title \"Salt\"; pages 320 }\nformat paperback { trim 129 198 }\n\
    panel front {\n    image a file=\"a.FORMAT\" { left trim 20; top trim 20; width 0.3 }\n}\n";

/// Builds a cover with one picture: the exit code, what was said, and whether there is a press file.
fn built(home: &Path, format: &str, picture: &[u8]) -> (i32, String, bool) {
    std::fs::write(home.join("cover.kdl"), COVER.replace("FORMAT", format)).expect("a file");
    std::fs::write(home.join(format!("a.{format}")), picture).expect("a file");
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    command.current_dir(home).env("NO_COLOR", "1").args(["build", "--only", "press,report"]);
    let run = command.output().expect("the binary starts");
    let stated = [run.stdout, run.stderr].concat();
    let stated = String::from_utf8_lossy(&stated).replace("\n  │ ", " ").replace("\n        ", " ");
    let written = std::fs::read_dir(home.join("out")).into_iter().flatten().flatten();
    let press = written.map(|file| file.file_name()).any(|name| name.to_string_lossy().ends_with("-press.pdf"));
    (run.status.code().expect("it ends by itself"), stated, press)
}

fn home() -> tempfile::TempDir {
    tempfile::tempdir().expect("a temporary folder")
}

/// One row of black pixels, deflated without compression (RFC 1951, 3.2.4).
fn grey(head: &[Vec<u8>]) -> Vec<u8> {
    png([4, 1], [8, 0], head, &[0; 5])
}

#[test]
fn a_reader_that_panics_stops_one_picture_and_nothing_else() {
    let home = home();
    let (exit, stated, press) = built(home.path(), "png", &grey(&[]));
    assert!(exit < 2 && press, "{stated}");
    // A palette of a colour and a third, and how clear its colours are.
    let bad = png([4, 1], [8, 3], &[chunk(*b"PLTE", &[9; 4]), chunk(*b"tRNS", &[0, 255])], &[0, 0, 1, 0, 1]);
    let (exit, stated, press) = built(home.path(), "png", &bad);
    assert_eq!((exit, press), (1, false), "{stated}");
    assert!(stated.contains("the PNG file is damaged") && !stated.contains("panicked"), "{stated}");
}

#[test]
fn a_damaged_jpeg_is_reported_and_printed_as_far_as_it_goes() {
    let mut jpeg = include_bytes!("pictures/grey-busy-progressive.jpg").to_vec();
    let last = jpeg.windows(2).rposition(|two| two == [0xff, 0xda]).expect("a scan") + 20;
    jpeg[last..last + 2].copy_from_slice(&[0xff, 0xd5]);
    let (_, stated, _) = built(home().path(), "jpg", &jpeg);
    assert!(stated.contains("picture-damaged") && stated.contains("its last details are damaged"), "{stated}");
    let whole = include_bytes!("pictures/grey-busy-progressive.jpg");
    assert!(!built(home().path(), "jpg", whole).1.contains("picture-damaged"));
}

#[test]
fn what_is_not_known_of_colour_is_reported() {
    let rgb = |head: &[Vec<u8>]| png([1, 1], [8, 2], head, &[0, 9, 9, 9]);
    let (_, stated, _) = built(home().path(), "png", &rgb(&[]));
    assert!(stated.contains("colour-space-assumed") && stated.contains("sRGB is assumed"), "{stated}");
    let (_, stated, _) = built(home().path(), "png", &rgb(&[chunk(*b"sRGB", &[0])]));
    assert!(!stated.contains("colour-space-assumed"), "{stated}");

    // A profile in a JPEG (ICC.1, annex B.4), cut into one part.
    let profile = include_bytes!("../src/assets/profiles/uncoated-fogra29.icc");
    let with = |profile: &[u8]| {
        let mut jpeg = include_bytes!("pictures/cmyk-app14.jpg").to_vec();
        let parts: Vec<&[u8]> = profile.chunks(60_000).collect();
        let count = parts.len() as u8;
        let segments = parts.iter().zip(1_u8..).map(|(part, number)| {
            let length = (part.len() as u16 + 16).to_be_bytes();
            [&[0xff, 0xe2][..], &length, b"ICC_PROFILE\0", &[number, count], part].concat()
        });
        let segments: Vec<u8> = segments.flatten().collect();
        jpeg.splice(2..2, segments);
        jpeg
    };
    let (_, stated, _) = built(home().path(), "jpg", &with(profile));
    assert!(stated.contains("inks-converted") && stated.contains("was separated for"), "{stated}");
    let press = include_bytes!("../src/assets/profiles/coated-fogra39.icc");
    assert!(!built(home().path(), "jpg", &with(press)).1.contains("inks-converted"), "the press's own is no news");
    let (_, stated, _) = built(home().path(), "jpg", &with(&press[..5000]));
    assert!(stated.contains("profile-not-used") && stated.contains("cut short"), "{stated}");
}

#[test]
fn a_cover_has_so_many_spot_inks_and_no_more() {
    let spots = |count: usize| -> String {
        let spot = |number: usize| format!("    spot s{number} ink=\"Ink {number}\" c=50\n");
        let all: Vec<String> = (0..count).map(spot).collect();
        let all = all.concat();
        format!("book {{ title \"A\"; pages 320 }}\nformat paperback {{ trim 129 198 }}\nswatches {{\n{all}}}\n")
    };
    for (count, exit) in [(28, 0), (5000, 1)] {
        let home = home();
        std::fs::write(home.path().join("cover.kdl"), spots(count)).expect("a file");
        let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
        let run =
            command.current_dir(home.path()).env("NO_COLOR", "1").arg("check").output().expect("the binary starts");
        let stated = String::from_utf8_lossy(&run.stderr).into_owned();
        let errors = stated.matches("more than 28 spot inks").count();
        assert_eq!((run.status.code(), errors), (Some(exit), usize::from(count > 28)), "{stated}");
    }
}
