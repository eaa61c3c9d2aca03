//! The watch on real files: every way in which editors save. Nothing here depends on how long anything takes.
#![expect(clippy::disallowed_methods, reason = "it plays the editor, and must give up some day")]

use crate::assets::Shelf as _;
use crate::disk::Disk;
use crate::watch::watched::WatchedPlaces;
use crate::watch::{Wake, watch};
use std::path::{Path, PathBuf};
use std::sync::mpsc::{Receiver, Sender, channel};
use std::thread::JoinHandle;
use std::time::Duration;

/// Far beyond anything a machine under load needs; only a broken watch reaches it.
const DEADLINE: Duration = Duration::from_secs(30);

/// What the cover held at a turn, `None` when it was gone; and the names of what had changed.
type TestBuild = (Option<String>, Vec<String>);

struct Watched {
    home: tempfile::TempDir,
    turns: Receiver<TestBuild>,
    wake: Sender<Wake>,
    thread: Option<JoinHandle<Result<(), String>>>,
}

impl Watched {
    /// Watches a cover that reads `art/key.png`, lists `fonts`, and copies the picture's text after its own.
    fn start() -> Watched {
        let home = tempfile::tempdir().expect("a temporary folder");
        let book = home.path().join("book");
        std::fs::create_dir_all(book.join("art")).expect("a folder");
        std::fs::write(book.join("cover.kdl"), "one").expect("writes");
        std::fs::write(book.join("art/key.png"), "+key").expect("writes");
        let (reported, turns) = channel();
        let (wake, wakes) = channel();
        let sender = wake.clone();
        let thread = std::thread::spawn(move || {
            watch((sender, wakes), &mut |changed: &[PathBuf]| {
                let (held, seen) = look(&book);
                let names = changed.iter().filter_map(|path| path.file_name());
                let _ = reported.send((held, names.map(|name| name.to_string_lossy().into_owned()).collect()));
                seen
            })
        });
        Watched { home, turns, wake, thread: Some(thread) }
    }

    fn path(&self, name: &str) -> PathBuf {
        self.home.path().join("book").join(name)
    }

    /// Waits for the turn that finds this. A turn may come in between, when an editor's half-done work shows.
    fn finds(&self, wanted: Option<&str>) -> Vec<String> {
        loop {
            let (held, names) = self.turns.recv_timeout(DEADLINE).expect("a turn finds it before the deadline");
            if held.as_deref() == wanted {
                return names;
            }
        }
    }
}

impl Drop for Watched {
    fn drop(&mut self) {
        let _ = self.wake.send(Wake::Stop);
        let ended = self.thread.take().map(JoinHandle::join);
        if !std::thread::panicking() {
            assert!(matches!(ended, Some(Ok(Ok(())))), "the watch ends when it is asked to");
        }
    }
}

fn look(book: &Path) -> (Option<String>, WatchedPlaces) {
    let disk = Disk::new(book);
    let text = |name: &str| disk.read(name).ok().map(|bytes| String::from_utf8_lossy(&bytes).into_owned());
    let fonts = disk.list("fonts").len();
    let held = text("cover.kdl").map(|cover| cover + &text("art/key.png").unwrap_or_default() + &"f".repeat(fonts));
    let mut watched = WatchedPlaces::default();
    watched.add(&disk.seen());
    (held, watched)
}

#[test]
fn every_way_of_saving_is_seen() {
    let watched = Watched::start();
    watched.finds(Some("one+key"));

    std::fs::write(watched.path("cover.kdl"), "two").expect("rewrites in place");
    assert_eq!(watched.finds(Some("two+key")), ["cover.kdl"]);

    std::fs::write(watched.path(".cover.kdl.tmp"), "three").expect("writes beside");
    std::fs::rename(watched.path(".cover.kdl.tmp"), watched.path("cover.kdl")).expect("renames over");
    watched.finds(Some("three+key"));

    std::fs::remove_file(watched.path("cover.kdl")).expect("removes");
    std::fs::write(watched.path("cover.kdl"), "four").expect("makes it again");
    watched.finds(Some("four+key"));

    std::fs::rename(watched.path("cover.kdl"), watched.path("cover.kdl~")).expect("keeps the old one");
    std::fs::write(watched.path("cover.kdl"), "five").expect("makes it again");
    watched.finds(Some("five+key"));

    std::fs::write(watched.path("art/key.png"), "+lock").expect("another picture");
    assert_eq!(watched.finds(Some("five+lock")), ["key.png"]);

    std::fs::write(watched.path("cover.kdl"), "two").expect("changes back");
    watched.finds(Some("two+lock"));
}

#[test]
fn what_vanishes_is_awaited() {
    let watched = Watched::start();
    watched.finds(Some("one+key"));

    std::fs::remove_file(watched.path("cover.kdl")).expect("removes");
    watched.finds(None);
    std::fs::write(watched.path("cover.kdl"), "back").expect("comes back");
    watched.finds(Some("back+key"));

    std::fs::remove_dir_all(watched.path("art")).expect("a whole folder goes");
    watched.finds(Some("back"));
    std::fs::create_dir(watched.path("art")).expect("a new one of its name");
    std::fs::write(watched.path("art/key.png"), "+new").expect("writes");
    watched.finds(Some("back+new"));

    std::fs::create_dir(watched.path("fonts")).expect("a folder that was not there");
    std::fs::write(watched.path("fonts/a.ttf"), "font").expect("writes");
    watched.finds(Some("back+newf"));

    let away = watched.home.path().join("away");
    std::fs::rename(watched.path(""), &away).expect("the book moves away");
    watched.finds(None);
    std::fs::rename(&away, watched.path("")).expect("and back");
    watched.finds(Some("back+newf"));
}

#[test]
fn the_same_content_is_no_change() {
    let watched = Watched::start();
    watched.finds(Some("one+key"));
    // Renamed over, so that no half-written file can be met.
    let put = |text: &str| {
        std::fs::write(watched.path("cover.new"), text).expect("writes");
        std::fs::rename(watched.path("cover.new"), watched.path("cover.kdl")).expect("renames");
    };
    put("one");
    std::fs::write(watched.path("other.kdl"), "a file that nobody reads").expect("writes");
    put("end");
    // The very next turn is the change: what came before it called for none.
    assert_eq!(watched.turns.recv_timeout(DEADLINE), Ok((Some("end+key".to_owned()), vec!["cover.kdl".to_owned()])));
}

/// Right after a turn the watch looks up its folders and arms them: a folder that is made just then is the trap.
#[test]
fn folders_may_come_and_go_at_any_moment() {
    let watched = Watched::start();
    watched.finds(Some("one+key"));
    for round in 0..120 {
        std::fs::create_dir(watched.path("fonts")).expect("a folder");
        // Now and then the watch has time to arm the folder that holds nothing yet.
        (0..round * 4000).for_each(|number| _ = std::hint::black_box(number));
        std::fs::write(watched.path("fonts/a.ttf"), "font").expect("writes");
        watched.finds(Some("one+keyf"));
        std::fs::remove_dir_all(watched.path("fonts")).expect("removes");
        watched.finds(Some("one+key"));
    }
}
