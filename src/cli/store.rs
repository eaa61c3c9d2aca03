//! Store: where what is slow to make outlasts a run.
#![expect(
    clippy::disallowed_methods,
    reason = "where the store is may depend on the environment; what is built may not"
)]

use crate::assets::Keep;
use crate::cli::flags::StoreArgs;
use crate::cli::say;
use crate::disk::{LIMIT, Store, place};
use etcetera::BaseStrategy as _;
use std::sync::Arc;

/// `None`: nothing is to be kept.
pub fn open(args: &StoreArgs) -> Option<Arc<Store>> {
    let stated = std::env::var_os("JACONET_STORE");
    let cache = etcetera::choose_base_strategy().ok().map(|known| known.cache_dir());
    let folder = place(args.store.as_deref(), args.no_store, stated.as_deref(), cache.as_deref())?;
    Some(Arc::new(Store::open(folder, LIMIT)))
}

/// The store as the workshop knows it.
pub fn keep(store: Option<&Arc<Store>>) -> Option<Arc<dyn Keep>> {
    store.map(|store| store.clone() as Arc<dyn Keep>)
}

/// After a run: within its limit again. What was in its way is reported once; it only cost time.
pub fn close(store: Option<&Arc<Store>>) {
    let Some(store) = store else { return };
    store.trim();
    if let Some(trouble) = store.trouble() {
        say::error(&format!("note: {}; the build went on without it\n", say::visible(&trouble)));
    }
}
