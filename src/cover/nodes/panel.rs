//! `panel` and `wrap`: where elements stand.
//!
//! ```kdl
//! wrap {
//!     band ribbon { swatch black; left bleed; right bleed; top 60; height 20 }
//! }
//! panel front {
//!     text title words="{title}" { left safe; right safe; top safe 20 }
//! }
//! panel spine {
//!     reads auto
//!     text spine-title words="{title.short}" { head safe 4; foot safe 30; align centre; size between 6 12 }
//! }
//! ```
//!
//! Panels are `front`, `back`, `spine`, `front-flap`, `back-flap` and, on a case, the joints `front-joint` and
//! `back-joint`. A panel may stand several times; the order in the file is the order on paper, later on top; `under NAME`
//! and `over NAME` on an element say otherwise. `wrap` runs over the whole flat, across folds.
//!
//! Edges are measured inwards from a guide: `left safe 4`, `top bleed`, `right fold -1.5`, or a bare offset from the
//! trim: `left 12`. `of=PANEL` measures from another panel.
//!
//! On the spine the axes are `head` and `foot`, `after` and `before` along it, and `across` between the folds. `reads
//! auto|down|up|upright|across`: where its words run; `auto` follows the language.

use crate::cover::{Node, Reading, Role};
use crate::source::Reader;

pub const NODE: Node = Node { name: "panel", source: include_str!("panel.rs"), role: Role::Holder };

/// Which way a spine's panel says that it reads.
pub fn reads(reader: &Reader<'_>) -> Option<Reading> {
    let said = reader.child("reads")?.word("a direction", &Reading::WORDS.map(|(word, _)| word))?;
    Reading::WORDS.iter().find(|(word, _)| *word == said.value).and_then(|(_, reading)| *reading)
}
