//! Circles: no files of a room need each other.

#[path = "../kit/circles.rs"]
mod found;

use found::circles;

#[test]
fn no_files_of_a_room_need_each_other() {
    let found = circles(&crate::sources());
    assert!(
        found.is_empty(),
        "these files import each other in a circle; move what they share into a file below: {found:#?}"
    );
}

/// The test above sees what it should: imports, paths in the code, names that a door hands on.
#[test]
fn a_circle_is_seen_through_every_kind_of_path() {
    let found = |files: &[(&str, &str)]| {
        circles(&files.iter().map(|(path, text)| ((*path).to_owned(), (*text).to_owned())).collect())
    };
    let door = ("a/mod.rs", "mod one;\nmod two;\npub use one::One;\npub use two::{self, Two};\n");
    let two = ("a/two.rs", "use crate::a::One;\npub struct Two(One);\n");
    let circle = ["a/one.rs a/two.rs"];
    for one in [
        "use crate::a::Two;",
        "use crate::{a::{Two as Other}};",
        "use super::two;\nfn f() -> two::Two {}",
        "fn f() -> crate::a::two::Two {}",
    ] {
        assert_eq!(found(&[door, ("a/one.rs", one), two]), circle, "{one}");
    }
    for one in
        ["", "use crate::b::Two;", "// use crate::a::Two;", "#[cfg(test)]\nmod tests {\n    use crate::a::Two;\n}"]
    {
        assert_eq!(found(&[door, ("a/one.rs", one), two]), [""; 0], "{one}");
    }
    // A door that only hands on is no part of a circle; one with code of its own is.
    let door = ("a/mod.rs", "mod one;\npub use one::One;\npub fn all() -> One {}\n");
    assert_eq!(found(&[door, ("a/one.rs", "fn f() { crate::a::all() }")]), ["a/mod.rs a/one.rs"]);
}
