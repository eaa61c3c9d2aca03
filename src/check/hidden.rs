//! Hidden: which elements lie under later ones, found for all of them in one pass from the top down.

use crate::check::exam::{Exam, TOUCH, outlines};
use crate::check::under::contains;
use crate::check::visible::{VisibleElement, VisibleMark, is_rectangle};
use crate::ground::{Paint, Point, Rect};
use crate::scene::{Kind, Mark};

/// Cells across and down in which later marks are looked for.
const CELLS: usize = 32;
/// How many places across and down of an element must lie under something later.
const PLACES: usize = 4;
/// An element of more outlines is asked at its very edges, too: composing the sheet for it takes long. Their distance from
/// the edges is in shares of its width and height.
const HEAVY: usize = 10;
const EDGE: f64 = 0.001;

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Hidden {
    No,
    /// Something later lies over every part of it; only the composed sheet tells whether it is seen.
    Perhaps,
    /// One opaque rectangle covers it.
    Wholly,
}

/// The answer for every element, in their order.
pub fn hidden(exam: &Exam<'_>) -> Vec<Hidden> {
    let sheet = exam.sheet().bleed;
    let mut above = Above { sheet, cells: vec![SheetCell::default(); CELLS * CELLS], opaque: Vec::new() };
    let mut answers = vec![Hidden::No; exam.elements.len()];
    for (element, answer) in exam.elements.iter().zip(&mut answers).rev() {
        let shown = element.bounds.intersect(sheet);
        // What ends at the same edge may still tint it: the composed sheet tells.
        let reach = shown.inflate(2.0 * TOUCH, 2.0 * TOUCH);
        if above.opaque.iter().any(|opaque| contains(*opaque, reach)) {
            *answer = Hidden::Wholly;
        } else if places(shown, is_heavy(element)).all(|place| above.lies_over(place)) {
            *answer = Hidden::Perhaps;
        }
        exam.marks[element.range.clone()].iter().for_each(|mark| above.add(mark));
    }
    answers
}

fn is_heavy(element: &VisibleElement<'_>) -> bool {
    element.marks.iter().map(|mark| outlines(mark.item)).sum::<usize>() > HEAVY && !element.is(Kind::Text)
}

fn places(shown: Rect, at_edges: bool) -> impl Iterator<Item = Point> {
    let share = move |step: usize| {
        if at_edges {
            EDGE + step as f64 / (PLACES - 1) as f64 * (1.0 - 2.0 * EDGE)
        } else {
            (step as f64 + 0.5) / PLACES as f64
        }
    };
    (0..PLACES * PLACES).map(move |at| {
        let (x, y) = (share(at % PLACES), share(at / PLACES));
        Point::new(shown.x0 + shown.width() * x, shown.y0 + shown.height() * y)
    })
}

/// The marks that lie above the elements still to come.
struct Above {
    sheet: Rect,
    cells: Vec<SheetCell>,
    /// Opaque rectangles, none of them within another.
    opaque: Vec<Rect>,
}

#[derive(Clone, Default)]
struct SheetCell {
    /// One mark lies over all of it.
    is_whole: bool,
    parts: Vec<Rect>,
}

impl Above {
    fn add(&mut self, mark: &VisibleMark<'_>) {
        if mark.mixed || matches!(mark.item.mark, Mark::Glyphs(_) | Mark::Stroke { .. }) {
            return;
        }
        if is_opaque(mark) && !self.opaque.iter().any(|opaque| contains(*opaque, mark.bounds)) {
            self.opaque.push(mark.bounds);
        }
        let reach = mark.bounds.inflate(TOUCH, TOUCH);
        let (first, last) = (self.cell(reach.x0, reach.y0), self.cell(reach.x1, reach.y1));
        for row in first.1..=last.1 {
            for column in first.0..=last.0 {
                let whole = self.rect(column, row);
                let cell = &mut self.cells[row * CELLS + column];
                if cell.is_whole {
                    continue;
                }
                if contains(reach, whole) {
                    *cell = SheetCell { is_whole: true, parts: Vec::new() };
                } else {
                    cell.parts.push(reach);
                }
            }
        }
    }

    fn lies_over(&self, place: Point) -> bool {
        let (column, row) = self.cell(place.x, place.y);
        let cell = &self.cells[row * CELLS + column];
        let holds = |part: &Rect| part.x0 <= place.x && place.x <= part.x1 && part.y0 <= place.y && place.y <= part.y1;
        cell.is_whole || cell.parts.iter().rev().any(holds)
    }

    /// Column and row of a place; what lies off the sheet belongs to the cell at its edge.
    fn cell(&self, x: f64, y: f64) -> (usize, usize) {
        let at = |from: f64, length: f64| ((from / length * CELLS as f64).max(0.0) as usize).min(CELLS - 1);
        (at(x - self.sheet.x0, self.sheet.width()), at(y - self.sheet.y0, self.sheet.height()))
    }

    fn rect(&self, column: usize, row: usize) -> Rect {
        let (width, height) = (self.sheet.width() / CELLS as f64, self.sheet.height() / CELLS as f64);
        let (x, y) = (self.sheet.x0 + column as f64 * width, self.sheet.y0 + row as f64 * height);
        Rect::new(x, y, x + width, y + height)
    }
}

fn is_opaque(mark: &VisibleMark<'_>) -> bool {
    match &mark.item.mark {
        Mark::Fill { path, paint: Paint::Ink(ink), .. } => !mark.is_shaped && !ink.overprints() && is_rectangle(path),
        _ => false,
    }
}
