//! Ink limiter: colours with more ink than a limit, printed with more black and less of the others, so that they look the same.
//!
//! For every mixture of four inks there is a line of others that look alike. A colour over the limit is led along that line,
//! towards more black, up to the limit: black replaces the grey that the other three make together. Where black is solid
//! or one of the three is used up before, the three are thinned in proportion, which is a little lighter. Colours within
//! the limit stay as they are, and neighbours stay neighbours.

use crate::ground::Process;
use rayon::prelude::*;

/// How colours look on a press, at even steps of its inks.
pub struct InkLooks {
    lab: Vec<[f32; 3]>,
}

/// Steps along each ink: between them colours are mixed in straight lines.
const NODES: usize = 17;
const CELLS: f32 = (NODES - 1) as f32;
/// Parts in which a colour is led to the limit: the line bends.
const STRIDES: u8 = 8;
/// What a little black saves, as a share of it: up to the first nothing is left to black, from the second on everything.
const GAINS: [f32; 2] = [0.2, 0.9];
/// Differences in the look, squared, that are not worth a whole ink: near black a look says little about the three.
const FAINT: f32 = 4.0;
/// Pixels that a thread looks at together.
const BAND: usize = 1 << 14;

impl InkLooks {
    /// `lab` says how mixtures look: CIELAB.
    pub fn new(lab: impl Fn(&[Process]) -> Vec<[f64; 3]>) -> InkLooks {
        let share = |at: usize, axis: u32| (at / NODES.pow(3 - axis) % NODES) as f64 / f64::from(CELLS);
        let node = |at: usize| [share(at, 0), share(at, 1), share(at, 2), share(at, 3)];
        let all: Vec<Process> = (0..NODES.pow(4)).map(node).collect();
        InkLooks { lab: lab(&all).into_iter().map(|lab| lab.map(|part| part as f32)).collect() }
    }

    /// Inks, 255 a solid, four to a pixel; `limit` is 1 for one solid.
    pub fn limit(&self, inks: &mut [u8], limit: f64) {
        let most = (limit * 255.0).floor() as u32;
        inks.as_chunks_mut::<4>().0.par_chunks_mut(BAND).for_each(|band| {
            // Colours near each other are often the same.
            let mut last = ([0; 4], [0; 4]);
            for pixel in band {
                if pixel.iter().map(|ink| u32::from(*ink)).sum::<u32>() > most {
                    if last.0 != *pixel {
                        last = (*pixel, self.limited(*pixel, most));
                    }
                    *pixel = last.1;
                }
            }
        });
    }

    fn limited(&self, inks: [u8; 4], most: u32) -> [u8; 4] {
        let limit = most as f32 / 255.0;
        let mut mix = inks.map(|ink| f32::from(ink) / 255.0);
        for stride in 0..STRIDES {
            let sum: f32 = mix.iter().sum();
            let wanted = sum - (sum - limit) / f32::from(STRIDES - stride);
            let change = self.change(mix);
            let gain = -(1.0 + change.iter().sum::<f32>());
            let share = ((gain - GAINS[0]) / (GAINS[1] - GAINS[0])).clamp(0.0, 1.0);
            let black = ((sum - wanted) * share / gain.max(GAINS[0])).min(1.0 - mix[3]);
            (0..3).for_each(|ink| mix[ink] = (mix[ink] + change[ink] * black).max(0.0));
            mix[3] += black;
            thin(&mut mix, wanted);
        }
        whole(mix, most)
    }

    /// How much of the other three goes for a little black, at an equal look: what they add to the look is what black takes.
    /// As few as may be where several ways look alike, and as much of one as of the others.
    fn change(&self, mix: [f32; 4]) -> [f32; 3] {
        let [c, m, y, k] = self.slopes(mix);
        let dot = |a: [f32; 3], b: [f32; 3]| a[0] * b[0] + a[1] * b[1] + a[2] * b[2];
        let fall = (c[0] + m[0] + y[0]).min(-1.0);
        let even = -(k[0] / fall).clamp(0.0, 1.0);
        let three = [c, m, y];
        let rows: [[f32; 3]; 3] = std::array::from_fn(|row| {
            std::array::from_fn(|column| dot(three[row], three[column]) + if row == column { FAINT } else { 0.0 })
        });
        let wanted = three.map(|ink| FAINT * even - dot(ink, k));
        // Cramer's rule; `FAINT` keeps the volume from nothing.
        let volume = |a: [f32; 3], b: [f32; 3], c: [f32; 3]| {
            a[0] * (b[1] * c[2] - b[2] * c[1]) - a[1] * (b[0] * c[2] - b[2] * c[0]) + a[2] * (b[0] * c[1] - b[1] * c[0])
        };
        let [a, b, c] = rows;
        let all = volume(a, b, c);
        [volume(wanted, b, c), volume(a, wanted, c), volume(a, b, wanted)].map(|part| (part / all).clamp(-2.0, 0.0))
    }

