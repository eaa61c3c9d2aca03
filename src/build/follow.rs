//! Follow: the covers of a watch: which of them a change concerns, which appear and which vanish.

use crate::build::known::request;
use crate::build::roster::{Refusal, sought};
use crate::build::sights::Sights;
use crate::build::{Roster, Seen, Target, Wish};
use crate::ground::Digest;
use std::collections::BTreeMap;
use std::path::PathBuf;

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
    let (known_by, roster) = sought(&wish);
    let mut roster = roster?;
    let covers: Vec<Follower> = std::mem::take(&mut roster.targets).into_iter().map(follower).collect();
    let due = (0..covers.len()).collect();
    Ok((Followed { wish, known_by, covers }, News { due, told: Some(Ok(roster)), ..News::default() }))
}

fn follower(target: Target) -> Follower {
    Follower { request: request(&target), target, seen: None }
}

impl Followed {
    /// Learns of changed places.
    pub fn hear(&mut self, changed: &[PathBuf]) -> News {
        let mut news = News::default();
        if changed.iter().any(|place| self.known_by.0.contains_key(place)) {
            let (seen, roster) = sought(&self.wish);
            news.told = Some(match roster {
                Ok(mut roster) => {
                    self.known_by = seen;
                    news.gone = self.exchange(&mut roster);
                    Ok(roster)
                }
                Err(refusal) => {
                    self.known_by = self.known_by.again();
                    self.known_by.0.extend(seen.0);
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
    pub fn sights(&self) -> Sights {
        let mut all = Sights::default();
        all.add(&self.known_by);
        self.covers.iter().filter_map(|cover| cover.seen.as_ref()).for_each(|seen| all.add(seen));
        all
    }

    /// Takes the covers as they are now; what a known one looked at is kept when it asks for the same. Says which are
    /// gone: not those of a catalogue that has errors, which says nothing of its titles.
    fn exchange(&mut self, roster: &mut Roster) -> Vec<String> {
        let place = |target: &Target| (target.out.clone(), target.stem.clone());
        let old = std::mem::take(&mut self.covers).into_iter();
        let mut old: BTreeMap<_, _> = old.map(|cover| (place(&cover.target), cover)).collect();
        for target in std::mem::take(&mut roster.targets) {
            let mut cover = follower(target);
            if let Some(known) = old.remove(&place(&cover.target))
                && known.request == cover.request
            {
                cover.seen = known.seen;
            }
            self.covers.push(cover);
        }
        let (waiting, gone): (Vec<_>, Vec<_>) =
            old.into_values().partition(|cover| is_faulty(roster, &cover.target.shown));
        // They are built anew as soon as it can be read.
        self.covers.extend(waiting.into_iter().map(|cover| Follower { seen: None, ..cover }));
        let mut gone: Vec<String> = gone.into_iter().map(|cover| cover.target.name).collect();
        gone.sort();
        gone
    }
}

/// Whether a typed file is a catalogue that has no titles for its errors.
fn is_faulty(roster: &Roster, shown: &str) -> bool {
    roster.told.iter().any(|(known, told)| known == shown && told.findings.has_errors())
}
