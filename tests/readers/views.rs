//! Views: pictures of the finished book, as an independent camera, two bar code readers and another composer see them.

use crate::kit::{Built, ask, cover, room, shown};
use crate::python::python;
use jaconet::testing::{poses, taken};
use std::fmt::Write;

const NUMBER: &str = "9781837426157";

fn book(name: &str, views: &str, words: &[&str]) -> Built {
    let text = format!(
        "book {{ title \"Bars\"; author \"A. Reader\"; language en-GB; pages 200 state=confirmed; isbn \"978-1-83742-615-7\" }}
         format paperback {{ trim 129 198; paper caliper=0.1; cover-stock caliper=0.3; bleed 3; safe 5 }}
         press coated ink-limit=300
         swatches {{ swatch night c=92 m=74 y=38 k=42 }}
         wrap {{ band ground {{ swatch night; left bleed; right bleed; top bleed; bottom bleed }} }}
         panel back {{ barcode barcode {{ right safe; bottom safe; scale 120 }} }}
         {views}"
    );
    cover(name, &text, &[], words)
}

// OpenCV's pinhole camera; half a pixel is asked for.
#[test]
fn corners_lie_where_an_independent_camera_sees_them() {
    let mut lines = String::new();
    for (stand, level) in [
        ([0.0, 0.0, 900.0], true),
        ([30.0, 11.0, 900.0], true),
        ([-148.0, 20.0, 500.0], true),
        ([34.0, 36.0, 900.0], false),
        ([200.0, 70.0, 400.0], false),
    ] {
        let taken = taken(stand, level, (1600, 1300));
        writeln!(
            lines,
            "{{\"stand\": {:?}, \"level\": {}, \"target\": {:?}, \"focal\": {}, \"axis\": {:?}, \"corners\": {:?}, \"pixels\": {:?}}}",
            taken.stand, taken.level, taken.target, taken.focal, taken.axis, taken.corners, taken.pixels
        )
        .expect("a text grows");
    }
    std::fs::create_dir_all(room()).expect("makes a folder");
    let path = room().join("taken.jsonl");
    std::fs::write(&path, lines).expect("writes a file");
    let worst: f64 = python("views.py", &["project", &shown(&path)]).trim().parse().expect("a distance");
    assert!(worst < 0.5, "off by {worst} pixels");
}

#[test]
fn the_bar_code_on_a_view_of_the_back_is_read_by_two_engines() {
    let built = book("view-bars", "view behind { pixels 2400 1950 }", &["--only", "view"]);
    let picture = shown(&built.file("view-behind.png"));
    assert_eq!(ask("zbarimg", &["-q", &picture]).trim(), format!("EAN-13:{NUMBER}"), "by the first engine");
    // The second one also finds the mirror image in the ground, which says the same.
    let read = python("bars.py", &[&picture, "alone"]);
    let wanted = format!("EAN13 {NUMBER}");
    assert!(!read.trim().is_empty() && read.lines().all(|line| line == wanted), "by the second engine: {read}");
}

#[test]
fn layers_over_each_other_are_the_whole() {
    for (number, pose) in poses().into_iter().enumerate() {
        let ground = ["unprinted night", "none"][number % 2];
        let views = format!("view {pose} {{ pixels 320 260; ground {ground}; layers #true }}");
        let built = book(&format!("view-{pose}"), &views, &["--only", "view"]);
        let worst: u32 = python("views.py", &["layers", &built.beside(&format!("view-{pose}"))])
            .trim()
            .parse()
            .expect("a difference");
        assert!(worst <= 1, "{pose} is off by {worst}");
    }
}
