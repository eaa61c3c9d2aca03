//! Flat regions: where a scene mixes with what lies under it, for a press file that cannot say so: the places that are composed
//! as pictures, and up to which mark. What lies over the last of its transparent marks stays as it is.

use crate::ground::{Colour, MM_PER_INCH, Rect};
use crate::scene::{Group, Item, Mark, Origin, Scene};
use std::collections::BTreeSet;
use std::ops::Range;
use std::sync::Arc;

/// A place that is composed as one picture.
pub struct FlatRegion {
    /// Sheet millimetres, whole pixels.
    pub place: Rect,
    /// Marks are counted from the bottom, plain groups opened; those up to this one lie in the picture.
    pub top: usize,
    /// Whose marks are transparent.
    pub origins: Vec<Arc<Origin>>,
}

/// The inks of a place.
#[derive(Default)]
pub struct RegionPlates {
    /// In the order of the process plates.
    pub process: [bool; 4],
    pub spots: BTreeSet<String>,
}

impl RegionPlates {
    /// Inks that a picture of the place names: without a spot ink it has all process inks.
    pub fn count(&self) -> usize {
        if self.spots.is_empty() { self.process.len() } else { self.named().count() + self.spots.len() }
    }

    /// The process plates that it names.
    pub fn named(&self) -> impl Iterator<Item = usize> {
        (0..self.process.len()).filter(|at| self.process[*at] || self.spots.is_empty())
    }
}

/// The places of a scene and their resolution.
pub struct FlatRegions {
    pub ppi: f64,
    /// From bottom to top; no two share a place.
    pub all: Vec<FlatRegion>,
    /// The numbers of the marks that are transparent.
    pub transparent: BTreeSet<usize>,
}

/// Pixels per inch of what is composed: half as much again as pictures need, since there are letters in it. Ours.
const USUAL_PPI: f64 = 450.0;
/// Samples that are composed for one sheet at the most; a larger place has fewer pixels per inch.
const MOST_SAMPLES: f64 = 400e6;
const MOST_PIXELS_A_SIDE: f64 = 30_000.0;
/// Pictures of one sheet; of more places one is made. Each takes all that lies under it. Ours.
const MOST_REGIONS: usize = 50;

impl Scene {
    pub fn flat_regions(&self) -> FlatRegions {
        let mut found: Vec<(usize, Rect, Arc<Origin>)> = Vec::new();
        let mut transparent = BTreeSet::new();
        marks(&self.items, self.sheet.bleed, &mut 0, &mut |number, item, shown| {
            if item.is_transparent() {
                transparent.insert(number);
                let place = item.bounds().map(|bounds| bounds.intersect(shown));
                found
                    .extend(place.filter(|place| place.area() > 0.0).map(|place| (number, place, item.origin.clone())));
            }
        });
        let joined = |ppi: f64| joined(&found, self.sheet.bleed, ppi);
        let regions = joined(USUAL_PPI);
        let plates = 4.0 + self.spots().len() as f64;
        let pixels = |mm: f64| mm / MM_PER_INCH * USUAL_PPI;
        let sizes = || regions.iter().map(|region| (pixels(region.place.width()), pixels(region.place.height())));
        let samples: f64 = sizes().map(|(width, height)| width * height * plates).sum();
        let longest = sizes().map(|(width, height)| width.max(height)).fold(1.0, f64::max);
        let share = (MOST_SAMPLES / samples.max(1.0)).sqrt().min(MOST_PIXELS_A_SIDE / longest);
        if share >= 1.0 {
            return FlatRegions { ppi: USUAL_PPI, all: regions, transparent };
        }
        let ppi = (USUAL_PPI * share).floor().max(1.0);
        FlatRegions { ppi, all: joined(ppi), transparent }
    }

    /// Those of its marks in a range that are wanted by their numbers, each in the groups it lies in.
    pub fn between(&self, range: Range<usize>, wanted: &dyn Fn(usize) -> bool) -> Vec<Item> {
        between(&self.items, &range, &mut 0, wanted)
    }

    /// All that lies in the picture of a region, groups opened.
    pub fn marks_in<'a>(&'a self, region: &FlatRegion, visit: &mut dyn FnMut(&'a Item)) {
        marks(&self.items, region.place, &mut 0, &mut |number, item, shown| {
            if number <= region.top {
                showing(item, shown, visit);
            }
        });
    }

