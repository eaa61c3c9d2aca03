//! The store: what is damaged, foreign, shared, too much.

use super::*;
use std::fs;
use std::time::{Duration, SystemTime};

fn store(limit: u64) -> (tempfile::TempDir, Store) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let store = Store::open(folder.path().join("store"), limit);
    (folder, store)
}

fn key(name: &str) -> Digest {
    Digest::of(name.as_bytes())
}

fn path(store: &Store, kind: &str, entry: &str) -> PathBuf {
    store.path(name(kind, key(entry)))
}

const KIND: &str = "stream";

#[test]
fn gives_back_what_was_put_by_kind_and_key() {
    let (_folder, store) = store(LIMIT);
    store.put(KIND, key("a"), b"bytes");
    store.put(KIND, key("empty"), b"");
    assert_eq!(store.get(KIND, key("a")).as_deref(), Some(&b"bytes"[..]));
    assert_eq!(store.get(KIND, key("empty")).as_deref(), Some(&b""[..]));
    assert_eq!(store.get("scaled", key("a")), None);
    assert_eq!(store.get(KIND, key("b")), None);
    store.put(KIND, key("a"), b"other bytes");
    assert_eq!(store.get(KIND, key("a")).as_deref(), Some(&b"other bytes"[..]));
    assert_eq!(store.trouble(), None);
}

#[test]
fn files_are_found_by_their_sum_and_records_by_their_key() {
    let (_folder, store) = store(LIMIT);
    let digest = put(&store, b"%PDF");
    assert_eq!(digest, Digest::of_file(b"%PDF"));
    assert_eq!(put(&store, b"%PDF"), digest);
    assert_eq!(store.file_get(digest, 4).as_deref(), Some(&b"%PDF"[..]));
    assert_eq!(store.file_get(digest, 5), None);
    assert_eq!(store.file_get(Digest::of_file(b"other"), 4), None);
    store.record_put(key("a"), &(7_u32, "seven".to_owned(), 0.1_f64));
    assert_eq!(store.record_get(key("a")), Some((7_u32, "seven".to_owned(), 0.1_f64)));
    assert_eq!(store.record_get::<String>(key("b")), None);
    assert_eq!(store.get(FILE, key("a")), None);
}

/// Every bit of it flipped, every length it may be cut to, something added, nothing left, noise.
#[test]
fn what_is_damaged_is_a_miss_and_is_rebuilt() {
    let (_folder, store) = store(LIMIT);
    store.put(KIND, key("a"), b"sixteen letters.");
    let path = path(&store, KIND, "a");
    let whole = fs::read(&path).expect("the entry is there");
    assert_eq!(whole.len(), entry::HEAD + 16);
    let flipped = (0..whole.len() * 8).map(|bit| {
        let mut bytes = whole.clone();
        bytes[bit / 8] ^= 1 << (bit % 8);
        bytes
    });
    let cut = (0..whole.len()).map(|length| whole[..length].to_vec());
    let noise = [1, 8, 87, 88, 104, 5000].map(|length| (0..length).map(|at| (at * 37 + 11) as u8).collect());
    let longer = [[&whole[..], b"x"].concat(), [&whole[..], &whole[..]].concat()];
    for bytes in flipped.chain(cut).chain(noise).chain(longer) {
        fs::write(&path, &bytes).expect("writes");
        assert_eq!(store.get(KIND, key("a")), None, "{bytes:?}");
        // Ours and damaged: gone. What does not say it is ours is left alone.
        assert_eq!(path.exists(), !bytes.starts_with(&entry::MAGIC));
        store.put(KIND, key("a"), b"sixteen letters.");
        assert_eq!(store.get(KIND, key("a")).as_deref(), Some(&b"sixteen letters."[..]));
    }
    assert_eq!(store.trouble(), None);
}

#[test]
fn an_entry_of_another_key_kind_or_version_is_none_of_its_own() {
    let (_folder, store) = store(LIMIT);
    for (kind, other) in [(KIND, "b"), ("scaled", "a")] {
        store.put(KIND, key("a"), b"mine");
        store.put(kind, key(other), b"another's");
        let path = path(&store, KIND, "a");
        fs::copy(self::path(&store, kind, other), &path).expect("copies");
        assert_eq!(store.get(KIND, key("a")), None);
        assert!(!path.exists());
    }
    // A file's name and sum both count: a sound entry under another sum is none.
    let (one, other) = (put(&store, b"one"), put(&store, b"two"));
    let place = |digest: Digest| store.path(Digest::of_all(&[FILE.as_bytes(), digest.bytes()]));
    fs::copy(place(one), place(other)).expect("copies");
    assert_eq!(store.file_get(other, 3), None);
    assert_eq!(put(&store, b"two"), other);
    assert_eq!(store.file_get(other, 3).as_deref(), Some(&b"two"[..]));
}

