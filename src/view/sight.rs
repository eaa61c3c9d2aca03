//! Sight: what is seen at each point of a picture: pieces of surfaces, several where an edge runs through a pixel.

use crate::view::camera::Camera;
use crate::view::rays::Rays;
use crate::view::solid::{Facet, Solid};
use glam::{Vec2, Vec3, vec2};
use rayon::prelude::*;

pub const NONE: u32 = u32::MAX;
/// Samples of a pixel that an edge runs through. Each has a row and a column to itself, and in every next row it stands so
/// many columns further, so that an edge that is nearly level, and paper that is thinner than a pixel, run evenly.
const FINE: usize = 16;
const NEXT: usize = 5;
pub const WHOLE: u8 = FINE as u8;

/// A part of a pixel that shows one surface.
#[derive(Clone, Copy, Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Piece {
    pub column: u16,
    /// Of sixteen.
    pub weight: u8,
    /// Its middle, from the pixel's, in sixteenths of a pixel.
    pub off: [i8; 2],
    pub facet: u32,
}

#[derive(Debug, PartialEq, serde::Serialize, serde::Deserialize)]
pub struct Sight {
    pub width: usize,
    pub height: usize,
    pub pieces: Vec<Piece>,
    /// Where each row of pieces begins, and where the last one ends.
    pub rows: Vec<u32>,
}

/// A view into the picture: the camera, or its mirror image below the ground.
#[derive(Clone, Copy)]
pub struct Eye<'a> {
    pub camera: &'a Camera,
    pub mirrored: bool,
}

impl Eye<'_> {
    pub fn ray(&self, place: Vec2) -> (Vec3, Vec3) {
        let (from, way) = (self.camera.eye, self.camera.ray(place));
        if self.mirrored { (flip(from), flip(way)) } else { (from, way) }
    }

    pub fn project(&self, point: Vec3) -> Vec2 {
        self.camera.project(if self.mirrored { flip(point) } else { point })
    }
}

fn flip(v: Vec3) -> Vec3 {
    Vec3::new(v.x, v.y, -v.z)
}

/// The point of a facet that is seen in a place of the picture, and the shares of its corners there.
pub fn point(facet: &Facet, (from, way): (Vec3, Vec3)) -> (Vec3, Vec3) {
    let [a, b, c] = facet.at;
    let (u, v) = (b - a, c - a);
    let normal = u.cross(v);
    let t = (a - from).dot(normal) / way.dot(normal);
    let at = from + way * t;
    let to = at - a;
    let square = normal.length_squared();
    let second = to.cross(v).dot(normal) / square;
    let third = u.cross(to).dot(normal) / square;
    (at, Vec3::new(1.0 - second - third, second, third))
}

pub fn blend3(values: [Vec3; 3], shares: Vec3) -> Vec3 {
    values[0] * shares.x + values[1] * shares.y + values[2] * shares.z
}

pub fn blend2(values: [Vec2; 3], shares: Vec3) -> Vec2 {
    values[0] * shares.x + values[1] * shares.y + values[2] * shares.z
}

