//! Follow: the covers of a watch: which of them a change concerns, which appear and which vanish.
#![cfg_attr(test, expect(clippy::disallowed_methods, reason = "its tests play the author, who has files"))]

use crate::compile::request;
use crate::disk::Seen;
use crate::ground::Digest;
use crate::targets::{Refusal, find_targets_and_seen};
use crate::targets::{Selection, Target, TargetList};
use crate::watch::watched::WatchedPlaces;
use std::collections::BTreeMap;
use std::path::PathBuf;

pub struct Followed {
    selection: Selection,
    /// What was looked at to know the covers.
    known_by: Seen,
    pub covers: Vec<FollowedCover>,
}

pub struct FollowedCover {
    pub target: Target,
    request: Digest,
    /// What its last build looked at; `None` before the first.
    pub seen: Option<Seen>,
}

/// What a change means.
#[derive(Default)]
pub struct Update {
    /// The covers to be built, by their place.
    pub due: Vec<usize>,
    /// Covers that are no more.
    pub gone: Vec<String>,
    /// Catalogues, and why no covers are to be had: those known so far stay.
    pub list: Option<Result<TargetList, Refusal>>,
}

/// Begins with all covers due.
pub fn follow(selection: Selection) -> Result<(Followed, Update), Refusal> {
    let (known_by, list) = find_targets_and_seen(&selection);
    let mut list = list?;
    let covers: Vec<FollowedCover> = std::mem::take(&mut list.targets).into_iter().map(follower).collect();
    let due = (0..covers.len()).collect();
    Ok((Followed { selection, known_by, covers }, Update { due, list: Some(Ok(list)), ..Update::default() }))
}

fn follower(target: Target) -> FollowedCover {
    FollowedCover { request: request(&target), target, seen: None }
}

impl Followed {
    /// Learns of changed places.
    pub fn learn(&mut self, changed: &[PathBuf]) -> Update {
        let mut update = Update::default();
        if changed.iter().any(|place| self.known_by.0.contains_key(place)) {
            let (seen, list) = find_targets_and_seen(&self.selection);
            update.list = Some(match list {
                Ok(mut list) => {
                    self.known_by = seen;
                    update.gone = self.exchange(&mut list);
                    Ok(list)
                }
                Err(refusal) => {
                    self.known_by = self.known_by.again();
                    self.known_by.0.extend(seen.0);
                    Err(refusal)
                }
            });
        }
        let concerned = |cover: &FollowedCover| {
            cover.seen.as_ref().is_none_or(|seen| changed.iter().any(|place| seen.0.contains_key(place)))
        };
        let waits = |cover: &FollowedCover| match &update.list {
            Some(Ok(list)) => is_faulty(list, &cover.target.shown),
            _ => false,
        };
        for (at, cover) in self.covers.iter_mut().enumerate() {
            if !concerned(cover) {
                continue;
            }
            if waits(cover) {
                // What is in the way is reported once; as it stands now it calls for nothing more.
                cover.seen = cover.seen.as_ref().map(Seen::again);
            } else {
                update.due.push(at);
            }
        }
        update
    }

    /// Covers that are due and not yet built: as they stand now, nothing more is to be learned of them.
    pub fn put_off(&mut self, due: &[usize]) {
        for cover in due {
            let seen = &mut self.covers[*cover].seen;
            *seen = seen.as_ref().map(Seen::again);
        }
    }

    /// What a build of a cover looked at.
    pub fn saw(&mut self, target: &Target, seen: Seen) {
        if let Some(cover) = self.find(target) {
            cover.seen = Some(seen);
        }
    }

    /// What else was looked at for a cover, such as for another edition of it.
    pub fn saw_more(&mut self, target: &Target, seen: Seen) {
        if let Some(known) = self.find(target).and_then(|cover| cover.seen.as_mut()) {
            let more = seen.0.into_iter().filter(|(place, _)| !known.0.contains_key(place));
            let more: Vec<_> = more.collect();
            known.0.extend(more);
        }
    }

    fn find(&mut self, target: &Target) -> Option<&mut FollowedCover> {
        self.covers.iter_mut().find(|cover| cover.target.out == target.out && cover.target.stem == target.stem)
    }

