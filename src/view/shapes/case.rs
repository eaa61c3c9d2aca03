//! Case: boards and a spine board under one covering, its leaves between them, head bands at both ends of the spine.

use crate::scene::{BoardSizes, BookShape};
use crate::view::cover_path::{CoverPath, Dress, shell};
use crate::view::shapes::leaves::leaves;
use crate::view::solid::{Material, Solid};
use glam::{vec2, vec3};
use std::f32::consts::{FRAC_PI_2, PI};

/// Between the back of the leaves and the spine board.
const AIR: f32 = 0.4;
/// The radius of a spine board's edge.
const CORNER: f32 = 0.9;
/// How much deeper a rounded block is in the middle than at its boards, as a share of its thickness; not over 7 mm.
const ROUND: f32 = 0.13;
/// The radius of a head band.
const BAND: f32 = 0.9;

/// How a cover runs round boards: so far outside of them, its joints so deep, and how thick board, joint and spine are.
pub struct Round {
    pub out: f32,
    pub groove: f32,
    pub thick: [f32; 3],
}

pub fn case(shape: &BookShape, boards: BoardSizes, outside: Material) -> Solid {
    let (board, square) = (boards.thickness as f32, boards.square as f32);
    let height = shape.page.1 as f32 + 2.0 * square;
    let panel = (shape.spine / 2.0 + boards.joint + boards.width(shape.page.0)) as f32;
    let mut path = CoverPath::from(-panel);
    let thick = [board, 0.6, board.min(2.0)];
    round_boards(&mut path, shape, boards, &Round { out: 0.0, groove: (board * 0.8).min(2.2), thick });
    let mut solid = Solid::default();
    // The covering is turned in round the edges.
    shell(&mut solid, &path, &Dress { foot: 0.0, head: height, outside, edge: outside });
    let block = shape.block as f32;
    let middle = block / 2.0;
    let deep = if shape.rounded { (block * ROUND).min(7.0) } else { 0.0 };
    let bow = |y: f32| deep * (1.0 - (y - middle) * (y - middle) / (middle * middle));
    let slices = if shape.rounded { 16 } else { 2 };
    let page = shape.page.0 as f32;
    leaves(&mut solid, (0.02, block - 0.02), (square, height - square), slices, |y| -bow(y), |y| page - bow(y));
    for (edge, sign) in [(height - square, 1.0), (square, -1.0)] {
        head_band(&mut solid, (edge, sign), block, slices, &bow);
    }
    solid
}

/// Back board, joint, spine, joint, front board.
pub fn round_boards(path: &mut CoverPath, shape: &BookShape, boards: BoardSizes, round: &Round) {
    let [board, joint, back] = round.thick;
    let (setback, width) = (boards.setback as f32, boards.width(shape.page.0) as f32);
    let (front, rear) = (-(boards.thickness as f32) - round.out, (shape.block + boards.thickness) as f32 + round.out);
    let spine_x = -(boards.thickness as f32) - AIR - round.out;
    let (takes, spine) = (boards.joint as f32, shape.spine as f32);
    let dip = |t: f32| {
        let sine = libm::sinf(PI * t);
        round.groove * sine * sine
    };
    path.line(vec2(setback + width, rear), vec2(setback, rear), width, board);
    if shape.rounded {
        let chord = rear - front;
        let angle = half_angle(chord, spine.max(chord * 1.02));
        let radius = chord / 2.0 / libm::sinf(angle);
        let centre = vec2(spine_x + radius * libm::cosf(angle), f32::midpoint(front, rear));
        path.curve(takes, joint, 20, |t| vec2(setback + (spine_x - setback) * t, rear - dip(t)));
        path.arc(centre, radius, (PI - angle, PI + angle), spine, back);
        path.curve(takes, joint, 20, |t| vec2(spine_x + (setback - spine_x) * t, front + dip(t)));
    } else {
        let quarter = PI * CORNER / 4.0;
        let inner = spine_x + CORNER;
        path.curve(takes - quarter, joint, 20, |t| vec2(setback + (inner - setback) * t, rear - dip(t)));
        path.arc(vec2(inner, rear - CORNER), CORNER, (FRAC_PI_2, PI), 2.0 * quarter, joint);
        path.line(vec2(spine_x, rear - CORNER), vec2(spine_x, front + CORNER), spine - 2.0 * quarter, back);
        path.arc(vec2(inner, front + CORNER), CORNER, (PI, PI + FRAC_PI_2), 2.0 * quarter, joint);
        path.curve(takes - quarter, joint, 20, |t| vec2(inner + (setback - inner) * t, front + dip(t)));
    }
    path.line(vec2(setback, front), vec2(setback + width, front), width, board);
}

/// Half the angle of an arc that is so long over a chord, by halving.
fn half_angle(chord: f32, length: f32) -> f32 {
    let ratio = (chord / length).min(0.9999);
    let (mut low, mut high) = (0.0_f32, PI);
    for _ in 0..40 {
        let middle = f32::midpoint(low, high);
        if libm::sinf(middle) / middle.max(1e-6) > ratio { low = middle } else { high = middle }
    }
    low
}

fn head_band(solid: &mut Solid, (edge, sign): (f32, f32), block: f32, slices: usize, bow: &dyn Fn(f32) -> f32) {
    const STEPS: usize = 6;
    let y = |slice: usize| 0.3 + (block - 0.6) * slice as f32 / slices as f32;
    let corner = |y: f32, step: usize| {
        let angle = PI * step as f32 / STEPS as f32;
        let (sine, cosine) = (libm::sinf(angle), libm::cosf(angle));
        let at = vec3(BAND * (1.0 - cosine) - bow(y), y, edge + sign * BAND * 1.1 * sine);
        (at, vec3(-cosine, 0.0, sign * sine), vec2(y, angle))
    };
    for slice in 0..slices {
        let (a, b) = (y(slice), y(slice + 1));
        for step in 0..STEPS {
            let round = [corner(a, step), corner(b, step), corner(b, step + 1), corner(a, step + 1)];
            solid.quad(round, Material::HeadBand);
        }
    }
}
