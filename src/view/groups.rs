//! Groups: several books in one picture, side by side, in a pile, or fanned out.

use crate::scene::{BookShape, BookView, Grouping};
use crate::view::camera::Stand;
use crate::view::poses::{Arrangement, SHOULDER, down, seen};
use crate::view::shapes::closed;
use crate::view::solid::Solid;
use glam::{Affine3A, Mat3, Vec3, vec3};

/// Books in a row turn their spines towards us by so many degrees, and stand so far apart, as a share of their width.
const TURNED: f32 = 28.0;
const APART: f32 = 0.16;
/// Its lamp hangs nearly in front, or each book would stand in the shadow of the next.
const IN_FRONT: Vec3 = vec3(0.9, 2.4, 2.4);
/// How books of a pile lie askew, in degrees, and aside, in millimetres: from the top, and then again.
const ASKEW: [f32; 7] = [4.0, -3.0, 7.0, 1.5, -5.5, 3.5, -1.0];
const ASIDE: [f32; 5] = [0.0, 3.0, -2.0, 1.5, -3.5];
/// The angle between two books of a fan, in degrees, and from the first to the last.
const SPREAD: f32 = 15.0;
const SPREAD_ALL: f32 = 72.0;
/// Between a book and the one that lies on it, in millimetres.
const AIR: f32 = 0.05;

pub fn arrange(shapes: &[&BookShape], grouping: Grouping, view: &BookView) -> Arrangement {
    // Where most read leftwards the row begins on the right, and the spines look the other way.
    let leftwards = shapes.iter().filter(|shape| shape.bound_right).count() * 2 > shapes.len();
    let books: Vec<Solid> = shapes.iter().map(|shape| closed(shape)).collect();
    let (solid, usual) = match grouping {
        Grouping::Row => (row(&books, shapes, leftwards), (stand(0.0, 12.0, true), IN_FRONT)),
        Grouping::Pile => (pile(&books), (stand(58.0, 24.0, true), SHOULDER)),
        Grouping::Fan => (fan(&books, leftwards), (stand(4.0, 52.0, false), SHOULDER)),
    };
    seen(solid, view, usual, leftwards)
}

fn stand(round: f32, above: f32, level: bool) -> Stand {
    Stand { round, above, distance: 0.0, level }
}

fn turned(degrees: f32) -> Affine3A {
    let (sine, cosine) = (libm::sinf(degrees.to_radians()), libm::cosf(degrees.to_radians()));
    Affine3A::from_mat3(Mat3::from_cols(vec3(cosine, sine, 0.0), vec3(-sine, cosine, 0.0), Vec3::Z))
}

/// The bounds of a book that was moved.
fn bounds(book: &Solid, moved: Affine3A) -> (Vec3, Vec3) {
    let mut solid = Solid::default();
    solid.add(book, moved, 0);
    solid.bounds()
}

/// Side by side, the foremost corners on one line.
fn row(books: &[Solid], shapes: &[&BookShape], leftwards: bool) -> Solid {
    let mut solid = Solid::default();
    let mut x = 0.0;
    for (at, (book, shape)) in books.iter().zip(shapes).enumerate() {
        let moved = turned(if shape.bound_right { -TURNED } else { TURNED });
        let (low, high) = bounds(book, moved);
        let left = if leftwards { x - high.x } else { x - low.x };
        solid.add(book, Affine3A::from_translation(vec3(left, -low.y, 0.0)) * moved, at as u16);
        let step = (high.x - low.x) * (1.0 + APART);
        x += if leftwards { -step } else { step };
    }
    solid
}

/// Lying on each other, the first on top.
fn pile(books: &[Solid]) -> Solid {
    lying(books, |at, book| {
        let (low, high) = book.bounds();
        let middle = down(high.y).transform_point3((low + high) / 2.0);
        let aside = vec3(ASIDE[at % ASIDE.len()], ASIDE[(at + 2) % ASIDE.len()], 0.0);
        Affine3A::from_translation(aside) * turned(ASKEW[at % ASKEW.len()]) * to_origin(middle)
    })
}

