//! `ground`: the colour of a whole panel, out into the bleed and round its folds.
//!
//! ```kdl
//! panel back { ground paper { swatch black percent=10 } }
//! panel front { ground paper { swatch black percent=10 } }
//! panel spine { ground cloth { swatch black percent=70; reach 1.5 } }
//! ```
//!
//! It has no words of place: it fills its panel, or all of a `wrap`, bleeds where the sheet is cut, and ends at the folds.
//! `reach 1.5` carries it so many millimetres over each fold. A colour that ends on a fold shows as a stripe when the fold
//! drifts; carry one of the two colours over the fold and let it come later in the file, so that it lies on top.

use crate::cover::{Bench, Draw, Edge, From, Guide, Natural, Open, Pen, Place, Region, Stretch};
use crate::ground::{FillRule, Rect, Shape, Span, TOLERANCE};
use crate::language::context::Context;
use crate::language::fillings::{FILLINGS, Fillings};
use crate::language::headword::{Headword, Role, element};
use crate::language::look::LOOK;
use crate::language::place::PLACE;
use crate::scene::Kind;
use crate::source::{Reader, Word, mm};
use std::sync::Arc;

pub const HEADWORD: Headword = Headword::new(
    element("ground", "the colour of a whole panel").holds(&[&[REACH], FILLINGS, LOOK]),
    include_str!("ground.rs"),
    Role::Element(Kind::Shape, read),
);

const REACH: Word =
    Word::new("reach", "how far it goes over the folds").takes(&[mm("a distance", 0.0, 100.0)]).default("0");

struct PanelGround {
    fillings: Fillings,
    reach: f64,
    span: Span,
}

fn read(reader: &Reader<'_>, context: &Context<'_>) -> Option<Arc<dyn Draw>> {
    let stands = |word: &&Word| reader.node.children.iter().any(|child| child.name.value == word.name);
    for word in PLACE.iter().filter(stands) {
        for found in reader.children(word) {
            found.skip();
            let message = format!("a ground fills its panel, and has no `{}`", word.name);
            found.error(found.span(), message, "take it away; a rectangle that stands anywhere is a `band`");
        }
    }
    let fillings = Fillings::read(reader, context);
    let reach = reader.child(&REACH).and_then(|word| word.mm()).unwrap_or(0.0);
    Some(Arc::new(PanelGround { fillings, reach, span: reader.span() }))
}

impl Draw for PanelGround {
    fn kind(&self) -> Kind {
        Kind::Shape
    }

    fn natural(&self, _room: Open, _bench: &Bench<'_>) -> Natural {
        Natural::default()
    }

    fn own_place(&self, region: &Region) -> Option<Place> {
        let edge = |guide, offset| Edge { from: From::Guide(guide), offset, of: None, span: self.span };
        let side = |fold: bool| if fold { edge(Guide::Fold, -self.reach) } else { edge(Guide::Bleed, 0.0) };
        let [left, right] = region.folds;
        let bleed = || edge(Guide::Bleed, 0.0);
        let x = Stretch::Between { start: side(left), end: side(right) };
        let y = Stretch::Between { start: bleed(), end: bleed() };
        Some(Place { x, y })
    }

    fn draw(&self, frame: Rect, pen: &mut Pen<'_>) {
        let outline = |inset: f64| frame.inset(-inset).to_path(TOLERANCE);
        self.fillings.draw(frame, &outline, FillRule::NonZero, pen);
    }
}
