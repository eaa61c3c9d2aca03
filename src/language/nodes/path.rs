//! `path`: a shape of your own, in the path data of SVG, in millimetres from the frame's upper left corner.
//!
//! ```kdl
//! path wave data="M0 4 C10 0 20 8 30 4 L30 10 L0 10 Z" { swatch black; left safe; width 30; top 50; height 10 }
//! ```
//!
//! The data is drawn at its own size: the frame places its upper left corner, and neither scales nor cuts it. A frame that
//! says no width or height is as large as the path.

use crate::cover::{Bench, Draw, Natural, Open, Pen};
use crate::ground::{Affine, FillRule, Path, Rect, Shape};
use crate::language::context::Context;
use crate::language::fillings::{FILLINGS, Fillings};
use crate::language::headword::{Headword, Role, UNLESS, WHEN, element};
use crate::language::look::LOOK;
use crate::language::path_data::path_data;
use crate::language::place::PLACE;
use crate::scene::Kind;
use crate::source::{Reader, Word, text};
use std::sync::Arc;

pub const HEADWORD: Headword = Headword::new(
    element("path", "a shape of your own").properties(&[DATA, WHEN, UNLESS]).holds(&[FILLINGS, PLACE, LOOK]),
    include_str!("path.rs"),
    Role::Element(Kind::Shape, read),
);

const DATA: Word = Word::new("data", "path data of SVG, in millimetres").takes(&[text("path data")]);

struct Drawn {
    path: Path,
    fillings: Fillings,
}

fn read(reader: &Reader<'_>, context: &Context<'_>) -> Option<Arc<dyn Draw>> {
    let fillings = Fillings::read(reader, context);
    let Some(data) = reader.text_property(&DATA) else {
        reader.lacks(reader.span(), "a path lacks its data", "write data=\"M0 0 L10 0 L5 8 Z\", in millimetres");
        return None;
    };
    let path = path_data(reader, &data)?;
    Some(Arc::new(Drawn { path, fillings }))
}

impl Draw for Drawn {
    fn kind(&self) -> Kind {
        Kind::Shape
    }

    fn natural(&self, _room: Open, _bench: &Bench<'_>) -> Natural {
        let bounds = self.path.bounding_box();
        Natural { width: Some(bounds.x1.max(0.1)), height: Some(bounds.y1.max(0.1)) }
    }

    fn contour(&self, frame: Rect) -> Option<Path> {
        Some(Affine::translate((frame.x0, frame.y0)) * self.path.clone())
    }

    fn draw(&self, frame: Rect, pen: &mut Pen<'_>) {
        let path = Affine::translate((frame.x0, frame.y0)) * self.path.clone();
        // A free line has no inside to keep its stroke in.
        self.fillings.draw(frame, &|_| path.clone(), FillRule::NonZero, pen);
    }
}
