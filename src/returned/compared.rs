//! Compared: the plates of a page that was sent and of the one that came back, both drawn from their own content.

use crate::assets::Darkroom;
use crate::ground::{ALL_PLATES, MM_PER_INCH, PROCESS_PLATES, Rect, Severity, number};
use crate::printed::{PdfDifference, PrintedPage};
use crate::raster::{Plates, plates};
use crate::returned::drawn::{DrawnPage, drawn_page};
use std::collections::BTreeSet;

/// What two files print otherwise, and why they could not be held against each other, if so.
#[derive(Default)]
pub struct PlatesCompared {
    pub differences: Vec<PdfDifference>,
    /// What of either file cannot be drawn. Where something is, no plate is compared, and none is called equal.
    pub undrawn: Vec<String>,
}

/// Pixels per inch: a pixel is a quarter of a millimetre.
const PPI: f64 = 101.6;
/// Samples of all plates of one page together, and the least resolution that is worth it.
const SAMPLES: f64 = 60e6;
const LEAST_PPI: f64 = 25.0;
/// Spot inks that are drawn together.
const MOST_SPOTS: usize = 28;
/// Shares of ink that differ by more than this, of 255, are other ones: 3 %.
const OTHER: u8 = 8;
/// What the grain of a picture that was saved again does not reach: 20 %.
const GRAIN: u8 = 51;
/// Pixels to either side of one that make up its field: of 1.75 mm.
const FIELD: usize = 3;
/// Pixels beside one that differs which differ as well, where it is no mere edge.
const BESIDE: usize = 2;
/// Millimetres that a picture of the sheet may be wide or high.
const LARGEST: f64 = 3000.0;

pub fn compare_plates(
    (sent, ours): (&[u8], &PrintedPage),
    (returned, theirs): (&[u8], &PrintedPage),
) -> PlatesCompared {
    let spots: BTreeSet<String> = ours.spots.union(&theirs.spots).filter(|name| *name != ALL_PLATES).cloned().collect();
    if spots.len() > MOST_SPOTS {
        return PlatesCompared {
            undrawn: vec![format!("more than {MOST_SPOTS} spot inks")],
            ..PlatesCompared::default()
        };
    }
    let draw = |bytes| drawn_page(bytes, spots.iter().cloned());
    let (own, other) = match (draw(sent), draw(returned)) {
        (Ok(own), Ok(other)) => (own, other),
        (Err(why), _) | (_, Err(why)) => return PlatesCompared { undrawn: vec![why], ..PlatesCompared::default() },
    };
    let undrawn: BTreeSet<String> = own.undrawn.union(&other.undrawn).cloned().collect();
    if !undrawn.is_empty() {
        return PlatesCompared { undrawn: undrawn.into_iter().collect(), ..PlatesCompared::default() };
    }
    let area = own.scene.sheet.bleed.intersect(other.scene.sheet.bleed);
    let planes = (PROCESS_PLATES.len() + spots.len()) as f64;
    let most = (SAMPLES / planes / area.area().max(1.0)).sqrt() * MM_PER_INCH;
    let ppi = PPI.min(most);
    if area.width() <= 0.0 || area.height() <= 0.0 || area.width().max(area.height()) > LARGEST || ppi < LEAST_PPI {
        let why = "sheets of a size that no press prints".to_owned();
        return PlatesCompared { undrawn: vec![why], ..PlatesCompared::default() };
    }
    let darkroom = Darkroom::default();
    let drawn = |page: &DrawnPage| plates(&page.scene, area, ppi, &darkroom);
    let (own, other) = (drawn(&own), drawn(&other));
    let names = PROCESS_PLATES.into_iter().chain(spots.iter().map(String::as_str));
    let differences = names.filter_map(|name| difference(name, &own, &other, area)).collect();
    PlatesCompared { differences, undrawn: Vec::new() }
}

fn plane<'p>(plates: &'p Plates, name: &str) -> Option<&'p [u8]> {
    let process = PROCESS_PLATES.iter().position(|process| *process == name).map(|at| &plates.process[at][..]);
    process.or_else(|| plates.spots.iter().find(|(spot, _)| spot.name == name).map(|(_, plane)| &plane[..]))
}

