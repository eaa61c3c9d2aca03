//! Badges: where the numbers of findings stand, outside their frames and off the words of the cover.

use crate::ground::Rect;
use crate::output::proof::pen::BADGE;
use crate::scene::{Mark, Scene};

/// Between a number and the frame, letters and numbers beside it; millimetres.
const GAP: f64 = 0.4;
/// So many places are tried along each side of a frame.
const STEPS: usize = 24;
/// Letters are counted in cells of half a millimetre, or of a thousandth of a page that is larger.
const FINEST: f64 = 0.5;
const CELLS: f64 = 1000.0;

pub struct Badges {
    letters: Crowd,
    taken: Vec<Rect>,
    room: Rect,
}

impl Badges {
    pub fn new(scene: &Scene, room: Rect) -> Badges {
        let mut letters = Vec::new();
        scene.walk(&mut |item| {
            if let Mark::Glyphs(run) = &item.mark {
                letters.extend(run.boxes().map(|letter| letter.abs()));
            }
        });
        Badges { letters: Crowd::new(&letters, room), taken: Vec::new(), room }
    }

    /// The middle of a number beside a frame: the first place where it lies on nothing, or the one where it lies on least.
    pub fn place(&mut self, frame: Rect, width: f64) -> (f64, f64) {
        let covers = |at: &Rect| {
            let grown = at.inflate(GAP, GAP);
            let letters = self.letters.within(grown);
            // One number on another is the worst: neither can be read.
            let numbers: f64 = self.taken.iter().map(|taken| meet(*taken, grown) * 100.0).sum();
            letters + numbers
        };
        let mut best: Option<(f64, Rect)> = None;
        for at in candidates(frame, width).filter(|at| within(*at, self.room)) {
            let cost = covers(&at);
            if best.is_none_or(|(least, _)| cost < least) {
                best = Some((cost, at));
            }
            if cost <= 0.0 {
                break;
            }
        }
        // A page that is smaller than a number has no place at all.
        let corner = Rect::from_center_size((frame.x0, frame.y0), (width, BADGE));
        let place = best.map_or(corner, |(_, place)| place);
        self.taken.push(place);
        (place.center().x, place.center().y)
    }
}

/// How crowded a page is, in sums from its corner on: what lies in a rectangle is found at once, however much lies there.
struct Crowd {
    room: Rect,
    cell: f64,
    columns: usize,
    rows: usize,
    /// At each corner of cells, of all cells above it and left of it.
    sums: Vec<f64>,
}

impl Crowd {
    fn new(boxes: &[Rect], room: Rect) -> Crowd {
        let cell = (room.width().max(room.height()) / CELLS).max(FINEST);
        let count = |length: f64| (length / cell).ceil().max(1.0) as usize;
        let (columns, rows) = (count(room.width()), count(room.height()));
        let mut crowd = Crowd { room, cell, columns, rows, sums: vec![0.0; (columns + 1) * (rows + 1)] };
        // Each box is noted at its corners; a first sum says how many cover a cell, a second adds up cells.
        for own in boxes.iter().filter(|own| meet(**own, room) > 0.0) {
            let [x0, y0, x1, y1] = crowd.cells(*own);
            for (x, y, sign) in [(x0, y0, 1.0), (x1, y0, -1.0), (x0, y1, -1.0), (x1, y1, 1.0)] {
                let at = crowd.corner(x, y);
                crowd.sums[at] += sign;
            }
        }
        crowd.sum();
        // What covers a cell belongs to its far corner.
        let (wide, end) = (columns + 1, crowd.sums.len());
        crowd.sums.copy_within(..end - wide - 1, wide + 1);
        crowd.sums[..=wide].fill(0.0);
        (0..=rows).for_each(|row| crowd.sums[row * wide] = 0.0);
        crowd.sum();
        crowd
    }

    fn sum(&mut self) {
        let wide = self.columns + 1;
        for at in 0..self.sums.len() {
            let left = if at % wide > 0 { self.sums[at - 1] } else { 0.0 };
            let (over, both) = if at >= wide {
                (self.sums[at - wide], if at % wide > 0 { self.sums[at - wide - 1] } else { 0.0 })
            } else {
                (0.0, 0.0)
            };
            self.sums[at] += left + over - both;
        }
    }

    /// The cells that a box touches: left, top, right, bottom.
    fn cells(&self, own: Rect) -> [usize; 4] {
        let at = |value: f64, most: usize| (value.max(0.0) as usize).min(most);
        let across = |x: f64| (x - self.room.x0) / self.cell;
        let down = |y: f64| (y - self.room.y0) / self.cell;
        [
            at(across(own.x0).floor(), self.columns),
            at(down(own.y0).floor(), self.rows),
            at(across(own.x1).ceil(), self.columns),
            at(down(own.y1).ceil(), self.rows),
        ]
    }

    fn corner(&self, x: usize, y: usize) -> usize {
        y * (self.columns + 1) + x
    }

    /// How many boxes lie in how many cells of a rectangle.
    fn within(&self, own: Rect) -> f64 {
        let [x0, y0, x1, y1] = self.cells(own);
        let sum = |x: usize, y: usize| self.sums[self.corner(x, y)];
        sum(x1, y1) - sum(x0, y1) - sum(x1, y0) + sum(x0, y0)
    }
}

