//! Follow: the covers of a watch: which of them a change concerns, which appear and which vanish.

use crate::build::known::request;
use crate::build::roster::Refusal;
use crate::build::{Roster, Seen, Target, Wish, roster};
use crate::ground::Digest;
use std::path::{Path, PathBuf};

pub struct Followed {
    wish: Wish,
    /// What was looked at to know the covers.
    known_by: Seen,
    pub covers: Vec<Follower>,
}

pub struct Follower {
    pub target: Target,
    request: Digest,
    /// What its last build looked at; `None` before the first.
    pub seen: Option<Seen>,
}

/// What a change means.
#[derive(Default)]
pub struct News {
    /// The covers to be built, by their place.
    pub due: Vec<usize>,
    /// Covers that are no more.
    pub gone: Vec<String>,
    /// Catalogues, and why no covers are to be had: those known so far stay.
    pub told: Option<Result<Roster, Refusal>>,
}

/// Begins with all covers due.
pub fn follow(wish: Wish) -> Result<(Followed, News), Refusal> {
    let mut roster = roster(&wish)?;
    let targets = std::mem::take(&mut roster.targets);
    let covers: Vec<Follower> = targets.into_iter().map(follower).collect();
    let due = (0..covers.len()).collect();
    let followed = Followed { wish, known_by: roster.seen.clone(), covers };
    Ok((followed, News { due, told: Some(Ok(roster)), ..News::default() }))
}

fn follower(target: Target) -> Follower {
    Follower { request: request(&target), target, seen: None }
}

impl Followed {
    /// Learns of changed places.
    pub fn hear(&mut self, changed: &[PathBuf]) -> News {
        let mut news = News::default();
        if changed.iter().any(|place| self.known_by.0.contains_key(place)) {
            news.told = Some(match roster(&self.wish) {
                Ok(mut roster) => {
                    self.known_by = roster.seen.clone();
                    let targets = std::mem::take(&mut roster.targets);
                    news.gone = self.exchange(targets, &|shown| is_faulty(&roster, shown));
                    Ok(roster)
                }
                Err(refusal) => {
                    self.known_by = self.known_by.again();
                    Err(refusal)
                }
            });
        }
        let concerned = |cover: &Follower| {
            cover.seen.as_ref().is_none_or(|seen| changed.iter().any(|place| seen.0.contains_key(place)))
        };
        let waits = |cover: &Follower| match &news.told {
            Some(Ok(roster)) => is_faulty(roster, &cover.target.shown),
            _ => false,
        };
        let due = |cover: &Follower| concerned(cover) && !waits(cover);
        news.due = (0..self.covers.len()).filter(|at| due(&self.covers[*at])).collect();
        news
    }

    /// Everything that a change could concern.
    pub fn seen(&self) -> Seen {
        let mut all = self.known_by.clone();
        self.covers.iter().filter_map(|cover| cover.seen.as_ref()).for_each(|seen| all.join(seen));
        all
    }

    /// Takes the covers as they are now; what a known one looked at is kept when it asks for the same. Those of a file that
    /// cannot be read at the moment wait. Says which are gone.
    fn exchange(&mut self, targets: Vec<Target>, waits: &dyn Fn(&str) -> bool) -> Vec<String> {
        let mut old = std::mem::take(&mut self.covers);
        let place = |target: &Target| -> (PathBuf, String) { (target.out.clone(), target.stem.clone()) };
        for target in targets {
            let mut cover = follower(target);
            if let Some(at) = old.iter().position(|known| place(&known.target) == place(&cover.target)) {
                let known = old.swap_remove(at);
                if known.request == cover.request {
                    cover.seen = known.seen;
                }
            }
            self.covers.push(cover);
        }
        let (waiting, old): (Vec<_>, Vec<_>) = old.into_iter().partition(|cover| waits(&cover.target.shown));
        // They are built anew as soon as it can be read.
        self.covers.extend(waiting.into_iter().map(|cover| Follower { seen: None, ..cover }));
        let mut gone: Vec<String> = old.into_iter().map(|cover| cover.target.name).collect();
        gone.sort();
        gone
    }
}

/// Whether a typed file is a catalogue that has no titles for its errors.
fn is_faulty(roster: &Roster, shown: &str) -> bool {
    roster.told.iter().any(|(known, told)| known == shown && told.findings.has_errors())
}

/// A path as it would be typed from the folder of a cover that looked at it.
pub fn shown(place: &Path, covers: &[Follower]) -> String {
    let within = covers.iter().find_map(|cover| place.strip_prefix(&cover.target.folder).ok());
    within.unwrap_or(place).display().to_string()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::build::write_new;

    #[test]
    fn the_titles_of_a_catalogue_wait_while_its_template_is_half_written() {
        const TEMPLATE: &str = "book { pages 100 }\nformat paperback { trim 120 180 }\n";
        let home = tempfile::tempdir().expect("a temporary folder");
        let path = |name: &str| home.path().join(name);
        let write = |name: &str, text: &str| crate::build::write(&path(name), text.as_bytes()).expect("writes");
        let catalogue = b"catalogue { template \"t.kdl\"; titles \"t.csv\" }\n";
        write_new(&path("catalogue.kdl"), catalogue).expect("writes");
        write("t.kdl", TEMPLATE);
        write("t.csv", "title\nA\nB\n");
        let wish = Wish { files: vec![home.path().to_owned()], ..Wish::default() };
        let (mut followed, first) = follow(wish).expect("there are covers");
        assert_eq!(first.due, [0, 1]);
        write("t.kdl", "book { pages 10pt }\n");
        let news = followed.hear(&[path("t.kdl")]);
        assert!(news.due.is_empty() && news.gone.is_empty() && followed.covers.len() == 2);
        assert!(news.told.is_some_and(|told| told.is_ok_and(|roster| is_faulty(&roster, &roster.told[0].0))));
        write("t.kdl", TEMPLATE);
        assert_eq!(followed.hear(&[path("t.kdl")]).due, [0, 1]);
        write("t.csv", "title\nB\n");
        let news = followed.hear(&[path("t.csv")]);
        assert_eq!((news.gone, followed.covers.len()), (vec!["a".to_owned()], 1));
    }
}
