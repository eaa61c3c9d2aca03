//! Memory: what making a press file takes, as the kernel counts it, beside the largest picture unpacked.

use crate::kit::{room, shown};
use crate::python::python;
use std::path::Path;

const LIGHT: (u64, u64) = (3264, 4928);
const DEEP: (u64, u64) = (2448, 3264);
const MIDDLE: (u64, u64) = (3032, 4550);
const SMALL: (u64, u64) = (2048, 3060);

/// The most memory of a build of the press file, in bytes.
fn most(folder: &Path, picture: Option<&str>) -> u64 {
    let name = picture.unwrap_or("none").split('.').next().unwrap_or_default();
    let image = picture.map_or(String::new(), |picture| {
        format!("panel front {{ image art file=\"{picture}\" {{ left fold; right bleed; top bleed; bottom bleed; fit filling }} }}\n")
    });
    let text = format!(
        "book {{ title \"Wide\"; pages 320 }}\nformat paperback {{ trim 240 360; spine 20 }}\n{image}\
         waive colour-break-on-fold reason=\"it ends there\"\n"
    );
    let cover = folder.join(format!("{name}.kdl"));
    std::fs::write(&cover, text).expect("writes the cover");
    let out = folder.join("out");
    let words =
        ["run", env!("CARGO_BIN_EXE_jaconet"), "build", &shown(&cover), "--only", "press", "--out", &shown(&out)];
    let most = python("memory.py", &words).trim().parse().expect("a number");
    assert!(out.join(format!("{name}-press.pdf")).is_file());
    most
}

/// Tiles of the raster and the bands of rows in work, which do not grow with the picture.
const AT_WORK: u64 = 16 << 20;

/// The page of bounds allows a press file 84 MB beside its picture, twice. Measured, a release build takes 39 of them without
/// pictures; this one takes more.
const BESIDE: u64 = 84_000_000 - 39_000_000;

/// The aim: under twice the largest picture unpacked, beside the raster and what a build takes without pictures. The ink of the
/// smallest picture lies whole beside it, and it keeps to the page of bounds as the others do.
#[test]
fn a_press_file_takes_less_than_its_largest_picture_twice() {
    let folder = room().join("covers/memory");
    std::fs::create_dir_all(&folder).expect("makes a folder");
    python("memory.py", &["make", &shown(&folder)]);
    let alone = most(&folder, None);
    for (picture, (width, height), bytes, beside) in [
        ("light.jpg", LIGHT, 3, AT_WORK),
        ("light-scans.jpg", LIGHT, 3, AT_WORK),
        ("ink.jpg", LIGHT, 4, 0),
        ("ink-scans.jpg", LIGHT, 4, AT_WORK),
        ("ink.tif", LIGHT, 4, AT_WORK),
        ("deep.png", DEEP, 8, AT_WORK),
        ("middle.jpg", MIDDLE, 3, AT_WORK),
        ("small.png", SMALL, 3, BESIDE),
    ] {
        let unpacked = width * height * bytes;
        let taken = most(&folder, Some(picture)) - alone;
        assert!(taken <= 2 * unpacked + beside, "{picture}: {taken} for {unpacked} unpacked");
    }
}
