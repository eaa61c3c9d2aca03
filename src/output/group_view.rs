//! Several books in one picture, as they stand in a room.

use crate::assets::Darkroom;
use crate::ground::MM_PER_INCH;
use crate::output::view::{ground, paints, picture, print};
use crate::scene::{Backdrop, BookShape, BookView, Grouping, Scene};
use crate::view::{GroundColours, Paints, PrintedBook, Texture, draw_group};

/// Books collected for a picture, each as its shape and its print alone.
pub struct BookGroup {
    grouping: Grouping,
    view: BookView,
    ground: GroundColours,
    ppi: f64,
    books: Vec<GroupedBook>,
}

struct GroupedBook {
    shape: BookShape,
    print: Texture,
    paints: Paints,
}

/// The print has so many dots to a pixel of the picture, and its resolution is between these.
const FINER: f64 = 1.25;
const LEAST_PPI: f64 = 40.0;
const MOST_PPI: f64 = 220.0;
/// Pixels of a row: so many to a book, and so many at least and at the most.
const ROW: (u32, u32, u32) = (580, 1600, 3600);
const ROW_HEIGHT: u32 = 1050;

impl BookGroup {
    /// A group of so many books. Camera, ground and pixels are those of `view`, which a book of the group has, in its inks.
    pub fn new(grouping: Grouping, books: usize, view: Option<(&BookView, &Scene)>) -> BookGroup {
        let own = BookView { pixels: pixels(grouping, books), ..BookView::default() };
        let (view, ground) = match view {
            Some((view, scene)) => (view.clone(), ground(scene, view)),
            None => (own, Some(crate::view::STUDIO)),
        };
        // As if the books filled the picture; in a row they share it.
        let shared = if grouping == Grouping::Row { books.max(1) as f64 } else { 1.0 };
        let ppi = f64::from(view.pixels.0) * FINER / shared;
        BookGroup { grouping, view, ground, ppi, books: Vec::new() }
    }

    /// Adds a book. Returns whether the cover is one of a book: the picture of a screen stands nowhere.
    pub fn add(&mut self, scene: &Scene, darkroom: &Darkroom) -> bool {
        let Some(standing) = &scene.views else { return false };
        let shape = standing.shape.clone();
        let ppi = (self.ppi / shape.page.0 * MM_PER_INCH).clamp(LEAST_PPI, MOST_PPI);
        let (print, paints) = (print(scene, ppi, darkroom), paints(scene, &shape));
        self.books.push(GroupedBook { shape, print, paints });
        true
    }

    /// The bytes of a PNG, the books in the order given.
    pub fn picture(&self, order: &[usize], title: &str, darkroom: &Darkroom) -> Vec<u8> {
        let books = order.iter().filter_map(|at| self.books.get(*at));
        let books: Vec<PrintedBook<'_>> =
            books.map(|book| PrintedBook { shape: &book.shape, print: &book.print, paints: &book.paints }).collect();
        let view = &self.view;
        let layers = draw_group(&books, self.grouping, (view, self.ground), &|key, make| darkroom.light(key, make));
        let size = (view.pixels.0 as usize, view.pixels.1 as usize);
        picture(&layers.whole(), size, view.backdrop == Backdrop::Clear, title)
    }
}

fn pixels(grouping: Grouping, books: usize) -> (u32, u32) {
    let (each, least, most) = ROW;
    match grouping {
        Grouping::Row => ((each * books.min(100) as u32).clamp(least, most), ROW_HEIGHT),
        Grouping::Pile | Grouping::Fan => BookView::default().pixels,
    }
}
