//! Watch: the binary beside an author at work. What a change does not concern is not built, and nothing here depends on
//! how long anything takes.
#![cfg(unix)]
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files and a clock")]

use std::io::{BufRead as _, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, ChildStdout, Command, Stdio};
use std::sync::mpsc::{Receiver, channel};
use std::time::Duration;

/// Far longer than any machine needs; only a broken watch reaches the end.
const PATIENCE: Duration = Duration::from_mins(2);

const BOOK: &str = "book { title \"T\"; pages 100 }\nformat paperback { trim 120 180 }\n";
const STYLE: &str = "swatches { swatch text k=100 }\ntype { style s { font \"EB Garamond\"; size 11; swatch text } }\n";
const TOLD: &str = "panel back { text blurb copy=\"blurb.md\" style=s { left safe; right safe; top safe } }\n";
const TABLE: &str = "title,pages,blurb\nA,100,a.md\nB,100,b.md\nC,100,c.md\n";

struct Watched {
    home: tempfile::TempDir,
    child: Child,
    lines: Receiver<String>,
}

impl Watched {
    /// Types `watch` in a folder with a series of two covers and a catalogue of three titles.
    fn start(words: &[&str]) -> (Watched, Vec<String>) {
        let home = home();
        let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
        command.current_dir(home.path()).arg("watch").args(words).arg("--no-store");
        command.stdin(Stdio::null()).stdout(Stdio::piped()).stderr(Stdio::piped());
        let mut child = command.spawn().expect("the binary runs");
        let (tell, lines) = channel();
        let out = child.stdout.take().expect("is piped");
        let error = child.stderr.take().expect("is piped");
        let reported = tell.clone();
        std::thread::spawn(move || listen(out, |line| reported.send(line).is_ok()));
        // Mistakes are reported elsewhere; here they only must not fill the pipe.
        std::thread::spawn(move || BufReader::new(error).lines().for_each(drop));
        let watched = Watched { home, child, lines };
        let first = watched.turn();
        (watched, first)
    }

    /// The covers reported of until the watch waits again, as `name: state`.
    fn turn(&self) -> Vec<String> {
        let mut reported = Vec::new();
        loop {
            let line = self.lines.recv_timeout(PATIENCE).expect("a turn ends before the deadline");
            if line.starts_with("done in ") {
                return reported;
            }
            if !line.is_empty() && !line.starts_with("changed: ") {
                let short = line.split([',', ';']).next().unwrap_or_default();
                reported.push(short.to_owned());
            }
        }
    }

    /// Turns until one tells this; what came before it was an author's half-done work.
    fn until(&self, wanted: &str) {
        while !self.turn().iter().any(|reported| reported == wanted) {}
    }

    fn path(&self, name: &str) -> PathBuf {
        self.home.path().join(name)
    }

    /// Put in its place at once, so that no half-written file can be met: the very next turn is about this.
    fn put(&self, name: &str, text: &str) {
        let path = self.path(name);
        let beside = path.with_extension("new");
        std::fs::create_dir_all(path.parent().expect("it lies in a folder")).expect("a folder");
        std::fs::write(&beside, text).expect("writes");
        std::fs::rename(beside, path).expect("renames");
    }

    fn signal(&self, name: &str) {
        let status = Command::new("kill").args([name, &self.child.id().to_string()]).status().expect("kill runs");
        assert!(status.success());
    }

    /// Ctrl-C.
    fn stop(mut self) -> tempfile::TempDir {
        self.signal("-INT");
        assert_eq!(self.child.wait().expect("ends").code(), Some(0), "Ctrl-C ends a watch cleanly");
        std::mem::replace(&mut self.home, tempfile::tempdir().expect("a temporary folder"))
    }
}

impl Drop for Watched {
    fn drop(&mut self) {
        let _ = self.child.kill();
        let _ = self.child.wait();
    }
}

fn listen(out: ChildStdout, tell: impl Fn(String) -> bool) {
    let lines = BufReader::new(out).lines();
    let _ = lines.map_while(Result::ok).all(tell);
}

