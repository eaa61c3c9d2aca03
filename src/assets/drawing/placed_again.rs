//! Placed again: an effect of a drawing that stands several times on a cover.

use super::*;
use crate::assets::Picture;
use crate::ground::{Memo, Rect};
use std::sync::Arc;

const SOFT: &str = "<svg xmlns='http://www.w3.org/2000/svg' width='99' height='99'>\
    <rect width='50' height='50' style='filter:blur(2px)'/></svg>";

/// Of the same size in another place, the last digits of scale and part differ.
#[test]
fn a_drawing_placed_again_in_the_same_size_is_drawn_once() {
    let drawing = open("a.svg", SOFT.as_bytes()).expect("reads");
    let (mut budget, kept) = (EffectBudget::default(), Memo::<Picture>::bounded(1 << 30, Picture::weight));
    let mut pictures = Vec::new();
    for noise in [0.0, 3e-15, -7e-14] {
        let shown = Rect::new(-1.0 + noise, noise, 9.0 - noise, 9.0 + noise);
        let plan = drawing.plan_effects(0.7 + noise, shown, &mut budget);
        for view in drawing.pictured() {
            let part = view.part(plan.shown).expect("it shows");
            pictures.extend(view.picture(part, plan.ppi / 25.4 * (0.7 + noise), &kept).map(|(picture, _)| picture));
        }
    }
    assert!(pictures.len() == 3 && pictures.iter().all(|picture| Arc::ptr_eq(picture, &pictures[0])));
}
