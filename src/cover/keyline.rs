//! Keyline: the page that the printer sent to design on, and how it lies on our sheet.

use crate::ground::{Point, Rect, Span};
use crate::printed::{PageLine, PrintedPage};
use std::sync::Arc;

#[derive(Clone)]
pub struct Keyline {
    pub page: Arc<PrintedPage>,
    /// Where the cover names it.
    pub span: Span,
}

/// Millimetres by which drawn lines may miss the size of a trim.
const SAME: f64 = 0.25;
/// An edge of the trim is drawn along at least this share of it.
const LONG: f64 = 0.5;

impl Keyline {
    /// Its trim on its own page: its `TrimBox`; or, where it states none that fits, lines as far apart as our trim is wide and
    /// high. Many writers of PDFs repeat the whole page as the `TrimBox`.
    pub fn trim(&self, ours: Rect) -> Option<Rect> {
        let stated = self.page.boxes.get("TrimBox").copied();
        let fits =
            |trim: &Rect| (trim.width() - ours.width()).abs() <= SAME && (trim.height() - ours.height()).abs() <= SAME;
        let is_whole = |trim: &Rect| self.page.boxes.get("MediaBox") == Some(trim);
        if let Some(trim) = stated.filter(|trim| fits(trim) || !is_whole(trim)) {
            return Some(trim);
        }
        self.drawn(ours).or(stated)
    }

    /// A frame of our size among its lines.
    fn drawn(&self, ours: Rect) -> Option<Rect> {
        let (x0, x1) = self.pair(true, ours.width(), ours.height())?;
        let (y0, y1) = self.pair(false, ours.height(), ours.width())?;
        Some(Rect::new(x0, y0, x1, y1))
    }

    /// Two long lines this far apart.
    fn pair(&self, upright: bool, apart: f64, along: f64) -> Option<(f64, f64)> {
        let long = |line: &&PageLine| line.upright == upright && line.to - line.from >= LONG * along;
        let mut all: Vec<f64> = self.page.lines.iter().filter(long).map(|line| line.at).collect();
        all.sort_by(f64::total_cmp);
        all.iter().find_map(|first| {
            let from = all.partition_point(|at| *at < first + apart - SAME);
            all.get(from).filter(|at| **at <= first + apart + SAME).map(|at| (*first, *at))
        })
    }

    /// Its straight lines and its trim on our sheet, laid on the lower left corner of our trim. Empty where no trim is known.
    pub fn on_sheet(&self, ours: Rect) -> Vec<[Point; 2]> {
        let Some(trim) = self.trim(ours) else { return Vec::new() };
        let place = |x: f64, y: f64| Point::new(ours.x0 + x - trim.x0, ours.y1 - (y - trim.y0));
        let laid = |line: &PageLine| {
            let (at, from, to) = (line.at, line.from, line.to);
            if line.upright { [place(at, from), place(at, to)] } else { [place(from, at), place(to, at)] }
        };
        let edge = |upright, at, from, to| laid(&PageLine { upright, at, from, to });
        let edges = [
            edge(true, trim.x0, trim.y0, trim.y1),
            edge(true, trim.x1, trim.y0, trim.y1),
            edge(false, trim.y0, trim.x0, trim.x1),
            edge(false, trim.y1, trim.x0, trim.x1),
        ];
        self.page.lines.iter().map(laid).chain(edges).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    const OURS: Rect = Rect::new(0.0, 0.0, 278.0, 198.0);

    fn keyline(trim: Option<Rect>, lines: &[(bool, f64, f64, f64)]) -> Keyline {
        let mut page = PrintedPage::default();
        page.boxes.insert("MediaBox", Rect::new(0.0, 0.0, 400.0, 300.0));
        page.boxes.extend(trim.map(|trim| ("TrimBox", trim)));
        page.lines = lines.iter().map(|&(upright, at, from, to)| PageLine { upright, at, from, to }).collect();
        Keyline { page: Arc::new(page), span: Span::default() }
    }

    const FRAME: [(bool, f64, f64, f64); 5] = [
        (true, 50.0, 40.0, 240.0),
        (true, 179.0, 40.0, 240.0),
        (true, 328.1, 40.0, 240.0),
        (false, 42.0, 40.0, 340.0),
        (false, 240.0, 40.0, 340.0),
    ];

    #[test]
    fn a_trim_that_is_drawn_is_taken_where_none_is_stated() {
        let drawn = Rect::new(50.0, 42.0, 328.1, 240.0);
        assert_eq!(keyline(None, &FRAME).trim(OURS), Some(drawn));
        let whole = Rect::new(0.0, 0.0, 400.0, 300.0);
        assert_eq!(keyline(Some(whole), &FRAME).trim(OURS), Some(drawn));
        assert_eq!(keyline(Some(whole), &FRAME[1..]).trim(OURS), Some(whole));
        let stated = Rect::new(10.0, 10.0, 290.0, 208.0);
        assert_eq!(keyline(Some(stated), &FRAME).trim(OURS), Some(stated));
        assert_eq!(keyline(None, &FRAME[1..]).trim(OURS), None);
    }

    #[test]
    fn lines_lie_on_the_sheet_by_the_foot_of_the_trim() {
        let lines = keyline(None, &FRAME).on_sheet(OURS);
        // The fold at 129 mm, from 2 mm under the foot to the head.
        assert_eq!(lines[1], [Point::new(129.0, 200.0), Point::new(129.0, 0.0)]);
        assert_eq!(lines[4], [Point::new(-10.0, 0.0), Point::new(290.0, 0.0)]);
        assert_eq!(lines.len(), 9);
    }
}