pub fn sight(solid: &Solid, rays: &Rays, eye: Eye<'_>, (width, height): (usize, usize)) -> Sight {
    let corners = solid.facets.iter().flat_map(|facet| facet.at).map(|at| eye.project(at));
    let (low, high) = corners.fold((Vec2::INFINITY, Vec2::NEG_INFINITY), |(low, high), at| (low.min(at), high.max(at)));
    let first = |value: f32, end: usize| (value - 2.0).max(0.0).min(end as f32) as usize;
    let last = |value: f32, end: usize| (value + 3.0).max(0.0).min(end as f32) as usize;
    let (x0, x1) = (first(low.x, width), last(high.x, width));
    let (y0, y1) = (first(low.y, height), last(high.y, height));
    let across = x1.saturating_sub(x0);
    // What is seen in the middle of each pixel.
    let middles: Vec<u32> = (y0..y1)
        .into_par_iter()
        .flat_map_iter(|y| {
            (x0..x1).map(move |x| {
                let (from, way) = eye.ray(vec2(x as f32 + 0.5, y as f32 + 0.5));
                rays.first(from, way).map_or(NONE, |(facet, _)| facet)
            })
        })
        .collect();
    let at = |x: usize, y: usize| middles[(y - y0) * across + (x - x0)];
    let rows: Vec<Vec<Piece>> = (0..height)
        .into_par_iter()
        .map(|y| {
            let mut row = Vec::new();
            if !(y0..y1).contains(&y) {
                return row;
            }
            for x in x0..x1 {
                let own = at(x, y);
                let near = (y.max(y0 + 1) - 1..(y + 2).min(y1))
                    .flat_map(|y| (x.max(x0 + 1) - 1..(x + 2).min(x1)).map(move |x| (x, y)));
                let edge = near
                    .into_iter()
                    .any(|(nx, ny)| at(nx, ny) != own && parts(solid, eye, own, (x, y), at(nx, ny), (nx, ny)));
                if edge {
                    finer(solid, rays, eye, (x, y), &mut row);
                } else if own != NONE {
                    row.push(Piece { column: x as u16, weight: WHOLE, off: [0, 0], facet: own });
                }
            }
            row
        })
        .collect();
    let mut starts = vec![0];
    starts.extend(rows.iter().scan(0, |sum, row| {
        *sum += row.len() as u32;
        Some(*sum)
    }));
    Sight { width, height, pieces: rows.concat(), rows: starts }
}

/// Whether an edge lies between two neighbours: another surface, a crease, or a step.
fn parts(solid: &Solid, eye: Eye<'_>, a: u32, at: (usize, usize), b: u32, bt: (usize, usize)) -> bool {
    if a == NONE || b == NONE {
        return true;
    }
    let (a, b) = (&solid.facets[a as usize], &solid.facets[b as usize]);
    if a.material != b.material || a.book != b.book {
        return true;
    }
    let ray = |(x, y): (usize, usize)| eye.ray(vec2(x as f32 + 0.5, y as f32 + 0.5));
    let ((pa, sa), (pb, sb)) = (point(a, ray(at)), point(b, ray(bt)));
    let (na, nb) = (blend3(a.normal, sa), blend3(b.normal, sb));
    if na.dot(nb) < 0.97 {
        return true;
    }
    // On one surface neighbours lie in each other's planes.
    let step = (pb - pa).dot(na).abs().min((pb - pa).dot(nb).abs());
    step > 0.35 * (pb - pa).length()
}

fn finer(solid: &Solid, rays: &Rays, eye: Eye<'_>, (x, y): (usize, usize), row: &mut Vec<Piece>) {
    let mut found: [(u32, u8, Vec2); FINE] = [(NONE, 0, Vec2::ZERO); FINE];
    let mut count = 0;
    for sample in 0..FINE {
        let off = vec2((sample * NEXT % FINE) as f32 + 0.5, sample as f32 + 0.5) / FINE as f32;
        let (from, way) = eye.ray(vec2(x as f32, y as f32) + off);
        let Some((facet, _)) = rays.first(from, way) else { continue };
        let own = &solid.facets[facet as usize];
        let alike = |other: &(u32, u8, Vec2)| {
            other.0 == facet || {
                let other = &solid.facets[other.0 as usize];
                other.material == own.material && other.book == own.book && other.normal[0].dot(own.normal[0]) > 0.97
            }
        };
        if let Some(piece) = found[..count].iter_mut().find(|other| alike(other)) {
            piece.1 += 1;
            piece.2 += off - 0.5;
        } else {
            found[count] = (facet, 1, off - 0.5);
            count += 1;
        }
    }
    row.extend(found[..count].iter().map(|(facet, weight, sum)| {
        let middle = *sum / f32::from(*weight) * 16.0;
        Piece {
            column: x as u16,
            weight: *weight,
            off: [middle.x.round() as i8, middle.y.round() as i8],
            facet: *facet,
        }
    }));
}

impl Sight {
    pub fn row(&self, y: usize) -> &[Piece] {
        &self.pieces[self.rows[y] as usize..self.rows[y + 1] as usize]
    }

    pub fn place(piece: &Piece, y: usize) -> Vec2 {
        vec2(f32::from(piece.column) + 0.5, y as f32 + 0.5)
            + vec2(f32::from(piece.off[0]), f32::from(piece.off[1])) / 16.0
    }
}
