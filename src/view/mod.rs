//! The book as it stands: shapes from the facts of a book, light on them, and ink laid onto that light.

mod blocked;
pub mod camera;
mod cover_path;
mod dot;
mod finish;
mod floor;
mod groups;
mod ink;
mod lamps;
mod layers;
mod light;
mod paper;
mod poses;
mod pyramid;
mod rays;
mod relief;
mod shapes;
mod sight;
mod solid;
mod stored;
#[cfg(test)]
mod tests;
mod texture;
mod whole_bytes;

use crate::ground::Digest;
use crate::scene::{BookShape, BookView, Grouping};
use std::sync::Arc;

pub use layers::{GroundColours, Layers, Paints, PrintedBook, Rgba, STUDIO};
pub use texture::Texture;

/// Where bytes that are slow to compute are remembered.
pub type Remember<'a> = &'a dyn Fn(Digest, &mut dyn FnMut() -> Vec<u8>) -> Arc<Vec<u8>>;

/// Draws a view of a book: its light, which is remembered by all that it depends on, and ink on it.
pub fn draw(book: &PrintedBook<'_>, view: &BookView, ground: GroundColours, remember: Remember<'_>) -> Layers {
    let key = light_key(&format!("{:?}", view.pose), &[book.shape], view);
    lit(&poses::arrange(book.shape, view), std::slice::from_ref(book), (view, ground), (key, remember))
}

/// Draws several books in one picture; there is at least one.
pub fn draw_group(
    books: &[PrintedBook<'_>],
    grouping: Grouping,
    (view, ground): (&BookView, GroundColours),
    remember: Remember<'_>,
) -> Layers {
    let shapes: Vec<&BookShape> = books.iter().map(|book| book.shape).collect();
    let key = light_key(&format!("{grouping:?}"), &shapes, view);
    lit(&groups::arrange(&shapes, grouping, view), books, (view, ground), (key, remember))
}

fn lit(
    arrangement: &poses::Arrangement,
    books: &[PrintedBook<'_>],
    (view, ground): (&BookView, GroundColours),
    (key, remember): (Digest, Remember<'_>),
) -> Layers {
    let size = (view.pixels.0 as usize, view.pixels.1 as usize);
    let bytes = remember(key, &mut || stored::to_bytes(&light::light(arrangement, size)));
    let light = stored::from_bytes(&bytes).unwrap_or_else(|| light::light(arrangement, size));
    layers::layers(books, (arrangement, &light), (view, ground))
}

/// Names everything that light depends on: not the print, nor any colour.
fn light_key(arrangement: &str, shapes: &[&BookShape], view: &BookView) -> Digest {
    let BookView { round, above, distance, pixels, .. } = view;
    let about = format!("{arrangement} {round:?} {above:?} {distance:?} {pixels:?}");
    let shapes = shapes.iter().map(|shape| {
        let BookShape { cover, page, block, spine, rounded, bound_right, ribbon, .. } = shape;
        let ribbon = ribbon.is_some();
        format!(" {cover:?} {page:?} {block} {spine} {rounded} {bound_right} {ribbon}")
    });
    let about = about + &shapes.collect::<String>();
    Digest::of_all(&[b"light", about.as_bytes()])
}
