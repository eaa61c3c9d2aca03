//! Where every spine and every front stands in the picture, in pixels.

use crate::ground::{MM_PER_INCH, Rect};
use crate::output::series::shrink::RgbPixels;
use crate::output::series::views::BookViews;

/// Between two spines: books stand side by side, not in one block. Millimetres, as all of the shelf.
const GAP: f64 = 0.4;
const MARGIN: f64 = 15.0;
/// The edge of the board that the books stand on.
const BOARD: f64 = 3.2;
/// From the board to the fronts.
const BELOW: f64 = 13.0;
/// Between fronts, in pixels, as a shop has it.
const APART: usize = 28;
/// A row of fronts may be this wide, in pixels, even under a shorter row of spines; or a quarter wider than the spines.
const ROW: usize = 800;

/// A place for one patch; its upper left corner.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct BookSlot {
    /// Which book.
    pub book: usize,
    pub x: usize,
    pub y: usize,
    pub width: usize,
    pub height: usize,
}

#[derive(Debug)]
pub struct SeriesPlan {
    pub width: usize,
    pub height: usize,
    /// Rows of the board's edge; `None` when no book has a spine.
    pub board: Option<std::ops::Range<usize>>,
    /// From left to right.
    pub spines: Vec<BookSlot>,
    /// Row by row.
    pub fronts: Vec<BookSlot>,
}

/// Width and height of a part of a sheet, as the raster rounds them.
pub fn pixels(rect: Rect, ppi: f64) -> (usize, usize) {
    let side = |length: f64| (length * ppi / MM_PER_INCH).round().max(1.0) as usize;
    (side(rect.width()), side(rect.height()))
}

impl SeriesPlan {
    pub fn new(books: &[&BookViews], ppi: f64) -> SeriesPlan {
        let [gap, margin, board, below] =
            [GAP, MARGIN, BOARD, BELOW].map(|mm| (mm * ppi / MM_PER_INCH).round().max(1.0) as usize);
        // A fine picture has wide margins, but the fronts keep their pixels: nor may a coarse one crowd them.
        let (margin, below) = (margin.max(APART), below.max(APART));
        let spines = row(books, |book| book.spine.as_ref(), gap);
        let fronts = row(books, |book| book.front.as_ref(), APART);
        let rows = broken(&fronts, (extent(&spines) / 4 * 5).max(ROW));
        let fronts_wide = rows.iter().map(|row| extent(row)).max().unwrap_or(0);
        let wide = extent(&spines).max(fronts_wide);
        let tall = spines.iter().map(|spot| spot.height).max().unwrap_or(0);
        let ground = margin + tall;
        let set = |spots: &[BookSlot], left: usize, y: &dyn Fn(&BookSlot) -> usize| -> Vec<BookSlot> {
            spots.iter().map(|spot| BookSlot { x: spot.x + left, y: y(spot), ..*spot }).collect()
        };
        let mut layout = SeriesPlan {
            width: wide + 2 * margin,
            height: 0,
            board: (!spines.is_empty()).then(|| ground..ground + board),
            spines: set(&spines, margin + (wide - extent(&spines)) / 2, &|spot| ground - spot.height),
            fronts: Vec::new(),
        };
        let mut top = if spines.is_empty() { margin } else { ground + board + below };
        for row in &rows {
            let high = row.iter().map(|spot| spot.height).max().unwrap_or(0);
            let left = margin + (wide - fronts_wide) / 2;
            layout.fronts.extend(set(row, left, &|spot| top + high - spot.height));
            top += high + APART;
        }
        layout.height = top - if rows.is_empty() { 0 } else { APART } + margin;
        // Books that read leftwards stand from the right.
        if books.iter().filter(|book| book.leftwards).count() * 2 > books.len() {
            let width = layout.width;
            layout.spines.iter_mut().chain(&mut layout.fronts).for_each(|spot| spot.x = width - spot.x - spot.width);
            layout.spines.reverse();
        }
        layout
    }
}

