//! How long a person waits: the first example built cold, and rebuilt after one word of its blurb has changed, from the
//! write of `blurb.md` to the rename of press PDF and flat PNG. Medians of 20: `cargo bench --bench whole`.
#![expect(
    clippy::disallowed_methods,
    clippy::print_stdout,
    reason = "a measurement runs the program, looks at the clock and tells"
)]

use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};
use std::time::{Duration, Instant, SystemTime};
use std::{fs, thread};

const RUNS: usize = 20;
const DEADLINE: Duration = Duration::from_mins(1);

fn main() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let cover = folder.path().join("salt-and-lanterns");
    copy(&Path::new(env!("CARGO_MANIFEST_DIR")).join("examples/salt-and-lanterns"), &cover);
    let out = cover.join("out");
    report("cold build", &cold(&cover));
    report("rebuild after one word", &watched(&cover, &out));
}

fn cold(cover: &Path) -> Vec<Duration> {
    let once = || {
        let begin = Instant::now();
        let done = jaconet().arg("build").arg(cover).stdout(Stdio::null()).status().expect("jaconet starts");
        assert!(done.success(), "the first example builds");
        begin.elapsed()
    };
    (0..RUNS).map(|_| once()).collect()
}

fn watched(cover: &Path, out: &Path) -> Vec<Duration> {
    let files = ["salt-and-lanterns-press.pdf", "salt-and-lanterns-flat.png"].map(|name| out.join(name));
    let blurb = cover.join("blurb.md");
    let text = fs::read_to_string(&blurb).expect("the example has a blurb");
    // A file that would say the same is left alone: take them away to see the first build done.
    fs::remove_dir_all(out).expect("the cold build wrote it");
    let before = stamps(&files);
    let mut watch = jaconet().arg("watch").arg(cover).stdout(Stdio::null()).spawn().expect("jaconet starts");
    await_change(&files, &before);
    thread::sleep(Duration::from_millis(500));
    let times = (0..RUNS)
        .map(|run| {
            let before = stamps(&files);
            let begin = Instant::now();
            fs::write(&blurb, text.replacen("last night", &format!("night {run}"), 1))
                .expect("the blurb can be written");
            await_change(&files, &before);
            let taken = begin.elapsed();
            // Let the rest of the build come to its end.
            thread::sleep(Duration::from_millis(400));
            taken
        })
        .collect();
    watch.kill().expect("the watch runs until it is stopped");
    watch.wait().expect("and stops");
    times
}

fn await_change(files: &[PathBuf; 2], before: &[Option<SystemTime>]) {
    let begin = Instant::now();
    while stamps(files).iter().zip(before).any(|(now, before)| now.is_none() || now == before) {
        assert!(begin.elapsed() < DEADLINE, "the watch wrote nothing");
        thread::sleep(Duration::from_millis(1));
    }
}

fn stamps(files: &[PathBuf; 2]) -> Vec<Option<SystemTime>> {
    files.iter().map(|file| fs::metadata(file).and_then(|data| data.modified()).ok()).collect()
}

fn jaconet() -> Command {
    Command::new(env!("CARGO_BIN_EXE_jaconet"))
}

fn report(what: &str, times: &[Duration]) {
    let mut sorted = times.to_vec();
    sorted.sort();
    let (least, median, most) = (sorted[0], sorted[sorted.len() / 2], sorted[sorted.len() - 1]);
    println!("{what}: median {median:.1?}, least {least:.1?}, most {most:.1?} of {}", times.len());
}

fn copy(from: &Path, to: &Path) {
    fs::create_dir_all(to).expect("a folder can be made");
    for entry in fs::read_dir(from).expect("a folder can be read") {
        let entry = entry.expect("its entries, too");
        let target = to.join(entry.file_name());
        if entry.file_name() == "out" {
            continue;
        }
        if entry.path().is_dir() {
            copy(&entry.path(), &target);
        } else {
            fs::copy(entry.path(), &target).expect("a file can be copied");
        }
    }
}
