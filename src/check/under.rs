//! Ground: what lies under a place on the sheet.

use crate::assets::Picture;
use crate::check::exam::Exam;
use crate::ground::{FillRule, Ink, Paint, Path, Point, Process, Rect, Shape};
use crate::scene::{Mark, PlacedPicture};
use std::sync::Arc;

/// What shows under a place.
pub enum Ground<'a> {
    Paper,
    /// One flat ink over the whole place.
    Flat(&'a Ink),
    /// An opaque picture over the whole place.
    Picture(&'a PlacedPicture),
    /// Something else, or several things.
    Mixed,
}

impl<'a> Exam<'a> {
    /// What lies under marks from `below` upwards.
    pub fn ground(&self, below: usize, place: Rect) -> Ground<'a> {
        for shown in self.marks[..below].iter().rev().filter(|shown| overlap(shown.bounds, place)) {
            if shown.item.origin.kind == crate::scene::Kind::Text {
                continue;
            }
            match &shown.item.mark {
                Mark::Fill { path, rule, paint } => match covers(path, *rule, place) {
                    Covered::None => continue,
                    Covered::Whole if !shown.mixed && contains(shown.bounds, place) => {
                        if let Paint::Ink(ink) = paint
                            && !ink.overprint
                        {
                            return Ground::Flat(ink);
                        }
                    }
                    _ => {}
                },
                Mark::Picture(placed)
                    if placed.paint.is_none()
                        && placed.picture.alpha().is_none()
                        && !shown.mixed
                        && contains(shown.bounds, place) =>
                {
                    return Ground::Picture(placed);
                }
                _ => {}
            }
            return Ground::Mixed;
        }
        Ground::Paper
    }

    /// Its inks; a picture's on the average. `None` where several things meet.
    pub fn ground_inks(&self, ground: &Ground<'_>, place: Rect) -> Option<Process> {
        match ground {
            Ground::Paper => Some([0.0; 4]),
            Ground::Flat(ink) => Some(ink.look()),
            Ground::Picture(placed) => self.average(&placed.picture, placed, place),
            Ground::Mixed => None,
        }
    }

    fn average(&self, picture: &Arc<Picture>, placed: &PlacedPicture, place: Rect) -> Option<Process> {
        const STEPS: usize = 12;
        if placed.transform.determinant().abs() < 1e-9 {
            return None;
        }
        let back = placed.transform.inverse();
        let (width, height) = (picture.width() as usize, picture.height() as usize);
        let mut all = Vec::with_capacity(STEPS * STEPS);
        for step in 0..STEPS * STEPS {
            let share = |step: usize| (step as f64 + 0.5) / STEPS as f64;
            let point = Point::new(
                place.x0 + place.width() * share(step % STEPS),
                place.y0 + place.height() * share(step / STEPS),
            );
            let at = back * point;
            let column = ((at.x * width as f64).max(0.0) as usize).min(width.checked_sub(1)?);
            let row = ((at.y * height as f64).max(0.0) as usize).min(height.checked_sub(1)?);
            all.push(row * width + column);
        }
        let negative = self.darkroom.few_inks(picture, placed.separation, &self.scene.profile, &all);
        let mut sums = [0.0; 4];
        for (at, sample) in negative.samples.iter().enumerate() {
            let looks = negative.plates[at % negative.plates.len()].look();
            sums.iter_mut().zip(looks).for_each(|(sum, look)| *sum += f64::from(*sample) * look);
        }
        Some(sums.map(|sum| (sum / 255.0 / (STEPS * STEPS) as f64).min(1.0)))
    }
}

enum Covered {
    None,
    Part,
    Whole,
}

/// By corners, middles of the sides and centre: enough for the plain shapes that lie under words.
fn covers(path: &Path, rule: FillRule, place: Rect) -> Covered {
    let inside =
        |x: f64, y: f64| inside(path, rule, Point::new(place.x0 + place.width() * x, place.y0 + place.height() * y));
    let share = |at: i32| 0.001 + f64::from(at) * 0.499;
    let all = (0..3).flat_map(|y| (0..3).map(move |x| (share(x), share(y))));
    match all.filter(|(x, y)| inside(*x, *y)).count() {
        0 => Covered::None,
        9 => Covered::Whole,
        _ => Covered::Part,
    }
}

/// Whether a fill prints at a point.
pub fn inside(path: &Path, rule: FillRule, point: Point) -> bool {
    let turns = path.winding(point);
    if rule == FillRule::NonZero { turns != 0 } else { turns % 2 != 0 }
}

pub fn overlap(a: Rect, b: Rect) -> bool {
    a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1
}

pub fn contains(outer: Rect, inner: Rect) -> bool {
    use crate::check::exam::{SheetSide, TOUCH};
    SheetSide::ALL.iter().all(|side| side.gap(inner, outer) >= -TOUCH)
}
