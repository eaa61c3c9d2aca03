//! Unseen: an element whose picture, words or number could not be had. It keeps its place, so that neighbours find theirs
//! and the mistake is shown where it stands.

use crate::cover::{Bench, Draw, FirstLine, Limit, Natural, Open, Pen};
use crate::ground::Rect;
use crate::scene::Kind;

pub struct Unseen(pub Kind);

/// In millimetres; as good as any.
const SIDE: f64 = 20.0;

impl Draw for Unseen {
    fn kind(&self) -> Kind {
        self.0
    }

    fn natural(&self, room: Open, _bench: &Bench<'_>) -> Natural {
        let side = |room: Limit| Some(room.fixed().unwrap_or(room.most().min(SIDE)));
        Natural { width: side(room.width), height: side(room.height) }
    }

    fn first_line(&self, _room: Open, _bench: &Bench<'_>) -> Option<FirstLine> {
        Some(FirstLine { cap_top: 0.0, baseline: 0.0 })
    }

    fn draw(&self, _frame: Rect, _pen: &mut Pen<'_>) {}
}
