//! Composed: a scene for a press file that knows no transparency. Each place where something is transparent becomes a picture of
//! its plates; marks over it stay as they are, and words in it are there to be read, unseen.

use crate::assets::Darkroom;
use crate::ground::{Digest, MM_PER_INCH, PROCESS_PLATES, PackedRows, Packing, Paint, Rect};
use crate::pdf::ComposedPicture;
use crate::raster::{SheetGrid, SheetPart, Window};
use crate::scene::{FlatRegion, Item, Mark, Scene};
use std::sync::Arc;

/// A scene without transparency, and pictures of what was transparent.
pub struct ComposedScene {
    pub scene: Scene,
    /// Each lies on so many of the scene's items.
    pub pictures: Vec<(usize, ComposedPicture)>,
}

/// Rows that are composed at a time.
const ROWS: usize = 256;

/// `None` where nothing is transparent.
pub fn composed(scene: &Scene, packing: Packing, darkroom: &Darkroom) -> Option<ComposedScene> {
    let regions = scene.flat_regions();
    if regions.all.is_empty() {
        return None;
    }
    let transparent = |number: usize| regions.transparent.contains(&number);
    let opaque = |number: usize| !transparent(number);
    let (mut items, mut pictures, mut next) = (Vec::new(), Vec::new(), 0);
    for region in &regions.all {
        items.extend(scene.between(next..region.top + 1, &opaque));
        let words = scene.between(next..region.top + 1, &transparent);
        next = region.top + 1;
        pictures.push((items.len(), picture(scene, region, regions.ppi, packing, darkroom)));
        unseen(&words, &mut items);
    }
    items.extend(scene.between(next..usize::MAX, &opaque));
    Some(ComposedScene { scene: Scene { items, ..scene.clone() }, pictures })
}

fn picture(scene: &Scene, region: &FlatRegion, ppi: f64, packing: Packing, darkroom: &Darkroom) -> ComposedPicture {
    let place = region.place;
    let below = Scene { items: scene.between(0..region.top + 1, &|_| true), ..scene.clone() };
    let grid = Arc::new(SheetGrid::new(&below, place, ppi));
    let (width, height) = (grid.width, grid.height);
    let used = scene.plates_in(region);
    // Of the planes, those of inks that reach the place.
    let mut planes: Vec<usize> = used.named().collect();
    let mut plates: Vec<(String, [f64; 4])> = used
        .named()
        .map(|at| (PROCESS_PLATES[at].to_owned(), std::array::from_fn(|ink| f64::from(u8::from(ink == at)))))
        .collect();
    for (at, spot) in grid.spots.iter().enumerate().filter(|(_, spot)| used.spots.contains(&spot.name)) {
        planes.push(PROCESS_PLATES.len() + at);
        plates.push((spot.name.clone(), spot.look));
    }
    let whole = Window { x: 0, y: 0, width, height };
    let name = SheetPart::new(&below, &grid, whole, darkroom).map(|part| part.name());
    let named = format!("{plates:?} {packing:?}");
    let key = Digest::of_all(&[b"composed", name.unwrap_or(Digest::of(b"")).bytes(), named.as_bytes()]);
    let packed = darkroom.compressed(key, || {
        let mut rows = PackedRows::new(height, width * planes.len(), planes.len(), packing);
        for y in (0..height).step_by(ROWS) {
            let window = Window { x: 0, y, width, height: ROWS.min(height - y) };
            let Some(part) = SheetPart::new(&below, &grid, window, darkroom) else { continue };
            let drawn = part.planes();
            let samples = (0..window.area()).flat_map(|at| planes.iter().map(move |plane| (at, *plane)));
            rows.add(&samples.map(|(at, plane)| drawn[plane][at]).collect::<Vec<u8>>());
        }
        rows.finish()
    });
    ComposedPicture { place: exactly(place, (width, height), ppi), width, height, plates, packed }
}

