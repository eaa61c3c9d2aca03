//! Store: two processes at one folder that is far too small for them, trimmed all the while.
#![expect(clippy::disallowed_methods, reason = "it starts itself a second time, and looks into the folder")]

use jaconet::testing::{Digest, Store};
use std::path::Path;
use std::process::Command;

/// Tells the second process what to do.
const FOLDER: &str = "JACONET_TEST_STORE";
const LIMIT: u64 = 60_000;
const THREADS: u64 = 4;

#[test]
fn two_processes_share_a_folder() {
    if let Some(folder) = std::env::var_os(FOLDER) {
        return hammer(Path::new(&folder), 1);
    }
    let folder = tempfile::tempdir().expect("a temporary folder");
    let own = std::env::current_exe().expect("a test knows its program");
    let mut second = Command::new(own);
    second.args(["--exact", "two_processes_share_a_folder"]).env(FOLDER, folder.path());
    let mut second = second.spawn().expect("starts");
    hammer(folder.path(), 2);
    assert!(second.wait().expect("ends").success());
    let store = Store::open(folder.path(), LIMIT);
    put(&store, &[0; 5000]);
    store.trim();
    let within = std::fs::read_dir(folder.path()).expect("is there").flatten().filter(|part| part.path().is_dir());
    let entries: Vec<_> = within.flat_map(|part| std::fs::read_dir(part.path()).expect("a folder").flatten()).collect();
    let total: u64 = entries.iter().map(|entry| entry.metadata().expect("is there").len()).sum();
    assert!(total <= LIMIT && !entries.is_empty(), "{total}");
    assert!(entries.iter().all(|entry| !entry.file_name().to_string_lossy().starts_with('.')), "nothing is left over");
}

fn hammer(folder: &Path, process: u64) {
    let (mut found, mut lost) = (0, 0);
    std::thread::scope(|scope| {
        let threads: Vec<_> =
            (0..THREADS).map(|thread| scope.spawn(move || one(folder, process * 5 + thread))).collect();
        for thread in threads {
            let (some, none) = thread.join().expect("its steps pass");
            found += some;
            lost += none;
        }
    });
    // Neither is a matter of course: a store that never finds anything, or never loses it, was not tried.
    assert!(found > 0 && lost > 0, "{found} found, {lost} lost");
}

fn one(folder: &Path, seed: u64) -> (u64, u64) {
    let store = Store::open(folder, LIMIT);
    let (mut found, mut lost) = (0, 0);
    let bytes = |number: u64| vec![number as u8; 50 + number as usize * 41];
    let mut digests = Vec::new();
    for step in 0..600_u64 {
        let number = (step * 17 + seed * 29) % 90;
        let wanted = bytes(number);
        digests.push((number, put(&store, &wanted)));
        let (older, digest) = digests[(step / 2) as usize];
        match store.file_get(digest, bytes(older).len() as u64) {
            Some(kept) => {
                assert!(kept == bytes(older));
                found += 1;
            }
            None => lost += 1,
        }
        if step % 40 == seed {
            store.trim();
        }
    }
    assert_eq!(store.trouble(), None);
    (found, lost)
}

fn put(store: &Store, bytes: &[u8]) -> Digest {
    let digest = Digest::of_file(bytes);
    store.file_put(&bytes.to_vec().into(), digest);
    digest
}
