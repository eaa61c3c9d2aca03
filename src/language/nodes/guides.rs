//! `guides`: named levels across the whole wrap, so that ribbon, title and spine meet on one line.
//!
//! ```kdl
//! guides {
//!     level eye top=66                    // millimetres from the head of the trim
//!     level foot-line bottom=24           // from its foot
//! }
//! ```
//!
//! - `level NAME top=N`, `level NAME bottom=N`: millimetres from the head or the foot of the trim.
//!
//! An element measures from a level as from any guide: `top eye`, `bottom eye 2`, `cap-top eye 6`. Besides, every panel
//! offers `trim`, `bleed`, `safe`, `fold` and `centre`; offsets count inwards.

use crate::cover::{Facts, Guide, Level};
use crate::ground::Spanned;
use crate::language::{Desk, Node, Role};
use crate::source::{Reader, Unit};

pub const NODE: Node = Node { name: "guides", source: include_str!("guides.rs"), role: Role::Fact(read) };

fn read(reader: &Reader<'_>, facts: &mut Facts, _desk: &Desk<'_>) {
    for word in reader.children("level") {
        let Some(name) = word.text("a name") else { continue };
        let top = word.length_property("top", Unit::Mm).map(|mm| Level::FromHead(mm.value.mm()));
        let bottom = word.length_property("bottom", Unit::Mm).map(|mm| Level::FromFoot(mm.value.mm()));
        let ((Some(level), None) | (None, Some(level))) = (top, bottom) else {
            word.error(word.span(), "a level says `top=` or `bottom=`, one of the two", "write `level eye top=66`");
            continue;
        };
        if Guide::WORDS.iter().any(|(word, _)| *word == name.value) {
            word.error(name.span, format!("`{}` is a guide of every panel", name.value), "give the level another name");
        } else if facts.guides.levels.insert(name.value.clone(), Spanned::new(level, name.span)).is_some() {
            word.error(name.span, format!("the level `{}` is said twice", name.value), "keep one of the two");
        }
    }
}
