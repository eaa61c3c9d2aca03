//! Editions: the plates that a foreign edition changes, over the whole page with its marks, as ghostscript separates both.

use crate::kit::{Built, cover};
use crate::plates::separated_by;
use std::process::Command;

fn edition(name: &str, press: &str, title: &str, isbn: &str, swatch: &str) -> Built {
    let text = format!(
        r#"
book {{ title "{title}"; author "M. Anand"; pages 320; isbn "{isbn}"; version 2 }}
format paperback {{ trim 129 198; paper caliper=0.12 }}
press coated{press}
swatches {{ swatch lamp m=34 y=88; spot deep ink="Deep blue" c=100 m=60 }}
wrap {{ band ground {{ swatch lamp; left bleed; right bleed; top bleed; bottom bleed }} }}
panel front {{
    text title words="{{title}}" {{ size 30; swatch {swatch} overprint=#true; left safe; right safe; top 40 }}
    band block {{ swatch deep; left 30; top 120; width 50; height 20 }}
}}
"#
    );
    cover(name, &text, &[], &["--only", "press,report"])
}

/// The whole page, not its trim alone; a pixel is filled where a shape lies under its middle.
const PAGE: &[&str] = &["-dUseTrimBox=false", "-c", "0 0 .setfilladjust2"];

/// The plates of two editions that differ anywhere on the page, and what `compare` says of them.
fn differing(name: &str, press: &str, swatch: &str) -> (Vec<String>, String) {
    let title = ["Salt and Lanterns", "Sel et lanternes"];
    let isbn = ["978-1-83742-615-7", "978-1-83742-601-0"];
    let editions = [0, 1].map(|at| edition(&format!("edition-{name}-{at}"), press, title[at], isbn[at], swatch));
    let [old, new] = [&editions[0], &editions[1]].map(|built| separated_by(PAGE, built, 6, 1));
    // 277.8 by 198 mm of trim, and the marks around it.
    assert!(old.width > 6 * 290 && old.height > 6 * 215, "{} by {}", old.width, old.height);
    assert_eq!((old.width, old.height), (new.width, new.height));
    let names = old.planes.keys().filter(|name| old.planes[*name] != new.planes[*name]).cloned().collect();
    let reports = editions.map(|built| built.file("report.json"));
    let run = Command::new(env!("CARGO_BIN_EXE_jaconet")).arg("compare").args(&reports).output();
    let said = String::from_utf8_lossy(&run.expect("the binary runs").stdout).into_owned();
    let line = said.lines().find(|line| line.contains("plates")).unwrap_or_else(|| panic!("{said}")).to_owned();
    (names, line)
}

/// Black words: the black plate, and nothing on any other, within the trim or beside it.
#[test]
fn an_edition_in_black_changes_the_black_plate_of_the_whole_page() {
    let (names, said) = differing("black", "", "black");
    assert_eq!(names, ["Black"], "{said}");
    assert!(said.contains("only Black differs: one plate of"), "{said}");
}

/// Words in a spot ink: that plate, and another for the job line, unless the line stands on the plate for words.
#[test]
fn words_in_an_ink_of_their_own_take_the_job_line_along_where_the_house_says_so() {
    let (names, said) = differing("spot", " text-plate=\"Deep blue\"", "deep");
    assert_eq!(names, ["Deep blue"], "{said}");
    assert!(said.contains("only Deep blue differs: one plate of"), "{said}");
    let (names, said) = differing("spot-alone", "", "deep");
    assert_eq!(names, ["Deep blue", "Magenta"], "{said}");
    assert!(said.contains("beside the sheet, the job line differs on Magenta"), "{said}");
}
