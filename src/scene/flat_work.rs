//! Flat work: what it costs to compose a place, so that many marks over each other have fewer pixels and no sheet takes long.

use crate::ground::Rect;
use crate::scene::{Item, Mark};

/// A mark, or one in a transparent group, as whoever composes it meets it.
pub struct FlatLayer {
    /// Of the mark, as flat regions count.
    number: usize,
    place: Rect,
    /// Of what a transparent one costs.
    share: f64,
}

/// An opaque mark is laid down without a look at what lies there: measured, a quarter of the time.
const OPAQUE: f64 = 0.25;

/// The layers of a mark that shows in a place.
pub fn layers(number: usize, item: &Item, shown: Rect, into: &mut Vec<FlatLayer>) {
    let place = item.bounds().map_or(Rect::ZERO, |bounds| bounds.intersect(shown));
    if place.area() <= 0.0 {
        return;
    }
    into.push(FlatLayer { number, place, share: if item.is_transparent() { 1.0 } else { OPAQUE } });
    if let Mark::Group(group) = &item.mark {
        group
            .items
            .iter()
            .chain(group.veil.iter().flat_map(|veil| veil.iter()))
            .for_each(|item| layers(number, item, place, into));
    }
}

/// Square millimetres that are passed over to compose a place up to a mark: its own, and those of its layers.
pub fn passed(place: Rect, top: usize, layers: &[FlatLayer]) -> f64 {
    let shared = layers.iter().filter(|layer| layer.number <= top).map(|layer| {
        let both = layer.place.intersect(place);
        both.width().max(0.0) * both.height().max(0.0) * layer.share
    });
    place.area() + shared.sum::<f64>()
}
