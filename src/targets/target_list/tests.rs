//! What typed names stand for, on a real folder.

use crate::targets::{Selection, Share, find_targets};
use std::path::{Path, PathBuf};

const COVER: &str = "book { title \"T\"; pages 100 }\nformat paperback { trim 120 180 }\n";
const CATALOGUE: &str = "catalogue { template \"template.kdl\"; titles \"titles.csv\" }\n";

fn home(files: &[(&str, &str)]) -> tempfile::TempDir {
    let home = tempfile::tempdir().expect("a temporary folder");
    for (path, text) in files {
        let path = home.path().join(path);
        crate::disk::write_new(&path, text.as_bytes()).expect("writes");
    }
    home
}

fn selection(home: &Path, typed: &[&str]) -> Selection {
    Selection { files: typed.iter().map(|name| home.join(name)).collect(), ..Selection::default() }
}

fn stems(selection: &Selection) -> Vec<String> {
    let list = find_targets(selection).expect("there are covers");
    list.targets.into_iter().map(|target| target.stem).collect()
}

#[test]
fn a_cover_is_named_by_its_folder_and_other_files_by_themselves() {
    let home = home(&[("salt/cover.kdl", COVER), ("salt/case.kdl", COVER), ("salt/out/cover.kdl", COVER)]);
    let book = home.path().join("salt");
    assert_eq!(stems(&selection(home.path(), &["salt", "salt/cover.kdl", "salt/case.kdl"])), ["salt", "case"]);
    // A folder without a cover of its own stands for those below; what was written is none of them.
    assert_eq!(stems(&selection(home.path(), &[""])), ["salt"]);
    let typed = Selection { out: Some(PathBuf::from("x")), ..selection(home.path(), &["salt"]) };
    assert_eq!(find_targets(&typed).expect("a cover").targets[0].out, Path::new("x"));
    assert_eq!(find_targets(&selection(home.path(), &["salt"])).expect("a cover").targets[0].out, book.join("out"));
}

#[test]
fn two_covers_never_write_one_file() {
    let home = home(&[("a/x.kdl", COVER), ("b/x.kdl", COVER)]);
    let typed = selection(home.path(), &["a/x.kdl", "b/x.kdl"]);
    assert_eq!(stems(&typed), ["x", "x"]);
    assert!(find_targets(&Selection { out: Some(PathBuf::from("out")), ..typed }).is_err());
    assert!(find_targets(&selection(home.path(), &["a"])).is_err_and(|(why, _)| why.contains("no cover.kdl")));
}

#[test]
fn a_series_stands_for_the_covers_that_lie_over_it() {
    let over = |series: &str| format!("series \"{series}\"\n{COVER}");
    let home = home(&[
        ("house.kdl", "press coated\n"),
        ("sea/series.kdl", "series \"../house.kdl\"\n"),
        ("sea/one/cover.kdl", &over("../series.kdl")),
        ("sea/two/other.kdl", &over("../series.kdl")),
        ("land/cover.kdl", &over("../house.kdl")),
        ("alone/cover.kdl", COVER),
    ]);
    assert_eq!(stems(&selection(home.path(), &["sea/series.kdl"])), ["one", "other"]);
    let again = ["sea/one", "sea/series.kdl", "land/../sea/two/other.kdl", "./sea/one/cover.kdl"];
    assert_eq!(stems(&selection(home.path(), &again)), ["one", "other"]);
    assert_eq!(stems(&selection(home.path(), &["house.kdl"])), ["land", "one", "other"]);
}

#[test]
fn editions_stand_beside_their_cover() {
    let editions = "edition us { book { pages 90 } }\nedition case { format case { trim 120 180 } }\n";
    let bare = "book { title \"T\"; pages 100 }\nedition soft { format paperback { trim 120 180 } }\n";
    let home = home(&[("a/cover.kdl", &format!("{COVER}{editions}")), ("b/cover.kdl", bare)]);
    let typed = selection(home.path(), &["a", "b"]);
    assert_eq!(stems(&typed), ["a", "a-us", "a-case", "b-soft"]);
    assert_eq!(stems(&Selection { editions: vec!["case".to_owned()], ..typed.clone() }), ["a-case"]);
    assert!(find_targets(&Selection { editions: vec!["uk".to_owned()], ..typed }).is_err());
}

#[test]
fn titles_are_picked_and_shared_out() {
    let rows: Vec<String> = (0..200).map(|number| format!("Book {number},{}\n", 100 + number)).collect();
    let home = home(&[
        ("list/catalogue.kdl", CATALOGUE),
        ("list/template.kdl", COVER),
        ("list/titles.csv", &format!("title,pages\n{}", rows.concat())),
    ]);
    let typed = selection(home.path(), &["list"]);
    let all = stems(&typed);
    assert_eq!((all.len(), all[7].as_str()), (200, "book-7"));
    let picked = Selection { titles: vec!["book-9".to_owned(), "book-3".to_owned()], ..typed.clone() };
    assert_eq!(stems(&picked), ["book-3", "book-9"]);
    let refused = find_targets(&Selection { titles: vec!["boook-9".to_owned()], ..typed.clone() });
    assert!(refused.is_err_and(|(_, help)| help.contains("book-9")));
    let parts: Vec<Vec<String>> =
        (1..=3).map(|part| stems(&Selection { share: Some(Share { part, of: 3 }), ..typed.clone() })).collect();
    let mut joined = parts.concat();
    joined.sort();
    let mut sorted = all;
    sorted.sort();
    assert_eq!(joined, sorted, "every title is of one part");
    assert!(parts.iter().all(|part| part.len() > 40), "{:?}", parts.iter().map(Vec::len).collect::<Vec<_>>());
}

#[test]
fn a_stem_that_stands_twice_takes_no_other_titles_name() {
    let home = home(&[
        ("catalogue.kdl", CATALOGUE),
        ("template.kdl", COVER),
        ("titles.csv", "title\nNoon\nNoon\nNoon Row 3\n"),
    ]);
    assert_eq!(stems(&selection(home.path(), &[""])), ["noon", "noon+row-3", "noon-row-3"]);
}

#[test]
fn editions_that_one_disk_cannot_tell_apart_are_not_built() {
    let home = home(&[("a/cover.kdl", &format!("{COVER}edition us\nedition US\n"))]);
    assert!(find_targets(&selection(home.path(), &["a"])).is_err_and(|(why, _)| why.contains("would both write")));
}
