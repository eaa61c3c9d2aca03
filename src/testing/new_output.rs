//! A new output: one entry is all that a build has to know of it. It is written, chosen by name and by the cover's own
//! words, reported, listed, known to be unchanged, and taken away when it is out of date.
#![expect(clippy::disallowed_methods, reason = "it plays the author, who has files")]

use crate::compile::{BuildOptions, BuildResult, BuildRun, Delivered, Processors, Workshop, finish, prepare};
use crate::disk::{LIMIT, Store};
use crate::output::{Output, OutputFile, OutputJob};
use crate::scene::{Media, PanelName};
use crate::source::{Word, choice, number};
use crate::targets::{Selection, find_targets};
use std::path::PathBuf;
use std::sync::Arc;

const PPI: Word = Word::new("ppi", "pixels per inch").takes(&[number("pixels per inch", 20.0, 600.0)]).default("50");

/// Thick books have another file than thin ones.
const PROOF: Output = Output {
    word: Word::new("proof", "a proof for the test")
        .takes(&[choice("how loud it is", &["soft", "loud"])])
        .default("soft")
        .properties(&[PPI]),
    files: &["thin.txt", "thick.txt"],
    for_press: true,
    on_request: false,
    media: Media::Both,
    write,
};

fn write(job: &OutputJob<'_>) -> Vec<OutputFile> {
    let OutputJob { scene, settings, .. } = job;
    let is_thick = scene.sheet.panel(PanelName::Spine).is_some_and(|spine| spine.rect.width() > 10.0);
    let name = if is_thick { "thick.txt" } else { "thin.txt" }.to_owned();
    vec![OutputFile { name, bytes: format!("{} {}", settings.word, settings.ppi).into_bytes().into() }]
}

/// A picture of each panel, called as the cover calls it: its names are free.
const PLATES: Output = Output {
    word: Word::new("plates", "a file for each panel, for the test"),
    files: &["plate-NAME.txt"],
    for_press: false,
    on_request: false,
    media: Media::Both,
    write: plates,
};

fn plates(job: &OutputJob<'_>) -> Vec<OutputFile> {
    let names = job.scene.sheet.panels.iter().map(|panel| format!("plate-{}.txt", panel.name));
    names.map(|name| OutputFile { name, bytes: b"a plate".to_vec().into() }).collect()
}

const COVER: &str = "book { title \"Ink\"; pages 100 }\nformat paperback { trim 120 180 }\n";

struct TrialHouse {
    home: tempfile::TempDir,
    store: Store,
}

impl TrialHouse {
    fn new() -> TrialHouse {
        let home = tempfile::tempdir().expect("a temporary folder");
        let store = Store::open(home.path().join("store"), LIMIT);
        TrialHouse { home, store }
    }

    fn build(&self, cover: &str, options: &BuildOptions) -> Delivered {
        self.build_as(cover, options, &[&PROOF])
    }

    fn build_as(&self, cover: &str, options: &BuildOptions, outputs: &'static [&'static Output]) -> Delivered {
        let file = self.home.path().join("ink.kdl");
        std::fs::write(&file, cover).expect("writes");
        let targets = find_targets(&Selection { files: vec![file], ..Selection::default() }).expect("a cover").targets;
        let mut workshop = Workshop::default();
        workshop.outputs = outputs;
        let run = BuildRun { workshop: &workshop, store: Some(&self.store), options, places: Arc::default() };
        match finish(&run, &targets[0], prepare(&run, &targets[0]), Processors::default()).0 {
            BuildResult::Built(_, delivered) => delivered,
            _ => panic!("it can be built"),
        }
    }

    fn out(&self) -> PathBuf {
        self.home.path().join("out")
    }

    fn read(&self, name: &str) -> Option<String> {
        std::fs::read_to_string(self.out().join(name)).ok()
    }
}

fn names(delivered: &Delivered) -> Vec<&str> {
    delivered.written.iter().filter_map(|written| written.path.file_name()?.to_str()).collect()
}

#[test]
fn all_follows_from_the_entry() {
    let house = TrialHouse::new();
    let (all, only) = (BuildOptions::default(), |name: &str| BuildOptions { only: vec![name.to_owned()], word: None });

    // Written, with its usual settings, reported and listed.
    assert_eq!(names(&house.build(COVER, &all)), ["ink-thin.txt", "ink-report.json"]);
    assert_eq!(house.read("ink-thin.txt").as_deref(), Some("soft 50"));
    assert!(house.read("ink-report.json").is_some_and(|report| report.contains("\"ink-thin.txt\"")));
    assert!(house.read("jaconet.outputs/ink.sha256").is_some_and(|list| list.contains("  ink-thin.txt\n")));
    assert!(house.build(COVER, &all).unchanged);

    // Chosen by name, by the cover, and by the command.
    assert_eq!(names(&house.build(COVER, &only("report"))), ["ink-report.json"]);
    assert_eq!(names(&house.build(COVER, &only("proof"))), ["ink-thin.txt"]);
    let loud = COVER.to_owned() + "deliver { proof loud ppi=90 }\n";
    house.build(&loud, &all);
    assert_eq!(house.read("ink-thin.txt").as_deref(), Some("loud 90"));
    house.build(&loud, &BuildOptions { word: Some("soft"), ..all.clone() });
    assert_eq!(house.read("ink-thin.txt").as_deref(), Some("soft 90"));

    // Taken away: what the cover has no longer, and all that could be printed with errors.
    house.build(&COVER.replace("pages 100", "pages 300"), &all);
    assert_eq!((house.read("ink-thin.txt"), house.read("ink-thick.txt").is_some()), (None, true));
    let faulty = house.build(&COVER.replace("pages 100", "pages 300; pagse 3"), &only("report"));
    assert_eq!((faulty.withdrawn, house.read("ink-thick.txt")), (vec![house.out().join("ink-thick.txt")], None));
}

#[test]
fn files_of_chosen_names_are_taken_away_when_they_are_ours_and_as_they_were() {
    let house = TrialHouse::new();
    let all = BuildOptions::default();
    let build = |cover: &str| house.build_as(cover, &all, &[&PLATES]);
    let flaps = COVER.replace("paperback { trim 120 180", "jacket { trim 120 180; flap 80");
    build(&flaps);
    assert!(house.read("ink-plate-front-flap.txt").is_some() && house.read("ink-plate-back-flap.txt").is_some());
    let file = |name: &str, bytes: &str| std::fs::write(house.out().join(name), bytes).expect("writes");
    file("ink-plate-mine.txt", "made by hand");
    file("ink-plate-back-flap.txt", "touched up by hand");

    build(COVER);
    assert_eq!(house.read("ink-plate-front-flap.txt"), None, "made by us, and as it was");
    assert!(house.read("ink-plate-back-flap.txt").is_some() && house.read("ink-plate-mine.txt").is_some());
    assert!(house.read("ink-plate-front.txt").is_some());

    // A build that is known to be unchanged clears as well.
    file("ink-plate-back-flap.txt", "a plate");
    let delivered = build(COVER);
    assert_eq!((house.read("ink-plate-back-flap.txt"), delivered.unchanged), (None, false));
}
