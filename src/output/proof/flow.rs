//! The proof's pages of words: A4, one under the other, with a running head and the number of the page.

use crate::ground::Rect;
use crate::output::proof::pen::{FAINT, ProofPen, TypeLook, column_height, label_width};
use crate::pdf::{DocumentLayer, DocumentPage};
use crate::scene::Scene;

/// A4 (ISO 216) and its margins, in millimetres.
const PAGE: Rect = Rect::new(0.0, 0.0, 210.0, 297.0);
pub const LEFT: f64 = 20.0;
pub const RIGHT: f64 = 190.0;
const HEAD: f64 = 16.0;
/// A running title may be so wide.
const TITLE: f64 = 120.0;
const FIRST: f64 = 28.0;
const LAST: f64 = 278.0;
const FOOT: f64 = 286.0;

/// Between rows.
const AIR: f64 = 1.2;

pub const NOT_FOR_PRINTING: &str = "For approval, not for printing";

pub struct ProofFlow {
    done: Vec<ProofPen>,
    pub pen: ProofPen,
    /// Where the next words stand.
    pub y: f64,
}

impl Default for ProofFlow {
    fn default() -> ProofFlow {
        ProofFlow { done: Vec::new(), pen: ProofPen::default(), y: FIRST }
    }
}

impl ProofFlow {
    /// Goes to the next page unless so much still stands on this one.
    pub fn room(&mut self, height: f64) {
        if self.y + height > LAST && self.y > FIRST {
            self.turn();
        }
    }

    /// Goes to the next page.
    pub fn turn(&mut self) {
        self.done.push(std::mem::take(&mut self.pen));
        self.y = FIRST;
    }

    /// So much room stands at the foot of the page.
    pub fn at_foot(&mut self, height: f64) {
        self.room(height);
        self.y = LAST - height;
    }

    pub fn heading(&mut self, words: &str) {
        let look = TypeLook::heading();
        self.y += self.pen.column(words, &look, (LEFT, self.y), RIGHT - LEFT) + 2.0;
    }

    /// A part of a page begins, under a hairline.
    pub fn part(&mut self, words: &str, first_row: f64) {
        self.room(9.0 + first_row);
        self.y += 3.4;
        self.pen.hairline((LEFT, self.y), (RIGHT, self.y), FAINT);
        self.y += 2.0;
        self.y += self.pen.column(words, &TypeLook::strong(), (LEFT, self.y), RIGHT - LEFT) + 1.4;
    }

    /// Words side by side, each with its left edge and its width.
    pub fn row(&mut self, columns: &[(&str, TypeLook, f64, f64)]) {
        let heights = columns.iter().map(|(words, look, _, width)| column_height(words, look, *width));
        let height = heights.fold(0.0, f64::max);
        self.room(height);
        for (words, look, x, width) in columns {
            self.pen.column(words, look, (*x, self.y), *width);
        }
        self.y += height + AIR;
    }

    /// How many pages there are.
    pub fn len(&self) -> usize {
        self.done.len() + 1
    }

    /// The pages, which follow the first one of the proof.
    pub fn finish(mut self, scene: &Scene) -> Vec<DocumentPage> {
        self.turn();
        let count = self.done.len() + 1;
        let pages = self.done.into_iter().zip(2..).map(|(mut pen, number)| {
            let title = &scene.job.title;
            if label_width(title, &TypeLook::strong()) < TITLE {
                pen.label(title, &TypeLook::strong(), (LEFT, HEAD), 0.0);
            }
            pen.label(NOT_FOR_PRINTING, &TypeLook::quiet(), (RIGHT, HEAD), 1.0);
            pen.hairline((LEFT, HEAD + 2.4), (RIGHT, HEAD + 2.4), FAINT);
            pen.label(&page_number(number, count), &TypeLook::quiet(), (RIGHT, FOOT), 1.0);
            let layers = vec![DocumentLayer { name: None, items: pen.items }];
            DocumentPage { frame: PAGE, shown: None, picture: None, layers }
        });
        pages.collect()
    }
}

pub fn page_number(number: usize, count: usize) -> String {
    format!("page {number} of {count}")
}
