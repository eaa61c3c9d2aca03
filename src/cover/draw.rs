//! Cover to Scene: every element finds its frame and leaves its marks.

use crate::cover::{Bench, Cover, Element, FoundSize, Layout, book_shape, draw_one};
use crate::ground::{Affine, Colour, Findings, Finish, PROCESS_PLATES, Paint, Rect, number};
use crate::scene::{Item, Job, Mark, Scene, StandingBook, Surface};
use crate::typeset::Typesetter;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// How often all that is drawn may cover the whole sheet, and how often in any case. A rich cover comes to about thirty.
const LAYERS: f64 = 300.0;
const LEAST_LAYERS: f64 = 30.0;
/// More plates, or more square millimetres, take as much longer: such a sheet may be covered as much less often.
const PLATES: usize = 8;
const AREA: f64 = 100_000.0;
/// How many even fills a gradient takes as long as.
const GRADIENT: f64 = 4.0;

/// Draws a whole cover. What does not fit is reported and drawn all the same.
pub fn draw(findings: &RefCell<Findings>, cover: &Cover, typesetter: &Typesetter) -> Scene {
    on_bench(cover, typesetter, findings, None)
}

/// The sizes that words find by themselves, where all covers of a series are to share one.
pub fn found_sizes(cover: &Cover, typesetter: &Typesetter) -> Vec<FoundSize> {
    let (findings, found) = (&RefCell::default(), RefCell::default());
    on_bench(cover, typesetter, findings, Some(&found));
    found.into_inner()
}

fn on_bench(
    cover: &Cover,
    typesetter: &Typesetter,
    findings: &RefCell<Findings>,
    found: Option<&RefCell<Vec<FoundSize>>>,
) -> Scene {
    let (facts, sheet, art) = (&cover.facts, cover.sheet(), &RefCell::default());
    drawn(cover, Bench { facts, sheet, typesetter, findings, holes: None, art, found })
}

fn drawn(cover: &Cover, bench: Bench<'_>) -> Scene {
    // Neighbours are those of the same panel, wherever in the file they stand.
    let mut panels: BTreeMap<Surface, Vec<Element>> = BTreeMap::new();
    let mut places = Vec::with_capacity(cover.elements.len());
    for element in &cover.elements {
        let panel = panels.entry(element.panel).or_default();
        places.push((element.panel, panel.len()));
        panel.push(element.clone());
    }
    let regions: BTreeMap<Surface, _> = panels.keys().filter_map(|name| Some((*name, cover.region(*name)?))).collect();
    let layouts: BTreeMap<Surface, Layout<'_>> = panels
        .iter()
        .filter_map(|(name, elements)| Some((*name, Layout::new(bench, regions.get(name)?, elements))))
        .collect();
    let (mut items, mut laid, mut spots) = (Vec::new(), 0.0, BTreeSet::new());
    let delivered = cover.sheet().delivered();
    let whole = delivered.bleed;
    let present = cover.elements.iter().zip(places).filter(|(element, _)| !element.body.absent());
    for (element, (panel, index)) in present {
        let (Some(layout), Some(region)) = (layouts.get(&panel), regions.get(&panel)) else { continue };
        let place = (layout.frame(index), layout.room(index));
        let holes = layout.holes(index, Some(place.0.y0));
        let bench = Bench { holes: holes.as_ref(), ..bench };
        let mut drawn = draw_one(bench, region, element, place, Affine::IDENTITY);
        if delivered.pixels.is_some() {
            drawn.retain(|item| item.bounds().is_some_and(|bounds| bounds.overlaps(whole)));
        }
        for item in &drawn {
            lay(item, whole, &mut laid);
            item.inks(&mut |ink| match &ink.colour {
                Colour::Spot(spot, _) if spot.has_own_plate() && !spots.contains(&spot.name) => {
                    spots.insert(spot.name.clone());
                }
                _ => {}
            });
        }
        let plates = PROCESS_PLATES.len() + spots.len();
        if laid > layers(plates, whole) * whole.area() {
            let message = too_often(plates, whole);
            let help = "draw fewer large elements over each other, or place them as one picture";
            bench.findings.borrow_mut().error(element.name.span, message, help);
            break;
        }
        items.extend(drawn);
    }
    // A white underprint lies under everything else, and everything leaves it whole: its plate comes last, over nothing.
    items.sort_by_cached_key(is_underprint);
    let facts = &cover.facts;
    let shape = book_shape(&facts.format, &cover.spine, &facts.materials, facts.book.bound_right());
    let views = shape.map(|shape| Arc::new(StandingBook { shape, all: facts.views.clone() }));
    Scene { sheet: delivered, job: job(cover), profile: facts.press.profile.clone(), items, views }
}