#[test]
fn a_folder_in_an_entrys_place_is_a_miss_and_is_reported_of() {
    let (_folder, store) = store(LIMIT);
    let path = path(&store, KIND, "a");
    fs::create_dir_all(path.join("full")).expect("a folder");
    assert_eq!(store.get(KIND, key("a")), None);
    assert_eq!(store.trouble(), None);
    store.put(KIND, key("a"), b"bytes");
    assert_eq!(store.get(KIND, key("a")), None);
    assert!(store.trouble().is_some_and(|reported| reported.contains("cannot be written")));
    store.trim();
    assert!(path.join("full").is_dir());
    let left = fs::read_dir(path.parent().expect("has a folder")).expect("is there").count();
    assert_eq!(left, 1, "no temporary file is left");
}

#[test]
fn a_disk_that_refuses_is_a_miss_reported_once() {
    let folder = tempfile::tempdir().expect("a temporary folder");
    let taken = folder.path().join("taken");
    fs::write(&taken, b"a file stands here").expect("writes");
    for place in [taken.clone(), taken.join("within")] {
        let store = Store::open(place, LIMIT);
        assert_eq!(store.get(KIND, key("a")), None);
        store.put(KIND, key("a"), b"bytes");
        put(&store, b"bytes");
        assert_eq!(store.get(KIND, key("a")), None);
        store.trim();
        assert!(store.trouble().is_some());
    }
    assert_eq!(fs::read(&taken).expect("is there"), b"a file stands here");
}

/// The entries of `names`, each used a minute after the one before, long ago.
fn aged(store: &Store, names: &[&str], bytes: &[u8]) {
    for (minute, name) in names.iter().enumerate() {
        store.put(KIND, key(name), bytes);
        set_age(&path(store, KIND, name), 10_000 - 60 * minute as u64);
    }
}

fn set_age(path: &Path, seconds: u64) {
    let file = fs::File::options().append(true).open(path).expect("is there");
    file.set_modified(SystemTime::now() - Duration::from_secs(seconds)).expect("takes a time");
}

#[test]
fn what_was_used_longest_ago_goes_first_and_no_more_than_must() {
    let entry = 1000 + entry::HEAD as u64;
    let (_folder, store) = store(10 * entry);
    let names = ["a", "b", "c", "d", "e", "f", "g", "h", "i", "j"];
    aged(&store, &names, &[0; 1000]);
    store.trim();
    let left =
        |store: &Store| -> Vec<&str> { names.into_iter().filter(|name| path(store, KIND, name).exists()).collect() };
    assert_eq!(left(&store).len(), 10, "it is within its limit");
    // Used now: no longer the oldest.
    assert!(store.get(KIND, key("a")).is_some());
    store.put(KIND, key("new"), &[0; 1000]);
    store.trim();
    // Eleven entries; nine tenths of the limit are nine.
    assert_eq!(left(&store), ["a", "d", "e", "f", "g", "h", "i", "j"]);
    assert!(path(&store, KIND, "new").exists());
    assert_eq!(store.trouble(), None);
}

#[test]
fn a_store_is_looked_through_after_much_or_after_an_hour() {
    let (_folder, store) = store(100_000);
    aged(&store, &["a", "b"], &vec![0; 60_000]);
    store.trim();
    assert!(!path(&store, KIND, "a").exists() && path(&store, KIND, "b").exists());
    // Too much lies there, but this process has put in little, and one has just looked.
    let other = Store::open(store.folder.clone(), 50_000);
    other.put(KIND, key("c"), &[0; 1000]);
    other.trim();
    assert!(path(&store, KIND, "b").exists());
    set_age(&store.folder.join(".jaconet-trimmed"), 2 * 60 * 60);
    other.trim();
    assert!(!path(&store, KIND, "b").exists() && path(&store, KIND, "c").exists());
    assert_eq!((store.trouble(), other.trouble()), (None, None));
}

