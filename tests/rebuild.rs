//! Rebuild: the commands of `examples/rebuild.yml`, run by `bash` in a repository of `git`, commit after commit. The
//! service that reads the file is not here: what it does besides, keeping the store and taking up the files, is played.
#![cfg(unix)]
#![expect(clippy::disallowed_methods, reason = "it plays author and server, who have files")]

use std::collections::{BTreeMap, BTreeSet};
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::SystemTime;

const BOOK: &str = "book { title \"T\"; pages 100 }\nformat paperback { trim 120 180 }\n";
const STYLE: &str = "swatches { swatch text k=100 }\ntype { style s { font \"EB Garamond\"; size 11; swatch text } }\n";
const TOLD: &str = "panel back { text blurb copy=\"blurb.md\" style=s { left safe; right safe; top safe } }\n";

/// Outputs with their time and bytes.
type Outputs = BTreeMap<String, (SystemTime, Vec<u8>)>;

#[test]
fn a_commit_builds_what_it_touches_and_nothing_else() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let root = &home.path().join("covers");
    found(root);
    let (mut before, reported) = rebuilt(root);
    assert!(reported.contains("5 covers: 5 built, 0 unchanged, 0 failed"), "{reported}");
    assert!(before.len() >= 5 * 5, "five covers of five files: {:?}", before.keys());

    let steps: [(&str, String, &[&str]); 6] = [
        ("sea/two/blurb.md", "Another.".to_owned(), &["sea/two/out/"]),
        ("list/b.md", "Another.".to_owned(), &["list/out/b-"]),
        ("sea/series.kdl", STYLE.replace("size 11", "size 12"), &["sea/one/out/", "sea/two/out/"]),
        ("list/titles.csv", table().replace("C,100", "C,140"), &["list/out/c-"]),
        ("list/template.kdl", template("; bleed 4"), &["list/out/a-", "list/out/b-", "list/out/c-"]),
        ("README.md", "Nothing of the covers.".to_owned(), &[]),
    ];
    for (file, text, wanted) in steps {
        put(&root.join(file), &text);
        commit(root);
        let (after, reported) = rebuilt(root);
        let touched: BTreeSet<&String> = after.keys().filter(|name| after.get(*name) != before.get(*name)).collect();
        for name in &touched {
            assert!(wanted.iter().any(|begin| name.starts_with(begin)), "{file} touched {name}: {reported}");
        }
        for begin in wanted {
            let press = |name: &&&String| name.starts_with(begin) && name.ends_with("-press.pdf");
            let press = touched.iter().find(press).unwrap_or_else(|| panic!("{file} left {begin} alone: {reported}"));
            assert!(after[*press].1 != before[*press].1, "{press} has the same bytes");
        }
        assert_eq!(before.keys().collect::<Vec<_>>(), after.keys().collect::<Vec<_>>());
        let count = wanted.len();
        assert!(
            reported.contains(&format!("5 covers: {count} built, {} unchanged, 0 failed", 5 - count)),
            "{file}: {reported}"
        );
        // The list of inputs and `git` agree on whether there was anything to build.
        let inputs = std::fs::read_to_string(root.join("built/inputs.sha256")).expect("a list");
        let changed = git(root, &["diff", "--name-only", "HEAD~1"]);
        let meets = changed.lines().any(|name| inputs.lines().any(|line| line.ends_with(&format!("  {name}"))));
        assert_eq!(meets, count > 0, "{changed}{inputs}");
        before = after;
    }

    // Another machine: the files again, the store of the last run, and no outputs.
    let fresh = home.path().join("fresh");
    git(home.path(), &["clone", "--quiet", "covers", "fresh"]);
    let copied = Command::new("cp").arg("-r").args([root.join(".store"), fresh.join(".store")]).status();
    assert!(copied.expect("cp runs").success());
    let (after, reported) = rebuilt(&fresh);
    let bytes = |outputs: &Outputs| outputs.iter().map(|(name, (_, bytes))| (name.clone(), bytes.clone())).collect();
    let (old, new): (Vec<_>, Vec<_>) = (bytes(&before), bytes(&after));
    assert!(old == new, "the same bytes on any machine");
    assert!(reported.contains("0 texts set, 0 pictures converted, 0 streams compressed"), "{reported}");
}

#[test]
fn a_cover_with_errors_fails_the_run_and_stops_none() {
    let home = tempfile::tempdir().expect("a temporary folder");
    let root = &home.path().join("covers");
    found(root);
    put(&root.join("sea/one/cover.kdl"), "book { title \"T\"; pages many }\n");
    let (ended, reported) = run(root);
    assert!(!ended && reported.contains("5 covers: 4 built, 0 unchanged, 1 failed"), "{reported}");
}

