//! Kill: a build killed at any moment leaves whole files alone, and the next build does not know that it happened. One
//! half of the builds has a store to take finished files from, the other makes everything again.
#![cfg(unix)]
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files and a clock")]

use std::collections::BTreeMap;
use std::os::unix::fs::MetadataExt as _;
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

#[path = "kit/chance.rs"]
#[expect(dead_code, reason = "other tests draw more from it")]
mod chance;

use chance::Chance;

type Files = BTreeMap<String, Vec<u8>>;

/// Two versions of a cover of which no output is the same: a build always makes the one that does not stand there.
const VERSIONS: [&str; 2] = ["k=80", "c=60 m=20"];
/// Rounds of either kind a thread: 200 kills in all.
const ROUNDS: usize = 50;
/// What the builds of each thread are reported of a store.
const STORES: [&str; 2] = ["--no-store", "--store=../store"];

#[test]
fn a_build_killed_at_any_moment_leaves_whole_files() {
    let counts: Vec<Count> = std::thread::scope(|scope| {
        let threads = (0..STORES.len()).map(|thread| scope.spawn(move || rounds(thread as u64, STORES[thread])));
        let threads: Vec<_> = threads.collect();
        threads.into_iter().map(|thread| thread.join().expect("its rounds pass")).collect()
    });
    let sum = |of: fn(&Count) -> usize| counts.iter().map(of).sum::<usize>();
    let [killed, writing, hidden] = [sum(|count| count.killed), sum(|count| count.writing), sum(|count| count.hidden)];
    // How it went is of interest even where nothing fails.
    eprintln!("{killed} killed, {writing} of them between the first file and the last, {hidden} with one still hidden");
    assert!(writing >= 50, "only {writing} builds were killed while they wrote");
}

#[derive(Default)]
struct Count {
    killed: usize,
    writing: usize,
    hidden: usize,
}

fn rounds(seed: u64, store: &'static str) -> Count {
    let home = tempfile::tempdir().expect("a temporary folder");
    let book = home.path().join("book");
    std::fs::create_dir(&book).expect("a folder");
    let mut chance = Chance::new(seed + 1);
    let mut count = Count::default();
    let expected = [0, 1].map(|version| {
        whole(&book, version, store);
        files(&book.join("out"))
    });
    assert!(expected[0].len() >= 5, "press, flat, panels and report: {:?}", expected[0].keys());
    let (mut length, writing) = measured(&book, store);
    let mut standing = 1;
    for round in 0..2 * ROUNDS {
        let version = 1 - standing;
        let [old, new] = [&expected[1 - version], &expected[version]];
        write(&book, version);
        let before = stamps(&book);
        let mut child = build(&book, store);
        if round < ROUNDS {
            std::thread::sleep(length.mul_f64(chance.between(0.0, 1.0)));
        } else {
            // After the first file, the second, or any but the last; then as long as one file takes, at the most.
            until_it_wrote(&book, &before, 1 + chance.below(new.len() - 1), &mut child);
            std::thread::sleep(writing.mul_f64(chance.between(0.0, 1.0) / new.len() as f64));
        }
        // SIGKILL: it cannot be caught.
        let _ = child.kill();
        let ended = child.wait().expect("ends").code().is_some();
        count.killed += usize::from(!ended);
        // A machine that is busy now may not be so in a moment: the next kill keeps up with it.
        if round < ROUNDS {
            length = length.mul_f64(if ended { 0.9 } else { 1.05 });
        }
        let left = files(&book.join("out"));
        let cut = looked_at(&left, old, new);
        count.writing += usize::from(cut.mixed || cut.hidden);
        count.hidden += usize::from(cut.hidden);
        standing = if cut.mixed || cut.hidden {
            whole(&book, version, store);
            assert!(files(&book.join("out")) == *new, "round {round}: the next build differs from one never cut off");
            version
        } else if left == *new {
            version
        } else {
            assert!(left == *old, "round {round}: nothing was written, and yet it is not as it was");
            1 - version
        };
        let beside: Vec<String> = files(&book).into_keys().collect();
        assert_eq!(beside, ["cover.kdl"], "round {round}");
    }
    // Killed between two names, which is rare; and the next build has nothing to write.
    for name in expected[standing].keys() {
        std::fs::copy(book.join("out").join(name), book.join(format!("out/.{name}.jaconet"))).expect("copies");
    }
    whole(&book, standing, store);
    assert!(files(&book.join("out")) == expected[standing], "what was left behind is still there");
    count
}

