//! Ink limiter: colours with more ink than a limit, printed with more black and less of the others, so that they look the same.
//!
//! For every mixture of four inks there is a line of others that look alike, from its own black to solid black: black replaces
//! the grey that the other three make together. A colour over the limit is led along that line to where it keeps the limit.
//! Near the limit the first bit of black often saves nothing, so much of it is wanted for little; there black grows by and by,
//! and what is still too much is taken from the three where it shows least, as it is where the line ends before the limit is
//! kept.
//! Colours within the limit stay as they are, and neighbours stay neighbours.

use crate::assets::difference;
use crate::assets::profile::ink_grid::{InkGrid, Mix, straight};
use crate::ground::{Digest, Memo, Process};
use rayon::prelude::*;
use std::convert::Infallible;

/// Keeps the inks of one press within limits.
pub struct InkLimiter {
    /// How mixtures look: CIELAB.
    looks: InkGrid<3>,
    /// By limit: for the mixtures over it, those within it that look most like them.
    within: Memo<InkGrid<4>>,
}

/// Steps along each ink at which looks are known, and mixtures within a limit.
const LOOKS: usize = 17;
const WITHIN: usize = 9;
/// Limits that are remembered; each takes about a hundred kilobytes.
const LIMITS: usize = 4;
/// Blacks that are tried from a mixture's own to solid.
const BLACKS: u8 = 16;
/// The most black that is laid down for ink over the limit, as a share of it: a step in 255 of three inks makes 12 of black.
const STEEP: f32 = 4.0;
/// Differences in the look, squared, that are not worth a whole ink: near black a look says little about the three.
const FAINT: f32 = 4.0;
/// Steps towards the best of the mixtures that are at the limit.
const TURNS: u8 = 2;
/// Pixels that a thread looks at together.
const BAND: usize = 1 << 14;

impl InkLimiter {
    /// `lab` says how mixtures look.
    pub fn new(lab: impl Fn(&[Process]) -> Vec<[f64; 3]>) -> InkLimiter {
        let mixes: Vec<Process> = InkGrid::<3>::mixes(LOOKS).into_iter().map(|mix| mix.map(f64::from)).collect();
        let looks = lab(&mixes).into_iter().map(|lab| lab.map(|part| part as f32)).collect();
        InkLimiter { looks: InkGrid::new(LOOKS, looks), within: Memo::bounded(LIMITS, |_| 1) }
    }

    /// Inks, 255 a solid, four to a pixel; `limit` is 1 for one solid.
    pub fn limit(&self, inks: &mut [u8], limit: f64) {
        let most = (limit * 255.0).floor() as u32;
        let total = |pixel: &[u8; 4]| pixel.iter().map(|ink| u32::from(*ink)).sum::<u32>();
        let pixels = inks.as_chunks_mut::<4>().0;
        if pixels.iter().all(|pixel| total(pixel) <= most) {
            return;
        }
        let within = self.within(most);
        pixels.par_chunks_mut(BAND).for_each(|band| {
            // Colours near each other are often the same.
            let mut last = ([0; 4], [0; 4]);
            for pixel in band {
                if total(pixel) > most {
                    if last.0 != *pixel {
                        last = (*pixel, self.limited(*pixel, &within, most));
                    }
                    *pixel = last.1;
                }
            }
        });
    }

    fn limited(&self, inks: [u8; 4], within: &InkGrid<4>, most: u32) -> [u8; 4] {
        let limit = most as f32 / 255.0;
        let mix = inks.map(|ink| f32::from(ink) / 255.0);
        let aim = within.at(mix);
        let wanted = (aim[3] - mix[3]).max(0.0);
        let black = wanted.min((sum(mix) - limit) * STEEP);
        let mut start = straight(mix, aim, if wanted > 0.0 { black / wanted } else { 0.0 });
        start[3] = mix[3] + black;
        let goal = AimedLook::of(self.looks.at(mix));
        whole(self.kept(self.alike(start, &goal, mix, 2), &goal, mix, limit), most)
    }

    fn within(&self, most: u32) -> std::sync::Arc<InkGrid<4>> {
        let limit = most as f32 / 255.0;
        let make = || {
            let mixes = InkGrid::<4>::mixes(WITHIN);
            Ok::<_, Infallible>(InkGrid::new(
                WITHIN,
                mixes.into_par_iter().map(|mix| self.nearest(mix, limit)).collect(),
            ))
        };
        let Ok(grid) = self.within.get_or(Digest::of(&most.to_be_bytes()), make);
        grid
    }

    /// The mixture within the limit that looks most alike, with the least black among equals.
    fn nearest(&self, mix: Mix, limit: f32) -> Mix {
        if sum(mix) <= limit {
            return mix;
        }
        let goal = AimedLook::of(self.looks.at(mix));
        let off = |other: Mix| difference(goal.lab.map(f64::from), self.looks.at(other).map(f64::from));
        let mut best = self.kept(mix, &goal, mix, limit);
        let mut least = off(best);
        let mut last = mix;
        for black in 1..=BLACKS {
            let black = mix[3] + (1.0 - mix[3]) * f32::from(black) / f32::from(BLACKS);
            let next = self.alike([last[0], last[1], last[2], black], &goal, mix, 2);
            let (before, after) = (sum(last) - limit, sum(next) - limit);
            let arrived = after <= 0.0;
            let here =
                if arrived { self.alike(straight(last, next, before / (before - after)), &goal, mix, 1) } else { next };
            let here = self.kept(here, &goal, mix, limit);
            let now = off(here);
            if now < least {
                (best, least) = (here, now);
            }
            if arrived {
                break;
            }
            last = next;
        }
        best
    }

