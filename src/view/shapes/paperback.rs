//! Paperback: a cover creased round its leaves; its front lifts a little, as it does once it has been opened.

use crate::scene::{BookShape, Flaps};
use crate::view::cover_path::{CoverPath, Dress, shell};
use crate::view::shapes::leaves::leaves;
use crate::view::solid::{Material, Solid};
use glam::{Vec2, vec2};
use std::f32::consts::{FRAC_PI_2, PI};

/// The radius of a fold round the leaves.
const FOLD: f32 = 0.9;
/// How far front and back lift at the fore edge, and by how much more with a flap inside.
const LIFT: [f32; 2] = [1.5, 0.35];
const FLAP_LIFT: f32 = 0.8;
/// Half the width of a score, and its depth.
const SCORE: (f32, f32) = (0.9, 0.22);
/// How far the leaves stand back from the cover's edges.
const BACK: f32 = 0.25;

pub fn paperback(shape: &BookShape, stock: f32, hinge: f32, flaps: Option<Flaps>) -> Solid {
    let (page, height, spine) = (shape.page.0 as f32, shape.page.1 as f32, shape.spine as f32);
    let (flap, growth) = flaps.map_or((0.0, 0.0), |flaps| (flaps.width as f32, flaps.turn as f32));
    let width = page + growth;
    let round = FOLD.min(spine * 0.4).max(stock);
    // A fold takes as much of the sheet as its arc is long.
    let quarter = PI * round / 4.0;
    let thick = (spine - 2.0 * quarter + 2.0 * round).max(2.0 * round);
    let fore = width - quarter + round;
    let bend = Bend { from: (hinge + 1.5).max(4.0), fore, hinge, flapped: flaps.is_some() };
    let near = (bend.from + hinge.max(2.0) + 2.0).min(fore * 0.5);
    let [front, back] = [|bend: &Bend, x: f32| -bend.lift(0, x), |bend: &Bend, x: f32| bend.lift(1, x)];
    let (front, back) = (|x: f32| vec2(x, front(&bend, x)), |x: f32| vec2(x, thick + back(&bend, x)));
    let along = |from: f32, to: f32, at: &dyn Fn(f32) -> Vec2, t: f32| at(from + (to - from) * t);

    let turn = stock + 0.35;
    let mut path = CoverPath::from(-(spine / 2.0 + width + flap));
    if flaps.is_some() {
        path.curve(flap, stock, 10, |t| along(fore - flap, fore, &back, t) - vec2(0.0, 2.0 * turn));
        path.arc(back(fore) - vec2(0.0, turn), turn, (-FRAC_PI_2, FRAC_PI_2), 0.0, stock);
    }
    path.curve(width - quarter - near + round, stock, 24, |t| along(fore, near, &back, t));
    path.curve(near - round, stock, 24, |t| along(near, round, &back, t));
    path.arc(vec2(round, thick - round), round, (FRAC_PI_2, PI), 2.0 * quarter, stock);
    // The glue draws the spine in, by a hair.
    let hollow = 0.12 * (thick / 20.0).min(1.0);
    path.curve(spine - 2.0 * quarter, stock, 8, |t| {
        let bow = 4.0 * t * (1.0 - t);
        vec2(hollow * bow * bow, thick - round - (thick - 2.0 * round) * t)
    });
    path.arc(vec2(round, round), round, (PI, PI + FRAC_PI_2), 2.0 * quarter, stock);
    path.curve(near - round, stock, 24, |t| along(round, near, &front, t));
    path.curve(width - quarter - near + round, stock, 24, |t| along(near, fore, &front, t));
    if flaps.is_some() {
        path.arc(front(fore) + vec2(0.0, turn), turn, (-FRAC_PI_2, FRAC_PI_2), 0.0, stock);
        path.curve(flap, stock, 10, |t| along(fore, fore - flap, &front, t) + vec2(0.0, 2.0 * turn));
    }

    let mut solid = Solid::default();
    shell(&mut solid, &path, &Dress { foot: 0.0, head: height, outside: Material::Sheet, edge: Material::Stock });
    let inside = (stock + 0.05, (thick - stock - 0.05).max(stock + 0.1));
    let edge = fore - growth - BACK;
    leaves(&mut solid, inside, (BACK, height - BACK), 2, |_| stock + 0.3, |_| edge);
    solid
}

/// How the covers of a paperback bend away from its leaves.
struct Bend {
    from: f32,
    fore: f32,
    hinge: f32,
    flapped: bool,
}

impl Bend {
    fn lift(&self, cover: usize, x: f32) -> f32 {
        let t = ((x - self.from) / (self.fore - self.from).max(1.0)).max(0.0);
        let most = LIFT[cover] + if self.flapped { FLAP_LIFT } else { 0.0 };
        let off = (x - self.hinge) / SCORE.0;
        let score =
            if self.hinge > 0.0 && off.abs() < 1.0 { SCORE.1 * (1.0 - off * off) * (1.0 - off * off) } else { 0.0 };
        most * t * t - score
    }
}
