//! Variant: a title as it could be, or as it was: with facts that are tried, in another edition, in an earlier revision.

use crate::preview::brief::Mistake;
use crate::preview::shown::ShownCover;
use crate::record::CoverRequest;
use crate::targets::Past;
use serde_json::Value;
use std::sync::Arc;

/// So many are kept of a title.
pub const VARIANTS: usize = 8;

#[derive(Clone)]
pub struct Variant {
    /// `t1`, `r3f2a`
    pub name: String,
    pub request: CoverRequest,
    /// The revision that it is read from; it never changes.
    pub past: Option<Arc<Past>>,
    /// What is tried, fact by fact.
    pub tried: Value,
    pub made: Option<VariantMade>,
}

/// What came of it.
#[derive(Clone)]
pub struct VariantMade {
    /// The build of its title that it belongs to.
    pub build: u64,
    pub shown: Option<Arc<ShownCover>>,
    pub mistake: Option<Arc<Mistake>>,
}