/// How often all that is drawn may cover a sheet.
fn layers(plates: usize, whole: Rect) -> f64 {
    let share = (PLATES as f64 / plates as f64).min(1.0) * (AREA / whole.area()).min(1.0);
    (LAYERS * share).floor().max(LEAST_LAYERS)
}

fn too_often(plates: usize, whole: Rect) -> String {
    let times = layers(plates, whole);
    let of = if times < LAYERS {
        format!(" for {plates} plates of {} mm × {} mm", number(whole.width()), number(whole.height()))
    } else {
        String::new()
    };
    format!(
        "all that is drawn up to here would cover the sheet more than {times} times, the limit{of}; a gradient counts as four"
    )
}

/// Whether an item is of white ink and nothing else.
fn is_underprint(item: &Item) -> bool {
    let (mut white, mut other) = (false, false);
    item.inks(&mut |ink| match &ink.colour {
        Colour::Spot(spot, _) if spot.finish == Some(Finish::White) => white = true,
        _ => other = true,
    });
    white && !other
}

/// The box of an item, and in `laid` the square millimetres of the sheet that are composed for it, as often as they are gone through.
/// Outlines count by their control points, which is quick and errs on the large side.
fn lay(item: &Item, whole: Rect, laid: &mut f64) -> Option<Rect> {
    let is_gradient = match &item.mark {
        Mark::Fill { paint, .. } | Mark::Stroke { paint, .. } => matches!(paint, Paint::Gradient(_)),
        Mark::Glyphs(run) => matches!(run.paint, Paint::Gradient(_)),
        Mark::Picture(_) | Mark::Group(_) => false,
    };
    let times = if is_gradient { GRADIENT } else { 1.0 };
    let reach = match &item.mark {
        Mark::Fill { path, .. } => (!path.elements().is_empty()).then(|| path.control_box()),
        Mark::Group(group) => {
            for item in group.veil.iter().flat_map(|veil| veil.iter()) {
                lay(item, whole, laid);
            }
            let all = group.items.iter().filter_map(|item| lay(item, whole, laid)).reduce(|a, b| a.union(b));
            all.map(|all| group.clip.as_ref().map_or(all, |(clip, _)| all.intersect(clip.control_box())))
        }
        _ => item.bounds(),
    };
    *laid += times * reach.map_or(0.0, |reach| reach.intersect(whole).area());
    reach
}

fn job(cover: &Cover) -> Job {
    let book = &cover.facts.book;
    let word = |name| book.word(name).unwrap_or_default().to_owned();
    let (width, height) = cover.facts.format.trim;
    let notes = match cover.sheet().pixels {
        Some(pixels) => vec![format!("screen {pixels} pixels")],
        None => vec![
            format!("{} {} × {} mm", cover.facts.format.binding.word(), number(width), number(height)),
            format!("spine {} mm, {} pages", number(cover.spine.width), cover.spine.pages),
        ],
    };
    Job {
        title: word("title"),
        author: word("author"),
        language: book.language.value.clone(),
        alt_text: book.word("alt-text").map(str::to_owned),
        isbn: book.word("isbn").map(str::to_owned),
        version: book.version,
        date: book.date.clone(),
        standing: None,
        notes,
        text_plate: cover.facts.press.text_plate.as_ref().map(|plate| plate.value.clone()),
    }
}