    /// How the look changes with each ink.
    fn slopes(&self, mix: [f32; 4]) -> [[f32; 3]; 4] {
        let place = mix.map(|share| (share * CELLS).clamp(0.0, CELLS));
        let cell = place.map(|place| (place as usize).min(NODES - 2));
        let part: [f32; 4] = std::array::from_fn(|axis| place[axis] - cell[axis] as f32);
        let mut slopes = [[0.0; 3]; 4];
        for corner in 0..16 {
            let upper = |axis: usize| corner >> axis & 1;
            let at = (0..4).fold(0, |at, axis| at * NODES + cell[axis] + upper(axis));
            let share = |axis: usize| if upper(axis) == 1 { part[axis] } else { 1.0 - part[axis] };
            for (axis, slope) in slopes.iter_mut().enumerate() {
                let others: f32 = (0..4).filter(|other| *other != axis).map(share).product();
                let weight = if upper(axis) == 1 { others } else { -others };
                slope.iter_mut().zip(self.lab[at]).for_each(|(slope, lab)| *slope += weight * lab * CELLS);
            }
        }
        slopes
    }
}

/// The three thinned to what black leaves them of a sum.
fn thin(mix: &mut [f32; 4], sum: f32) {
    let three: f32 = mix[..3].iter().sum();
    let room = (sum - mix[3]).max(0.0);
    if three > room {
        mix[..3].iter_mut().for_each(|ink| *ink *= room / three);
    }
}

/// Whole steps that never come to more than the limit.
fn whole(mix: [f32; 4], most: u32) -> [u8; 4] {
    let mut inks = mix.map(|ink| (ink * 255.0).round().clamp(0.0, 255.0) as u8);
    while inks.iter().map(|ink| u32::from(*ink)).sum::<u32>() > most {
        let largest = (0..3).max_by_key(|ink| inks[*ink]).unwrap_or_default();
        inks[largest] = inks[largest].saturating_sub(1);
    }
    inks
}

#[cfg(test)]
mod tests {
    use crate::assets::difference;
    use crate::assets::profile::Profile;

    fn all(step: usize) -> Vec<[u8; 4]> {
        let levels = || (0..=255_u8).step_by(step);
        levels()
            .flat_map(|c| levels().flat_map(move |m| levels().flat_map(move |y| levels().map(move |k| [c, m, y, k]))))
            .collect()
    }

    fn total(inks: [u8; 4]) -> u32 {
        inks.iter().map(|ink| u32::from(*ink)).sum()
    }

    #[test]
    fn nothing_is_over_the_limit_and_what_was_within_stays() {
        for name in Profile::BUNDLED {
            let press = Profile::bundled(name).expect("bundled");
            let before = all(17);
            for limit in [2.2, 2.6, 3.0] {
                let mut after = before.clone();
                press.looks().limit(after.as_flattened_mut(), limit);
                for (old, new) in before.iter().zip(&after) {
                    let within = f64::from(total(*old)) <= limit * 255.0;
                    assert!(f64::from(total(*new)) <= limit * 255.0, "{old:?} {new:?}");
                    assert!(if within { old == new } else { new[3] >= old[3] }, "{old:?} {new:?}");
                    assert!((0..3).all(|ink| new[ink] <= old[ink]), "{old:?} {new:?}");
                }
            }
        }
    }

    /// Dark colours that a separation with little black makes: by the profile itself they look as they did.
    #[test]
    fn black_takes_the_place_of_grey() {
        let press = Profile::bundled("coated").expect("bundled");
        let dark = |inks: &&[u8; 4]| {
            total(**inks) > 663 && total(**inks) < 816 && inks[3] < 180 && inks[..3].iter().all(|ink| *ink > 100)
        };
        let before: Vec<[u8; 4]> = all(15).iter().filter(dark).copied().collect();
        let mut after = before.clone();
        press.looks().limit(after.as_flattened_mut(), 2.6);
        let lab = |inks: &[u8; 4]| press.lab(inks.map(|ink| f64::from(ink) / 255.0));
        let off: Vec<f64> = before.iter().zip(&after).map(|(old, new)| difference(lab(old), lab(new))).collect();
        let mean = off.iter().sum::<f64>() / off.len() as f64;
        let most = off.iter().copied().fold(0.0, f64::max);
        // The same inks cut down in proportion, as a measure of what black is good for.
        let thinned: Vec<[u8; 4]> = before
            .iter()
            .map(|inks| inks.map(|ink| (f64::from(ink) * 663.0 / f64::from(total(*inks))) as u8))
            .collect();
        let plain: f64 = before.iter().zip(&thinned).map(|(old, new)| difference(lab(old), lab(new))).sum();
        let plain = plain / off.len() as f64;
        assert!(
            mean < 0.8 && mean * 3.0 < plain,
            "{} colours: {mean:.2}, {most:.2} at most; thinned {plain:.2}",
            off.len()
        );
    }

    /// Steps of one in 255 of each ink hardly show, and hardly show within a limit either.
    #[test]
    fn neighbours_stay_neighbours() {
        let press = Profile::bundled("coated").expect("bundled");
        let lab = |inks: &[u8; 4]| press.lab(inks.map(|ink| f64::from(ink) / 255.0));
        let (mut most, mut step) = (0.0_f64, 0);
        for foot in all(51).into_iter().filter(|inks| inks[..3].iter().all(|ink| (60..=204).contains(ink))) {
            let mut ramp: Vec<[u8; 4]> =
                (0..50).map(|step| [foot[0] + step, foot[1] + step, foot[2] + step, foot[3]]).collect();
            press.looks().limit(ramp.as_flattened_mut(), 2.6);
            for pair in ramp.windows(2) {
                most = most.max(difference(lab(&pair[0]), lab(&pair[1])));
                step = (0..4).map(|ink| pair[0][ink].abs_diff(pair[1][ink])).fold(step, u8::max);
            }
        }
        assert!(most < 1.0 && step < 16, "{most:.2}, {step}");
    }
}
