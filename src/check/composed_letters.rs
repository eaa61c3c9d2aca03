//! Letters on the composed sheet: how much of each is hidden by what comes later, and the inks that lie under it.

use crate::check::exam::Exam;
use crate::check::proof::{DrawnElements, Patience};
use crate::check::visible::VisibleElement;
use crate::ground::{MM_PER_INCH, Process, Rect};
use crate::raster::{Plates, plates};

/// Pixels along the em of the smallest letters, and pixels per inch at most and at least.
const PER_EM: f64 = 20.0;
const FINEST: f64 = 200.0;
const COARSEST: f64 = 50.0;
/// Steps of 255 from which on a pixel shows its letter, and the share of them that is left where it is hidden.
const SHOWN: u8 = 64;
const LEFT: f64 = 0.25;
/// Pixels of a letter from which on it can be judged.
const LEAST: usize = 6;

impl Exam<'_> {
    /// Of each letter, given by its box, the share that what is drawn later hides: the sheet is composed up to the element
    /// and as a whole, each with the element and without it. `None` for a letter that showed nothing before. No answer when
    /// it takes more than is left.
    pub fn hidden_shares(
        &self,
        element: &VisibleElement<'_>,
        letters: &[Rect],
        patience: &mut Patience,
    ) -> Option<Vec<Option<f64>>> {
        let whole = letters.iter().copied().reduce(|a, b| a.union(b)).unwrap_or_default();
        let area = whole.inflate(0.5, 0.5).intersect(self.sheet().bleed);
        if area.width() <= 0.0 || area.height() <= 0.0 {
            return Some(vec![None; letters.len()]);
        }
        let smallest = element.runs().map(|(run, _)| run.size).fold(f64::INFINITY, f64::min);
        let ppi = (PER_EM * MM_PER_INCH / smallest).clamp(COARSEST, FINEST);
        if !patience.spend(2.0 * self.pixels(area, ppi)) {
            return None;
        }
        let drawn = |kept| plates(&self.near(area, kept), area, ppi, self.darkroom);
        let origin = element.origin;
        let before = differences(&drawn(DrawnElements::UpTo(origin)), &drawn(DrawnElements::Before(origin)));
        let with = drawn(DrawnElements::All);
        let after = differences(&with, &drawn(DrawnElements::But(origin)));
        let scale = ppi / MM_PER_INCH;
        let share = |letter: &Rect| {
            let columns = span(letter.x0 - area.x0, letter.x1 - area.x0, scale, with.width);
            let rows = span(letter.y0 - area.y0, letter.y1 - area.y0, scale, with.height);
            let places = rows.flat_map(|row| columns.clone().map(move |column| row * with.width + column));
            let shown: Vec<usize> = places.filter(|at| before[*at] >= SHOWN).collect();
            let hidden = shown.iter().filter(|at| f64::from(after[**at]) < LEFT * f64::from(before[**at])).count();
            (shown.len() >= LEAST).then(|| hidden as f64 / shown.len() as f64)
        };
        Some(letters.iter().map(share).collect())
    }

    /// The inks under each letter, on the sheet without the element, on the average of its box.
    pub fn under_letters(
        &self,
        element: &VisibleElement<'_>,
        letters: &[Rect],
        patience: &mut Patience,
    ) -> Vec<Option<Process>> {
        let area = element.bounds.intersect(self.sheet().bleed);
        if area.width() <= 0.0 || area.height() <= 0.0 || !patience.spend(self.pixels(area, COARSEST)) {
            return vec![None; letters.len()];
        }
        let drawn = plates(&self.near(area, DrawnElements::But(element.origin)), area, COARSEST, self.darkroom);
        let scale = COARSEST / MM_PER_INCH;
        let inks = |letter: &Rect| {
            let columns = span(letter.x0 - area.x0, letter.x1 - area.x0 + 1.0 / scale, scale, drawn.width);
            let rows = span(letter.y0 - area.y0, letter.y1 - area.y0 + 1.0 / scale, scale, drawn.height);
            let count = columns.len() * rows.len();
            let sum = |plane: &Vec<u8>| -> f64 {
                let rows = rows.clone().map(|row| &plane[row * drawn.width..][columns.clone()]);
                rows.flatten().map(|ink| f64::from(*ink)).sum()
            };
            (count > 0).then(|| std::array::from_fn(|plate| sum(&drawn.process[plate]) / 255.0 / count as f64))
        };
        letters.iter().map(inks).collect()
    }
}

/// Pixel by pixel, the largest difference of any plate.
fn differences(a: &Plates, b: &Plates) -> Vec<u8> {
    let mut all = vec![0; a.width * a.height];
    let mut lay = |one: &[u8], other: Option<&[u8]>| {
        for (at, (most, ink)) in all.iter_mut().zip(one).enumerate() {
            *most = (*most).max(ink.abs_diff(other.map_or(0, |other| other[at])));
        }
    };
    a.process.iter().zip(&b.process).for_each(|(one, other)| lay(one, Some(other)));
    for (spot, plane) in &a.spots {
        let other = b.spots.iter().find(|(other, _)| other.name == spot.name);
        lay(plane, other.map(|(_, plane)| plane.as_slice()));
    }
    let only_there = b.spots.iter().filter(|(spot, _)| a.spots.iter().all(|(other, _)| other.name != spot.name));
    only_there.for_each(|(_, plane)| lay(plane, None));
    all
}

fn span(from: f64, to: f64, scale: f64, end: usize) -> std::ops::Range<usize> {
    let at = |mm: f64| ((mm * scale).max(0.0).round() as usize).min(end);
    at(from)..at(to)
}
