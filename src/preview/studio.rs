//! Studio: all that a preview shares: the workshop, the titles and who listens; and how a title is built and shown.
#![expect(clippy::disallowed_methods, reason = "it says how long a build took")]

use crate::compile::{BuildOptions, BuildRun, Workshop, write_built};
use crate::disk::{Disk, Store};
use crate::ground::{Memo, count};
use crate::preview::answer::Declined;
use crate::preview::list_mistake::ListMistake;
use crate::preview::making::{MadeCover, make};
use crate::preview::news::News;
use crate::preview::titles::{PreviewTitles, TitleState};
use crate::record::Built;
use crate::targets::Target;
use crate::watch::{Followed, Wake};
use serde::Serialize;
use std::sync::mpsc::Sender;
use std::sync::{Arc, Condvar, Mutex, MutexGuard, PoisonError, RwLock};
use std::time::Instant;

/// Bytes of finished PNGs that are remembered.
const PICTURES: usize = 48 << 20;

pub struct Studio {
    pub workshop: Workshop,
    pub store: Option<Arc<Store>>,
    /// Whether the files of covers are written, as `watch` writes them.
    pub writes: bool,
    /// Held while the files of a title are written.
    writing: Mutex<()>,
    /// Shared by builds until their files are written; taken whole by who ends the program.
    ending: RwLock<()>,
    pub editor: Option<String>,
    pub news: News,
    /// What is wrong with the list of covers as a whole.
    pub list_mistakes: Mutex<Vec<ListMistake>>,
    /// Finished PNGs by all that they are made of.
    pub pictures: Memo<Vec<u8>>,
    pub followed: Mutex<Followed>,
    titles: Mutex<PreviewTitles>,
    /// Something is due.
    bell: Condvar,
    wakes: Mutex<Sender<Wake>>,
    /// Words for the terminal.
    tell: Box<dyn Fn(&str) + Send + Sync>,
}

impl Studio {
    pub fn new(
        workshop: Workshop,
        followed: Followed,
        wakes: Sender<Wake>,
        tell: Box<dyn Fn(&str) + Send + Sync>,
    ) -> Studio {
        let mut titles = PreviewTitles::default();
        titles.take(followed.covers.iter().map(|cover| &cover.target));
        Studio {
            workshop,
            store: None,
            writes: false,
            writing: Mutex::default(),
            ending: RwLock::default(),
            editor: None,
            news: News::default(),
            list_mistakes: Mutex::default(),
            pictures: Memo::bounded(PICTURES, Vec::len),
            followed: Mutex::new(followed),
            titles: Mutex::new(titles),
            bell: Condvar::new(),
            wakes: Mutex::new(wakes),
            tell,
        }
    }

    pub fn titles(&self) -> MutexGuard<'_, PreviewTitles> {
        self.titles.lock().unwrap_or_else(PoisonError::into_inner)
    }

    pub fn followed(&self) -> MutexGuard<'_, Followed> {
        self.followed.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Something is due, or is wanted sooner.
    pub fn ring(&self) {
        self.bell.notify_all();
    }

    /// Builds what is due, one title after another, for ever.
    pub fn work(&self) {
        loop {
            let mut titles = self.titles();
            let next = loop {
                match titles.next() {
                    Some(next) => break next,
                    None => titles = self.bell.wait(titles).unwrap_or_else(PoisonError::into_inner),
                }
            };
            drop(titles);
            // A title that vanished meanwhile needs no building.
            let _ = self.ready(next);
        }
    }

    /// Sees to it that a title can be looked at as its files are now.
    pub fn ready(&self, id: u32) -> Result<(), Declined> {
        let turn = self.titles().get(id).ok_or_else(no_title)?.turn.clone();
        let _turn = turn.lock().unwrap_or_else(PoisonError::into_inner);
        let (target, due) = {
            let mut titles = self.titles();
            let entry = titles.get_mut(id).ok_or_else(no_title)?;
            if !entry.waits() {
                return Ok(());
            }
            (entry.target.clone(), std::mem::take(&mut entry.due))
        };
        let begun = Instant::now();
        let disk = Disk::new(&target.folder);
        let made = make(&self.workshop, &disk, &target, &target.request);
        self.followed().saw(&target, disk.seen());
        self.renew_places();
        let built = made.built.clone();
        let _ending = self.ending.read().unwrap_or_else(PoisonError::into_inner);
        self.keep(id, made, begun.elapsed().as_millis() as u64);
        // One that is only looked at again has its files.
        if let Some(built) = built.filter(|_| self.writes && due) {
            self.write(&target, &built, &disk);
        }
        Ok(())
    }

    /// More is to be watched than before.
    pub fn renew_places(&self) {
        let _ = self.wakes.lock().unwrap_or_else(PoisonError::into_inner).send(Wake::Places);
    }

    /// Waits until what the page shows is written to its last file.
    pub fn finish_writing(&self) {
        drop(self.ending.write().unwrap_or_else(PoisonError::into_inner));
    }

    /// Takes what came of a build, and says so to every page.
    fn keep(&self, id: u32, made: MadeCover, milliseconds: u64) {
        let MadeCover { brief, shown, mistake, editions, built: _ } = made;
        let mut titles = self.titles();
        let Some(entry) = titles.get_mut(id) else { return };
        entry.build += 1;
        if let Some(shown) = shown {
            entry.earlier = entry.shown.replace(Arc::new(shown));
            entry.editions = editions;
        }
        entry.mistake = mistake.map(Arc::new);
        let kept = (entry.brief.front.take(), entry.brief.spine.take(), std::mem::take(&mut entry.brief.title));
        entry.brief = brief;
        if !entry.brief.drawn {
            // The last good pictures stay.
            (entry.brief.front, entry.brief.spine, entry.brief.title) = kept;
        }
        let news = BuildNews { title: entry.state(id), milliseconds };
        titles.let_go(id);
        drop(titles);
        self.news.send("build", &news);
    }

    fn write(&self, target: &Target, built: &Built, disk: &Disk) {
        let _writing = self.writing.lock().unwrap_or_else(PoisonError::into_inner);
        let options = BuildOptions::default();
        let run = BuildRun {
            workshop: &self.workshop,
            store: self.store.as_deref(),
            options: &options,
            places: Arc::default(),
        };
        match write_built(&run, target, built, disk) {
            Ok(delivered) => {
                let folder = target.out.display();
                let files = delivered.written.len();
                self.say(&format!("{}: {} written into {folder}\n", target.name, count(files, "file")));
            }
            Err(fault) => self.say(&format!("{}: {fault}\n", target.name)),
        }
    }

    pub fn say(&self, words: &str) {
        (self.tell)(words);
    }
}

/// A title was built: how it stands now, and how long that took.
#[derive(Serialize)]
struct BuildNews {
    #[serde(flatten)]
    title: TitleState,
    milliseconds: u64,
}

pub fn no_title() -> Declined {
    Declined::missing("there is no such title; the list has changed")
}
