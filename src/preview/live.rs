//! Live: the preview from its start to its end: files are followed, covers built and the page served, each in a thread of
//! its own.

use crate::assets::Keep;
use crate::compile::Workshop;
use crate::disk::Store;
use crate::preview::guard::Guard;
use crate::preview::list_mistake::list_mistakes;
use crate::preview::serve::{listener, serve};
use crate::preview::studio::Studio;
use crate::targets::{Refusal, Selection};
use crate::watch::{Followed, Wake, WatchedPlaces, follow, watch};
use serde_json::json;
use std::path::PathBuf;
use std::sync::mpsc::{Receiver, Sender};
use std::sync::{Arc, PoisonError};
use tokio::sync::oneshot;

pub struct PreviewOptions {
    pub selection: Selection,
    /// 0 takes any that is free.
    pub port: u16,
    /// Whether the files of covers are written.
    pub writes: bool,
    pub editor: Option<String>,
    pub store: Option<Arc<Store>>,
}

/// Shows covers until `Wake::Stop` comes. `tell` says words to the terminal, the address among them.
pub fn preview(
    options: PreviewOptions,
    (sender, wakes): (Sender<Wake>, Receiver<Wake>),
    tell: impl Fn(&str) + Send + Sync + 'static,
) -> Result<(), Refusal> {
    let PreviewOptions { selection, port, writes, editor, store } = options;
    let (followed, update) = follow(selection)?;
    let mistakes = update.list.as_ref().map(list_mistakes).unwrap_or_default();
    for mistake in &mistakes {
        tell(&mistake.to_string());
    }
    if followed.covers.is_empty() {
        return Err(("there is no cover to show".to_owned(), "see `jaconet check` for what is in the way".to_owned()));
    }
    let refused = |why: String| (why, "name another port with --port".to_owned());
    let listener = listener(port).map_err(refused)?;
    let own = listener.local_addr().map_err(|fault| refused(fault.to_string()))?.port();
    let guard = Guard::new(own).map_err(|why| (why, String::new()))?;
    if port != 0 && own != port {
        tell(&format!("port {port} is taken; {own} is the next free one\n"));
    }
    tell(&format!("preview: {}\nCtrl-C ends\n", guard.address()));
    let studio = studio((writes, editor, store), followed, sender.clone(), Box::new(tell));
    *studio.list_mistakes.lock().unwrap_or_else(PoisonError::into_inner) = mistakes;
    let worker = studio.clone();
    std::thread::spawn(move || worker.work());
    let (stop, stopped) = oneshot::channel();
    let (follower, ended) = (studio.clone(), sender);
    std::thread::spawn(move || {
        let _ = stop.send(watch((ended, wakes), &mut |changed| learned(&follower, changed)));
    });
    let served = serve(listener, &studio, guard, stopped).map_err(|why| (why, String::new()));
    studio.finish_writing();
    served
}

fn studio(
    (writes, editor, store): (bool, Option<String>, Option<Arc<Store>>),
    followed: Followed,
    wakes: Sender<Wake>,
    tell: Box<dyn Fn(&str) + Send + Sync>,
) -> Arc<Studio> {
    let keep = store.clone().map(|store| store as Arc<dyn Keep>);
    let mut studio = Studio::new(Workshop::new(keep), followed, wakes, tell);
    (studio.writes, studio.editor, studio.store) = (writes, editor, store);
    Arc::new(studio)
}

/// Marks what a change concerns as due, and says what is to be watched from here on.
fn learned(studio: &Studio, changed: &[PathBuf]) -> WatchedPlaces {
    let mut followed = studio.followed();
    if changed.is_empty() {
        return followed.watched();
    }
    let update = followed.learn(changed);
    followed.put_off(&update.due);
    let mut titles = studio.titles();
    if let Some(Ok(_)) = &update.list {
        titles.take(followed.covers.iter().map(|cover| &cover.target));
    }
    update.due.iter().for_each(|cover| titles.due(&followed.covers[*cover].target));
    drop(titles);
    let watched = followed.watched();
    drop(followed);
    // A terminal that does not scroll holds nobody up.
    if let Some(list) = &update.list {
        let mistakes = list_mistakes(list);
        for mistake in &mistakes {
            studio.say(&mistake.to_string());
        }
        *studio.list_mistakes.lock().unwrap_or_else(PoisonError::into_inner) = mistakes;
        studio.news.send("titles", &json!({}));
    }
    studio.ring();
    watched
}