/// Places around a frame, from its upper left corner on: over it, beside it, under it; then further out; last within it, for
/// a frame as large as the page.
fn candidates(frame: Rect, width: f64) -> impl Iterator<Item = Rect> {
    let along = |from: f64, to: f64| (0..=STEPS).map(move |step| from + (to - from) * step as f64 / STEPS as f64);
    [0.0, 1.0, 2.0, -1.0].into_iter().flat_map(move |row: f64| {
        let gap = if row < 0.0 { -GAP } else { GAP };
        let out = (row * (width + GAP) + gap, row * (BADGE + GAP) + gap);
        let (left, right) = (frame.x0 - width - out.0, frame.x1 + out.0);
        let (over, under) = (frame.y0 - BADGE - out.1, frame.y1 + out.1);
        let aside = (row.max(0.0) * (width + GAP), row.max(0.0) * (BADGE + GAP));
        let last = ((frame.x1 - width).max(frame.x0) + aside.0, (frame.y1 - BADGE).max(frame.y0) + aside.1);
        let level = move |y: f64| along(frame.x0 - aside.0, last.0).map(move |x| (x, y));
        let upright = move |x: f64| along(frame.y0 - aside.1, last.1).map(move |y| (x, y));
        let all = level(over).chain(upright(left)).chain(upright(right)).chain(level(under));
        all.map(move |(x, y)| Rect::new(x, y, x + width, y + BADGE))
    })
}

fn within(at: Rect, room: Rect) -> bool {
    at.x0 >= room.x0 && at.y0 >= room.y0 && at.x1 <= room.x1 && at.y1 <= room.y1
}

/// The area in which two rectangles lie over each other.
fn meet(one: Rect, other: Rect) -> f64 {
    let (width, height) = (one.x1.min(other.x1) - one.x0.max(other.x0), one.y1.min(other.y1) - one.y0.max(other.y0));
    if width > 0.0 && height > 0.0 { width * height } else { 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;

    const ROOM: Rect = Rect::new(0.0, 0.0, 100.0, 100.0);

    /// Letters fill a page but for one gap beside the frame: the number stands there.
    #[test]
    fn a_number_finds_the_gap_between_letters() {
        let frame = Rect::new(40.0, 40.0, 60.0, 60.0);
        let gap = Rect::new(61.0, 50.0, 67.0, 57.0);
        let cells = (0..50).flat_map(|row| (0..50).map(move |column| (f64::from(column) * 2.0, f64::from(row) * 2.0)));
        let cells = cells.map(|(x, y)| Rect::new(x, y, x + 1.9, y + 1.9)).filter(|cell| meet(*cell, gap) == 0.0);
        let cells: Vec<Rect> = cells.collect();
        let mut badges = Badges { letters: Crowd::new(&cells, ROOM), taken: Vec::new(), room: ROOM };
        let at = badges.place(frame, BADGE);
        assert!(cells.iter().all(|letter| meet(*letter, badges.taken[0]) == 0.0), "{at:?}");
    }

    /// A ground that fills the page: the number stands on the page, off the letters in its corner.
    #[test]
    fn a_frame_as_large_as_the_page_has_its_number_within() {
        let line = Rect::new(0.0, 0.0, 30.0, 8.0);
        let mut badges = Badges { letters: Crowd::new(&[line], ROOM), taken: Vec::new(), room: ROOM };
        badges.place(ROOM, 5.0);
        assert!(within(badges.taken[0], ROOM) && meet(badges.taken[0], line) == 0.0, "{:?}", badges.taken);
    }

    /// Six findings of one place: six numbers, none on another, none on the place, all on the page.
    #[test]
    fn numbers_of_one_place_stand_apart() {
        for frame in
            [Rect::new(40.0, 40.0, 42.0, 42.0), Rect::new(0.0, 0.0, 20.0, 9.0), Rect::new(90.0, 96.0, 100.0, 100.0)]
        {
            let mut badges = Badges { letters: Crowd::new(&[frame], ROOM), taken: Vec::new(), room: ROOM };
            for _ in 0..6 {
                badges.place(frame, 5.0);
            }
            for (at, one) in badges.taken.iter().enumerate() {
                assert!(within(*one, ROOM) && meet(*one, frame) == 0.0, "{one:?}");
                assert!(badges.taken[..at].iter().all(|other| meet(*one, *other) == 0.0), "{:?}", badges.taken);
            }
        }
    }

    /// Sums of cells are what each box by itself covers of them.
    #[test]
    fn crowds_are_counted_box_by_box() {
        let room = Rect::new(-10.0, 5.0, 30.0, 33.3);
        let boxes: Vec<Rect> = (0..40)
            .map(|at| {
                let (x, y) = (f64::from(at * 17 % 53) - 14.0, f64::from(at * 29 % 47) - 3.0);
                Rect::new(x, y, x + 0.3 + f64::from(at % 7), y + 0.2 + f64::from(at % 5))
            })
            .collect();
        let crowd = Crowd::new(&boxes, room);
        for asked in boxes.iter().chain(&[room]) {
            let [left, top, right, bottom] = crowd.cells(*asked);
            let one_by_one: usize = boxes
                .iter()
                .filter(|own| meet(**own, room) > 0.0)
                .map(|own| {
                    let [x0, y0, x1, y1] = crowd.cells(*own);
                    let shared = |from: usize, to: usize| to.saturating_sub(from);
                    shared(x0.max(left), x1.min(right)) * shared(y0.max(top), y1.min(bottom))
                })
                .sum();
            assert!((crowd.within(*asked) - one_by_one as f64).abs() < 1e-6, "{asked:?}");
        }
    }
}
