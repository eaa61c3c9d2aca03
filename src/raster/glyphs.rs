//! Glyphs to outlines: each shape of a run is flattened once and moved to its places.

use crate::ground::{Affine, FillRule, Point};
use crate::raster::outline::PixelOutline;
use crate::raster::simple::is_simple;
use crate::scene::GlyphRun;
use std::collections::BTreeMap;
use std::sync::Arc;

pub fn outlines(run: &GlyphRun, to_pixels: Affine) -> Vec<(Arc<PixelOutline>, (f64, f64))> {
    let from_run = to_pixels * run.transform;
    let turn = from_run.with_translation(crate::ground::Vec2::ZERO);
    let mut shapes: BTreeMap<(u16, u64), Arc<PixelOutline>> = BTreeMap::new();
    run.glyphs
        .iter()
        .enumerate()
        .map(|(at, glyph)| {
            let shape = shapes.entry((glyph.id, run.turn(at).to_bits())).or_insert_with(|| {
                let from_em = turn * run.placing(at).with_translation(crate::ground::Vec2::ZERO);
                let outline = PixelOutline::new(run.font.outline(glyph.id), FillRule::NonZero, from_em);
                Arc::new(if run.font.is_simple(glyph.id, is_simple) { outline.simple() } else { outline })
            });
            let place = from_run * Point::new(glyph.x, glyph.y);
            (shape.clone(), (place.x, place.y))
        })
        .collect()
}