    /// The other three such that they look like `goal` with the black of a mixture: never more of one than `most` has. By
    /// Newton's way, with as little change as may be where several ways look alike.
    fn alike(&self, mut mix: Mix, goal: &AimedLook, most: Mix, times: u8) -> Mix {
        for _ in 0..times {
            let (look, slopes) = self.looks.sloped(mix);
            let off = goal.off(look);
            let [c, m, y, _] = slopes.map(|slope| goal.weighed(slope));
            let three = [c, m, y];
            let rows: [[f32; 3]; 3] = std::array::from_fn(|row| {
                std::array::from_fn(|column| dot(three[row], three[column]) + if row == column { FAINT } else { 0.0 })
            });
            let change = solved(rows, three.map(|ink| dot(ink, off)));
            (0..3).for_each(|ink| mix[ink] = (mix[ink] + change[ink]).clamp(0.0, most[ink]));
        }
        mix
    }

    /// The other three thinned to what black leaves them of a limit: first in proportion, then by Newton's way among those
    /// that come to as much.
    fn kept(&self, mix: Mix, goal: &AimedLook, most: Mix, limit: f32) -> Mix {
        if sum(mix) <= limit {
            return mix;
        }
        let mut kept = thinned(mix, limit);
        for _ in 0..TURNS {
            let (look, slopes) = self.looks.sloped(kept);
            let off = goal.off(look);
            let [c, m, y, _] = slopes.map(|slope| goal.weighed(slope));
            let one: [f32; 3] = std::array::from_fn(|part| c[part] - m[part]);
            let other: [f32; 3] = std::array::from_fn(|part| f32::midpoint(c[part], m[part]) - y[part]);
            let (a, b, d) = (dot(one, one) + FAINT, dot(one, other), dot(other, other) + FAINT);
            let (e, f) = (dot(one, off), dot(other, off));
            let (first, second) = ((e * d - f * b) / (a * d - b * b), (f * a - e * b) / (a * d - b * b));
            let change = [first + second / 2.0, second / 2.0 - first, -second];
            (0..3).for_each(|ink| kept[ink] = (kept[ink] + change[ink]).clamp(0.0, most[ink]));
            kept = thinned(kept, limit);
        }
        kept
    }
}

/// A look that is aimed at. Of strong colours other strengths and hues show less than another lightness: by the weights of
/// CIE 94 for graphic arts.
struct AimedLook {
    lab: [f32; 3],
    /// Strength and hue as shares of a and b, by their weights.
    strength: [f32; 2],
    hue: [f32; 2],
}

impl AimedLook {
    fn of(lab: [f32; 3]) -> AimedLook {
        let [_, a, b] = lab;
        let chroma = a.hypot(b);
        let (along, across) = (1.0 + 0.045 * chroma, 1.0 + 0.015 * chroma);
        let (a, b) = if chroma > 0.0 { (a / chroma, b / chroma) } else { (1.0, 0.0) };
        AimedLook { lab, strength: [a / along, b / along], hue: [-b / across, a / across] }
    }

    /// From a look to the one aimed at.
    fn off(&self, look: [f32; 3]) -> [f32; 3] {
        self.weighed(std::array::from_fn(|part| self.lab[part] - look[part]))
    }

    fn weighed(&self, [lightness, a, b]: [f32; 3]) -> [f32; 3] {
        let share = |axis: [f32; 2]| a * axis[0] + b * axis[1];
        [lightness, share(self.strength), share(self.hue)]
    }
}

fn sum(mix: Mix) -> f32 {
    mix.iter().sum()
}

fn dot(a: [f32; 3], b: [f32; 3]) -> f32 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// Three equations by Cramer's rule; `FAINT` keeps the volume from nothing.
fn solved([a, b, c]: [[f32; 3]; 3], wanted: [f32; 3]) -> [f32; 3] {
    let volume = |a: [f32; 3], b: [f32; 3], c: [f32; 3]| {
        a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0])
    };
    let all = volume(a, b, c);
    [volume(wanted, b, c), volume(a, wanted, c), volume(a, b, wanted)].map(|part| part / all)
}

/// The three thinned to what black leaves them of a limit.
fn thinned(mut mix: Mix, limit: f32) -> Mix {
    let three: f32 = mix[..3].iter().sum();
    let room = (limit - mix[3]).max(0.0);
    if three > room {
        mix[..3].iter_mut().for_each(|ink| *ink *= room / three);
    }
    mix
}

/// Whole steps that never come to more than the limit.
fn whole(mix: Mix, most: u32) -> [u8; 4] {
    let mut inks = mix.map(|ink| (ink * 255.0).round().clamp(0.0, 255.0) as u8);
    while inks.iter().map(|ink| u32::from(*ink)).sum::<u32>() > most {
        let largest = (0..3).max_by_key(|ink| inks[*ink]).unwrap_or_default();
        inks[largest] = inks[largest].saturating_sub(1);
    }
    inks
}