/// All in one row, the first at the left.
fn row(books: &[&BookViews], patch: impl Fn(&BookViews) -> Option<&RgbPixels>, gap: usize) -> Vec<BookSlot> {
    let mut x = 0;
    let mut spots = Vec::new();
    for (book, patch) in books.iter().enumerate().filter_map(|(at, book)| Some((at, patch(book)?))) {
        spots.push(BookSlot { book, x, y: 0, width: patch.width, height: patch.height });
        x += patch.width + gap;
    }
    spots
}

fn extent(spots: &[BookSlot]) -> usize {
    spots.last().map_or(0, |last| last.x + last.width)
}

/// Broken into as few rows as the width allows, with as many fronts in each.
fn broken(spots: &[BookSlot], width: usize) -> Vec<Vec<BookSlot>> {
    let fill = |most: usize| {
        let mut rows: Vec<Vec<BookSlot>> = Vec::new();
        let mut left = 0;
        for spot in spots {
            if let Some(row) = rows.last_mut().filter(|row| row.len() < most && spot.x + spot.width <= left + width) {
                row.push(BookSlot { x: spot.x - left, ..*spot });
            } else {
                left = spot.x;
                rows.push(vec![BookSlot { x: 0, ..*spot }]);
            }
        }
        rows
    };
    let rows = fill(usize::MAX).len();
    fill(spots.len().div_ceil(rows.max(1)))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn book(spine: Option<(usize, usize)>, front: usize, leftwards: bool) -> BookViews {
        let patch = |width, height| RgbPixels { width, height, rgb: Vec::new() };
        BookViews {
            spine: spine.map(|(width, height)| patch(width, height)),
            front: Some(patch(front, 160)),
            leftwards,
        }
    }

    /// 254 pixels an inch are ten a millimetre.
    fn layout(books: &[BookViews]) -> SeriesPlan {
        SeriesPlan::new(&books.iter().collect::<Vec<_>>(), 254.0)
    }

    fn corners(spots: &[BookSlot]) -> Vec<(usize, usize, usize)> {
        spots.iter().map(|spot| (spot.book, spot.x, spot.y)).collect()
    }

    #[test]
    fn books_of_any_height_stand_on_one_line() {
        let books = [book(Some((200, 1980)), 100, false), book(None, 110, false), book(Some((150, 2100)), 120, false)];
        let layout = layout(&books);
        // Two spines and a gap of 4 pixels are 354 wide, three fronts with gaps of 28 are 386; margins are 150.
        assert_eq!((layout.width, layout.board), (686, Some(2250..2282)));
        assert_eq!(corners(&layout.spines), [(0, 166, 270), (2, 370, 150)]);
        // 130 below the board.
        assert_eq!(corners(&layout.fronts), [(0, 150, 2412), (1, 278, 2412), (2, 416, 2412)]);
        assert_eq!(layout.height, 2412 + 160 + 150);
    }

    #[test]
    fn fronts_break_into_even_rows() {
        let books: Vec<BookViews> = (0..7).map(|_| book(Some((20, 100)), 100, false)).collect();
        let layout = layout(&books);
        // 800 pixels hold six fronts of 100 with their gaps; seven are four and three.
        let rows: Vec<usize> = layout.fronts.iter().map(|spot| spot.y).collect();
        assert_eq!(rows[..4], [rows[0]; 4]);
        assert_eq!(rows[4..], [rows[0] + 188; 3]);
        assert_eq!(layout.fronts[4].x, layout.fronts[0].x);
    }

    #[test]
    fn books_that_read_leftwards_stand_from_the_right() {
        let books = [book(Some((200, 1980)), 100, true), book(Some((150, 1980)), 100, true)];
        let layout = layout(&books);
        assert_eq!(corners(&layout.spines), [(1, 150, 150), (0, 304, 150)]);
        assert!(layout.fronts[0].x > layout.fronts[1].x);
        let alone = self::layout(&[book(None, 100, true)]);
        assert_eq!((alone.board.clone(), alone.spines.len(), alone.height), (None, 0, 150 + 160 + 150));
    }
}
