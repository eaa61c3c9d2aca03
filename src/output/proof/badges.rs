//! Badges: where the numbers of findings stand, outside their frames and off the words of the cover.

use crate::ground::Rect;
use crate::output::proof::pen::BADGE;
use crate::scene::{Mark, Scene};

/// Between a number and the frame, letters and numbers beside it; millimetres.
const GAP: f64 = 0.4;
/// So many places are tried along each side of a frame.
const STEPS: usize = 24;

pub struct Badges {
    /// Every letter of the cover.
    letters: Vec<Rect>,
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
        Badges { letters, taken: Vec::new(), room }
    }

    /// The middle of a number beside a frame: the first place where it lies on nothing, or the one where it lies on least.
    pub fn place(&mut self, frame: Rect, width: f64) -> (f64, f64) {
        let reach = frame.inflate(width + BADGE, 2.0 * BADGE);
        let near: Vec<Rect> = self.letters.iter().copied().filter(|letter| meet(*letter, reach) > 0.0).collect();
        let covers = |at: &Rect| {
            let grown = at.inflate(GAP, GAP);
            let letters: f64 = near.iter().map(|letter| meet(*letter, grown)).sum();
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
        let mut badges = Badges { letters: cells.collect(), taken: Vec::new(), room: ROOM };
        let at = badges.place(frame, BADGE);
        assert!(badges.letters.iter().all(|letter| meet(*letter, badges.taken[0]) == 0.0), "{at:?}");
    }

    /// A ground that fills the page: the number stands on the page, off the letters in its corner.
    #[test]
    fn a_frame_as_large_as_the_page_has_its_number_within() {
        let mut badges = Badges { letters: vec![Rect::new(0.0, 0.0, 30.0, 8.0)], taken: Vec::new(), room: ROOM };
        badges.place(ROOM, 5.0);
        assert!(within(badges.taken[0], ROOM) && meet(badges.taken[0], badges.letters[0]) == 0.0, "{:?}", badges.taken);
    }

    /// Six findings of one place: six numbers, none on another, none on the place, all on the page.
    #[test]
    fn numbers_of_one_place_stand_apart() {
        for frame in
            [Rect::new(40.0, 40.0, 42.0, 42.0), Rect::new(0.0, 0.0, 20.0, 9.0), Rect::new(90.0, 96.0, 100.0, 100.0)]
        {
            let mut badges = Badges { letters: vec![frame], taken: Vec::new(), room: ROOM };
            for _ in 0..6 {
                badges.place(frame, 5.0);
            }
            for (at, one) in badges.taken.iter().enumerate() {
                assert!(within(*one, ROOM) && meet(*one, frame) == 0.0, "{one:?}");
                assert!(badges.taken[..at].iter().all(|other| meet(*one, *other) == 0.0), "{:?}", badges.taken);
            }
        }
    }
}
