//! Pictures as JPEGs, where a cover asks for them: as another JPEG reader and Ghostscript see them, no worse than another
//! writer makes them at the same quality.

use crate::kit::{Built, cover, room, shown};
use crate::python::python;

fn built(name: &str, words: &str) -> Built {
    let folder = room().join("covers").join(name);
    std::fs::create_dir_all(&folder).expect("makes a folder");
    python("sizes.py", &["make", &shown(&folder)]);
    let text = format!(
        "book {{ title \"Packed\"; pages 320 }}\nformat paperback {{ trim 129 198 }}\ndeliver {{ press {words} finest=none }}\n\
         panel front {{\n  image a file=\"photo.png\" {{ left 10; width 50; top 10 }}\n\
         image b file=\"grey.png\" {{ left 70; width 50; top 10 }}\n\
         image c file=\"inks.tif\" {{ left 10; width 50; top 70 }}\n}}\n"
    );
    cover(name, &text, &[], &["--only", "press"])
}

#[test]
fn jpegs_are_as_near_to_the_picture_as_their_quality_says() {
    let exact = shown(&built("jpegs-none", "").press());
    for quality in ["60", "80", "95"] {
        let jpeg = shown(&built(&format!("jpegs-{quality}"), &format!("jpeg={quality}")).press());
        let said = python("jpegs.py", &[&jpeg, &exact, quality]);
        let lines: Vec<Vec<&str>> = said.lines().map(|line| line.split_whitespace().collect()).collect();
        assert_eq!(lines.len(), 4, "{said}");
        let off = |line: &[&str], at: usize| -> f64 { line[at].parse().expect("a number") };
        for line in &lines[..3] {
            assert_eq!(line[0], "/DCTDecode", "{said}");
            // A tenth for other rounding: libjpeg-turbo counts in whole numbers, our encoder in its own.
            assert!(off(line, 1) > 0.0 && off(line, 1) <= off(line, 2) * 1.1 + 0.1, "{quality}: {said}");
        }
        // All of the page, most of which is paper: what differs are the pictures.
        assert!(off(&lines[3], 1) > 0.0 && off(&lines[3], 1) < 1.5, "{quality}: {said}");
    }
}
