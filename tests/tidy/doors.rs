//! Doors: every borrowed crate has one, and nobody names the crate elsewhere.

use crate::paths::{Import, Named, Spoken, spoken};
use crate::{root, sources};
use std::collections::BTreeSet;

/// Borrowed crates and the rooms or files that may name them.
const DOORS: &[(&str, &[&str])] = &[
    ("kdl", &["source/parse.rs"]),
    ("csv", &["source/table/records.rs"]),
    ("hayro_syntax", &["printed/", "returned/"]),
    ("harfrust", &["typeset/shape.rs"]),
    ("skrifa", &["assets/font.rs", "assets/font/"]),
    ("hyphenation", &["typeset/hyphen.rs"]),
    ("icu_experimental", &["language/price.rs"]),
    ("icu_locale_core", &["language/price.rs", "typeset/case.rs"]),
    ("icu_segmenter", &["typeset/chances.rs"]),
    ("icu_casemap", &["typeset/case.rs"]),
    ("unicode_bidi", &["typeset/itemise.rs"]),
    ("unicode_script", &["typeset/script.rs"]),
    ("unicode_normalization", &["assets/drawing/", "typeset/marks.rs"]),
    ("pulldown_cmark", &["typeset/markdown.rs"]),
    ("pdf_writer", &["pdf/"]),
    ("subsetter", &["pdf/"]),
    ("writeable", &["language/price.rs"]),
    ("xmp_writer", &["pdf/", "scene/picture_words.rs"]),
    ("flate2", &["ground/deflate.rs"]),
    ("simd_adler32", &["ground/adler.rs"]),
    ("lcms2", &["assets/profile.rs", "assets/profile/"]),
    ("isbn", &["cover/isbn.rs"]),
    ("qrcode", &["cover/qr_code.rs"]),
    ("image", &["assets/decode/", "assets/encode.rs"]),
    ("png", &["assets/decode/"]),
    ("jpeg_decoder", &["assets/decode/"]),
    ("zune_jpeg", &["assets/decode/"]),
    ("jpeg_encoder", &["assets/ink_jpeg.rs"]),
    ("tiff", &["assets/decode/"]),
    ("usvg", &["assets/drawing/"]),
    ("simplecss", &["assets/drawing/"]),
    ("resvg", &["assets/drawing/"]),
    ("color", &["assets/drawing/spelled.rs"]),
    ("kurbo", &["ground/shape.rs"]),
    ("obvhs", &["view/rays.rs"]),
    ("glam", &["view/", "testing/views.rs"]),
    ("libm", &["view/"]),
    ("clap", &["cli/"]),
    ("miette", &["cli/drawn.rs"]),
    ("notify", &["watch/wait.rs"]),
    ("indicatif", &["cli/progress.rs"]),
    ("postcard", &["typeset/stored.rs", "disk/store.rs", "view/stored.rs"]),
    ("etcetera", &["cli/store.rs"]),
    (
        "rayon",
        &[
            "assets/decode/jpeg.rs",
            "assets/profile/",
            "check/mod.rs",
            "compile/deliver.rs",
            "compile/workers.rs",
            "cli/",
            "ground/deflate.rs",
            "ground/digest.rs",
            "ground/packed_rows.rs",
            "ground/ways.rs",
            "output/",
            "raster/",
            "view/",
        ],
    ),
    (
        "serde",
        &[
            "assets/",
            "compile/",
            "disk/",
            "record/",
            "check/",
            "compare/",
            "cover/",
            "ground/",
            "printed/",
            "scene/",
            "source/table/",
            "typeset/stored.rs",
            "view/",
            "preview/",
        ],
    ),
    ("serde_json", &["record/outline.rs", "record/report.rs", "cli/", "preview/", "source/table/objects.rs"]),
    ("sha2", &["ground/digest.rs"]),
    ("strsim", &["assets/shelf.rs", "check/rules/facts_disagree/"]),
    ("tempfile", &["disk/"]),
    ("ctrlc", &["cli/watch.rs", "cli/preview.rs"]),
    ("axum", &["preview/"]),
    ("hyper", &["preview/serve.rs", "preview/news.rs"]),
    ("hyper_util", &["preview/serve.rs"]),
    ("tokio", &["preview/"]),
    ("getrandom", &["preview/guard.rs"]),
    ("rustix", &["disk/write/"]),
    // Named by nobody: they stand in Cargo.toml for their features alone.
    ("either", &[]),
    ("regex_automata", &[]),
    ("regex_syntax", &[]),
    ("smallvec", &[]),
    ("thiserror", &[]),
    ("tinyvec", &[]),
];

#[test]
fn every_borrowed_crate_has_a_door() {
    let cargo = std::fs::read_to_string(root().join("Cargo.toml")).expect("it is there");
    let mut inside = false;
    let mut crates: Vec<String> = Vec::new();
    for line in cargo.lines() {
        if line.starts_with('[') {
            inside = line.ends_with("dependencies]") && !line.contains("dev-");
        } else if inside && let Some((name, _)) = line.split_once(" = ") {
            crates.push(name.replace('-', "_"));
        }
    }
    crates.sort();
    let mut doors: Vec<&str> = DOORS.iter().map(|(name, _)| *name).collect();
    doors.sort_unstable();
    assert_eq!(crates, doors, "every dependency stands in the list of doors, and nothing else");
}

#[test]
fn borrowed_crates_have_one_door() {
    let mut faults = Vec::new();
    let mut closed: BTreeSet<(&str, &str)> =
        DOORS.iter().flat_map(|(name, doors)| doors.iter().map(move |door| (*name, *door))).collect();
    for (path, text) in sources() {
        let Spoken { named, modules, .. } = spoken(&text);
        for &(name, doors) in DOORS {
            // An import of the same name, or a file beside this one, is ours.
            let ours = |path: &Named| path.import != Import::No && path.name() == name && path.path[0] != name;
            if modules.contains(name) || named.iter().any(ours) || !named.iter().any(|path| path.path[0] == name) {
                continue;
            }
            match doors.iter().find(|door| path.starts_with(*door)) {
                Some(door) => drop(closed.remove(&(name, door))),
                None => faults.push(format!("src/{path} names {name}")),
            }
        }
    }
    faults.extend(closed.iter().map(|(name, door)| format!("src/{door} is a door to {name} that nobody uses")));
    assert!(faults.is_empty(), "{}", faults.join("\n"));
}
