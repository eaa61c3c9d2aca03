//! Jacket: a sheet of paper round a case, its flaps turned in at the fore edges.

use crate::scene::{BoardSizes, BookShape, Flaps};
use crate::view::cover_path::{CoverPath, Dress, shell};
use crate::view::shapes::case::{Round, case, round_boards};
use crate::view::solid::{Material, Solid};
use glam::vec2;
use std::f32::consts::FRAC_PI_2;

/// How thick the paper of a jacket is, and how far it stands off the boards.
const PAPER: f32 = 0.2;
const OFF: f32 = 0.12;
/// A jacket is a little lower than its boards, so that it is not rubbed.
const AIR: f32 = 0.15;

pub fn jacket(shape: &BookShape, boards: BoardSizes, flaps: Flaps) -> Solid {
    let mut solid = case(shape, boards, Material::Cloth);
    let (board, flap, takes) = (boards.thickness as f32, flaps.width as f32, flaps.turn as f32);
    let height = (shape.page.1 + 2.0 * boards.square) as f32;
    let out = PAPER + OFF;
    let (front, rear) = (-board - out, shape.block as f32 + board + out);
    let fore = (boards.setback + boards.width(shape.page.0)) as f32;
    let panel = (boards.width(shape.page.0) + boards.joint) as f32 + takes;
    let turn = (board + out + PAPER + 0.1) / 2.0;
    let mut path = CoverPath::from(-(shape.spine as f32 / 2.0 + panel + flap));
    path.line(vec2(fore - flap, rear - 2.0 * turn), vec2(fore, rear - 2.0 * turn), flap, PAPER);
    path.arc(vec2(fore, rear - turn), turn, (-FRAC_PI_2, FRAC_PI_2), takes, PAPER);
    round_boards(&mut path, shape, boards, &Round { out, groove: (board * 0.36).min(0.9), thick: [PAPER; 3] });
    path.arc(vec2(fore, front + turn), turn, (-FRAC_PI_2, FRAC_PI_2), takes, PAPER);
    path.line(vec2(fore, front + 2.0 * turn), vec2(fore - flap, front + 2.0 * turn), flap, PAPER);
    let dress = Dress { foot: AIR, head: height - AIR, outside: Material::Sheet, edge: Material::Stock };
    shell(&mut solid, &path, &dress);
    solid
}