#[test]
fn trimming_takes_only_what_is_ours() {
    let (_folder, store) = store(0);
    store.put(KIND, key("a"), b"mine");
    let ours = path(&store, KIND, "a");
    let folder = ours.parent().expect("has a folder").to_owned();
    let others = [
        store.folder.join("letter.txt"),
        folder.join("letter.txt"),
        folder.join("f".repeat(62)),
        folder.join(".jaconet-not-ours"),
        folder.join(".jaconet-young"),
    ];
    for path in &others {
        fs::write(path, b"somebody's").expect("writes");
    }
    fs::write(&others[4], EntryHead { kind: KIND, name: key("x"), sum: key("x") }.bytes(9)).expect("writes");
    let killed = folder.join(".jaconet-killed");
    fs::copy(&ours, &killed).expect("copies");
    let day = 25 * 60 * 60;
    for path in [&killed, &others[3], &others[2]] {
        set_age(path, day);
    }
    store.trim();
    assert!(!ours.exists() && !killed.exists());
    for path in &others {
        assert!(path.exists(), "{}", path.display());
    }
}

#[test]
fn eight_threads_share_a_folder_that_is_trimmed_under_them() {
    let (_folder, store) = store(40_000);
    std::thread::scope(|scope| {
        for thread in 0..8_u64 {
            let store = Store::open(store.folder.clone(), 40_000);
            scope.spawn(move || {
                for step in 0..400_u64 {
                    let number = (step * 13 + thread * 7) % 60;
                    let wanted = vec![number as u8; 100 + number as usize * 37];
                    let key = key(&number.to_string());
                    match store.get(KIND, key) {
                        Some(found) => assert!(found == wanted),
                        None => store.put(KIND, key, &wanted),
                    }
                    if step % 50 == thread {
                        store.trim();
                    }
                }
                assert_eq!(store.trouble(), None);
            });
        }
    });
    store.put(KIND, key("much"), &[0; 3000]);
    store.trim();
    let all = (0..60_u64).filter(|number| path(&store, KIND, &number.to_string()).exists()).count();
    assert!(all > 0 && all < 60, "{all}");
}

#[test]
fn covers_recall_what_another_process_made() {
    use crate::assets::{MapShelf, Work};
    use crate::compile::{Workshop, build};
    use crate::language::usual_settings;
    use crate::output::{OUTPUTS, OutputJob, Particulars};
    use crate::record::CoverRequest;
    use crate::scene::OutputSettings;
    use std::sync::Arc;
    let picture = include_bytes!("../../../examples/salt-and-lanterns/art/harbour.jpg").as_slice();
    let text = "book { title \"Salt\"; pages 96 }\nformat paperback { trim 60 80 }\n\
        panel front {\n image art file=\"harbour.jpg\" { left 0; width 40; top 0; height 60; fit filling }\n \
        text title words=\"{title}\" { left 5; right 5; top 20 }\n}\n";
    let shelf = MapShelf::default().with("cover.kdl", text.as_bytes()).with("harbour.jpg", picture);
    let (_folder, store) = store(LIMIT);
    let store = Arc::new(store);
    let made = |store: Option<&Arc<Store>>| {
        let workshop = Workshop::new(store.map(|store| store.clone() as Arc<dyn Keep>));
        let built = build(&workshop, &shelf, &CoverRequest::of("cover.kdl")).expect("the cover is there");
        let (scene, findings) = (built.design.expect("can be read").scene, built.findings);
        let files = OUTPUTS.iter().flat_map(|output| {
            let particulars = &Particulars::default();
            let settings = &OutputSettings { ppi: 20.0, ..usual_settings(&output.word) };
            (output.write)(&OutputJob {
                scene: &scene,
                findings: &findings,
                particulars,
                settings,
                darkroom: &workshop.darkroom,
            })
        });
        (files.map(|made| made.bytes.whole().into_owned()).collect::<Vec<_>>(), workshop.work())
    };
    let (plain, worked) = made(None);
    // Converted once whole, for the pictures, and once with the pixels that a press can show.
    assert!(worked.set >= 1 && worked.converted == 2 && worked.compressed >= 3, "{worked:?}");
    let (first, cold) = made(Some(&store));
    let (second, warm) = made(Some(&store));
    assert!(plain == first && plain == second);
    assert_eq!((cold, warm), (worked, Work::default()));
    assert_eq!(store.trouble(), None);
}

#[test]
fn one_run_keeps_no_more_finished_files_than_its_part() {
    let (_folder, store) = store(4000);
    let digests = [1, 2, 3].map(|byte| put(&store, &[byte; 400]));
    assert_eq!(digests.map(|digest| store.file_get(digest, 400).is_some()), [true, true, false]);
    store.trim();
    put(&store, &[3; 400]);
    assert!(store.file_get(digests[2], 400).is_some(), "the next run has a part of its own");
}

fn put(store: &Store, bytes: &[u8]) -> Digest {
    let digest = Digest::of_file(bytes);
    store.file_put(&bytes.to_vec().into(), digest);
    digest
}
