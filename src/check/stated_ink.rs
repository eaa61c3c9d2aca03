//! Stated ink: how much of the ink on a sheet those elements explain that are reported by themselves.

use crate::check::exam::Exam;
use crate::check::ink_sums::{PPI, WINDOW_PIXELS};
use crate::check::visible::{VisibleElement, VisibleMark};
use crate::ground::{FillRule, Ink, rect_path};
use crate::raster::plates;
use crate::scene::{Group, Item, Mark, PlacedPicture};

/// Steps of 1 % over the limit that a plate of 8 bits can hold.
const STEPS: f64 = 255.0;

/// Elements by what they state, a share over `limit`. Pixel by pixel as `ink_sums` has them: what the element on top there,
/// or within a window around it, states; 0 where there is none.
pub fn stated_ink(exam: &Exam<'_>, limit: f64, reported: &[(&VisibleElement<'_>, f64)]) -> Vec<f32> {
    let flat = reported.iter().flat_map(|(element, worst)| {
        let steps = ((worst - limit) * 100.0).ceil().clamp(1.0, STEPS);
        element.marks.iter().filter_map(move |mark| in_black(mark, steps / STEPS))
    });
    let drawn = plates(&exam.holding(flat.collect()), exam.sheet().bleed, PPI, exam.darkroom);
    let black = &drawn.process[3];
    let widest = |at: usize, end: usize| at.saturating_sub(WINDOW_PIXELS / 2)..(at + WINDOW_PIXELS / 2 + 1).min(end);
    let most = |row: usize, column: usize| {
        let rows = widest(row, drawn.height);
        let inks = rows.flat_map(|row| &black[row * drawn.width..][widest(column, drawn.width)]);
        inks.copied().max().unwrap_or(0)
    };
    let stated = |steps: u8| if steps == 0 { 0.0 } else { limit as f32 + f32::from(steps) / 100.0 };
    let places = (0..drawn.height).flat_map(|row| (0..drawn.width).map(move |column| (row, column)));
    places.map(|(row, column)| stated(most(row, column))).collect()
}

/// The mark as it is cut, in one tint of black.
pub fn in_black(mark: &VisibleMark<'_>, share: f64) -> Option<Item> {
    let origin = mark.item.origin.clone();
    let items = vec![Item { origin: origin.clone(), mark: printed_in(&mark.item.mark, &Ink::black(share))? }];
    let clip = (rect_path(mark.bounds), FillRule::NonZero);
    Some(Item { origin, mark: Mark::Group(Group::cut(clip, items)) })
}

/// A mark that is no group in another ink; no picture in colours of its own has one.
pub fn printed_in(mark: &Mark, ink: &Ink) -> Option<Mark> {
    let ink = ink.clone();
    Some(match mark.clone() {
        Mark::Fill { path, rule, .. } => Mark::Fill { path, rule, paint: ink.into() },
        Mark::Stroke { path, line, .. } => Mark::Stroke { path, line, paint: ink.into() },
        Mark::Glyphs(mut run) => {
            run.paint = ink.into();
            Mark::Glyphs(run)
        }
        Mark::Picture(placed) => Mark::Picture(PlacedPicture { paint: Some(placed.paint.map(|_| ink)?), ..placed }),
        Mark::Group(_) => return None,
    })
}
