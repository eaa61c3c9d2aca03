//! Reading: the inks at one point of a sheet, as the plates have them at press resolution, and what is printed there.

use crate::ground::{FillRule, Path, Point, Shape};
use crate::preview::account::colour;
use crate::preview::answer::{Declined, PageAnswer};
use crate::preview::scales::STEPS;
use crate::preview::shown::ShownCover;
use crate::preview::studio::Studio;
use crate::raster::{SheetPart, Window};
use crate::record::round;
use crate::scene::{Item, Mark, Origin};
use serde::Deserialize;
use serde_json::json;

/// Millimetres from the upper left corner of the trim.
#[derive(Deserialize)]
pub struct PointQuery {
    x: f64,
    y: f64,
}

/// Millimetres by which the outline of a line may stray.
const FINE: f64 = 0.01;

const OUTSIDE: &str = "the sheet ends before this point";

pub fn reading(studio: &Studio, shown: &ShownCover, query: &PointQuery) -> Result<PageAnswer, Declined> {
    let (scene, darkroom) = (shown.scene(), &studio.workshop.darkroom);
    let point = Point::new(query.x, query.y);
    let outside = || Declined::missing(OUTSIDE);
    let grid = shown.grid(STEPS - 1).ok_or_else(outside)?;
    let corner = scene.sheet.bleed.origin();
    let (x, y) = (((point.x - corner.x) * grid.scale).floor(), ((point.y - corner.y) * grid.scale).floor());
    if !(x >= 0.0 && y >= 0.0) {
        return Err(outside());
    }
    let window = Window { x: x as usize, y: y as usize, width: 1, height: 1 };
    let part = SheetPart::new(scene, grid, window, darkroom).ok_or_else(outside)?;
    let planes: Vec<u8> = part.planes().into_iter().filter_map(|plane| plane.first().copied()).collect();
    let percent = |ink: u8| (f64::from(ink) / 2.55 * 10.0).round() / 10.0;
    let finishing = |plane: usize| {
        let spot = plane.checked_sub(planes.len() - grid.spots.len()).and_then(|spot| grid.spots.get(spot));
        spot.is_some_and(|spot| spot.finish.is_some())
    };
    let printed = planes.iter().enumerate().filter(|(plane, _)| !finishing(*plane));
    let total: f64 = printed.map(|(_, ink)| f64::from(*ink) / 2.55).sum();
    let rgb = part.rgb(None);
    let look = [0, 1, 2].map(|channel| rgb.get(channel).copied().unwrap_or(u8::MAX));
    Ok(PageAnswer::Json(json!({
        "x": round(point.x),
        "y": round(point.y),
        "inks": planes.iter().map(|ink| percent(*ink)).collect::<Vec<f64>>(),
        "total": (total * 10.0).round() / 10.0,
        "over": shown.sums(darkroom).is_over(point, shown.design().ink_limit),
        "element": element(shown, point),
        "colour": colour(look),
    })))
}

/// The topmost element that prints at a point, by its number in the account.
fn element(shown: &ShownCover, point: Point) -> Option<usize> {
    let origin = topmost(&shown.scene().items, point)?;
    shown.elements().iter().position(|known| known == origin)
}

fn topmost(items: &[Item], point: Point) -> Option<&Origin> {
    items.iter().rev().find_map(|item| {
        if !item.bounds()?.contains(point) {
            return None;
        }
        match &item.mark {
            Mark::Group(group) => {
                let cut = group.clip.as_ref().is_some_and(|(path, rule)| !is_inside(path, *rule, point));
                if cut { None } else { topmost(&group.items, point) }
            }
            Mark::Fill { path, rule, .. } => is_inside(path, *rule, point).then_some(&*item.origin),
            Mark::Stroke { path, line, .. } => {
                let covered = line.outline(path, FINE);
                is_inside(&covered, FillRule::NonZero, point).then_some(&*item.origin)
            }
            Mark::Glyphs(_) | Mark::Picture(_) => Some(&*item.origin),
        }
    })
}

fn is_inside(path: &Path, rule: FillRule, point: Point) -> bool {
    let turns = path.winding(point);
    match rule {
        FillRule::NonZero => turns != 0,
        FillRule::EvenOdd => turns % 2 != 0,
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Ink, Line, Rect, rect_path};
    use crate::raster::trial::item;

    #[test]
    fn lines_and_holes_are_not_printed_within() {
        let (outer, inner) = (Rect::new(0.0, 0.0, 30.0, 30.0), Rect::new(10.0, 10.0, 20.0, 20.0));
        let paint = || Ink::black(1.0).into();
        let border = Mark::Stroke { path: rect_path(outer), line: Line::new(2.0), paint: paint() };
        let mut ring = rect_path(outer);
        ring.extend(rect_path(inner).elements().iter().copied());
        let ring = |rule| Mark::Fill { path: ring.clone(), rule, paint: paint() };
        let found = |mark: Mark, x: f64| topmost(&[item(mark)], Point::new(x, 15.0)).is_some();
        for (mark, x, printed) in [
            (border.clone(), 0.5, true),
            (border, 15.0, false),
            (ring(FillRule::EvenOdd), 5.0, true),
            (ring(FillRule::EvenOdd), 15.0, false),
            (ring(FillRule::NonZero), 15.0, true),
        ] {
            assert_eq!(found(mark, x), printed, "{x}");
        }
    }
}
