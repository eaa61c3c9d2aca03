//! CoverPath: the way of a cover round its book, seen from above, and the shell that stands on it.

use crate::view::solid::{Material, Solid};
use glam::{Vec2, Vec3, vec2, vec3};

/// A point on the outside of a cover: where it is in the path, where it looks, how far it is along the sheet from the
/// middle of the spine (the front's side counts up), and how thick the cover is there.
#[derive(Clone, Copy, Debug)]
pub struct Step {
    pub at: Vec2,
    pub normal: Vec2,
    pub along: f32,
    pub thick: f32,
}

/// The outside of a cover from the back to the front, in smooth pieces.
#[derive(Clone, Debug, Default)]
pub struct CoverPath {
    pub pieces: Vec<Vec<Step>>,
    along: f32,
}

/// How finely a quarter of a circle is divided.
const QUARTER: f32 = 8.0;

impl CoverPath {
    /// Begins at the back, so far along the sheet.
    pub fn from(along: f32) -> CoverPath {
        CoverPath { pieces: Vec::new(), along }
    }

    /// A straight piece that takes so much of the sheet.
    pub fn line(&mut self, from: Vec2, to: Vec2, takes: f32, thick: f32) -> &mut CoverPath {
        self.curve(takes, thick, 1, |t| from.lerp(to, t))
    }

    /// A piece of a circle, from one angle to another (radians, counted from x to y).
    pub fn arc(
        &mut self,
        centre: Vec2,
        radius: f32,
        (first, last): (f32, f32),
        takes: f32,
        thick: f32,
    ) -> &mut CoverPath {
        let steps = ((last - first).abs() / std::f32::consts::FRAC_PI_2 * QUARTER).ceil().max(2.0) as usize;
        self.curve(takes, thick, steps, |t| {
            let angle = first + (last - first) * t;
            centre + radius * vec2(libm::cosf(angle), libm::sinf(angle))
        })
    }

    /// A smooth piece, from 0 to 1.
    pub fn curve(&mut self, takes: f32, thick: f32, steps: usize, at: impl Fn(f32) -> Vec2) -> &mut CoverPath {
        let start = self.along;
        let near = 1e-2 / steps as f32;
        let step = |step: usize| {
            let t = step as f32 / steps as f32;
            let way = at((t + near).min(1.0)) - at((t - near).max(0.0));
            let normal = vec2(way.y, -way.x).normalize_or_zero();
            Step { at: at(t), normal, along: start + takes * t, thick }
        };
        self.pieces.push((0..=steps).map(step).collect());
        self.along = start + takes;
        self
    }
}

/// How a shell is dressed.
pub struct Dress {
    /// Its foot and its head.
    pub foot: f32,
    pub head: f32,
    pub outside: Material,
    /// The edges: the sheet itself where it is turned in.
    pub edge: Material,
}

/// Stands a cover on its path. A place on the sheet is millimetres along it and down from its head.
pub fn shell(solid: &mut Solid, path: &CoverPath, dress: &Dress) {
    let up = |at: Vec2, z: f32| vec3(at.x, at.y, z);
    let flat = |normal: Vec2| vec3(normal.x, normal.y, 0.0);
    let (foot, head) = (dress.foot, dress.head);
    let height = head - foot;
    for (number, piece) in path.pieces.iter().enumerate() {
        for pair in piece.windows(2) {
            let [a, b] = [pair[0], pair[1]];
            let inner = |step: Step| step.at - step.normal * step.thick;
            let outside = |step: Step, z: f32| (up(step.at, z), flat(step.normal), vec2(step.along, head - z));
            solid.quad([outside(a, foot), outside(b, foot), outside(b, head), outside(a, head)], dress.outside);
            let within = |step: Step, z: f32| (up(inner(step), z), -flat(step.normal), vec2(step.along, head - z));
            solid.quad([within(b, foot), within(a, foot), within(a, head), within(b, head)], Material::Inside);
            for (z, normal, y, sign) in [(head, Vec3::Z, 0.0, -1.0), (foot, -Vec3::Z, height, 1.0)] {
                let outer = |step: Step| (up(step.at, z), normal, vec2(step.along, y));
                let deep = |step: Step| (up(inner(step), z), normal, vec2(step.along, y + sign * step.thick));
                solid.quad([outer(a), outer(b), deep(b), deep(a)], dress.edge);
            }
        }
        let ends = [(piece.first(), -1.0, number == 0), (piece.last(), 1.0, number + 1 == path.pieces.len())];
        for (step, sign, last) in ends {
            let Some(step) = step else { continue };
            let way = vec2(-step.normal.y, step.normal.x) * sign;
            let corner = |deep: f32, z: f32| {
                let place = vec2(step.along + sign * deep, head - z);
                (up(step.at - step.normal * deep, z), flat(way), place)
            };
            let side = if last { dress.edge } else { Material::Inside };
            let t = step.thick;
            solid.quad([corner(0.0, foot), corner(t, foot), corner(t, head), corner(0.0, head)], side);
        }
    }
}
