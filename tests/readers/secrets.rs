//! Secrets: what picture files say of who took them and where, which no press file passes on.

use crate::kit::{cover, room, shown};
use crate::python::python;

#[test]
fn a_press_file_carries_pictures_and_nothing_that_their_files_say() {
    let folder = room().join("covers/secrets");
    std::fs::create_dir_all(&folder).expect("makes a folder");
    let made = python("secrets.py", &["make", &shown(&folder)]);
    let files: Vec<&str> = made.lines().filter_map(|line| line.strip_suffix(" says it")).collect();
    assert_eq!(files.len(), 8, "{made}");
    let images: Vec<String> = files
        .iter()
        .enumerate()
        .map(|(at, file)| {
            let top = 10 + at * 22;
            format!("image a{at} file=\"{file}\" {{ left 10; width 7; top {top} }}\n")
        })
        .collect();
    let text = format!(
        "book {{ title \"Secrets\"; pages 320 }}\nformat paperback {{ trim 129 198 }}\npanel front {{\n{}}}\n",
        images.concat()
    );
    let built = cover("secrets", &text, &[], &["--only", "press"]);
    let said = python("secrets.py", &["search", &shown(&built.press())]);
    // Grey and CMYK are passed on, baseline and progressive; the picture with alpha has its mask besides.
    assert_eq!(said.lines().collect::<Vec<_>>(), ["pictures 9", "as they came 4"]);
}
