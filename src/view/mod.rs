//! The book as it stands: shapes from the facts of a book, light on them, and ink laid onto that light.

mod blocked;
pub mod camera;
mod cover_path;
mod dot;
mod floor;
mod ink;
mod lamps;
mod layers;
mod light;
mod paper;
mod poses;
mod rays;
mod shapes;
mod sight;
mod solid;
mod stored;
#[cfg(test)]
mod tests;
mod texture;
mod whole_bytes;

use crate::ground::Digest;
use crate::scene::{BookShape, BookView};
use std::sync::Arc;

pub use layers::{Layers, Paints, Rgba, STUDIO};
pub use texture::Texture;

/// Where bytes that are slow to compute are remembered.
pub type Remember<'a> = &'a dyn Fn(Digest, &mut dyn FnMut() -> Vec<u8>) -> Arc<Vec<u8>>;

/// Draws a view: its light, which is remembered by all that it depends on, and ink on it.
pub fn draw(
    (shape, view): (&BookShape, &BookView),
    print: &Texture,
    paints: &Paints,
    remember: Remember<'_>,
) -> Layers {
    let arrangement = poses::arrange(shape, view);
    let size = (view.pixels.0 as usize, view.pixels.1 as usize);
    let bytes = remember(light_key(shape, view), &mut || stored::to_bytes(&light::light(&arrangement, size)));
    let light = stored::from_bytes(&bytes).unwrap_or_else(|| light::light(&arrangement, size));
    layers::layers((shape, view), (&arrangement, &light), (print, paints))
}

/// Names everything that light depends on: not the print, nor any colour.
fn light_key(shape: &BookShape, view: &BookView) -> Digest {
    let BookShape { cover, page, block, spine, rounded, bound_right, .. } = shape;
    let BookView { pose, round, above, distance, pixels, .. } = view;
    let about = format!(
        "{cover:?} {page:?} {block} {spine} {rounded} {bound_right} {pose:?} {round:?} {above:?} {distance:?} {pixels:?}"
    );
    Digest::of_all(&[b"light", about.as_bytes()])
}
