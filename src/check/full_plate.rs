//! Full plate: marks in the full ink of one plate, where they are printed in a tint of it or thinned.

use crate::ground::{Colour, Ink, Paint, Spot};
use crate::scene::{Item, Mark};

/// A finish is on or off, and as broad in a tint as in full. A group is no longer thinned where nothing else is in it.
pub fn in_full(item: &mut Item, spot: &Spot) {
    let full = |ink: &mut Ink| {
        if let Colour::Spot(own, tint) = &mut ink.colour
            && own.name == spot.name
            && *tint > 0.0
        {
            *tint = 1.0;
        }
    };
    match &mut item.mark {
        Mark::Fill { paint, .. } | Mark::Stroke { paint, .. } => painted(paint, &full),
        Mark::Glyphs(run) => painted(&mut run.paint, &full),
        Mark::Picture(placed) => placed.paint.iter_mut().for_each(full),
        Mark::Group(group) => {
            group.items.iter_mut().for_each(|item| in_full(item, spot));
            if group.items.iter().all(|item| is_only(item, spot)) {
                group.opacity = 1.0;
            }
        }
    }
}

fn painted(paint: &mut Paint, full: &impl Fn(&mut Ink)) {
    match paint {
        Paint::None => {}
        Paint::Ink(ink) => full(ink),
        Paint::Gradient(gradient) => gradient.stops.iter_mut().for_each(|(_, ink)| full(ink)),
    }
}

fn is_only(item: &Item, spot: &Spot) -> bool {
    match &item.mark {
        Mark::Group(group) => group.items.iter().all(|item| is_only(item, spot)),
        Mark::Picture(placed) if placed.paint.is_none() => false,
        _ => {
            let mut only = true;
            item.inks(&mut |ink| only &= matches!(&ink.colour, Colour::Spot(own, _) if own.name == spot.name));
            only
        }
    }
}
