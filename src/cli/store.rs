//! Work flags: how many processors a command takes, and where what is dear to make outlasts the run.
#![expect(
    clippy::disallowed_methods,
    reason = "where the store is may depend on the environment; what is built may not"
)]

use crate::assets::Keep;
use crate::cli::say;
use crate::disk::{LIMIT, Store, place};
use etcetera::BaseStrategy as _;
use std::path::PathBuf;
use std::sync::Arc;

/// With what a command works through its covers.
#[derive(clap::Args)]
pub struct WorkArgs {
    /// How many processors to use [default: all]
    #[arg(long, value_parser = clap::value_parser!(u16).range(1..=1024))]
    pub jobs: Option<u16>,
    #[command(flatten)]
    pub store: StoreArgs,
}

#[derive(clap::Args)]
pub struct StoreArgs {
    /// Keep what is dear to make here [default: JACONET_STORE, or `jaconet` in your folder of
    /// caches]
    #[arg(long, value_name = "DIR")]
    pub store: Option<PathBuf>,
    /// Keep nothing, and take up nothing that was kept
    #[arg(long, conflicts_with = "store")]
    pub no_store: bool,
}

impl StoreArgs {
    pub fn open(&self) -> Option<Arc<Store>> {
        let said = std::env::var_os("JACONET_STORE");
        let cache = etcetera::choose_base_strategy().ok().map(|known| known.cache_dir());
        let folder = place(self.store.as_deref(), self.no_store, said.as_deref(), cache.as_deref())?;
        Some(Arc::new(Store::open(folder, LIMIT)))
    }
}

/// The store as the workshop knows it.
pub fn keep(store: Option<&Arc<Store>>) -> Option<Arc<dyn Keep>> {
    store.map(|store| store.clone() as Arc<dyn Keep>)
}

/// After a run: within its limit again, and what was in the way told once. It was only slower for it.
pub fn close(store: Option<&Arc<Store>>) {
    let Some(store) = store else { return };
    store.trim();
    if let Some(trouble) = store.trouble() {
        say::error(&format!("note: {}; the build went on without it\n", say::visible(&trouble)));
    }
}
