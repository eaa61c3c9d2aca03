//! Flat regions: where a scene mixes with what lies under it, for a press file that cannot say so: the places that are composed
//! as pictures, and up to which mark. What lies over the last of its transparent marks stays as it is.

use crate::ground::{Colour, MM_PER_INCH, Rect};
use crate::scene::{Group, Item, Mark, Origin, Scene, flat_work};
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
    /// From bottom to top. Where two share a place, the upper one shows, with all that lies under it.
    pub all: Vec<FlatRegion>,
    /// The numbers of the marks that are transparent.
    pub transparent: BTreeSet<usize>,
}

/// Pixels per inch of what is composed: half as much again as pictures need, since there are letters in it. Ours.
const USUAL_PPI: f64 = 450.0;
/// Samples that are composed for one sheet at the most; a larger place has fewer pixels per inch.
const MOST_SAMPLES: f64 = 400e6;
/// Samples passed over meanwhile, once for each mark that lies over them: of many marks the picture has fewer pixels. Ours;
/// a thousand million take about half a second of one processor.
const MOST_PASSED: f64 = 2500e6;
const MOST_PIXELS_A_SIDE: f64 = 30_000.0;
/// Pictures of one sheet; of more places one is made. Each takes all that lies under it. Ours.
const MOST_REGIONS: usize = 50;
/// Transparent marks times words and spots: with more of them, places that touch become one whatever lies in them. Ours.
const MOST_COMPARED: usize = 100_000;

impl Scene {
    pub fn flat_regions(&self) -> FlatRegions {
        let mut found: Vec<(usize, Rect, Arc<Origin>)> = Vec::new();
        let mut transparent = BTreeSet::new();
        let (mut live, mut layers) = (Vec::new(), Vec::new());
        marks(&self.items, self.sheet.bleed, &mut 0, &mut |number, item, shown| {
            flat_work::layers(number, item, shown, &mut layers);
            let place = item.bounds().map(|bounds| bounds.intersect(shown)).filter(|place| place.area() > 0.0);
            if item.is_transparent() {
                transparent.insert(number);
                found.extend(place.map(|place| (number, place, item.origin.clone())));
            } else if stays_live(item) {
                live.extend(place.map(|place| (number, place)));
            }
        });
        let pixels = |mm: f64| mm / MM_PER_INCH * USUAL_PPI;
        let plates = 4.0 + self.spots().len() as f64;
        let samples = |area: f64| area * pixels(1.0) * pixels(1.0) * plates;
        // How many times what may be composed at the most.
        let excess = |regions: &[FlatRegion]| -> f64 {
            let area = regions.iter().map(|region| region.place.area()).sum();
            let passed = regions.iter().map(|region| flat_work::passed(region.place, region.top, &layers)).sum();
            (samples(area) / MOST_SAMPLES).max(samples(passed) / MOST_PASSED)
        };
        let joined = |spared, ppi: f64| joined(&found, spared, self.sheet.bleed, ppi);
        let mut spared = (found.len() * live.len() <= MOST_COMPARED).then_some(&live[..]);
        let mut regions = joined(spared, USUAL_PPI);
        if spared.is_some() && excess(&regions) > 1.0 {
            spared = None;
            regions = joined(None, USUAL_PPI);
        }
        let longest = regions.iter().map(|region| pixels(region.place.width().max(region.place.height())));
        let longest = longest.fold(1.0, f64::max);
        let share = excess(&regions).max(1.0).sqrt().recip().min(MOST_PIXELS_A_SIDE / longest);
        if share >= 1.0 {
            return FlatRegions { ppi: USUAL_PPI, all: regions, transparent };
        }
        let ppi = (USUAL_PPI * share).floor().max(1.0);
        FlatRegions { ppi, all: joined(spared, ppi), transparent }
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

/// Words and spot inks lose by being composed; tints and pictures of the process inks do not.
fn stays_live(item: &Item) -> bool {
    let mut spot = false;
    item.inks(&mut |ink| spot |= matches!(ink.colour, Colour::Spot(..)));
    spot || matches!(item.mark, Mark::Glyphs(_))
}

/// The regions of transparent marks, on whole pixels counted from the bleed's corner. Those that share a place become one, but
/// not where that would compose one of the `spared` marks, whose numbers and places are given.
fn joined(
    found: &[(usize, Rect, Arc<Origin>)],
    spared: Option<&[(usize, Rect)]>,
    bleed: Rect,
    ppi: f64,
) -> Vec<FlatRegion> {
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
        join(&mut all, FlatRegion { place, top: *number, origins: vec![origin.clone()] }, pixel / 2.0, spared);
        if all.len() > MOST_REGIONS {
            all = all.into_iter().reduce(united).into_iter().collect();
        }
    }
    all.sort_by_key(|region| region.top);
    all
}

/// Joins a region with those that it shares a place with.
fn join(all: &mut Vec<FlatRegion>, mut region: FlatRegion, slack: f64, spared: Option<&[(usize, Rect)]>) {
    while let Some(at) = all.iter().position(|other| {
        let both = other.place.intersect(region.place);
        both.width() > slack && both.height() > slack && spared.is_none_or(|spared| is_harmless(other, &region, spared))
    }) {
        region = united(region, all.swap_remove(at));
    }
    all.push(region);
}

/// Whether one picture of two regions has no more pixels than two, and none of a mark that would stay as it is with two.
fn is_harmless(one: &FlatRegion, other: &FlatRegion, spared: &[(usize, Rect)]) -> bool {
    let (under, over) = if one.top < other.top { (one, other) } else { (other, one) };
    let whole = under.place.union(over.place);
    let composed = |number: usize, place: Rect| {
        let place = place.intersect(whole);
        let both = [over.place, under.place];
        // What lies over the lower region is composed in the upper one alone.
        number <= over.top && reaches_beyond(place, if number <= under.top { &both } else { &both[..1] })
    };
    whole.area() <= under.place.area() + over.place.area()
        && !spared.iter().any(|(number, place)| composed(*number, *place))
}

/// Whether any of a place lies in none of the others.
fn reaches_beyond(place: Rect, others: &[Rect]) -> bool {
    let Some((other, others)) = others.split_first() else { return place.area() > 0.0 };
    let both = place.intersect(*other);
    if both.area() <= 0.0 {
        return reaches_beyond(place, others);
    }
    let beside = [
        Rect { y1: both.y0, ..place },
        Rect { y0: both.y1, ..place },
        Rect { x1: both.x0, y0: both.y0, y1: both.y1, ..place },
        Rect { x0: both.x1, y0: both.y0, y1: both.y1, ..place },
    ];
    beside.into_iter().any(|part| part.width() > 0.0 && part.height() > 0.0 && reaches_beyond(part, others))
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
