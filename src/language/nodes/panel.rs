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
//! - `baselines LEADING top=N`: lines across the panel, so many points apart, the first so many millimetres under the head
//!   of the trim; a `text` that says `baselines` stands on them.
//!
//! # Every element
//!
//! An element is `kind name`, then what it shows as properties, then where and how as children.
//!
//! - `left`, `right`, `top`, `bottom`, `width`, `height`, `centre-x`, `centre-y`: two of three fix an axis. Words, pictures and
//!   bar codes have a size of their own and need one.
//! - `below NAME GAP`, `above NAME GAP`, `after NAME GAP`, `before NAME GAP`: from a neighbour of the same panel.
//! - `turn DEGREES from=centre`: clockwise, about the middle, an edge or a corner (`top-left`). A quarter turn fills the frame
//!   as it is; any other turns the frame itself.
//! - `opacity PERCENT` (0 to 100), `blend normal|multiply`, `clip frame|oval`: the element as a whole.
//! - `under NAME`, `over NAME`: a place in the order of printing that is not the file's.
//! - `when=FACT`: only where the book states that fact. What is left out has no length, and the gap before it closes:
//!   neighbours that measure from it stand where it would have begun.
//!
//! # The spine
//!
//! The axes of the spine are its own:
//!
//! - `reads auto|down|up|upright|across`: where its words run; `auto` follows the language.
//! - `head EDGE`, `foot EDGE`: along it. `after` and `before` go from head to foot.
//! - `across safe`, `across fold N`, `across N`: between the folds; a bare number is a width, centred.

use crate::cover::{Baselines, Reading};
use crate::language::{Node, Role};
use crate::source::{Reader, Unit};

pub const NODE: Node = Node { name: "panel", source: include_str!("panel.rs"), role: Role::Holder };

/// The lines that words of a panel may stand on.
pub fn baselines(reader: &Reader<'_>) -> Option<Baselines> {
    let word = reader.child("baselines")?;
    let first = word.length_property("top", Unit::Mm).map_or(0.0, |top| top.value.mm());
    let step = word.length("a distance in points", Unit::Pt)?;
    if step.value.pt() < 1.0 {
        word.error(step.span, "baselines this close are no help", "write the leading of the text: `baselines 14.5`");
        return None;
    }
    Some(Baselines { first, step: step.value.mm() })
}

/// Which way a spine's panel says that it reads.
pub fn reads(reader: &Reader<'_>) -> Option<Reading> {
    let said = reader.child("reads")?.word("a direction", &Reading::WORDS.map(|(word, _)| word))?;
    Reading::WORDS.iter().find(|(word, _)| *word == said.value).and_then(|(_, reading)| *reading)
}
