//! Target: a cover to be built, and where its files go.

use crate::record::CoverRequest;
use std::path::PathBuf;

/// What a cover is called when its folder names it.
pub const COVER: &str = "cover.kdl";
/// A catalogue that its folder names.
pub const CATALOGUE: &str = "catalogue.kdl";

/// A cover to be built, and where.
#[derive(Clone, Debug, PartialEq)]
pub struct Target {
    /// The file that was typed; findings count their paths from its folder.
    pub shown: String,
    /// As summaries call it.
    pub name: String,
    pub folder: PathBuf,
    pub request: CoverRequest,
    /// What the names of outputs begin with.
    pub stem: String,
    pub out: PathBuf,
}

/// A cover that a file has.
#[derive(Clone, Debug, PartialEq)]
pub struct KnownCover {
    /// The cover's file, or its catalogue.
    pub source: PathBuf,
    pub out: PathBuf,
    pub stem: String,
}

/// Why nothing can be built, and a way out.
pub type Refusal = (String, String);
