//! Titles: the covers of a preview, numbered for as long as it runs, each with what came of it last.

use crate::preview::brief::{Mistake, TitleBrief};
use crate::preview::shown::ShownCover;
use crate::preview::variant::Variant;
use crate::targets::Target;
use serde::Serialize;
use std::collections::BTreeMap;
use std::sync::{Arc, Mutex};

/// So many titles are kept as they can be looked at; any other is built again when it is asked for.
const KEPT: usize = 24;

#[derive(Default)]
pub struct PreviewTitles {
    all: BTreeMap<u32, TitleEntry>,
    /// As the files name them.
    order: Vec<u32>,
    /// What the page shows now: these come first.
    pub wanted: Vec<u32>,
    next: u32,
    uses: u64,
}

pub struct TitleEntry {
    pub target: Target,
    /// Counts builds; 0 before the first.
    pub build: u64,
    /// Something that it is made of has changed.
    pub due: bool,
    pub brief: TitleBrief,
    pub shown: Option<Arc<ShownCover>>,
    /// The build before that.
    pub earlier: Option<Arc<ShownCover>>,
    /// Why there is nothing newer to show.
    pub mistake: Option<Arc<Mistake>>,
    pub variants: Vec<Variant>,
    /// How many were tried.
    pub tries: usize,
    pub editions: Vec<String>,
    /// Held while it is built, so that nobody builds it twice.
    pub turn: Arc<Mutex<()>>,
    used: u64,
}

impl TitleEntry {
    fn new(target: Target) -> TitleEntry {
        TitleEntry {
            target,
            build: 0,
            due: true,
            brief: TitleBrief::default(),
            shown: None,
            earlier: None,
            mistake: None,
            variants: Vec::new(),
            tries: 0,
            editions: Vec::new(),
            turn: Arc::default(),
            used: 0,
        }
    }

    /// Whether it cannot be looked at as it is.
    pub fn waits(&self) -> bool {
        self.due || (self.shown.is_none() && self.mistake.is_none())
    }

    pub fn state(&self, id: u32) -> TitleState {
        let row = self.target.request.title.as_ref().map(|title| title.stem.clone());
        let brief = self.brief.clone();
        TitleState {
            id,
            build: self.build,
            name: row.unwrap_or_else(|| self.target.shown.clone()),
            edition: self.target.request.edition.clone(),
            state: brief.state(self.build),
            mistake: self.mistake.is_some(),
            brief: TitleBrief {
                title: if brief.title.is_empty() { self.target.stem.clone() } else { brief.title },
                ..brief
            },
        }
    }
}

/// What the page hears of a title.
#[derive(Serialize)]
pub struct TitleState {
    id: u32,
    build: u64,
    name: String,
    edition: Option<String>,
    state: &'static str,
    mistake: bool,
    #[serde(flatten)]
    brief: TitleBrief,
}

impl PreviewTitles {
    /// Takes the covers as they are now; a known one keeps its number and its pictures.
    pub fn take<'a>(&mut self, targets: impl Iterator<Item = &'a Target>) {
        let place = |target: &Target| (target.out.clone(), target.stem.clone());
        let old: BTreeMap<_, u32> = self.all.iter().map(|(id, entry)| (place(&entry.target), *id)).collect();
        let mut known = std::mem::take(&mut self.all);
        self.order.clear();
        for target in targets {
            let kept = old.get(&place(target)).and_then(|id| Some((*id, known.remove(id)?)));
            let (id, mut entry) = kept.unwrap_or_else(|| {
                self.next += 1;
                (self.next - 1, TitleEntry::new(target.clone()))
            });
            // Whether it asks for something else is known to who follows the files, and comes as what is due.
            entry.target = target.clone();
            self.order.push(id);
            self.all.insert(id, entry);
        }
    }

    /// Something that a cover is made of has changed.
    pub fn due(&mut self, target: &Target) {
        let is_it = |entry: &&mut TitleEntry| entry.target.out == target.out && entry.target.stem == target.stem;
        if let Some(entry) = self.all.values_mut().find(is_it) {
            entry.due = true;
        }
    }

    /// The next that is due: what the page shows, what was looked at last, then all in their order.
    pub fn next(&self) -> Option<u32> {
        let due = |id: &u32| self.all.get(id).is_some_and(|entry| entry.due);
        let looked_at = self.all.iter().filter(|(_, entry)| entry.due && entry.used > 0);
        let latest = looked_at.max_by_key(|(_, entry)| entry.used).map(|(id, _)| *id);
        let wanted = self.wanted.iter().copied().find(due);
        wanted.or(latest).or_else(|| self.order.iter().copied().find(due))
    }

    pub fn get(&self, id: u32) -> Option<&TitleEntry> {
        self.all.get(&id)
    }

    pub fn get_mut(&mut self, id: u32) -> Option<&mut TitleEntry> {
        self.all.get_mut(&id)
    }

    /// A title is looked at.
    pub fn looked_at(&mut self, id: u32) {
        self.uses += 1;
        let now = self.uses;
        self.all.get_mut(&id).into_iter().for_each(|entry| entry.used = now);
    }

    /// Lets go of the pictures of titles that nobody has looked at for longest.
    pub fn let_go(&mut self, but: u32) {
        let kept = self.all.iter().filter(|(id, entry)| entry.shown.is_some() && **id != but);
        let mut kept: Vec<(u64, u32)> = kept.map(|(id, entry)| (entry.used, *id)).collect();
        kept.sort_unstable();
        let over = (kept.len() + 1).saturating_sub(KEPT);
        for (_, id) in kept.into_iter().take(over) {
            if let Some(entry) = self.all.get_mut(&id) {
                (entry.shown, entry.earlier) = (None, None);
                entry.variants.clear();
            }
        }
    }

    pub fn state(&self) -> Vec<TitleState> {
        self.order.iter().filter_map(|id| Some(self.all.get(id)?.state(*id))).collect()
    }
}
