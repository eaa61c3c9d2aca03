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
                    news.gone = self.exchange(std::mem::take(&mut roster.targets));
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
        news.due = (0..self.covers.len()).filter(|at| concerned(&self.covers[*at])).collect();
        news
    }

    /// Everything that a change could concern.
    pub fn seen(&self) -> Seen {
        let mut all = self.known_by.clone();
        self.covers.iter().filter_map(|cover| cover.seen.as_ref()).for_each(|seen| all.join(seen));
        all
    }

    /// Takes the covers as they are now; what a known one looked at is kept when it asks for the same. Says which are gone.
    fn exchange(&mut self, targets: Vec<Target>) -> Vec<String> {
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
        let mut gone: Vec<String> = old.into_iter().map(|cover| cover.target.name).collect();
        gone.sort();
        gone
    }
}

/// A path as it would be typed from the folder of a cover that looked at it.
pub fn shown(place: &Path, covers: &[Follower]) -> String {
    let within = covers.iter().find_map(|cover| place.strip_prefix(&cover.target.folder).ok());
    within.unwrap_or(place).display().to_string()
}
