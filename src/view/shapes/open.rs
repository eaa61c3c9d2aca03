//! Open: the cover by itself, spread out with its printed side up. It remembers its folds: flaps and spine do not lie flat.

use crate::scene::{BookShape, CoverKind};
use crate::view::cover_path::{CoverPath, Dress, shell};
use crate::view::solid::{Material, Solid};
use glam::{Vec2, vec2};

/// How far flaps rise, as a share of their width, and the fore edges of a cover without any.
const FLAP: f32 = 0.30;
const EDGE: f32 = 0.03;
/// How far the spine stands off the ground.
const SPINE: f32 = 2.5;

/// Like a closed book it has its outside towards us; laid down, that is up.
pub fn open(shape: &BookShape) -> Solid {
    let page = shape.page.0;
    let (panel, flap, height, stock) = match shape.cover {
        CoverKind::Paperback { stock, flaps: None, .. } | CoverKind::Stapled { stock } => {
            (page, 0.0, shape.page.1, stock)
        }
        CoverKind::Paperback { stock, flaps: Some(flaps), .. } => (page + flaps.turn, flaps.width, shape.page.1, stock),
        CoverKind::Case(boards) => {
            let height = shape.page.1 + 2.0 * boards.square;
            (boards.width(page) + boards.joint, 0.0, height, boards.thickness)
        }
        CoverKind::Jacket(boards, flaps) => {
            let height = shape.page.1 + 2.0 * boards.square;
            (boards.width(page) + boards.joint + flaps.turn, flaps.width, height, 0.2)
        }
    };
    let (panel, flap, spine, stock) = (panel as f32, flap as f32, shape.spine as f32, stock as f32);
    let half = spine / 2.0;
    let total = half + panel + flap;
    // Heights over the ground, by the distance from the middle of the spine.
    let rise = |x: f32| {
        let out = x.abs();
        let down = ((out - half) / (panel * 0.45)).clamp(0.0, 1.0);
        let spine = SPINE * (1.0 - down) * (1.0 - down);
        let edge = ((out - half - panel * 0.5) / (panel * 0.5)).clamp(0.0, 1.0);
        let edge = if flap > 0.0 { 0.0 } else { EDGE * panel * 0.5 * edge * edge };
        let past = (out - half - panel).max(0.0);
        spine + edge + FLAP * past * past / (past + 6.0)
    };
    let at = |x: f32| -> Vec2 { vec2(x, -rise(x) - stock) };
    let mut path = CoverPath::from(-total);
    let mut piece = |from: f32, to: f32, steps: usize| {
        path.curve(to - from, stock, steps, |t| at(from + (to - from) * t));
    };
    if flap > 0.0 {
        piece(-total, -half - panel, 24);
    }
    piece(-half - panel, -half, 24);
    piece(-half, half, 4);
    piece(half, half + panel, 24);
    if flap > 0.0 {
        piece(half + panel, total, 24);
    }
    let mut solid = Solid::default();
    let edge = if matches!(shape.cover, CoverKind::Case(_)) { Material::Sheet } else { Material::Stock };
    shell(&mut solid, &path, &Dress { foot: 0.0, head: height as f32, outside: Material::Sheet, edge });
    if shape.bound_right { solid.mirrored() } else { solid }
}
