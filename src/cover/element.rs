//! Elements: what stands on a cover, and what it can be asked.

use crate::cover::{Bench, FirstLine, Look, Natural, Open, Pen, Place, Region, RunsRound};
use crate::ground::{Path, Rect, Span, Spanned};
use crate::scene::{Kind, Surface};
use std::sync::Arc;

/// One thing on the cover: where it stands, how it mixes, and what it draws.
#[derive(Clone)]
pub struct Element {
    pub name: Spanned<String>,
    pub panel: Surface,
    pub place: Place,
    pub look: Look,
    pub body: Arc<dyn Draw>,
    /// All that is said of it.
    pub span: Span,
}

/// What an element shows.
pub trait Draw: Send + Sync {
    fn kind(&self) -> Kind;

    /// The size it takes where its place leaves that open. `room` is the space there is; a known side is fixed.
    /// `None` when it has no size of its own.
    fn natural(&self, room: Open, bench: &Bench<'_>) -> Natural;

    /// Draws into a frame of the pen's own space. `Pen::room` says in which room its size was found, so that what is drawn
    /// is what `natural` found there.
    fn draw(&self, frame: Rect, pen: &mut Pen<'_>);

    /// How far the capitals of its first line, and that line's baseline, lie under its upper edge.
    fn first_line(&self, _room: Open, _bench: &Bench<'_>) -> Option<FirstLine> {
        None
    }

    /// The same in a frame that is found: words may stand lower in one that is higher than they need.
    fn first_line_in(&self, _frame: Rect, room: Open, bench: &Bench<'_>) -> Option<FirstLine> {
        self.first_line(room, bench)
    }

    /// Where it stands in a region, for an element that has no words of place.
    fn own_place(&self, _region: &Region) -> Option<Place> {
        None
    }

    /// Its lines run from head to foot with letters upright in them: it is drawn turned by a quarter clockwise.
    fn runs_down(&self) -> bool {
        false
    }

    /// The neighbours that its lines run round.
    fn runs_round(&self) -> &[RunsRound] {
        &[]
    }

    /// Its outline in a frame, for lines that run round it; `None` for the frame itself.
    fn contour(&self, _frame: Rect) -> Option<Path> {
        None
    }

    /// Nothing stands here: neighbours measure from where it would have begun.
    fn absent(&self) -> bool {
        false
    }

    /// The path of the picture or drawing that it shows.
    fn art(&self) -> Option<&str> {
        None
    }

    /// The languages that its words may be set in.
    fn languages(&self) -> Vec<&str> {
        Vec::new()
    }

    /// The elements inside it, for those who look through a whole cover.
    fn inner(&self) -> &[Element] {
        &[]
    }
}
