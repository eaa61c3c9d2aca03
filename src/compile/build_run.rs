//! Build run: what is wanted of a run, and what all its covers share.

use crate::compile::workshop::Workshop;
use crate::disk::{PlacesNow, Store};
use std::sync::Arc;

/// What is wanted of a build besides the cover.
#[derive(Clone, Debug, Default)]
pub struct BuildOptions {
    /// Names of outputs, and `report`. Empty: all.
    pub only: Vec<String>,
    /// A word for the outputs that know it, instead of what the cover says.
    pub word: Option<&'static str>,
}

impl BuildOptions {
    pub fn wants(&self, name: &str) -> bool {
        self.only.is_empty() || self.only.iter().any(|only| only == name)
    }
}

pub struct BuildRun<'a> {
    pub workshop: &'a Workshop,
    pub store: Option<&'a Store>,
    pub options: &'a BuildOptions,
    pub places: Arc<PlacesNow>,
}