fn difference(name: &str, own: &Plates, other: &Plates, area: Rect) -> Option<PdfDifference> {
    let (width, height) = (own.width, own.height);
    let blank = vec![0; width * height];
    let [ours, theirs] = [own, other].map(|plates| plane(plates, name).unwrap_or(&blank));
    let differs = differing(ours, theirs, width);
    let count = differs.iter().filter(|differs| **differs).count();
    if count == 0 {
        return None;
    }
    let pixel = MM_PER_INCH / own.ppi;
    let at = |index: usize| (index % width, index / width);
    let found = differs.iter().enumerate().filter(|(_, differs)| **differs).map(|(index, _)| at(index));
    let (mut left, mut right, mut head, mut foot) = (width, 0, height, 0);
    for (x, y) in found {
        (left, right) = (left.min(x), right.max(x + 1));
        (head, foot) = (head.min(y), foot.max(y + 1));
    }
    let mean = |plane: &[u8]| {
        let inked = differs.iter().zip(plane).filter(|(differs, _)| **differs).map(|(_, ink)| u64::from(*ink));
        number((inked.sum::<u64>() as f64 / count as f64 / 2.55).round())
    };
    let mm = |place: f64| number((place * 10.0).round() / 10.0);
    let across = [left, right].map(|x| mm(area.x0 + x as f64 * pixel));
    let down = [head, foot].map(|y| mm(area.y0 + y as f64 * pixel));
    let cm2 = number((count as f64 * pixel * pixel).round().max(1.0) / 100.0);
    let message = format!(
        "{cm2} cm² of the plate {name:?} differ, {} to {} mm from the left and {} to {} mm from the head of the trim: {} % in \
         the mean, in ours {} %",
        across[0],
        across[1],
        down[0],
        down[1],
        mean(theirs),
        mean(ours)
    );
    Some(PdfDifference { severity: Severity::Error, about: "plates", message })
}

/// Which pixels differ: from the other plate there and next to it, for an edge may lie a fraction of a pixel elsewhere; in the
/// mean of a field round them, for a picture that was saved again is other in its grain alone; and together with others, for
/// a single one is an edge's corner.
fn differing(ours: &[u8], theirs: &[u8], width: usize) -> Vec<bool> {
    let height = ours.len() / width.max(1);
    let around = |x: usize, y: usize| {
        let rows = y.saturating_sub(1)..(y + 2).min(height);
        rows.flat_map(move |row| (x.saturating_sub(1)..(x + 2).min(width)).map(move |column| row * width + column))
    };
    // How far a share of ink lies outside of those on the other plate there and next to it.
    let outside = |value: u8, plane: &[u8], x: usize, y: usize| {
        let near = around(x, y).map(|at| plane[at]);
        let (least, most) = near.fold((u8::MAX, 0), |(least, most), ink| (least.min(ink), most.max(ink)));
        least.saturating_sub(value).max(value.saturating_sub(most))
    };
    let off = |at: usize| {
        let (x, y) = (at % width, at / width);
        outside(ours[at], theirs, x, y).max(outside(theirs[at], ours, x, y))
    };
    let field = |at: usize| {
        let (x, y) = (at % width, at / width);
        let rows = y.saturating_sub(FIELD)..(y + FIELD + 1).min(height);
        let columns = x.saturating_sub(FIELD)..(x + FIELD + 1).min(width);
        let count = (rows.len() * columns.len()) as f64;
        let near = rows.flat_map(|row| columns.clone().map(move |column| row * width + column));
        let sum: i32 = near.map(|near| i32::from(ours[near]) - i32::from(theirs[near])).sum();
        f64::from(sum.abs()) > f64::from(OTHER) * count
    };
    let is_other = |at: usize| {
        // Most pixels are the same, and are looked at no further.
        let off = if ours[at].abs_diff(theirs[at]) > OTHER { off(at) } else { 0 };
        off > GRAIN || off > OTHER && field(at)
    };
    let all: Vec<bool> = (0..ours.len()).map(is_other).collect();
    (0..all.len())
        .map(|at| all[at] && around(at % width, at / width).filter(|near| all[*near]).count() > BESIDE)
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Ten pixels by ten; what is laid from one column on.
    fn plate(ink: u8, from: usize) -> Vec<u8> {
        (0..100).map(|at| if at % 10 >= from { ink } else { 0 }).collect()
    }

    fn count(ours: &[u8], theirs: &[u8]) -> usize {
        differing(ours, theirs, 10).iter().filter(|differs| **differs).count()
    }

    #[test]
    fn edges_may_move_by_a_pixel_and_tints_may_not_change() {
        assert_eq!(count(&plate(255, 5), &plate(255, 5)), 0);
        assert_eq!(count(&plate(255, 5), &plate(255, 6)), 0, "an edge beside it");
        assert!(count(&plate(255, 3), &plate(255, 6)) > 0, "an edge elsewhere");
        assert_eq!(count(&plate(100, 0), &plate(100 + OTHER, 0)), 0);
        assert_eq!(count(&plate(100, 0), &plate(101 + OTHER, 0)), 100);
        assert_eq!(count(&plate(100, 5), &plate(130, 5)), 50);
        // A thin line that is gone: a column of pixels, half covered; its ends have too few beside them.
        let line: Vec<u8> = (0..100).map(|at| if at % 10 == 4 { 120 } else { 0 }).collect();
        assert_eq!(count(&line, &[0; 100]), 8);
        // A full stop of small type, and grain as strong as a change of tint, which has the same mean.
        let stop: Vec<u8> = (0..100).map(|at| if [44, 45, 54, 55].contains(&at) { 130 } else { 0 }).collect();
        assert_eq!(count(&stop, &[0; 100]), 4);
        let grain: Vec<u8> = (0..100).map(|at| if (at / 3 + at / 30) % 2 == 0 { 85 } else { 115 }).collect();
        assert_eq!(count(&grain, &[100; 100]), 0);
    }
}
