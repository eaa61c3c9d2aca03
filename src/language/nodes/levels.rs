//! `levels`: named heights across the whole wrap, so that ribbon, title and spine meet on one line.
//!
//! ```kdl
//! levels {
//!     level eye top=66                    // millimetres from the head of the trim
//!     level foot-line bottom=24           // from its foot
//! }
//! ```
//!
//! An element measures from a level as from any guide: `top eye`, `bottom eye 2`, `cap-top eye 6`. In addition, every panel
//! offers the guides `trim`, `bleed`, `safe`, `fold` and `centre`; offsets count inwards.

use crate::cover::{Facts, Guide, Level};
use crate::ground::Spanned;
use crate::language::context::Desk;
use crate::language::headword::{Headword, NAME, Role};
use crate::source::{KnownBy, Laid, Reader, Slot, Word, mm};

pub const HEADWORD: Headword = Headword::new(
    Word::new("levels", "named heights across the whole wrap").holds(&[&[LEVEL]]).laid(Laid::Inside).was(&["guides"]),
    include_str!("levels.rs"),
    Role::Fact(read),
);

const LEVEL: Word = Word::new("level", "a height, from the head or from the foot of the trim")
    .takes(NAME)
    .properties(&[TOP, BOTTOM])
    .known_by(KnownBy::AnyOfName);
const TOP: Word = Word::new("top", "from the head of the trim").takes(DISTANCE);
const BOTTOM: Word = Word::new("bottom", "from its foot").takes(DISTANCE);
const DISTANCE: &[Slot] = &[mm("a distance", -1000.0, 1000.0)];

fn read(reader: &Reader<'_>, facts: &mut Facts, _desk: &Desk<'_>) {
    for word in reader.children(&LEVEL) {
        let Some(name) = word.text() else { continue };
        let top = word.mm_property(&TOP).map(Level::FromHead);
        let bottom = word.mm_property(&BOTTOM).map(Level::FromFoot);
        let ((Some(level), None) | (None, Some(level))) = (top, bottom) else {
            word.error(word.span(), "a level has `top=` or `bottom=`, one of the two", "write `level eye top=66`");
            continue;
        };
        if Guide::WORDS.iter().any(|(word, _)| *word == name.value) {
            word.error(name.span, format!("`{}` is a guide of every panel", name.value), "give the level another name");
        } else if facts.guides.levels.insert(name.value.clone(), Spanned::new(level, name.span)).is_some() {
            word.error(name.span, format!("the level `{}` stands here twice", name.value), "keep one of the two");
        }
    }
}
