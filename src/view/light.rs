//! Light: how much falls on all that is seen. What light does depends on shapes, camera and lamps, and on no ink.

use crate::view::blocked::{Blocked, blocked, share};
use crate::view::floor;
use crate::view::poses::Arrangement;
use crate::view::rays::Rays;
use crate::view::sight::{Eye, NONE, Piece, Sight, blend3, point, sight};
use crate::view::whole_bytes;
use glam::{Vec2, Vec3, vec2};
use rayon::prelude::*;

/// What is seen of a book and of its mirror image, and the light on it; the light of the ground.
#[derive(PartialEq, Debug, serde::Serialize, serde::Deserialize)]
pub struct Light {
    pub book: LitSight,
    pub mirror: LitSight,
    /// The share of its light that reaches the ground at every pixel, 65,535 where nothing is in the way.
    #[serde(with = "whole_bytes")]
    pub ground: Vec<u16>,
    /// So much light is white.
    pub exposure: f32,
}

#[derive(PartialEq, Debug, serde::Serialize, serde::Deserialize)]
pub struct LitSight {
    pub sight: Sight,
    /// Of every piece; `FULL` is the light that makes white paper white.
    pub light: Vec<u16>,
}

impl Light {
    /// Whether it is of one piece, as what comes from a disk must be shown to be.
    pub fn is_whole(&self) -> bool {
        let pixels = self.book.sight.width * self.book.sight.height;
        self.ground.len() == pixels && [&self.book, &self.mirror].iter().all(|lit| lit.is_whole())
    }
}

impl LitSight {
    fn is_whole(&self) -> bool {
        let Sight { height, pieces, rows, .. } = &self.sight;
        let ordered = rows.first() == Some(&0) && rows.windows(2).all(|pair| pair[0] <= pair[1]);
        rows.len() == height + 1
            && ordered
            && rows.last().is_some_and(|end| *end as usize == pieces.len())
            && self.light.len() == pieces.len()
            && pieces.iter().all(|piece| usize::from(piece.column) < self.sight.width)
    }
}

/// The number for light that makes white paper white: there is room for light that is twice as strong.
pub const FULL: f32 = 32_768.0;

pub fn light(arrangement: &Arrangement, size: (usize, usize)) -> Light {
    let Arrangement { solid, camera, .. } = arrangement;
    let rays = Rays::new(solid);
    let exposure = exposure(arrangement);
    let lit = |mirrored: bool| {
        let eye = Eye { camera, mirrored };
        let sight = sight(solid, &rays, eye, size);
        let light = on_pieces(arrangement, &rays, eye, &sight);
        let light = light.into_iter().map(|light| (light * exposure * FULL).round().clamp(0.0, 65_535.0) as u16);
        LitSight { light: light.collect(), sight }
    };
    let (book, mirror) = (lit(false), lit(true));
    let ground = floor::light(arrangement, &rays, Eye { camera, mirrored: false }, &book.sight);
    Light { book, mirror, ground, exposure }
}

/// The brightest large side of the sheet that is seen shall be nearly white.
fn exposure(arrangement: &Arrangement) -> f32 {
    const WHITE: f32 = 0.96;
    /// Sides that are less of what is seen do not count.
    const LARGE: f32 = 0.1;
    let Arrangement { solid, camera, lamps, .. } = arrangement;
    let mut sides: Vec<(Vec3, f32, f32)> = Vec::new();
    for facet in solid.facets.iter().filter(|facet| facet.is_printed()) {
        let [a, b, c] = facet.at;
        let (middle, normal) = ((a + b + c) / 3.0, facet.normal[0]);
        let seen = (b - a).cross(c - a).length() * normal.dot((camera.eye - middle).normalize_or_zero());
        if seen <= 0.0 {
            continue;
        }
        let light = seen * (lamps.open_lamp(middle, normal) + lamps.open_room(normal));
        match sides.iter_mut().find(|side| side.0.dot(normal) > 0.98) {
            Some(side) => {
                side.1 += seen;
                side.2 += light;
            }
            None => sides.push((normal, seen, light)),
        }
    }
    let all: f32 = sides.iter().map(|side| side.1).sum();
    let large = sides.iter().filter(|side| side.1 > LARGE * all).map(|side| side.2 / side.1);
    WHITE / large.fold(0.0, f32::max).max(1e-3)
}

/// A point on which light falls.
struct LitPoint {
    at: Vec3,
    normal: Vec3,
    blocked: Blocked,
}

