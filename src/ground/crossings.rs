//! Crossings: where the straight pieces of a path meet, and on which of their sides it has paint.

use crate::ground::{Point, Rect, Vec2};

/// Points nearer than this are one.
pub const SAME: f64 = 1e-7;
/// Pairs that are compared at the most: below a second.
const MOST_PAIRS: usize = 100_000_000;
/// How far beside a piece its two sides are looked at.
const BESIDE: f64 = 2e-5;

#[derive(Clone, Copy)]
pub struct StraightPiece {
    pub from: Point,
    pub to: Point,
    pub contour: usize,
}

/// Pieces by their height, so that each is compared with those beside it alone.
pub struct Bands<'a> {
    pieces: &'a [StraightPiece],
    top: f64,
    step: f64,
    rows: Vec<Vec<u32>>,
}

/// Where pieces are split, as shares of their length and as points; and which contours cross anything.
pub type Crossings = (Vec<Vec<(f64, Point)>>, Vec<bool>);

impl<'a> Bands<'a> {
    /// `None` where so many pieces stand beside each other that comparing them would take too long.
    pub fn new(pieces: &'a [StraightPiece], bounds: Rect) -> Option<Bands<'a>> {
        let count = (pieces.len() / 4).clamp(1, 1000);
        let step = (bounds.height() / count as f64).max(1e-6);
        let mut bands = Bands { pieces, top: bounds.y0, step, rows: vec![Vec::new(); count] };
        let mut pairs = 0;
        for (at, piece) in pieces.iter().enumerate() {
            let (first, last) = (bands.row(piece.from.y.min(piece.to.y)), bands.row(piece.from.y.max(piece.to.y)));
            for row in &mut bands.rows[first..=last] {
                pairs += row.len();
                row.push(at as u32);
            }
            if pairs > MOST_PAIRS {
                return None;
            }
        }
        Some(bands)
    }

    fn row(&self, y: f64) -> usize {
        (((y - self.top) / self.step).max(0.0) as usize).min(self.rows.len() - 1)
    }

    /// How often the path runs around a point.
    fn winding(&self, point: Point) -> i32 {
        let row = self.rows[self.row(point.y)].iter().map(|at| self.pieces[*at as usize]);
        let beyond = row.filter(|piece| (piece.from.y <= point.y) != (piece.to.y <= point.y)).filter(|piece| {
            let share = (point.y - piece.from.y) / (piece.to.y - piece.from.y);
            piece.from.x + (piece.to.x - piece.from.x) * share > point.x
        });
        beyond.map(|piece| if piece.to.y > piece.from.y { 1 } else { -1 }).sum()
    }

    /// Whether there is paint to the left and to the right of a piece, seen along it with y upwards.
    pub fn sides(&self, from: Point, to: Point) -> (bool, bool) {
        let along = to - from;
        let across = Vec2::new(-along.y, along.x) / along.hypot().max(1e-12) * BESIDE;
        let middle = from.midpoint(to);
        (self.winding(middle - across) != 0, self.winding(middle + across) != 0)
    }

    pub fn crossings(&self, contours: usize) -> Crossings {
        let mut splits: Vec<Vec<(f64, Point)>> = vec![Vec::new(); self.pieces.len()];
        let mut crossing = vec![false; contours];
        for (row, members) in self.rows.iter().enumerate() {
            for (index, one) in members.iter().enumerate() {
                let a = self.pieces[*one as usize];
                let reach = Rect::from_points(a.from, a.to).inflate(SAME, SAME);
                for other in &members[index + 1..] {
                    let b = self.pieces[*other as usize];
                    let beside = Rect::from_points(b.from, b.to);
                    let apart = beside.x1 < reach.x0 || beside.x0 > reach.x1;
                    // A pair is looked at in the first row that both stand in.
                    let first = self.row(a.from.y.min(a.to.y).max(beside.y0));
                    if apart || beside.y1 < reach.y0 || beside.y0 > reach.y1 || first != row {
                        continue;
                    }
                    for (at, point) in meet(a, b) {
                        let which = if at.0 { *one } else { *other };
                        splits[which as usize].push((at.1, point));
                        crossing[a.contour] = true;
                        crossing[b.contour] = true;
                    }
                }
            }
        }
        for splits in &mut splits {
            splits.sort_by(|a, b| a.0.total_cmp(&b.0));
        }
        (splits, crossing)
    }
}

/// Where two pieces meet inside one of them: which (the first?), at what share of its length, and the point.
fn meet(a: StraightPiece, b: StraightPiece) -> Vec<((bool, f64), Point)> {
    let shared = [a.from, a.to].iter().any(|end| *end == b.from || *end == b.to);
    let (along, other) = (a.to - a.from, b.to - b.from);
    let turn = along.cross(other);
    let mut found = Vec::new();
    if turn.abs() > 1e-12 {
        if shared {
            return found;
        }
        let apart = b.from - a.from;
        let (t, u) = (apart.cross(other) / turn, apart.cross(along) / turn);
        let (near_a, near_b) = (SAME / along.hypot(), SAME / other.hypot());
        if t < -near_a || t > 1.0 + near_a || u < -near_b || u > 1.0 + near_b {
            return found;
        }
        // Both are split at the very same point.
        let point = match (t, u) {
            (t, _) if t <= near_a => a.from,
            (t, _) if t >= 1.0 - near_a => a.to,
            (_, u) if u <= near_b => b.from,
            (_, u) if u >= 1.0 - near_b => b.to,
            _ => a.from + along * t,
        };
        found.push(((true, t), point));
        found.push(((false, u), point));
        return found;
    }
    // One on the other: each is split where the other begins and ends.
    let length = along.hypot().max(1e-12);
    let share = |point: Point| (point - a.from).dot(along) / (length * length);
    let (from, to) = (share(b.from).min(share(b.to)), share(b.from).max(share(b.to)));
    if (to.min(1.0) - from.max(0.0)) * length <= SAME {
        return found;
    }
    for (first, piece, ends) in [(true, a, [b.from, b.to]), (false, b, [a.from, a.to])] {
        let along = piece.to - piece.from;
        for end in ends {
            let share = (end - piece.from).dot(along) / along.hypot2().max(1e-18);
            let off = (piece.from + along * share).distance(end);
            if off < SAME && (0.0..=1.0).contains(&share) {
                found.push(((first, share), end));
            }
        }
    }
    found
}
