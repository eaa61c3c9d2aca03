//! How far cuts, folds and plates may be off, and what is seen of it.

use crate::check::limit::{PRACTICE, RuleLimit, bare, in_mm};

pub const CUT: RuleLimit = in_mm("cut", "how far a cut may be off", "1", PRACTICE);
pub const FOLD: RuleLimit = in_mm("fold", "how far a fold may be off", "1.5", PRACTICE);
pub const REGISTER: RuleLimit = in_mm("register", "how far two plates may be apart", "0.1", PRACTICE);
pub const UNEVEN: RuleLimit =
    bare("uneven", "a margin this many times as wide as the one opposite is seen to be uneven", "1.5", "ours").most();
