//! Indents: how far the lines of a paragraph stand in, by themselves or beside an initial.

use crate::typeset::{
    drop_cap::{Fitted, MOST_LINES},
    holes::{Holes, LinePlace, RowsOfParagraph, place_of},
};

/// How far the lines of a paragraph stand in. Millimetres, but for the measure.
pub struct Indents {
    pub fitted: Option<Fitted>,
    /// Lines that have an initial beside them.
    pub beside: usize,
    pub indent: f64,
    pub em: f64,
    pub width: f64,
}

impl Indents {
    pub fn inset(&self, line: usize) -> f64 {
        match (line, self.fitted) {
            (0, Some(fitted)) => fitted.first * self.em,
            (line, Some(fitted)) if line < self.beside => fitted.beside[line.min(MOST_LINES - 1)] * self.em,
            (line, Some(fitted)) if line == self.beside => fitted.below * self.em,
            (0, None) => self.indent,
            _ => 0.0,
        }
    }

    /// In ems.
    pub fn measure(&self, line: usize) -> f64 {
        ((self.width - self.inset(line)) / self.em).max(0.0)
    }

    /// From here on, lines are alike.
    pub fn same(&self) -> usize {
        self.beside + 1
    }
}

/// The room that each line of a paragraph has, beside what it makes way for and its initial.
pub struct LineRooms<'a> {
    indents: &'a Indents,
    places: Vec<LinePlace>,
}

impl<'a> LineRooms<'a> {
    /// For a paragraph of `most` lines, of which a chosen break may leave a row's other stretches empty `skips` times.
    pub fn new(
        indents: &'a Indents,
        holes: Option<&Holes>,
        rows: &RowsOfParagraph,
        rtl: bool,
        (most, skips): (usize, usize),
    ) -> LineRooms<'a> {
        let size = (indents.width, indents.em);
        let places = |holes: &Holes| {
            let most = most + indents.beside + skips * holes.count();
            holes.places(rows, size, rtl, (indents.beside, most))
        };
        LineRooms { indents, places: holes.map_or(Vec::new(), places) }
    }

    pub fn place(&self, line: usize) -> LinePlace {
        place_of(&self.places, line, self.indents.width)
    }

    pub fn inset(&self, line: usize) -> f64 {
        let place = self.place(line);
        if place.begins { self.indents.inset(place.row - self.place(0).row) } else { 0.0 }
    }

    /// In millimetres.
    pub fn length(&self, line: usize) -> f64 {
        let (left, right) = self.place(line).stretch;
        right - left
    }

    /// In ems.
    pub fn measure(&self, line: usize) -> f64 {
        ((self.length(line) - self.inset(line)) / self.indents.em).max(0.0)
    }

    /// From here on, lines are alike.
    pub fn same(&self) -> usize {
        self.indents.same().max(self.places.len())
    }
}
