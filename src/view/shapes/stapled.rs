//! Stapled: sheets folded once and held by two staples in the fold.

use crate::scene::BookShape;
use crate::view::cover_path::{CoverPath, Dress, shell};
use crate::view::shapes::leaves::leaves;
use crate::view::solid::{Material, Solid};
use glam::{vec2, vec3};
use std::f32::consts::{FRAC_PI_2, PI};

/// Half the length and half the thickness of a staple's back.
const STAPLE: (f32, f32) = (6.0, 0.28);
/// How far front and back lift at the fore edge.
const LIFT: [f32; 2] = [1.1, 0.3];

pub fn stapled(shape: &BookShape, stock: f32) -> Solid {
    let (width, height) = (shape.page.0 as f32, shape.page.1 as f32);
    let thick = shape.block as f32 + 2.0 * stock;
    let round = thick / 2.0;
    let quarter = PI * round / 2.0;
    let fore = width - quarter + round;
    let lift = |cover: usize, x: f32| {
        let t = ((x - round) / (fore - round).max(1.0)).max(0.0);
        LIFT[cover] * t * t
    };
    let mut path = CoverPath::from(-width);
    path.curve(width - quarter, stock, 16, |t| {
        let x = fore + (round - fore) * t;
        vec2(x, thick + lift(1, x))
    });
    path.arc(vec2(round, round), round, (FRAC_PI_2, PI + FRAC_PI_2), 2.0 * quarter, stock);
    path.curve(width - quarter, stock, 16, |t| {
        let x = round + (fore - round) * t;
        vec2(x, -lift(0, x))
    });
    let mut solid = Solid::default();
    shell(&mut solid, &path, &Dress { foot: 0.0, head: height, outside: Material::Sheet, edge: Material::Stock });
    let inner = round - stock;
    let fold = |y: f32| round - (inner * inner - (y - round) * (y - round)).max(0.0).sqrt();
    leaves(&mut solid, (stock + 0.02, thick - stock - 0.02), (0.2, height - 0.2), 12, fold, |_| fore - 0.25);
    for middle in [height * 0.25, height * 0.75] {
        let low = vec3(-0.32, round - STAPLE.1, middle - STAPLE.0);
        solid.cuboid(low, vec3(0.2, round + STAPLE.1, middle + STAPLE.0), Material::Staple);
    }
    solid
}