/// What the steps of the file say, but for the one that installs.
fn commands() -> String {
    let text = std::fs::read_to_string(concat!(env!("CARGO_MANIFEST_DIR"), "/examples/rebuild.yml")).expect("is there");
    let (mut all, mut step, mut within) = (String::new(), String::new(), None);
    for line in text.lines() {
        let indent = line.len() - line.trim_start().len();
        if let Some(begin) = within {
            if indent > begin || line.is_empty() {
                if step != "Install" {
                    all = all + line.trim() + "\n";
                }
                continue;
            }
            within = None;
        }
        if let Some(name) = line.trim_start().strip_prefix("- name: ") {
            name.clone_into(&mut step);
        }
        if line.trim() == "run: |" {
            within = Some(indent);
        }
    }
    assert!(all.contains("jaconet build") && !all.contains("cargo"), "{all}");
    all
}

/// As the service runs them: `bash -e`, the program on the path, the store in the folder.
fn run(root: &Path) -> (bool, String) {
    let program = PathBuf::from(env!("CARGO_BIN_EXE_jaconet"));
    let folder = program.parent().expect("it lies in a folder").display();
    let path = format!("{folder}:{}", std::env::var("PATH").unwrap_or_default());
    let mut command = Command::new("bash");
    command.args(["--noprofile", "--norc", "-e", "-c", &commands()]).current_dir(root).stdin(Stdio::null());
    let output = command.env("PATH", path).env("JACONET_STORE", root.join(".store")).output().expect("`bash` runs");
    let reported = String::from_utf8_lossy(&output.stdout).into_owned() + &String::from_utf8_lossy(&output.stderr);
    (output.status.success(), reported)
}

fn rebuilt(root: &Path) -> (Outputs, String) {
    let (ended, reported) = run(root);
    assert!(ended, "{reported}");
    let mut outputs = Outputs::new();
    for out in ["sea/one/out", "sea/two/out", "list/out"] {
        for entry in
            std::fs::read_dir(root.join(out)).expect("a folder").flatten().filter(|entry| entry.path().is_file())
        {
            let modified = entry.metadata().and_then(|about| about.modified()).expect("has a time");
            let bytes = std::fs::read(entry.path()).expect("is a file");
            outputs.insert(format!("{out}/{}", entry.file_name().to_string_lossy()), (modified, bytes));
        }
    }
    (outputs, reported)
}

/// A repository of two covers of a series, and a catalogue of three titles.
fn found(root: &Path) {
    put(&root.join("sea/series.kdl"), STYLE);
    for name in ["one", "two"] {
        put(&root.join(format!("sea/{name}/cover.kdl")), &format!("series \"../series.kdl\"\n{BOOK}{TOLD}"));
        put(&root.join(format!("sea/{name}/blurb.md")), "A blurb.");
    }
    put(&root.join("list/catalogue.kdl"), "catalogue { template \"template.kdl\"; titles \"titles.csv\" }\n");
    put(&root.join("list/titles.csv"), &table());
    put(&root.join("list/template.kdl"), &template(""));
    for name in ["a", "b", "c"] {
        put(&root.join(format!("list/{name}.md")), "A blurb.");
    }
    put(&root.join(".gitignore"), "out/\nbuilt/\n.store/\n");
    git(root, &["init", "--quiet"]);
    git(root, &["config", "user.name", "An Author"]);
    git(root, &["config", "user.email", "author@example.com"]);
    commit(root);
}

fn table() -> String {
    "title,pages,blurb\nA,100,a.md\nB,100,b.md\nC,100,c.md\n".to_owned()
}

fn template(more: &str) -> String {
    format!("format paperback {{ trim 120 180{more} }}\n{STYLE}{}", TOLD.replace("blurb.md", "{blurb}"))
}

fn put(path: &Path, text: &str) {
    std::fs::create_dir_all(path.parent().expect("it lies in a folder")).expect("a folder");
    std::fs::write(path, text).expect("writes");
}

fn commit(root: &Path) {
    git(root, &["add", "--all"]);
    git(root, &["commit", "--quiet", "--message", "A change"]);
}

fn git(folder: &Path, words: &[&str]) -> String {
    let mut command = Command::new("git");
    command.current_dir(folder).env("GIT_CONFIG_GLOBAL", "/dev/null").env("GIT_CONFIG_NOSYSTEM", "1");
    let output = command.args(words).output().expect("`git` runs");
    assert!(output.status.success(), "git {words:?}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8_lossy(&output.stdout).into_owned()
}
