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
    /// The light of the whole room by the rise of a surface's normal, from straight down to straight up.
    open: [f32; STEPS + 1],
}

/// How bright the room is at the horizon, what it gains up to the zenith, and how bright the ground is.
#[derive(Clone, Copy, Debug)]
pub struct RoomLight {
    pub horizon: f32,
    pub gain: f32,
    pub ground: f32,
}

const STEPS: usize = 64;

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
        let mut lamps = Lamps { corners, lamp, facing, room, bounce, points, open: [0.0; STEPS + 1] };
        lamps.open = std::array::from_fn(|at| lamps.integral(at as f32 * 2.0 / STEPS as f32 - 1.0));
        lamps
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

    /// The light of the whole room on a surface whose normal rises so, by a sum over the hemisphere.
    fn integral(&self, rise: f32) -> f32 {
        let normal = vec3((1.0 - rise * rise).max(0.0).sqrt(), 0.0, rise);
        let (rings, spokes) = (48, 96);
        let mut sum = 0.0_f64;
        for ring in 0..rings {
            for spoke in 0..spokes {
                let way = around(normal, (ring as f32 + 0.5) / rings as f32, (spoke as f32 + 0.5) / spokes as f32);
                sum += f64::from(self.room_in(way));
            }
        }
        (sum / f64::from(rings * spokes)) as f32
    }

    /// The light of the room, with nothing in the way.
    pub fn open_room(&self, normal: Vec3) -> f32 {
        let at = (normal.z.clamp(-1.0, 1.0) + 1.0) * (STEPS as f32 / 2.0);
        let low = (at as usize).min(STEPS - 1);
        self.open[low] + (self.open[low + 1] - self.open[low]) * (at - low as f32)
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
    let mut kept = [Vec3::ZERO; 8];
    let mut count = 0;
    for at in 0..4 {
        let (a, b) = (corners[at], corners[(at + 1) % 4]);
        let (ha, hb) = (a.dot(normal), b.dot(normal));
        if ha > 0.0 {
            kept[count] = a;
            count += 1;
        }
        if (ha > 0.0) != (hb > 0.0) {
            kept[count] = a + (b - a) * (ha / (ha - hb));
            count += 1;
        }
    }
    if count < 3 {
        return 0.0;
    }
    let kept = &mut kept[..count];
    for corner in kept.iter_mut() {
        *corner = corner.normalize_or_zero();
    }
    let mut sum = 0.0;
    for at in 0..count {
        let (a, b) = (kept[at], kept[(at + 1) % count]);
        let cross = a.cross(b);
        let length = cross.length();
        if length > 1e-9 {
            sum += libm::atan2f(length, a.dot(b)) * cross.dot(normal) / length;
        }
    }
    (sum / (2.0 * PI)).abs()
}
