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
//! and `over NAME` on an element change that. `wrap` runs over the whole flat, across folds.
//!
//! Edges are measured inwards from a guide: `left safe 4`, `top bleed`, `right fold -1.5`, or a bare offset from the
//! trim: `left 12`. `of=PANEL` measures from another panel.
//!
//! Texts side by side line up on `baselines 14.5 top=20`, lines across the panel, where each has `baselines` in its braces.
//!
//! # Every element
//!
//! An element is `kind name`, then what it shows as properties, then where and how as children.
//!
//! - Two of `left`, `right`, `width` and `centre-x` fix where it stands from side to side, and two of `top`, `bottom`,
//!   `height` and `centre-y` from top to bottom. Words, pictures and bar codes have a size of their own and need one.
//! - `below heading 8`, `above`, `after` and `before` measure from a neighbour of the same panel.
//! - `of=NEIGHBOUR` stands an edge on the same line of a neighbour: `bottom of=badge`, `centre-y of=badge`,
//!   `baseline of=author`. `centre`, `baseline` and `cap-top` name another of its lines: `bottom baseline of=author`.
//! - With `when=subtitle` an element is drawn only where the book states a subtitle, and with `unless=subtitle` only where it
//!   states none. What is left out takes no room, and the gap before it closes: neighbours that measure from it stand where
//!   it would have begun.
//!
//! # The spine
//!
//! The axes of the spine are its own: `head safe 4` and `foot safe 30` along it, `across safe` between its folds; `after` and
//! `before` go from head to foot. Its words run as it `reads`; by default that follows the language.

use crate::cover::{Baselines, Reading};
use crate::language::headword::{Headword, Role};
use crate::source::{Besides, KnownBy, Laid, Reader, Word, choice, mm, name, pt, words_of};

pub const HEADWORD: Headword = Headword::new(PANEL, include_str!("panel.rs"), Role::Holder).beside(WRAP);

pub const PANEL: Word = Word::new("panel", "a panel of the cover")
    .takes(&[name("a panel's name")])
    .holds(&[&[READS, BASELINES]])
    .besides(Besides::Elements)
    .many()
    .known_by(KnownBy::Name)
    .laid(Laid::Inside);

pub const WRAP: Word = Word::new("wrap", "the whole flat, across folds")
    .holds(&[&[BASELINES]])
    .besides(Besides::Elements)
    .many()
    .laid(Laid::Inside);
const READS: Word = Word::new("reads", "on the spine: where its words run")
    .takes(&[choice("a direction", &words_of(&Reading::WORDS))])
    .default("auto");
const BASELINES: Word = Word::new("baselines", "lines that words may stand on, so many points apart")
    .takes(&[pt("a distance in points", 1.0, 1000.0)])
    .properties(&[TOP]);
const TOP: Word = Word::new("top", "the first of them, from the head of the trim")
    .takes(&[mm("a distance", -1000.0, 1000.0)])
    .default("0");

/// The lines that words of a panel may stand on.
pub fn baselines(reader: &Reader<'_>) -> Option<Baselines> {
    let word = reader.child(&BASELINES)?;
    let first = word.mm_property(&TOP).unwrap_or(0.0);
    let step = word.length()?;
    Some(Baselines { first, step: step.value.mm() })
}

/// Which way a spine's panel says that it reads.
pub fn reads(reader: &Reader<'_>) -> Option<Reading> {
    reader.child(&READS)?.choose(&Reading::WORDS)?
}
