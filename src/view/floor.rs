//! Floor: the light on the ground that is seen, and on the wall.

use crate::view::blocked::{Blocked, blocked, share};
use crate::view::poses::Arrangement;
use crate::view::rays::Rays;
use crate::view::sight::{Eye, Sight, WHOLE};
use glam::{Vec2, Vec3, vec2};
use rayon::prelude::*;

/// Shadows are soft: one point for this many pixels each way is enough.
const STEP: usize = 2;

/// Points of the ground in a grid; those that the book hides are none.
struct FloorGrid {
    width: usize,
    height: usize,
    points: Vec<Option<(Vec3, Vec3, Blocked)>>,
}

/// The share of its light that the ground has at every pixel.
pub fn light(arrangement: &Arrangement, rays: &Rays, eye: Eye<'_>, sight: &Sight) -> Vec<u16> {
    let (width, height) = (sight.width, sight.height);
    let grid = grid(arrangement, rays, eye, sight);
    let grid = grid.mean(1, 2).mean(2, 2);
    let lamps = &arrangement.lamps;
    let shares: Vec<Option<f32>> = grid
        .points
        .par_iter()
        .map(|point| {
            point.map(|(at, normal, blocked)| {
                let (lamp, room) = (lamps.open_lamp(at, normal), lamps.open_room(normal));
                let all = lamp + room;
                if all > 0.0 { (lamp * (1.0 - blocked.lamp) + room - blocked.room) / all } else { 1.0 }
            })
        })
        .collect();
    (0..height)
        .into_par_iter()
        .flat_map_iter(|y| {
            let (shares, grid) = (&shares, &grid);
            (0..width).map(move |x| {
                let at = (vec2(x as f32, y as f32) + 0.5) / STEP as f32 - 0.5;
                let share = between(shares, (grid.width, grid.height), at);
                (share.clamp(0.0, 1.0) * 65_535.0).round() as u16
            })
        })
        .collect()
}

fn grid(arrangement: &Arrangement, rays: &Rays, eye: Eye<'_>, sight: &Sight) -> FloorGrid {
    let mut covered = vec![0_u8; sight.width * sight.height];
    for y in 0..sight.height {
        for piece in sight.row(y) {
            covered[y * sight.width + usize::from(piece.column)] += piece.weight;
        }
    }
    let (width, height) = (sight.width.div_ceil(STEP), sight.height.div_ceil(STEP));
    let place = |x: usize, y: usize| -> Option<Vec2> {
        let pixels = (y * STEP..((y + 1) * STEP).min(sight.height))
            .flat_map(|y| (x * STEP..((x + 1) * STEP).min(sight.width)).map(move |x| (x, y)));
        let open = pixels.filter(|(x, y)| covered[y * sight.width + x] < WHOLE);
        let (sum, count) =
            open.fold((Vec2::ZERO, 0.0), |(sum, count), (x, y)| (sum + vec2(x as f32, y as f32) + 0.5, count + 1.0));
        (count > 0.0).then(|| sum / count)
    };
    let points = (0..height)
        .into_par_iter()
        .flat_map_iter(|y| {
            let place = &place;
            (0..width).map(move |x| {
                let (from, way) = eye.ray(place(x, y)?);
                let (at, normal) = met(from, way, arrangement.wall)?;
                let blocked = blocked(rays, &arrangement.lamps, arrangement.wall, share(x, y), at, normal);
                Some((at, normal, blocked))
            })
        })
        .collect();
    FloorGrid { width, height, points }
}

/// Where a ray meets the ground or the wall, and where that looks.
pub fn met(from: Vec3, way: Vec3, wall: Option<f32>) -> Option<(Vec3, Vec3)> {
    let ground = (way.z < -1e-6).then(|| from.z / -way.z);
    let wall = wall.filter(|_| way.y > 1e-6).map(|wall| (wall - from.y) / way.y);
    match (ground, wall) {
        (Some(ground), Some(wall)) if wall < ground => Some((from + way * wall, -Vec3::Y)),
        (None, Some(wall)) => Some((from + way * wall, -Vec3::Y)),
        (Some(ground), _) => Some((from + way * ground, Vec3::Z)),
        (None, None) => None,
    }
}

impl FloorGrid {
    /// The mean of the neighbours on the same plane: so many before and after.
    fn mean(&self, before: usize, after: usize) -> FloorGrid {
        let points = (0..self.height)
            .into_par_iter()
            .flat_map_iter(|y| {
                (0..self.width).map(move |x| {
                    let (at, normal, _) = self.points[y * self.width + x]?;
                    let (mut sum, mut count) = (Blocked::default(), 0.0);
                    for ny in y.saturating_sub(before)..(y + after + 1).min(self.height) {
                        for nx in x.saturating_sub(before)..(x + after + 1).min(self.width) {
                            if let Some((_, _, blocked)) =
                                self.points[ny * self.width + nx].filter(|other| other.1 == normal)
                            {
                                sum += blocked;
                                count += 1.0;
                            }
                        }
                    }
                    Some((at, normal, sum.mean_of(count)))
                })
            })
            .collect();
        FloorGrid { width: self.width, height: self.height, points }
    }
}

/// Between the four points around; full light where there are none.
fn between(shares: &[Option<f32>], (width, height): (usize, usize), at: Vec2) -> f32 {
    let at = at.clamp(Vec2::ZERO, vec2((width - 1) as f32, (height - 1) as f32));
    let (x, y) = (at.x as usize, at.y as usize);
    let off = at - vec2(x as f32, y as f32);
    let (mut sum, mut weight) = (0.0, 0.0);
    for (nx, ny, own) in [
        (x, y, (1.0 - off.x) * (1.0 - off.y)),
        (x + 1, y, off.x * (1.0 - off.y)),
        (x, y + 1, (1.0 - off.x) * off.y),
        (x + 1, y + 1, off.x * off.y),
    ] {
        if let Some(share) = (nx < width && ny < height).then(|| shares[ny * width + nx]).flatten() {
            sum += share * own;
            weight += own;
        }
    }
    if weight > 1e-4 { sum / weight } else { 1.0 }
}