struct Cut {
    /// Some files old, some new.
    mixed: bool,
    hidden: bool,
}

/// Every file is whole: the old version or the new one, byte for byte, and nothing else lies there but a whole file that
/// had not got its name yet.
fn looked_at(left: &Files, old: &Files, new: &Files) -> Cut {
    let (mut olds, mut news, mut hidden) = (0, 0, 0);
    for (name, bytes) in left {
        let plain = name.strip_prefix('.').and_then(|name| name.strip_suffix(".jaconet"));
        let plain = plain.unwrap_or(name);
        let is = |version: &Files| version.get(plain).is_some_and(|whole| whole == bytes);
        assert!(is(old) || is(new), "{name} is neither the old file nor the new one ({} bytes)", bytes.len());
        hidden += usize::from(plain != name);
        if plain == name {
            olds += usize::from(is(old));
            news += usize::from(is(new));
        }
    }
    assert!(hidden <= 1, "{:?}", left.keys());
    assert_eq!(olds + news, new.len(), "a file is gone: {:?}", left.keys());
    Cut { mixed: olds > 0 && news > 0, hidden: hidden > 0 }
}

/// How long a build takes, and from its first file to its end.
fn measured(book: &Path, store: &str) -> (Duration, Duration) {
    let times = (0..4).map(|round| {
        write(book, round % 2);
        let before = stamps(book);
        let begin = Instant::now();
        let mut child = build(book, store);
        until_it_wrote(book, &before, 1, &mut child);
        let first = begin.elapsed();
        child.wait().expect("ends");
        let length = begin.elapsed();
        (length, length.saturating_sub(first))
    });
    let (lengths, writings): (Vec<_>, Vec<_>) = times.unzip();
    (lengths.into_iter().min().unwrap_or_default(), writings.into_iter().min().unwrap_or_default())
}

/// So many files, or to its end.
fn until_it_wrote(book: &Path, before: &[(String, u64)], number: usize, child: &mut Child) {
    let wrote = || stamps(book).iter().filter(|stamp| !before.contains(stamp)).count() >= number;
    while !wrote() && child.try_wait().expect("can be asked").is_none() {
        std::thread::yield_now();
    }
}

fn write(book: &Path, version: usize) {
    let tone = VERSIONS[version];
    let panel = |name: &str, x: u8, width: u8| {
        format!("panel {name} {{ band {name}-band {{ swatch tone; left {x}; width {width}; top 10; height 20 }} }}\n")
    };
    let panels = [panel("back", 10, 15), panel("spine", 2, 2), panel("front", 10, 15)].concat();
    let text = format!(
        "book {{ title \"Salt\"; author \"Mirela Anand\"; pages 96 }}\nformat paperback {{ trim 40 60 }}\n\
         deliver {{ flat ppi=30; panels ppi=30 }}\nswatches {{ swatch tone {tone} }}\n{panels}"
    );
    std::fs::write(book.join("cover.kdl"), text).expect("writes");
}

fn build(book: &Path, store: &str) -> Child {
    let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
    command.current_dir(book).args(["build", store]);
    command.stdin(Stdio::null()).stdout(Stdio::null()).stderr(Stdio::null());
    command.spawn().expect("the binary runs")
}

/// Builds a version to the end.
fn whole(book: &Path, version: usize, store: &str) {
    write(book, version);
    let status = build(book, store).wait().expect("ends");
    assert_eq!(status.code(), Some(0), "the cover builds without errors");
}

/// What lies in a folder, hidden files too.
fn files(folder: &Path) -> Files {
    let entries = std::fs::read_dir(folder).expect("a folder").map(|entry| entry.expect("can be read"));
    let plain = entries.filter(|entry| !entry.path().is_dir());
    let read = |path: PathBuf| std::fs::read(path).expect("is a file");
    plain.map(|entry| (entry.file_name().to_string_lossy().into_owned(), read(entry.path()))).collect()
}

/// The files of `out` by their numbers on the disk: a file put in its place has another.
fn stamps(book: &Path) -> Vec<(String, u64)> {
    let entries = std::fs::read_dir(book.join("out")).into_iter().flatten().flatten();
    let entries = entries.filter(|entry| !entry.path().is_dir());
    let stamp = |entry: std::fs::DirEntry| {
        let number = entry.metadata().map_or(0, |about| about.ino());
        (entry.file_name().to_string_lossy().into_owned(), number)
    };
    let mut stamps: Vec<_> = entries.map(stamp).collect();
    stamps.sort();
    stamps
}