/// Lying on each other, the first on top, each turned further round the corner of foot and fore edge, so that of every book
/// its spine and the beginning of its title are seen.
fn fan(books: &[Solid], leftwards: bool) -> Solid {
    let gaps = books.len().saturating_sub(1) as f32;
    let step = SPREAD.min(SPREAD_ALL / gaps.max(1.0));
    let sign = if leftwards { -1.0 } else { 1.0 };
    lying(books, |at, book| {
        let (low, high) = book.bounds();
        let fore_edge = if leftwards { low.x } else { high.x };
        let corner = down(high.y).transform_point3(vec3(fore_edge, high.y, low.z));
        turned(sign * step * (at as f32 - gaps / 2.0)) * to_origin(corner)
    })
}

fn to_origin(point: Vec3) -> Affine3A {
    Affine3A::from_translation(vec3(-point.x, -point.y, 0.0))
}

/// From the last, which lies on the ground, to the first. `placed` says where a book lies on its level.
fn lying(books: &[Solid], placed: impl Fn(usize, &Solid) -> Affine3A) -> Solid {
    let mut solid = Solid::default();
    let mut level = 0.0;
    for (at, book) in books.iter().enumerate().rev() {
        let (_, high) = book.bounds();
        let moved = placed(at, book) * down(high.y);
        let (low, high) = bounds(book, moved);
        solid.add(book, Affine3A::from_translation(vec3(0.0, 0.0, level - low.z)) * moved, at as u16);
        level += high.z - low.z + AIR;
    }
    solid
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Ink;
    use crate::scene::{CoverKind, Lamination, PaperShade};

    fn shape(block: f64, bound_right: bool) -> BookShape {
        BookShape {
            cover: CoverKind::Paperback { stock: 0.3, hinge: 6.0, flaps: None },
            page: (129.0, 198.0),
            block,
            spine: block + 0.6,
            rounded: false,
            bound_right,
            lamination: Lamination::Matt,
            shade: PaperShade::White,
            sprayed: None,
            head_bands: [Ink::PAPER, Ink::PAPER],
            ribbon: None,
        }
    }

    /// Low and high corners of every book.
    fn places(shapes: &[BookShape], grouping: Grouping) -> Vec<(Vec3, Vec3)> {
        let arrangement = arrange(&shapes.iter().collect::<Vec<_>>(), grouping, &BookView::default());
        let own = |book: usize| {
            let facets = arrangement.solid.facets.iter().filter(move |facet| usize::from(facet.book) == book);
            let corners = facets.flat_map(|facet| facet.at);
            corners.fold((Vec3::INFINITY, Vec3::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)))
        };
        (0..shapes.len()).map(own).collect()
    }

    #[test]
    fn a_row_stands_on_the_ground_side_by_side() {
        for (bound_right, step) in [(false, 1.0), (true, -1.0)] {
            let shapes = [10.0, 30.0, 20.0].map(|block| shape(block, bound_right));
            let books = places(&shapes, Grouping::Row);
            assert!(books.iter().all(|(low, _)| low.z.abs() < 1e-3), "{books:?}");
            for pair in books.windows(2) {
                let gap = if step > 0.0 { pair[1].0.x - pair[0].1.x } else { pair[0].0.x - pair[1].1.x };
                assert!(gap > 10.0 && gap < 40.0, "{gap}");
            }
        }
    }

    #[test]
    fn a_pile_and_a_fan_lie_on_each_other_the_first_on_top() {
        for grouping in [Grouping::Pile, Grouping::Fan] {
            let shapes = [10.0, 30.0, 20.0].map(|block| shape(block, false));
            let books = places(&shapes, grouping);
            assert!(books[2].0.z.abs() < 1e-3);
            for pair in books.windows(2) {
                let air = pair[0].0.z - pair[1].1.z;
                assert!(air > 0.0 && air < 0.1, "{air}");
            }
            // A book is as thick as its leaves and two covers of 0.3 mm; its front lifts a little.
            let thick = books[1].1.z - books[1].0.z;
            assert!((30.6..34.0).contains(&thick), "{thick}");
        }
    }

    #[test]
    fn many_books_of_a_fan_stay_within_its_spread() {
        let shapes: Vec<BookShape> = (0..24).map(|_| shape(5.0, false)).collect();
        let books = places(&shapes, Grouping::Fan);
        let wide = books.iter().map(|(low, high)| high.x - low.x).fold(0.0, f32::max);
        // 129 by 198 mm, turned by 36 degrees: 129 cos 36° + 198 sin 36° = 220.8 mm, and a little for the lift.
        assert!((219.0..226.0).contains(&wide), "{wide}");
    }
}