    /// Everything that a change could concern.
    pub fn watched(&self) -> WatchedPlaces {
        let mut all = WatchedPlaces::default();
        all.add(&self.known_by);
        self.covers.iter().filter_map(|cover| cover.seen.as_ref()).for_each(|seen| all.add(seen));
        all
    }

    /// Takes the covers as they are now; what a known one looked at is kept when it asks for the same. Says which are
    /// gone: not those of a catalogue that has errors, which says nothing of its titles.
    fn exchange(&mut self, list: &mut TargetList) -> Vec<String> {
        let place = |target: &Target| (target.out.clone(), target.stem.clone());
        let old = std::mem::take(&mut self.covers).into_iter();
        let mut old: BTreeMap<_, _> = old.map(|cover| (place(&cover.target), cover)).collect();
        for target in std::mem::take(&mut list.targets) {
            let mut cover = follower(target);
            if let Some(known) = old.remove(&place(&cover.target))
                && known.request == cover.request
            {
                cover.seen = known.seen;
            }
            self.covers.push(cover);
        }
        let (waiting, gone): (Vec<_>, Vec<_>) =
            old.into_values().partition(|cover| is_faulty(list, &cover.target.shown));
        self.covers.extend(waiting);
        let mut gone: Vec<String> = gone.into_iter().map(|cover| cover.target.name).collect();
        gone.sort();
        gone
    }
}