/// The light on every piece.
fn on_pieces(arrangement: &Arrangement, rays: &Rays, eye: Eye<'_>, sight: &Sight) -> Vec<f32> {
    let Arrangement { solid, lamps, wall, .. } = arrangement;
    let rows: Vec<Vec<LitPoint>> = (0..sight.height)
        .into_par_iter()
        .map(|y| {
            let lit = sight.row(y).iter().map(|piece| {
                let facet = &solid.facets[piece.facet as usize];
                let ray = eye.ray(Sight::place(piece, y));
                let (at, shares) = point(facet, ray);
                let normal = blend3(facet.normal, shares).normalize_or_zero();
                let normal = if normal.dot(ray.1) > 0.0 { -normal } else { normal };
                let share = share(usize::from(piece.column), y);
                LitPoint { at, normal, blocked: blocked(rays, lamps, *wall, share, at, normal) }
            });
            lit.collect()
        })
        .collect();
    let points: Vec<LitPoint> = rows.into_iter().flatten().collect();
    let first = first_pieces(sight);
    // First just the square whose pixels share out all directions, then a little further.
    let field = Field { sight, first: &first, points: &points, eye };
    let once = field.mean(&|at| points[at].blocked, (1, 2));
    let twice = field.mean(&|at| once[at], (2, 2));
    points
        .par_iter()
        .zip(twice)
        .map(|(lit, blocked)| {
            let lamp = lamps.open_lamp(lit.at, lit.normal) * (1.0 - blocked.lamp);
            lamp + (lamps.open_room(lit.normal) - blocked.room).max(0.0)
        })
        .collect()
}

/// The first piece of every pixel.
fn first_pieces(sight: &Sight) -> Vec<u32> {
    let mut first = vec![NONE; sight.width * sight.height];
    for y in 0..sight.height {
        for (at, piece) in sight.row(y).iter().enumerate().rev() {
            first[y * sight.width + usize::from(piece.column)] = (sight.rows[y] as usize + at) as u32;
        }
    }
    first
}

/// Pieces as neighbours.
struct Field<'a> {
    sight: &'a Sight,
    first: &'a [u32],
    points: &'a [LitPoint],
    eye: Eye<'a>,
}

/// Neighbours whose normals differ by more lie on another surface.
const ALIKE: f32 = 0.94;

impl Field<'_> {
    /// The mean of the neighbours on the same surface: so many pixels before and after.
    fn mean(&self, value: &(dyn Fn(usize) -> Blocked + Sync), (before, after): (usize, usize)) -> Vec<Blocked> {
        let sight = self.sight;
        let rows: Vec<Vec<Blocked>> = (0..sight.height)
            .into_par_iter()
            .map(|y| {
                let start = sight.rows[y] as usize;
                let own = sight.row(y).iter().enumerate().map(|(own, piece)| {
                    let (own, x) = (start + own, usize::from(piece.column));
                    let point = &self.points[own];
                    let near = self.pixel(point) * 1.5;
                    let (mut sum, mut count) = (Blocked::default(), 0.0);
                    for ny in y.saturating_sub(before)..(y + after + 1).min(sight.height) {
                        for nx in x.saturating_sub(before)..(x + after + 1).min(sight.width) {
                            if let Some(at) = self.on_same((nx, ny), point, near) {
                                sum += value(at);
                                count += 1.0;
                            }
                        }
                    }
                    if count > 0.0 { sum.mean_of(count) } else { value(own) }
                });
                own.collect()
            })
            .collect();
        rows.into_iter().flatten().collect()
    }

    /// How large a pixel is at a point.
    fn pixel(&self, point: &LitPoint) -> f32 {
        let camera = self.eye.camera;
        (camera.ray(vec2(1.0, 0.0)) - camera.ray(Vec2::ZERO)).length() * (point.at - camera.eye).length()
    }

    /// The piece of a pixel that lies on the surface of a point.
    fn on_same(&self, (x, y): (usize, usize), point: &LitPoint, near: f32) -> Option<usize> {
        let first = self.first[y * self.sight.width + x];
        if first == NONE {
            return None;
        }
        let end = self.sight.rows[y + 1] as usize;
        let pieces: &[Piece] = &self.sight.pieces[first as usize..end];
        let own = pieces.iter().take_while(|piece| usize::from(piece.column) == x);
        (first as usize..).zip(own).map(|(at, _)| at).find(|at| {
            let other = &self.points[*at];
            other.normal.dot(point.normal) > ALIKE && (other.at - point.at).dot(point.normal).abs() < near
        })
    }
}
