//! A folder as a shelf: what it gives, notes and keeps.

use super::*;

fn folder() -> (tempfile::TempDir, Disk) {
    let folder = tempfile::tempdir().expect("a temporary folder");
    std::fs::create_dir_all(folder.path().join("book/art")).expect("a folder");
    std::fs::write(folder.path().join("book/art/lantern.tif"), b"tif").expect("writes");
    std::fs::write(folder.path().join("series.kdl"), b"series").expect("writes");
    let disk = Disk::new(folder.path().join("book"));
    (folder, disk)
}

#[test]
fn a_file_of_another_length_than_it_had_is_read_as_it_is() {
    for length in [0, 2, 4, 9] {
        assert_eq!(&*whole(&b"salt"[..], length).expect("bytes in memory are read"), b"salt", "{length}");
    }
}

#[test]
fn reads_within_and_above_its_folder() {
    let (_folder, disk) = folder();
    assert_eq!(disk.read("art/lantern.tif").as_deref(), Ok(b"tif".as_slice()));
    assert_eq!(disk.read("../series.kdl").as_deref(), Ok(b"series".as_slice()));
    assert_eq!(disk.list("art"), ["art/lantern.tif"]);
    assert!(disk.list("fonts").is_empty());
    assert_eq!(disk.seen().0.len(), 4);
    let listed = disk.seen();
    assert!(disk.read("art").is_err());
    assert_eq!(disk.seen(), listed, "the names in the folder count, whatever else it is taken for");
    assert_eq!(disk.inputs()[0].0, "../series.kdl");
}

/// What is only looked at costs no memory, and counts as what was read.
#[test]
fn what_is_read_once_is_noted_and_not_kept() {
    let (folder, disk) = folder();
    let own = folder.path().join("book/art/lantern.tif");
    let kept = |disk: &Disk| disk.noted().read.values().filter(|file| file.kept.is_some()).count();
    let (bytes, digest) = disk.read_once("art/lantern.tif").expect("is there");
    assert_eq!((&*bytes, digest, kept(&disk)), (&b"tif"[..], Digest::of_file(b"tif"), 0));
    assert_eq!(disk.glance("../series.kdl", Glance::File), Some(Digest::of_file(b"series")));
    assert_eq!(disk.glance("../none.kdl", Glance::File), None);
    assert_eq!((kept(&disk), disk.inputs().len(), disk.seen().0.len()), (0, 2, 3));
    // One that changed meanwhile stays known as it was first read: it has changed for whoever compares.
    std::fs::write(&own, b"new").expect("writes");
    assert_eq!(disk.read_once("art/lantern.tif"), Err(ShelfFault::Changed), "one cover shows one of them");
    assert_eq!(disk.read("art/lantern.tif").as_deref(), Ok(b"new".as_slice()));
    assert_eq!(disk.seen().0[&own], PlaceState::of(b"tif"));
    assert_eq!((kept(&disk), disk.inputs()[1].1), (1, Digest::of_file(b"new")));
    assert_ne!(disk.seen(), disk.seen().again());
}

/// As a folder's names are noted, so they are glanced at, by every shelf and from every folder.
#[test]
fn covers_of_one_run_glance_at_a_place_once() {
    let (folder, _) = folder();
    let places = Arc::<PlacesNow>::default();
    let disk = |name: &str| Disk::among(folder.path().join(name), places.clone());
    let (one, two) = (disk("book"), disk("book"));
    for (place, glance) in [("art", Glance::Folder), ("", Glance::Covers), ("../series.kdl", Glance::File)] {
        let first = one.glance(place, glance).expect("is there");
        let listed = match glance {
            Glance::File => Digest::of_file(&two.read(place).expect("is there")),
            Glance::Folder => listing(place, &two.list(place)),
            Glance::Covers => listing(place, &two.covers(place)),
        };
        assert_eq!(first, listed, "{place}");
    }
    assert_eq!(one.seen(), two.seen());
    std::fs::write(folder.path().join("book/art/other.tif"), b"tif").expect("writes");
    std::fs::write(folder.path().join("series.kdl"), b"another").expect("writes");
    let later = disk("book");
    assert_eq!(later.glance("../series.kdl", Glance::File), Some(Digest::of_file(b"series")));
    assert_eq!(later.glance("art", Glance::Folder), one.glance("art", Glance::Folder));
    assert_ne!(later.seen(), later.seen().again(), "the next run finds what changed");
}

#[test]
fn says_why_a_file_does_not_come() {
    let (folder, disk) = folder();
    let near = |wanted: &str| match disk.read(wanted) {
        Err(ShelfFault::Missing { nearest }) => nearest,
        other => panic!("{other:?}"),
    };
    assert_eq!(near("art/lantren.tif").as_deref(), Some("art/lantern.tif"));
    assert_eq!(near("lantern.tif").as_deref(), Some("art/lantern.tif"));
    std::fs::create_dir_all(folder.path().join("book/out")).expect("a folder");
    std::fs::write(folder.path().join("book/out/book-front.png"), b"png").expect("writes");
    assert_eq!(near("book-front.png"), None, "what a build wrote is no file of the author's");
    assert_eq!(near("art/lantern.tif/x").as_deref(), None);
    assert_eq!(near("nul\0"), None);
    assert_eq!(disk.read("art"), Err(ShelfFault::Unreadable("it is a folder".to_owned())));
    assert!(matches!(disk.read("/etc/hostname"), Err(ShelfFault::Unreadable(_))));
    #[cfg(unix)]
    {
        let device = Disk::new("/dev");
        assert!(matches!(device.read("zero"), Err(ShelfFault::Unreadable(_))));
    }
}

#[cfg(unix)]
#[test]
fn follows_links_and_survives_their_circles() {
    let (folder, disk) = folder();
    std::os::unix::fs::symlink(folder.path().join("book"), folder.path().join("book/art/round")).expect("links");
    std::os::unix::fs::symlink("lantern.tif", folder.path().join("book/art/link.tif")).expect("links");
    assert_eq!(disk.read("art/link.tif").as_deref(), Ok(b"tif".as_slice()));
    assert!(disk.list("art").len() < 100);
}
