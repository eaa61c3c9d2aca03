//! Blocked: how much of lamp and room is hidden from a point, tried by rays. Pixels of a square of 4 by 4 share all
//! directions out among them; their mean knows all.

use crate::view::lamps::{Lamps, SHARES};
use crate::view::rays::Rays;
use glam::Vec3;
use std::ops::AddAssign;

/// The share of the lamp that is hidden, and the light of the room that is lost.
#[derive(Clone, Copy, Default, Debug)]
pub struct Blocked {
    pub lamp: f32,
    pub room: f32,
}

impl AddAssign for Blocked {
    fn add_assign(&mut self, other: Blocked) {
        self.lamp += other.lamp;
        self.room += other.room;
    }
}

impl Blocked {
    /// The mean of so many, of which this is the sum.
    pub fn mean_of(self, count: f32) -> Blocked {
        Blocked { lamp: self.lamp / count, room: self.room / count }
    }
}

/// The order in which the pixels of a square take their shares: neighbours try far-apart ones.
const ORDER: [usize; SHARES] = [0, 8, 2, 10, 12, 4, 14, 6, 3, 11, 1, 9, 15, 7, 13, 5];

pub fn share(x: usize, y: usize) -> usize {
    ORDER[(y % 4) * 4 + x % 4]
}

/// Away from a surface, so that rays do not meet it again. Millimetres.
const OFF: f32 = 0.02;
/// What is further away is not in the way.
const FAR: f32 = 1e6;

pub fn blocked(rays: &Rays, lamps: &Lamps, wall: Option<f32>, share: usize, at: Vec3, normal: Vec3) -> Blocked {
    let from = at + normal * OFF;
    let (mut hidden, mut all) = (0.0, 0.0);
    for (to, strength) in lamps.points(share, from, normal) {
        all += strength;
        if !rays.free(from, to, 1.0) {
            hidden += strength;
        }
    }
    let (mut lost, mut count) = (0.0, 0.0);
    for way in Lamps::ways(share, normal) {
        count += 1.0;
        // What looks down meets the ground sooner or later, and what looks back meets the wall.
        let ground = if way.z < -1e-4 { from.z / -way.z } else { FAR };
        let wall = wall.filter(|_| way.y > 1e-4).map_or(FAR, |wall| (wall - from.y) / way.y);
        if !rays.free(from, way, ground.min(wall).clamp(0.0, FAR)) {
            lost += lamps.room_in(way) - lamps.bounce();
        }
    }
    Blocked { lamp: if all > 0.0 { hidden / all } else { 0.0 }, room: lost / f32::max(count, 1.0) }
}
