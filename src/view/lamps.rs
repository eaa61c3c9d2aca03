//! Lamps: a large soft lamp, and the room around.

use glam::{Vec3, vec3};
use std::f32::consts::{PI, TAU};

/// How many directions, and points of the lamp, are tried in a square of 4 by 4 pixels, each pixel its own share.
pub const SHARES: usize = 16;
pub const EACH: usize = 6;
pub const ALL: usize = SHARES * EACH;

pub struct Lamps {
    /// The lamp's corners in a round, and how bright it is.
    corners: [Vec3; 4],
    lamp: f32,
    /// Where it looks.
    facing: Vec3,
    room: RoomLight,
    /// How bright surfaces are that stand in the way.
    bounce: f32,
    /// The points of the lamp that are tried.
    points: [Vec3; ALL],
}

/// How bright the room is at the horizon, what it gains up to the zenith, and how bright the ground is.
#[derive(Clone, Copy, Debug)]
pub struct RoomLight {
    pub horizon: f32,
    pub gain: f32,
    pub ground: f32,
}

/// A sequence of well spread points of the unit square: multiples of the plastic number's powers (Roberts, 2018, from
/// memory).
fn spread(at: usize) -> (f32, f32) {
    let part = |step: f64| (0.5 + step * (at as f64 + 1.0)).fract() as f32;
    (part(0.754_877_666_246_693), part(0.569_840_290_998_053))
}

impl Lamps {
    /// A square lamp in a room.
    pub fn new(centre: Vec3, target: Vec3, side: f32, lamp: f32, room: RoomLight, bounce: f32) -> Lamps {
        let facing = (target - centre).normalize_or_zero();
        let u = facing.cross(Vec3::Z).normalize_or(Vec3::X) * side;
        let v = facing.cross(u);
        let corner = centre - (u + v) / 2.0;
        let points = std::array::from_fn(|at| {
            let (a, b) = spread(at);
            corner + u * a + v * b
        });
        let corners = [corner, corner + u, corner + u + v, corner + v];
        Lamps { corners, lamp, facing, room, bounce, points }
    }

    /// No lamp, and a room that is equally bright all around, whatever stands in the way.
    #[cfg(test)]
    pub fn even() -> Lamps {
        let room = RoomLight { horizon: 1.0, gain: 0.0, ground: 1.0 };
        Lamps::new(Vec3::new(0.0, -1e4, 1e4), Vec3::ZERO, 1.0, 0.0, room, 1.0)
    }

    /// How bright the room is in a direction.
    pub fn room_in(&self, way: Vec3) -> f32 {
        if way.z > 0.0 { self.room.horizon + self.room.gain * way.z } else { self.room.ground }
    }

    /// The light of the room, with nothing in the way. What the room gains towards the zenith, seen from a surface, is the
    /// sum of both cosines over the directions that both see: in closed form ⅔ (sin θ + (π − θ) cos θ), over π.
    pub fn open_room(&self, normal: Vec3) -> f32 {
        let rise = normal.z.clamp(-1.0, 1.0);
        let angle = libm::acosf(rise);
        let gained = (libm::sinf(angle) + (PI - angle) * rise) * 2.0 / (3.0 * PI);
        let RoomLight { horizon, gain, ground } = self.room;
        horizon * f32::midpoint(1.0, rise) + ground * f32::midpoint(1.0, -rise) + gain * gained
    }

    /// The light of the lamp, with nothing in the way: Lambert's formula for a polygon, over π.
    pub fn open_lamp(&self, at: Vec3, normal: Vec3) -> f32 {
        self.lamp * polygon(self.corners.map(|corner| corner - at), normal)
    }

    /// Directions of the room that a pixel tries.
    pub fn ways(share: usize, normal: Vec3) -> impl Iterator<Item = Vec3> {
        (0..EACH).map(move |at| {
            let (a, b) = spread(at * SHARES + share);
            around(normal, a, b)
        })
    }

