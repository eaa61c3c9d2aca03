//! Ink use: how much of the trimmed wrap each plate covers, and the block that a foil or a varnish needs on each panel.

use crate::assets::Darkroom;
use crate::ground::{MM_PER_INCH, PROCESS_PLATES, Rect};
use crate::raster::plates;
use crate::scene::{Panel, Scene};

/// Fine enough for areas, and for blocks that are ordered in whole millimetres.
const PPI: f64 = 72.0;
/// Less than this is the soft edge of a shape.
const SHOWS: u8 = 64;

pub struct InkUse {
    pub name: String,
    /// Of the trimmed wrap, solid ink; 1 is all of it.
    pub share: f64,
    pub square_centimetres: f64,
    /// Panels, and width and height of what is on them in millimetres; only of foils, varnishes and their kin.
    pub blocks: Vec<(&'static str, f64, f64)>,
}

/// Every plate that prints.
pub fn ink_use(scene: &Scene, darkroom: &Darkroom) -> Vec<InkUse> {
    let trim = scene.sheet.trim;
    let plates = plates(scene, trim, PPI, darkroom);
    let process = PROCESS_PLATES.iter().zip(&plates.process).map(|(name, plane)| ((*name).to_owned(), plane, false));
    let spots = plates.spots.iter().map(|(spot, plane)| (spot.name.clone(), plane, spot.finish.is_some()));
    let used = process.chain(spots).map(|(name, plane, finishing)| {
        let sum: u64 = plane.iter().map(|value| u64::from(*value)).sum();
        let share = sum as f64 / (255.0 * plane.len().max(1) as f64);
        let panels = if finishing { &scene.sheet.panels[..] } else { &[] };
        let blocks = panels.iter().filter_map(|panel| block(plane, plates.width, panel, trim)).collect();
        InkUse { name, share, square_centimetres: share * trim.area() / 100.0, blocks }
    });
    used.filter(|ink| ink.share > 0.0).collect()
}

/// What a plate shows on a panel, in whole millimetres.
fn block(plane: &[u8], width: usize, panel: &Panel, trim: Rect) -> Option<(&'static str, f64, f64)> {
    let scale = PPI / MM_PER_INCH;
    let column = |x: f64| ((x - trim.x0) * scale).round().max(0.0) as usize;
    let columns = column(panel.rect.x0).min(width)..column(panel.rect.x1).min(width);
    let mut found: Option<[usize; 4]> = None;
    for (row, samples) in plane.chunks_exact(width.max(1)).enumerate() {
        let shown = |(_, value): &(usize, &u8)| **value >= SHOWS;
        let mut here = samples[columns.clone()].iter().enumerate().filter(shown).map(|(at, _)| at);
        let Some(first) = here.next() else { continue };
        let last = here.next_back().unwrap_or(first);
        let [left, right, top, _] = found.unwrap_or([first, last, row, row]);
        found = Some([left.min(first), right.max(last), top, row]);
    }
    let millimetres = |from: usize, to: usize| ((to + 1 - from) as f64 / scale).round();
    found.map(|[left, right, top, foot]| (panel.name.word(), millimetres(left, right), millimetres(top, foot)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Ink;
    use crate::raster::trial::{rect, scene, spot};
    use crate::scene::PanelName;

    #[test]
    fn areas_and_blocks_are_those_of_the_shapes() {
        let foil = Ink::spot(spot("Foil", true), 1.0);
        let mut scene =
            scene(100.0, 80.0, vec![rect(0.0, 0.0, 50.0, 80.0, Ink::black(0.5)), rect(60.0, 10.0, 20.0, 30.0, foil)]);
        scene.sheet.panels = vec![Panel { name: PanelName::Front, rect: Rect::new(50.0, 0.0, 100.0, 80.0) }];
        let used = ink_use(&scene, &Darkroom::default());
        let names: Vec<&str> = used.iter().map(|ink| ink.name.as_str()).collect();
        assert_eq!(names, ["Black", "Foil"]);
        // Half of 80 cm² at a half, and 2 by 3 cm.
        assert!((used[0].square_centimetres - 20.0).abs() < 0.3 && (used[0].share - 0.25).abs() < 0.005);
        assert!((used[1].square_centimetres - 6.0).abs() < 0.2, "{}", used[1].square_centimetres);
        let [(panel, width, height)] = used[1].blocks[..] else { panic!("one block") };
        assert_eq!((panel, width, height), ("front", 20.0, 30.0));
        assert!(used[0].blocks.is_empty());
    }
}
