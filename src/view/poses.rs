//! Poses: how a book is put before the camera, where the camera is, and where the lamp hangs.

use crate::scene::{BookShape, BookView, Pose};
use crate::view::camera::{Camera, Stand};
use crate::view::lamps::{Lamps, RoomLight};
use crate::view::shapes::{closed_with_ribbon, open};
use crate::view::solid::Solid;
use glam::{Affine3A, Mat3, Vec3, vec3};

/// Everything that light and sight depend on.
pub struct Arrangement {
    pub solid: Solid,
    pub camera: Camera,
    pub lamps: Lamps,
    /// Where the wall is that a book leans against.
    pub wall: Option<f32>,
    /// How high it all is.
    pub height: f32,
}

/// Leans back so far, in radians.
const LEAN: f32 = 0.2;
/// How much of the picture's width or height the book fills, and where its middle is, from the top.
const SHARE: f32 = 0.72;
const MIDDLE: f32 = 0.5;
/// From higher above, in degrees, a camera that is held level would stretch the book.
const STEEP: f32 = 35.0;
/// The camera's distance by the book's largest size: that of a long lens, so that nothing bulges.
const FAR: f32 = 4.6;

/// The lamp of a single book hangs over the shoulder of the viewer, so that the front is brightest and the spine is in soft
/// shade.
pub const SHOULDER: Vec3 = vec3(2.3, 1.1, 2.2);

pub fn arrange(shape: &BookShape, view: &BookView) -> Arrangement {
    let book = if view.pose == Pose::Open { open(shape) } else { closed_with_ribbon(shape, view.pose) };
    let mut solid = Solid::default();
    let (moved, usual) = placed(&book, view.pose);
    solid.add(&book, moved, 0);
    let wall = (view.pose == Pose::Leaning).then(|| solid.bounds().1.y + 0.05);
    Arrangement { wall, ..seen(solid, view, (usual, SHOULDER), shape.bound_right) }
}

/// Puts camera and lamps around what stands there. `usual` is where the camera is by default; round is towards the spine,
/// wherever that is. The lamp's place is seen from the camera, by the size of it all: to the right, near, and up.
pub fn seen(solid: Solid, view: &BookView, (usual, lamp): (Stand, Vec3), bound_right: bool) -> Arrangement {
    let (low, high) = solid.bounds();
    let sign = if bound_right { -1.0 } else { 1.0 };
    let target = (low + high) / 2.0;
    let largest = (high - low).max_element();
    let above = view.above.map_or(usual.above, |above| above as f32);
    let stand = Stand {
        round: sign * view.round.map_or(usual.round, |round| round as f32),
        above,
        distance: view.distance.map_or(largest * FAR, |distance| distance as f32),
        level: usual.level && above <= STEEP,
    };
    let size = (view.pixels.0 as usize, view.pixels.1 as usize);
    let corners = solid.facets.iter().flat_map(|facet| facet.at);
    let camera = Camera::new(stand, target).framed(corners, size, SHARE, MIDDLE);
    // The lamp hangs on the side of the fore edge. Seen from behind the back takes the front's part.
    let behind = if libm::cosf(stand.round.to_radians()) < 0.0 { -1.0 } else { 1.0 };
    let right = camera.right() * (sign * behind);
    let centre = target + (right * lamp.x + camera.toward() * lamp.y + Vec3::Z * lamp.z) * largest;
    let lamps =
        Lamps::new(centre, target, largest * 1.15, 9.0, RoomLight { horizon: 0.36, gain: 0.22, ground: 0.31 }, 0.16);
    Arrangement { solid, camera, lamps, wall: None, height: high.z }
}

/// Where the book is put in a pose, and where the camera stands by default.
fn placed(book: &Solid, pose: Pose) -> (Affine3A, Stand) {
    let (low, high) = book.bounds();
    let stand = |round: f32, above: f32, level: bool| Stand { round, above, distance: 0.0, level };
    match pose {
        Pose::Standing => (Affine3A::IDENTITY, stand(30.0, 11.0, true)),
        Pose::Behind => (Affine3A::IDENTITY, stand(148.0, 11.0, true)),
        Pose::SpineOn => (Affine3A::IDENTITY, stand(74.0, 9.0, true)),
        Pose::Lying => (down(high.y), stand(32.0, 36.0, false)),
        Pose::Open => (down(high.y), stand(-12.0, 48.0, false)),
        Pose::Leaning => {
            let (sine, cosine) = (libm::sinf(LEAN), libm::cosf(LEAN));
            let turned = Mat3::from_cols(Vec3::X, vec3(0.0, cosine, -sine), vec3(0.0, sine, cosine));
            // It stands on the foot of its back.
            let foot = turned.mul_vec3(vec3(0.0, high.y, low.z)).z;
            (Affine3A::from_mat3_translation(turned, vec3(0.0, 0.0, -foot)), stand(24.0, 11.0, true))
        }
    }
}

/// Lays a book down whose back is at `back`: the side that looked towards us looks up.
pub fn down(back: f32) -> Affine3A {
    let turned = Mat3::from_cols(Vec3::X, -Vec3::Z, Vec3::Y);
    Affine3A::from_mat3_translation(turned, vec3(0.0, 0.0, back))
}