    /// Points of the lamp that a pixel tries, each with the strength of its light.
    pub fn points(&self, share: usize, at: Vec3, normal: Vec3) -> impl Iterator<Item = (Vec3, f32)> + '_ {
        (0..EACH).filter_map(move |point| {
            let to = self.points[point * SHARES + share] - at;
            let square = to.length_squared();
            let strength = normal.dot(to).max(0.0) * (-self.facing.dot(to)).max(0.0) / (square * square);
            (strength > 0.0).then_some((to, strength))
        })
    }

    /// How bright surfaces are that stand in the way.
    pub fn bounce(&self) -> f32 {
        self.bounce
    }

    /// What a surface that spreads mirrored light so far mirrors from a direction: lamp and room.
    pub fn mirrored(&self, at: Vec3, way: Vec3, spread: f32) -> f32 {
        // The horizon is as soft as the surface is rough.
        let up = 0.5 + 0.5 * way.z / (way.z.abs() + spread + 0.05);
        let room = (self.room.horizon + self.room.gain * way.z.max(0.0)) * up + self.room.ground * 0.7 * (1.0 - up);
        room * 0.55 + self.in_lamp(at, way, spread) * self.lamp
    }

    /// What a foil mirrors from a direction: the lit ground, the room, darker where the wall meets the ground and brighter
    /// where the wall ends, and the lamp, sharply and widely, for foil is pressed into paper. By eye: even walls would make a
    /// foil look like paint.
    pub fn in_foil(&self, at: Vec3, way: Vec3) -> f32 {
        /// How much of its light the ground gives back.
        const GROUND: f32 = 0.95;
        /// How high bands of the wall are, half as high they reach, and how much brighter they are.
        const BANDS: [(f32, f32, f32); 2] = [(0.0, 0.12, -0.6), (0.66, 0.14, 0.8)];
        let up = 0.5 + 0.5 * way.z / (way.z.abs() + 0.05);
        let ground = GROUND * (self.open_lamp(at, Vec3::Z) + self.open_room(Vec3::Z));
        let room = (self.room.horizon + self.room.gain * way.z.max(0.0)) * 1.2;
        let bands = BANDS.into_iter().map(|(high, reach, more)| {
            let off = (way.z - high) / reach;
            more * libm::expf(-off * off)
        });
        let around = (ground + (room - ground) * up) * (1.0 + bands.sum::<f32>());
        let lamp = 0.5 * self.in_lamp(at, way, 0.15) + 0.5 * self.in_lamp(at, way, 0.6);
        around + lamp * self.lamp
    }

    /// How much of the lamp lies in a direction, its edges softened.
    fn in_lamp(&self, at: Vec3, way: Vec3, spread: f32) -> f32 {
        let (origin, u, v) = (self.corners[0], self.corners[1] - self.corners[0], self.corners[3] - self.corners[0]);
        let toward = -way.dot(self.facing);
        if toward <= 1e-3 {
            return 0.0;
        }
        let distance = (at - origin).dot(self.facing) / toward;
        let met = at + way * distance - origin;
        let soft = (distance * (spread * 1.6 + 0.02)).max(1.0);
        let edge = |along: f32, length: f32| {
            let ramp = |off: f32| {
                let t = (off / soft * 0.5 + 0.5).clamp(0.0, 1.0);
                t * t * (3.0 - 2.0 * t)
            };
            ramp(along) * ramp(length - along) * length / (length + 2.0 * soft)
        };
        let (across, down) = (u.length(), v.length());
        edge(met.dot(u) / across, across) * edge(met.dot(v) / down, down)
    }
}

/// A direction about a normal, those near it more often: by the cosine.
fn around(normal: Vec3, a: f32, b: f32) -> Vec3 {
    let radius = a.sqrt();
    let angle = TAU * b;
    // Duff and others, Building an Orthonormal Basis, Revisited (2017), from memory.
    let sign = 1.0_f32.copysign(normal.z);
    let p = -1.0 / (sign + normal.z);
    let q = normal.x * normal.y * p;
    let tangent = vec3(1.0 + sign * normal.x * normal.x * p, sign * q, -sign * normal.x);
    let other = vec3(q, sign + normal.y * normal.y * p, -normal.y);
    tangent * (radius * libm::cosf(angle)) + other * (radius * libm::sinf(angle)) + normal * (1.0 - a).max(0.0).sqrt()
}

/// The configuration factor of a polygon seen from a small element with a normal; what lies below is cut away.
fn polygon(corners: [Vec3; 4], normal: Vec3) -> f32 {
    let mut above = [Vec3::ZERO; 8];
    let mut count = 0;
    for at in 0..4 {
        let (a, b) = (corners[at], corners[(at + 1) % 4]);
        let (ha, hb) = (a.dot(normal), b.dot(normal));
        if ha > 0.0 {
            above[count] = a;
            count += 1;
        }
        if (ha > 0.0) != (hb > 0.0) {
            above[count] = a + (b - a) * (ha / (ha - hb));
            count += 1;
        }
    }
    if count < 3 {
        return 0.0;
    }
    let above = &mut above[..count];
    for corner in above.iter_mut() {
        *corner = corner.normalize_or_zero();
    }
    let mut sum = 0.0;
    for at in 0..count {
        let (a, b) = (above[at], above[(at + 1) % count]);
        let cross = a.cross(b);
        let length = cross.length();
        if length > 1e-9 {
            sum += libm::atan2f(length, a.dot(b)) * cross.dot(normal) / length;
        }
    }
    (sum / (2.0 * PI)).abs()
}

#[cfg(test)]
mod tests {
    use super::*;

    // The closed form against a sum over the hemisphere, ring by ring and spoke by spoke.
    #[test]
    fn a_room_gives_the_sum_of_all_its_directions() {
        let room = RoomLight { horizon: 0.36, gain: 0.22, ground: 0.31 };
        let lamps = Lamps::new(vec3(0.0, 0.0, 3.0), Vec3::ZERO, 2.0, 0.0, room, 0.0);
        for normal in [Vec3::Z, -Vec3::Z, Vec3::X, vec3(0.3, -0.8, 0.5).normalize(), vec3(0.6, 0.1, -0.7).normalize()] {
            let (aside, other) = normal.any_orthonormal_pair();
            let (rings, spokes) = (200, 200);
            let mut sum = 0.0_f64;
            for ring in 0..rings {
                // Rings of equal share: their radius is the root of it (Malley's method).
                let share = (f64::from(ring) + 0.5) / f64::from(rings);
                for spoke in 0..spokes {
                    let angle = (f64::from(spoke) + 0.5) / f64::from(spokes) * std::f64::consts::TAU;
                    let (x, y) = ((share.sqrt() * angle.cos()) as f32, (share.sqrt() * angle.sin()) as f32);
                    let way = aside * x + other * y + normal * (1.0 - share).sqrt() as f32;
                    sum += f64::from(lamps.room_in(way));
                }
            }
            let wanted = (sum / f64::from(rings * spokes)) as f32;
            assert!((lamps.open_room(normal) / wanted - 1.0).abs() < 0.001, "{normal}: {wanted}");
        }
    }
}