fn home() -> tempfile::TempDir {
    let home = tempfile::tempdir().expect("a temporary folder");
    let put = |name: &str, text: &str| {
        let path = home.path().join(name);
        std::fs::create_dir_all(path.parent().expect("it lies in a folder")).expect("a folder");
        std::fs::write(path, text).expect("writes");
    };
    put("sea/series.kdl", STYLE);
    for name in ["one", "two"] {
        put(&format!("sea/{name}/cover.kdl"), &cover());
        put(&format!("sea/{name}/blurb.md"), "A blurb.");
    }
    put("list/catalogue.kdl", "catalogue { template \"template.kdl\"; titles \"titles.csv\" }\n");
    put("list/titles.csv", TABLE);
    put("list/template.kdl", &template(""));
    for name in ["a", "b", "c"] {
        put(&format!("list/{name}.md"), "A blurb.");
    }
    home
}

fn cover() -> String {
    format!("series \"../series.kdl\"\n{BOOK}{TOLD}")
}

fn template(more: &str) -> String {
    format!("format paperback {{ trim 120 180{more} }}\n{STYLE}{}", TOLD.replace("blurb.md", "{blurb}"))
}

#[test]
fn a_series_is_followed_cover_by_cover() {
    for typed in ["sea/series.kdl", "sea"] {
        let (watched, first) = Watched::start(&[typed]);
        assert_eq!(first, ["sea/one/cover.kdl: built", "sea/two/cover.kdl: built"]);
        watched.put("sea/two/blurb.md", "Another.");
        assert_eq!(watched.turn(), ["sea/two/cover.kdl: built"], "{typed}");
        watched.put("sea/series.kdl", &STYLE.replace("size 11", "size 12"));
        assert_eq!(watched.turn(), ["sea/one/cover.kdl: built", "sea/two/cover.kdl: built"], "{typed}");
        // A folder that is made first, and only some time later gets its cover.
        std::fs::create_dir(watched.path("sea/three")).expect("a folder");
        watched.put("sea/one/blurb.md", "A sign that the folder was seen.");
        assert_eq!(watched.turn(), ["sea/one/cover.kdl: built"], "{typed}");
        watched.put("sea/three/cover.kdl", &cover().replace("panel back", "panel back /-"));
        watched.until("sea/three/cover.kdl: built");
        std::fs::rename(watched.path("sea/three"), watched.path("three")).expect("moves away");
        watched.until("sea/three/cover.kdl: gone");
        std::fs::rename(watched.path("three"), watched.path("sea/three")).expect("comes back");
        watched.until("sea/three/cover.kdl: built");
        watched.stop();
    }
}

#[test]
fn a_catalogue_is_followed_title_by_title() {
    let (watched, first) = Watched::start(&["list"]);
    assert_eq!(first, ["a: built", "b: built", "c: built"]);
    watched.put("list/b.md", "Another.");
    assert_eq!(watched.turn(), ["b: built"]);
    watched.put("list/titles.csv", &TABLE.replace("C,100", "C,102"));
    assert_eq!(watched.turn(), ["c: built"]);
    watched.put("list/titles.csv", &format!("{TABLE}D,100,a.md\n"));
    assert_eq!(watched.turn(), ["c: built", "d: built"]);
    watched.put("list/a.md", "Another.");
    assert_eq!(watched.turn(), ["a: built", "d: built"]);
    watched.put("list/titles.csv", TABLE);
    assert_eq!(watched.turn(), ["d: gone"]);
    watched.put("list/template.kdl", &template("; bleed 4"));
    assert_eq!(watched.turn(), ["a: built", "b: built", "c: built"]);
    // A table that cannot be read says nothing of its titles: they stay, and are not built once more when it can.
    watched.put("list/titles.csv", "title,pages,blurb\n\"A,100,a.md\n");
    assert_eq!(watched.turn(), [""; 0]);
    watched.put("list/titles.csv", &TABLE.replace("A,100", "A,104"));
    assert_eq!(watched.turn(), ["a: built"]);
    watched.stop();
}