    /// The plates of the picture of a region. A picture that brings its own colours counts as all four process inks.
    pub fn plates_in(&self, region: &FlatRegion) -> RegionPlates {
        let mut plates = RegionPlates::default();
        self.marks_in(region, &mut |item| {
            if matches!(&item.mark, Mark::Picture(placed) if placed.takes_press_inks()) {
                plates.process = [true; 4];
            }
            item.inks(&mut |ink| match &ink.colour {
                Colour::Spot(spot, _) => _ = plates.spots.insert(spot.name.clone()),
                Colour::Process(inks) => {
                    plates.process.iter_mut().zip(inks).for_each(|(is_there, ink)| *is_there |= *ink > 0.0);
                }
            });
        });
        plates
    }
}

/// What of an item lies in a place.
fn showing<'a>(item: &'a Item, shown: Rect, visit: &mut dyn FnMut(&'a Item)) {
    let shared = item.bounds().map_or(Rect::ZERO, |bounds| bounds.intersect(shown));
    match &item.mark {
        _ if shared.area() <= 0.0 => {}
        Mark::Group(group) => group.items.iter().for_each(|item| showing(item, shared, visit)),
        _ => visit(item),
    }
}

/// The regions of transparent marks, on whole pixels counted from the bleed's corner.
fn joined(found: &[(usize, Rect, Arc<Origin>)], bleed: Rect, ppi: f64) -> Vec<FlatRegion> {
    let pixel = MM_PER_INCH / ppi;
    let edge = |place: f64, from: f64, whole: fn(f64) -> f64| from + whole((place - from) / pixel) * pixel;
    let mut all: Vec<FlatRegion> = Vec::new();
    for (number, place, origin) in found {
        let place = Rect::new(
            edge(place.x0, bleed.x0, f64::floor),
            edge(place.y0, bleed.y0, f64::floor),
            edge(place.x1, bleed.x0, f64::ceil),
            edge(place.y1, bleed.y0, f64::ceil),
        );
        join(&mut all, FlatRegion { place, top: *number, origins: vec![origin.clone()] }, pixel / 2.0);
        if all.len() > MOST_REGIONS {
            all = all.into_iter().reduce(united).into_iter().collect();
        }
    }
    all.sort_by_key(|region| region.top);
    all
}

/// Regions that share a place become one, as large as all of them.
fn join(all: &mut Vec<FlatRegion>, mut region: FlatRegion, slack: f64) {
    while let Some(at) = all.iter().position(|other| {
        let both = other.place.intersect(region.place);
        both.width() > slack && both.height() > slack
    }) {
        region = united(region, all.swap_remove(at));
    }
    all.push(region);
}

fn united(mut region: FlatRegion, other: FlatRegion) -> FlatRegion {
    region.place = region.place.union(other.place);
    region.top = region.top.max(other.top);
    region.origins.extend(other.origins);
    region.origins.dedup_by(|one, other| Arc::ptr_eq(one, other));
    region
}

/// Every mark with its number, and the part of the sheet where the groups around it let it show.
fn marks<'a>(items: &'a [Item], shown: Rect, count: &mut usize, visit: &mut dyn FnMut(usize, &'a Item, Rect)) {
    for item in items {
        if let Some(group) = opened(item) {
            let cut = group.bounds().map_or(Rect::ZERO, |bounds| bounds.intersect(shown));
            marks(&group.items, cut, count, visit);
        } else {
            visit(*count, item, shown);
            *count += 1;
        }
    }
}

fn between(items: &[Item], range: &Range<usize>, count: &mut usize, wanted: &dyn Fn(usize) -> bool) -> Vec<Item> {
    let mut kept = Vec::new();
    for item in items {
        if let Some(group) = opened(item) {
            let inside = between(&group.items, range, count, wanted);
            if !inside.is_empty() {
                let group = Group { veil: None, clip: group.clip.clone(), items: inside, ..*group };
                kept.push(Item { origin: item.origin.clone(), mark: Mark::Group(group) });
            }
        } else {
            if range.contains(count) && wanted(*count) {
                kept.push(item.clone());
            }
            *count += 1;
        }
    }
    kept
}

/// A group that only cuts, or does nothing.
fn opened(item: &Item) -> Option<&Group> {
    match &item.mark {
        Mark::Group(group) if group.is_plain() => Some(group),
        _ => None,
    }
}