/// Where its pixels lie.
fn exactly(place: Rect, (width, height): (usize, usize), ppi: f64) -> Rect {
    let mm = |pixels: usize| pixels as f64 * MM_PER_INCH / ppi;
    Rect::new(place.x0, place.y0, place.x0 + mm(width), place.y0 + mm(height))
}

/// Words that lie in a picture, to be found and read, and not seen.
fn unseen(items: &[Item], into: &mut Vec<Item>) {
    for item in items {
        match &item.mark {
            Mark::Glyphs(run) => {
                let mut run = run.clone();
                run.paint = Paint::None;
                into.push(Item { origin: item.origin.clone(), mark: Mark::Glyphs(run) });
            }
            Mark::Group(group) => unseen(&group.items, into),
            Mark::Fill { .. } | Mark::Stroke { .. } | Mark::Picture(_) => {}
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::{Blend, FillRule, Ink, rect_path};
    use crate::raster::trial::{item, rect, scene, spot};
    use crate::scene::Group;

    fn ink() -> Ink {
        Ink::process(0.5, 0.0, 0.0, 0.0)
    }

    fn veil(x: f64, width: f64) -> Mark {
        let items = vec![item(rect(x, 2.0, width, 10.0, ink()))];
        Mark::Group(Group { veil: None, clip: None, opacity: 0.5, blend: Blend::Normal, items })
    }

    #[test]
    fn places_that_touch_are_one_and_what_lies_over_the_last_veil_stays() {
        let solid = || rect(0.0, 0.0, 90.0, 40.0, ink());
        let cut = Mark::Group(Group::cut(
            (rect_path(Rect::new(60.0, 0.0, 70.0, 40.0)), FillRule::NonZero),
            vec![item(solid()), item(veil(55.0, 30.0)), item(solid())],
        ));
        let scene = scene(90.0, 40.0, vec![solid(), veil(5.0, 10.0), solid(), veil(12.0, 10.0), solid(), cut]);
        let found = scene.flat_regions();
        let seen: Vec<(usize, [f64; 2])> =
            found.all.iter().map(|region| (region.top, [region.place.x0.round(), region.place.x1.round()])).collect();
        // The clip leaves 60 to 70 of the last one.
        assert_eq!(seen, [(3, [5.0, 22.0]), (6, [60.0, 70.0])]);
        assert_eq!(found.transparent.into_iter().collect::<Vec<_>>(), [1, 3, 6]);
        let pixels = |mm: f64| mm / MM_PER_INCH * found.ppi;
        for region in &found.all {
            for side in [pixels(region.place.width()), pixels(region.place.x0 + 3.0)] {
                assert!((side - side.round()).abs() < 1e-6, "{side}");
            }
        }
        let count = |range| {
            let mut count = 0;
            let part = Scene { items: scene.between(range, &|number| number != 1), ..scene.clone() };
            part.walk(&mut |_| count += 1);
            count
        };
        assert_eq!([count(0..4), count(4..7), count(7..99)], [3, 3, 1]);
    }

    /// A spot ink, as words would, stays live unless something transparent lies above it.
    #[test]
    fn places_that_touch_stay_apart_where_one_picture_would_take_in_what_can_stay() {
        let veil = |x0: f64, y0: f64, x1: f64, y1: f64| {
            let items = vec![item(rect(x0, y0, x1 - x0, y1 - y0, ink()))];
            Mark::Group(Group { veil: None, clip: None, opacity: 0.5, blend: Blend::Normal, items })
        };
        let spot = |x: f64| rect(x, 4.0, 5.0, 2.0, Ink::spot(crate::raster::trial::spot("Red", false), 1.0));
        let count = |between: Vec<Mark>| {
            let mut marks = vec![veil(2.0, 2.0, 40.0, 12.0)];
            marks.extend(between);
            marks.push(veil(30.0, 2.0, 70.0, 12.0));
            scene(90.0, 40.0, marks).flat_regions().all.len()
        };
        assert_eq!([count(vec![]), count(vec![spot(32.0)]), count(vec![spot(80.0)])], [1, 1, 1]);
        assert_eq!([count(vec![spot(10.0)]), count(vec![spot(28.0)])], [2, 2], "it lies over the lower veil alone");
        // In the corner between two that lie across each other.
        let crossed = [veil(10.0, 5.0, 30.0, 35.0), veil(28.0, 30.0, 80.0, 35.0)];
        assert_eq!(scene(90.0, 40.0, crossed.to_vec()).flat_regions().all.len(), 2);
        let many = (0..40).flat_map(|_| [veil(0.0, 0.0, 900.0, 600.0), spot(40.0)]).collect();
        assert_eq!(scene(900.0, 600.0, many).flat_regions().all.len(), 1, "one hides the other");
    }

    /// 2,000 dots cost one picture, not 2,000 that each copy all that lies under them.
    #[test]
    fn very_many_places_become_one() {
        let dots = |count: u32| {
            let place = |at: u32| (f64::from(at % 80), f64::from(at / 80));
            let dot = |at: u32| {
                let items = vec![item(rect(2.0 + place(at).0, 2.0 + place(at).1, 0.5, 0.5, ink()))];
                Mark::Group(Group { veil: None, clip: None, opacity: 0.5, blend: Blend::Normal, items })
            };
            scene(90.0, 40.0, (0..count).map(dot).collect())
        };
        assert_eq!(dots(50).flat_regions().all.len(), 50);
        let found = dots(2000).flat_regions();
        assert_eq!(found.all.len(), 1);
        let (place, top) = (found.all[0].place, found.all[0].top);
        assert!((place.width() - 79.5).abs() < 0.2 && (place.height() - 24.5).abs() < 0.2, "{place:?}");
        assert_eq!((top, found.transparent.len()), (1999, 2000));
    }

    /// A wrap of usual size: 27 spots multiplied over each other, 3 KB of a cover, took over four seconds of one processor.
    /// A veil in each of six inks is common.
    #[test]
    fn marks_over_each_other_have_fewer_pixels_the_more_they_are() {
        let layers = |count: usize, spots: usize, opacity: f64| {
            let layer = |at: usize| {
                let ink = match at % (spots + 1) {
                    0 => ink(),
                    at => Ink::spot(spot(&format!("Ink {at}"), false), 0.2),
                };
                let opacity = if at == count { 0.5 } else { opacity };
                let items = vec![item(rect(0.0, 0.0, 280.0, 204.0, ink))];
                Mark::Group(Group { veil: None, clip: None, opacity, blend: Blend::Normal, items })
            };
            scene(280.0, 204.0, (0..=count).map(layer).collect()).flat_regions().ppi
        };
        assert!((layers(6, 2, 0.5) - 450.0).abs() < 0.5, "{}", layers(6, 2, 0.5));
        let many = layers(27, 27, 0.5);
        // 17.9 million pixels at 450, 31 plates, 28 layers and the group of each once more.
        assert!(many < 200.0 && many > 100.0, "{many}");
        // What lies in a transparent group is looked at as well; what is opaque costs less.
        assert!(layers(100, 0, 0.5) < layers(100, 0, 1.0) - 50.0, "{} {}", layers(100, 0, 0.5), layers(100, 0, 1.0));
        assert!(layers(300, 0, 1.0) < 310.0, "{}", layers(300, 0, 1.0));
    }

    #[test]
    fn a_large_sheet_has_fewer_pixels_and_an_opaque_one_no_region() {
        let wide = scene(1900.0, 900.0, vec![veil(0.0, 1900.0), rect(0.0, 0.0, 1900.0, 900.0, ink())]);
        let found = wide.flat_regions();
        assert!(found.ppi < 450.0 && 1900.0 / MM_PER_INCH * found.ppi <= 30_000.0, "{}", found.ppi);
        assert!(scene(90.0, 40.0, vec![rect(0.0, 0.0, 9.0, 9.0, ink())]).flat_regions().all.is_empty());
    }
}