#[test]
fn mistakes_do_not_end_it() {
    let (watched, first) = Watched::start(&["sea/one", "list"]);
    assert_eq!(first, ["sea/one/cover.kdl: built", "a: built", "b: built", "c: built"]);
    let press = watched.path("sea/one/out/one-press.pdf");
    assert!(press.exists());
    watched.put("sea/one/cover.kdl", &cover().replace("pages 100", "pages 100 pp ="));
    assert_eq!(watched.turn(), ["sea/one/cover.kdl: built"]);
    assert!(!press.exists(), "a press file does not outlive the errors of its cover");
    watched.put("sea/one/cover.kdl", &cover());
    assert_eq!(watched.turn(), ["sea/one/cover.kdl: built"]);
    assert!(press.exists());
    std::fs::remove_file(watched.path("sea/one/cover.kdl")).expect("removes");
    watched.turn();
    watched.put("sea/one/cover.kdl", &cover());
    watched.until("sea/one/cover.kdl: built");
    std::fs::rename(watched.path("list"), watched.path("gone")).expect("moves away");
    watched.turn();
    std::fs::rename(watched.path("gone"), watched.path("list")).expect("comes back");
    watched.put("list/b.md", "Another.");
    watched.until("b: built");
    watched.stop();
}

/// The watch is held while the author saves, so that it meets all of it at once, however slow this machine is.
#[cfg(target_os = "linux")]
#[test]
fn a_burst_of_saves_is_one_build() {
    let (watched, _) = Watched::start(&["list", "sea"]);
    watched.signal("-STOP");
    // `T`, stopped: proc(5).
    while !is_in_state(watched.child.id(), 'T') {
        std::thread::sleep(Duration::from_millis(5));
    }
    for number in 0..20 {
        std::fs::write(watched.path("list/b.md"), format!("Blurb {number}.")).expect("writes");
    }
    watched.signal("-CONT");
    assert_eq!(watched.turn(), ["b: built"]);
    // The very next turn is about another change.
    watched.put("list/c.md", "Another.");
    assert_eq!(watched.turn(), ["c: built"]);
    watched.stop();
}

#[cfg(target_os = "linux")]
fn is_in_state(process: u32, state: char) -> bool {
    let stated = std::fs::read_to_string(format!("/proc/{process}/stat")).expect("it runs");
    stated.rsplit_once(") ").is_some_and(|(_, rest)| rest.starts_with(state))
}

/// Stopped at many moments of its first builds: whole files stand there, the same as a build makes, or none.
#[test]
fn ctrl_c_leaves_no_half_file() {
    let (whole, _) = Watched::start(&["list", "--out", "out"]);
    let expected = files(&whole.stop().path().join("out"));
    assert!(expected.len() >= 15, "three titles of five files: {}", expected.len());
    for wait in 0..12 {
        let home = home();
        let mut command = Command::new(env!("CARGO_BIN_EXE_jaconet"));
        command.current_dir(home.path()).args(["watch", "list", "--out", "out", "--no-store"]);
        let mut child = command.stdin(Stdio::null()).stdout(Stdio::piped()).spawn().expect("the binary runs");
        let out = home.path().join("out");
        // From the first file on, later every time; before it, the process may not listen yet.
        while files(&out).len() <= wait {
            std::thread::sleep(Duration::from_millis(1));
        }
        let status = Command::new("kill").args(["-INT", &child.id().to_string()]).status().expect("kill runs");
        assert!(status.success());
        assert_eq!(child.wait().expect("ends").code(), Some(0));
        for (name, bytes) in files(&out) {
            assert!(expected.iter().any(|whole| *whole == (name.clone(), bytes.clone())), "{name} is not whole");
        }
    }
}

fn files(folder: &Path) -> Vec<(String, Vec<u8>)> {
    let entries = std::fs::read_dir(folder).into_iter().flatten().flatten();
    let entries = entries.filter(|entry| !entry.path().is_dir());
    // Between two looks a file may get its own name.
    let read = |path: PathBuf| std::fs::read(path).unwrap_or_default();
    entries.map(|entry| (entry.file_name().to_string_lossy().into_owned(), read(entry.path()))).collect()
}
