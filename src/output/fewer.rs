//! Fewer pixels: a scene for the press in which no picture is finer than wanted.

use crate::assets::{Picture, Separation};
use crate::ground::Digest;
use crate::raster::{fewer_alpha, fewer_pixels};
use crate::scene::{Item, Mark, Scene};
use std::collections::BTreeMap;
use std::sync::Arc;

/// The pictures that are exchanged, by what they are and how they become ink.
type Exchanged = BTreeMap<(Digest, [u8; 5]), Arc<Picture>>;

/// `None` where no picture has too many.
pub fn with_fewer_pixels(scene: &Scene, finest: f64) -> Option<Scene> {
    let mut exchanged = Exchanged::new();
    for scaled in scene.scaled_down(finest) {
        let (picture, separation) = (&scaled.placed.picture, scaled.placed.separation);
        let (profile, size) = (scene.profile.clone(), scaled.size);
        // How light the levels of a grey picture are depends on the press.
        let about = [&profile.digest().bytes()[..], &separation.code()].concat();
        let make = move |picture: &Picture, rows| fewer_pixels(picture, (separation, &profile), size, rows);
        let fewer = picture.fewer(size, &about, fewer_alpha(picture, size), make);
        exchanged.insert(name(picture, separation), Arc::new(fewer));
    }
    (!exchanged.is_empty())
        .then(|| Scene { items: scene.items.iter().map(|item| exchange(item, &exchanged)).collect(), ..scene.clone() })
}

fn name(picture: &Picture, separation: Separation) -> (Digest, [u8; 5]) {
    (picture.digest(), separation.code())
}

fn exchange(item: &Item, exchanged: &Exchanged) -> Item {
    let mut item = item.clone();
    match &mut item.mark {
        Mark::Picture(placed) if placed.paint.is_none() => {
            if let Some(fewer) = exchanged.get(&name(&placed.picture, placed.separation)) {
                placed.picture = fewer.clone();
            }
        }
        Mark::Group(group) => group.items = group.items.iter().map(|item| exchange(item, exchanged)).collect(),
        Mark::Fill { .. } | Mark::Stroke { .. } | Mark::Glyphs(_) | Mark::Picture(_) => {}
    }
    item
}
