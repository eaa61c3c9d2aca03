//! Views: where the corners of a book come to lie in a picture of it.

use crate::scene::Pose;
use crate::view::camera::{Camera, Stand};
use glam::{Vec3, vec3};

/// How a picture of a box was taken, and where its corners are in it.
pub struct Taken {
    /// Degrees round and above, and millimetres away from `target`.
    pub stand: [f32; 3],
    /// Whether the camera is held level.
    pub level: bool,
    pub target: [f32; 3],
    /// Pixels to a unit of slope, and where the axis meets the picture.
    pub focal: f32,
    pub axis: [f32; 2],
    pub corners: Vec<[f32; 3]>,
    pub pixels: Vec<[f32; 2]>,
}

/// The corners of a box as large as a book.
pub fn taken([round, above, distance]: [f32; 3], level: bool, size: (usize, usize)) -> Taken {
    let corners: Vec<Vec3> =
        (0..8).map(|at| vec3((at & 1) as f32 * 129.0, (at >> 1 & 1) as f32 * 20.0, (at >> 2) as f32 * 198.0)).collect();
    let target = vec3(64.5, 10.0, 99.0);
    let camera = Camera::new(Stand { round, above, distance, level }, target);
    let camera = camera.framed(corners.iter().copied(), size, 0.7, 0.5);
    Taken {
        stand: [round, above, distance],
        level,
        target: target.to_array(),
        focal: camera.focal,
        axis: camera.axis.to_array(),
        pixels: corners.iter().map(|corner| camera.project(*corner).to_array()).collect(),
        corners: corners.iter().map(Vec3::to_array).collect(),
    }
}

/// Every pose by its word.
pub fn poses() -> Vec<&'static str> {
    Pose::WORDS.iter().map(|(word, _)| *word).collect()
}
