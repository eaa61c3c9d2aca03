//! Ribbon: the marker of a book with boards, where it leaves the leaves. It falls as the book is put down: out of the fore
//! edge near the foot of one that stands, and over the foot of one that lies, near its spine.

use crate::scene::{BookShape, Pose};
use crate::view::solid::{Corner, Material, Solid};
use glam::{Vec3, vec2, vec3};

/// Its width in millimetres; 5 to 6 are common practice, from memory.
const WIDTH: f32 = 6.0;
/// How much longer it is along one side: it is cut askew.
const ASKEW: f32 = 4.0;
const STEPS: usize = 32;
/// Which leaves it lies between, as a share of the block.
const BETWEEN: f32 = 0.45;

/// The ribbon of a book whose boards stand over by `square`, and whose back lies at `back`.
pub fn ribbon(shape: &BookShape, pose: Pose, square: f32, back: f32) -> Solid {
    let (page, leaf) = (shape.page.0 as f32, shape.block as f32 * BETWEEN);
    let mut solid = Solid::default();
    if pose == Pose::Lying {
        // Out of the leaves, over the edge and down to the ground, where it goes on towards us.
        let (near, ground) = (page * 0.16, back - 0.15);
        let points = [
            vec3(near, leaf, square + 6.0),
            vec3(near, leaf, square - 2.0),
            vec3(near + 0.5, leaf, -5.0),
            vec3(near + 1.0, ground, -4.5),
            vec3(near + 2.0, ground, -12.5),
            vec3(near + 7.0, ground, -32.0),
        ];
        strip(&mut solid, &points, Vec3::X);
    } else {
        let fore = page + square;
        // A small book has a short one.
        let high = |height: f32| square + height * (shape.page.1 as f32 / 140.0).min(1.0);
        let points = [
            vec3(page - 20.0, leaf, high(80.0)),
            vec3(page - 2.0, leaf, high(62.0)),
            vec3(fore + 15.0, leaf - 1.5, high(36.0)),
            vec3(fore + 12.0, leaf - 3.5, high(20.0)),
            vec3(fore + 22.0, leaf + 1.0, high(1.0)),
        ];
        strip(&mut solid, &points, vec3(0.66, 0.0, 0.75));
    }
    solid
}

/// A strip along points that it only touches at its ends, its width in one direction.
fn strip(solid: &mut Solid, points: &[Vec3], across: Vec3) {
    let length: f32 = points.windows(2).map(|pair| pair[0].distance(pair[1])).sum();
    let corner = |step: usize, side: f32| -> Corner {
        let whole = 1.0 - ASKEW / length * (side * 0.5 + 0.5);
        let t = step as f32 / STEPS as f32 * whole;
        let near = 1e-3;
        let way = along(points, (t + near).min(1.0)) - along(points, (t - near).max(0.0));
        // Its width lies square to its way.
        let flat = (across - way * across.dot(way) / way.length_squared().max(1e-9)).normalize_or(across);
        let normal = way.cross(flat).normalize_or_zero();
        (along(points, t) + flat * (side * WIDTH / 2.0), normal, vec2(t * length, side * WIDTH / 2.0))
    };
    for step in 0..STEPS {
        let round = [corner(step, -1.0), corner(step + 1, -1.0), corner(step + 1, 1.0), corner(step, 1.0)];
        solid.quad(round, Material::Ribbon);
    }
}

/// A place on the curve of such points, 0 to 1, by dividing the ways between them (de Casteljau).
fn along(points: &[Vec3], t: f32) -> Vec3 {
    let mut left: Vec<Vec3> = points.to_vec();
    while left.len() > 1 {
        left = left.windows(2).map(|pair| pair[0].lerp(pair[1], t)).collect();
    }
    left.first().copied().unwrap_or_default()
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::ground::Ink;
    use crate::scene::{BookView, CoverKind, Flaps};
    use crate::view::poses::arrange;
    use crate::view::rays::Rays;
    use crate::view::sight::{Eye, sight};
    use crate::view::tests::{boards, book, paperback, small};

    fn with_ribbon(shape: BookShape) -> BookShape {
        BookShape { ribbon: Some(Ink::black(1.0)), ..shape }
    }

    #[test]
    fn a_ribbon_is_seen_of_books_with_boards_in_every_pose_of_the_book() {
        let flaps = Flaps { width: 90.0, turn: 2.5 };
        let bound = [book(CoverKind::Case(boards()), 24.2), book(CoverKind::Jacket(boards(), flaps), 25.2)];
        for shape in bound.into_iter().flat_map(|shape| [shape.clone(), BookShape { bound_right: true, ..shape }]) {
            for pose in [Pose::Standing, Pose::Behind, Pose::Lying, Pose::Leaning] {
                let view = BookView { pixels: (320, 260), ..small(pose) };
                let arrangement = arrange(&with_ribbon(shape.clone()), &view);
                let ribbon = |facet: u32| arrangement.solid.facets[facet as usize].material == Material::Ribbon;
                let (rays, eye) = (Rays::new(&arrangement.solid), Eye { camera: &arrangement.camera, mirrored: false });
                let seen = sight(&arrangement.solid, &rays, eye, (320, 260)).pieces.into_iter();
                let seen = seen.filter(|piece| ribbon(piece.facet)).count();
                assert!(seen > 20, "{seen} in {pose:?} of {:?}", shape.cover);
                let lowest = arrangement.solid.facets.iter().filter(|facet| facet.material == Material::Ribbon);
                let lowest = lowest.flat_map(|facet| facet.at).map(|at| at.z).fold(f32::INFINITY, f32::min);
                assert!((0.0..9.0).contains(&lowest), "{lowest} over the ground in {pose:?}");
            }
        }
    }

    #[test]
    fn a_cover_without_boards_has_no_ribbon() {
        let arrangement = arrange(&with_ribbon(paperback()), &small(Pose::Standing));
        assert!(arrangement.solid.facets.iter().all(|facet| facet.material != Material::Ribbon));
    }

    #[test]
    fn a_ribbon_is_as_wide_as_it_is_said_to_be() {
        let shape = with_ribbon(book(CoverKind::Case(boards()), 24.2));
        for pose in [Pose::Standing, Pose::Lying] {
            let solid = ribbon(&shape, pose, 3.0, 24.0);
            let width = solid.facets[0].at[0].distance(solid.facets[1].at[2]);
            assert!((4.99..6.01).contains(&width), "{width} in {pose:?}");
        }
    }
}