/// Whether a typed file is a catalogue that has no titles for its errors.
fn is_faulty(list: &TargetList, shown: &str) -> bool {
    list.catalogues.iter().any(|(known, built)| known == shown && built.findings.has_errors())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::assets::Shelf as _;
    use crate::disk::{Disk, write_new};

    const COVER: &str =
        "series \"../series.kdl\"\nbook { title \"T\"; pages 100 }\nformat paperback { trim 120 180 }\n";
    const TABLE: &str = "title,pages\nA,100\nB,100\nC,100\n";

    struct Home(tempfile::TempDir);

    impl Home {
        fn put(&self, name: &str, text: &str) {
            let path = self.0.path().join(name);
            let _ = std::fs::remove_file(&path);
            write_new(&path, text.as_bytes()).expect("writes");
        }

        fn follow(&self, typed: &str) -> Followed {
            let files = vec![self.0.path().join(typed)];
            let (mut followed, update) = follow(Selection { files, ..Selection::default() }).expect("there are covers");
            build(&mut followed, &update);
            followed
        }

        /// What a change of these means, as far as it is known: covers due, and gone.
        fn learn(&self, followed: &mut Followed, names: &[&str]) -> (Vec<String>, Vec<String>) {
            let changed: Vec<PathBuf> = names.iter().map(|name| self.0.path().join(name)).collect();
            let update = followed.learn(&changed);
            build(followed, &update);
            let due = update.due.iter().map(|at| followed.covers[*at].target.stem.clone()).collect();
            (due, update.gone)
        }
    }

    /// As far as a watch goes: every cover that is due looks at its file and its blurb.
    fn build(followed: &mut Followed, update: &Update) {
        for at in &update.due {
            let target = &followed.covers[*at].target;
            let disk = Disk::new(&target.folder);
            let _ = (disk.read(&target.request.path), disk.read(&format!("{}.md", target.stem)));
            followed.covers[*at].seen = Some(disk.seen());
        }
    }

    fn named(due: &[&str]) -> (Vec<String>, Vec<String>) {
        (due.iter().map(|name| (*name).to_owned()).collect(), Vec::new())
    }

    fn list() -> Home {
        let home = Home(tempfile::tempdir().expect("a temporary folder"));
        home.put("catalogue.kdl", "catalogue { template \"template.kdl\"; titles \"titles.csv\" }\n");
        home.put("template.kdl", "format paperback { trim 120 180 }\n");
        home.put("titles.csv", TABLE);
        home
    }

    #[test]
    fn a_row_is_a_cover() {
        let home = list();
        let mut followed = home.follow("catalogue.kdl");
        assert_eq!(home.learn(&mut followed, &["b.md"]), named(&["b"]));
        assert_eq!(home.learn(&mut followed, &["other.md"]), named(&[]));
        assert_eq!(home.learn(&mut followed, &["titles.csv"]), named(&[]));
        home.put("titles.csv", "title,pages\nA,100\nC,100\nD,100\n");
        let (due, gone) = home.learn(&mut followed, &["titles.csv"]);
        assert_eq!((due.as_slice(), gone.as_slice()), (&["d".to_owned()][..], &["b".to_owned()][..]));
        assert_eq!(home.learn(&mut followed, &["template.kdl"]), named(&["a", "c", "d"]));
    }

    #[test]
    fn a_faulty_table_says_nothing_of_its_titles() {
        let home = list();
        let mut followed = home.follow("");
        home.put("titles.csv", "title,pages\n\"A,100\n");
        assert_eq!(home.learn(&mut followed, &["titles.csv"]), named(&[]));
        assert_eq!(home.learn(&mut followed, &["b.md"]), named(&["b"]));
        home.put("titles.csv", &TABLE.replace("C,100", "C,101"));
        assert_eq!(home.learn(&mut followed, &["titles.csv"]), named(&["c"]));
    }

    /// The table that a catalogue newly names is followed even while it lacks the title that was asked for.
    #[test]
    fn what_refused_names_looked_at_is_awaited() {
        let home = list();
        let files = vec![home.0.path().to_owned()];
        let selection = Selection { files, titles: vec!["b".to_owned()], ..Selection::default() };
        let (mut followed, update) = follow(selection).expect("there is the title");
        build(&mut followed, &update);
        home.put("other.csv", "title,pages\nX,100\n");
        home.put("catalogue.kdl", "catalogue { template \"template.kdl\"; titles \"other.csv\" }\n");
        assert_eq!(home.learn(&mut followed, &["catalogue.kdl"]), named(&[]));
        home.put("other.csv", "title,pages\nB,102\n");
        assert_eq!(home.learn(&mut followed, &["other.csv"]), named(&["b"]));
    }

    #[test]
    fn covers_of_a_series_appear_and_vanish() {
        let home = Home(tempfile::tempdir().expect("a temporary folder"));
        home.put("series.kdl", "press coated\n");
        home.put("one/cover.kdl", COVER);
        let mut followed = home.follow("series.kdl");
        home.put("two/cover.kdl", COVER);
        assert_eq!(home.learn(&mut followed, &[""]), named(&["two"]));
        std::fs::remove_dir_all(home.0.path().join("one")).expect("removes");
        let (due, gone) = home.learn(&mut followed, &["", "one/cover.kdl"]);
        assert_eq!((due.len(), gone.len()), (0, 1), "{due:?}, {gone:?}");
    }

    #[test]
    fn the_titles_of_a_catalogue_wait_while_its_template_is_half_written() {
        const TEMPLATE: &str = "book { pages 100 }\nformat paperback { trim 120 180 }\n";
        let home = tempfile::tempdir().expect("a temporary folder");
        let path = |name: &str| home.path().join(name);
        let write = |name: &str, text: &str| crate::disk::write(&path(name), text.as_bytes()).expect("writes");
        let catalogue = b"catalogue { template \"t.kdl\"; titles \"t.csv\" }\n";
        write_new(&path("catalogue.kdl"), catalogue).expect("writes");
        write("t.kdl", TEMPLATE);
        write("t.csv", "title\nA\nB\n");
        let selection = Selection { files: vec![home.path().to_owned()], ..Selection::default() };
        let (mut followed, first) = follow(selection).expect("there are covers");
        assert_eq!(first.due, [0, 1]);
        write("t.kdl", "book { pages 10pt }\n");
        let update = followed.learn(&[path("t.kdl")]);
        assert!(update.due.is_empty() && update.gone.is_empty() && followed.covers.len() == 2);
        assert!(update.list.is_some_and(|found| found.is_ok_and(|list| is_faulty(&list, &list.catalogues[0].0))));
        write("t.kdl", TEMPLATE);
        assert_eq!(followed.learn(&[path("t.kdl")]).due, [0, 1]);
        write("t.csv", "title\nB\n");
        let update = followed.learn(&[path("t.csv")]);
        assert_eq!((update.gone, followed.covers.len()), (vec!["a".to_owned()], 1));
    }
}
