//! Leaves: the block of a book, as a solid.

use crate::view::solid::{Material, Solid};
use glam::{Vec3, vec2, vec3};

/// Leaves between `front` and `back`, from `spine(y)` to `fore(y)`.
pub fn leaves(
    solid: &mut Solid,
    (front, back): (f32, f32),
    (foot, head): (f32, f32),
    slices: usize,
    spine: impl Fn(f32) -> f32,
    fore: impl Fn(f32) -> f32,
) {
    let y = |slice: usize| front + (back - front) * slice as f32 / slices as f32;
    for slice in 0..slices {
        let (a, b) = (y(slice), y(slice + 1));
        let (sa, sb, fa, fb) = (spine(a), spine(b), fore(a), fore(b));
        for (z, normal) in [(head, Vec3::Z), (foot, -Vec3::Z)] {
            let corner = |x: f32, y: f32| (vec3(x, y, z), normal, vec2(y - front, x));
            solid.quad([corner(sa, a), corner(fa, a), corner(fb, b), corner(sb, b)], Material::Leaves);
        }
        let edge = |x0: f32, x1: f32, sign: f32, solid: &mut Solid| {
            let normal = vec3(b - a, -(x1 - x0), 0.0).normalize_or_zero() * sign;
            let corner = |x: f32, y: f32, z: f32| (vec3(x, y, z), normal, vec2(y - front, z));
            solid.quad(
                [corner(x0, a, foot), corner(x1, b, foot), corner(x1, b, head), corner(x0, a, head)],
                Material::Leaves,
            );
        };
        edge(fa, fb, 1.0, solid);
        edge(sa, sb, -1.0, solid);
    }
    for (y, normal) in [(front, -Vec3::Y), (back, Vec3::Y)] {
        let corner = |x: f32, z: f32| (vec3(x, y, z), normal, vec2(x, z));
        let (s, f) = (spine(y), fore(y));
        solid.quad([corner(s, foot), corner(f, foot), corner(f, head), corner(s, head)], Material::Page);
    }
}
