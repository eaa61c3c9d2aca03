//! Functions: what a shading's colours are along its run (ISO 32000-1, 7.10): exponential, stitched and sampled ones.

use crate::printed::name_text;
use crate::returned::byte_budget::ByteBudget;
use hayro_syntax::object::{Array, Dict, Object, Stream};

pub enum Function {
    /// From one colour to another, as a straight line.
    Straight { from: Vec<f64>, to: Vec<f64> },
    /// One after the other, each in its part of the run.
    Stitched { parts: Vec<Function>, bounds: Vec<f64>, encode: Vec<[f64; 2]> },
    /// Colours at even steps.
    Sampled(Vec<Vec<f64>>),
    /// One function a channel.
    Side(Vec<Function>),
}

/// Functions within functions, all of one tree together, and samples of one. What is referred to twice counts twice.
const DEPTH: usize = 4;
const PARTS: usize = 512;
const SAMPLES: usize = 4096;
/// Bytes that count for a function, and for a number of one.
const PART: u64 = 4096;
pub const NUMBER: u64 = 8;
/// Numbers of one array; a longer one fits nothing.
const NUMBERS: usize = 2 * PARTS + 1;
/// Places that are one.
const SAME: f64 = 1e-6;

impl Function {
    pub fn read(object: &Object<'_>, budget: &mut ByteBudget) -> Option<Function> {
        FunctionTree { left: PARTS, budget }.read(object, DEPTH)
    }

    /// Its colours where they bend, from 0 to 1, ends included; two where they change at once. `None` where that is more often
    /// than `most`.
    pub fn stops(&self, most: usize) -> Option<Vec<(f64, Vec<f64>)>> {
        let bends = self.bends();
        if bends.len() > most {
            return None;
        }
        let mut all = Vec::new();
        for at in bends {
            let [before, after] = [Approach::Before, Approach::After].map(|side| self.at(at, side));
            let differs = before.iter().zip(&after).any(|(before, after)| (before - after).abs() > SAME);
            let steps = 0.0 < at && at < 1.0 && differs;
            all.extend(steps.then_some((at, before)));
            all.push((at, after));
        }
        (all.len() <= most).then_some(all)
    }

    /// Where its colours bend, from 0 to 1, ends included.
    fn bends(&self) -> Vec<f64> {
        let mut all = vec![0.0, 1.0];
        match self {
            Function::Straight { .. } => {}
            Function::Stitched { parts, bounds, encode } => {
                all.extend(bounds);
                for (at, part) in parts.iter().enumerate() {
                    let start = if at == 0 { 0.0 } else { bounds[at - 1] };
                    let end = bounds.get(at).copied().unwrap_or(1.0);
                    let [from, to] = encode[at];
                    let inside = part.bends().into_iter().map(|bend| (bend - from) / (to - from));
                    let inside = inside.filter(|share| (SAME..=1.0 - SAME).contains(share));
                    all.extend(inside.map(|share| start + (end - start) * share));
                }
            }
            Function::Sampled(samples) => {
                let last = (samples.len() - 1).max(1);
                all.extend((0..=last).map(|at| at as f64 / last as f64));
            }
            Function::Side(all_sides) => all.extend(all_sides.iter().flat_map(Function::bends)),
        }
        all.sort_by(f64::total_cmp);
        all.dedup_by(|a, b| (*a - *b).abs() < SAME);
        all
    }

    /// Its colour at a place; where it changes at once, that of one side.
    fn at(&self, share: f64, side: Approach) -> Vec<f64> {
        match self {
            Function::Straight { from, to } => between(from, to, share),
            Function::Stitched { parts, bounds, encode } => {
                let nudged = if side == Approach::Before { share - SAME / 2.0 } else { share + SAME / 2.0 };
                let at = bounds.iter().position(|bound| nudged < *bound).unwrap_or(parts.len() - 1);
                let start = if at == 0 { 0.0 } else { bounds[at - 1] };
                let end = bounds.get(at).copied().unwrap_or(1.0);
                let inside = if end > start { ((share - start) / (end - start)).clamp(0.0, 1.0) } else { 0.0 };
                let [from, to] = encode[at];
                parts[at].at(from + (to - from) * inside, if from > to { side.other() } else { side })
            }
            Function::Sampled(samples) => {
                let place = share.clamp(0.0, 1.0) * (samples.len() - 1) as f64;
                let at = place.floor() as usize;
                let next = (at + 1).min(samples.len() - 1);
                between(&samples[at], &samples[next], place - at as f64)
            }
            Function::Side(all) => all.iter().flat_map(|one| one.at(share, side)).collect(),
        }
    }
}

fn between(from: &[f64], to: &[f64], share: f64) -> Vec<f64> {
    from.iter().zip(to).map(|(from, to)| from + (to - from) * share).collect()
}

/// From which side a place is looked at.
#[derive(Clone, Copy, PartialEq)]
enum Approach {
    Before,
    After,
}

impl Approach {
    fn other(self) -> Approach {
        if self == Approach::Before { Approach::After } else { Approach::Before }
    }
}

/// Functions as they refer to others.
struct FunctionTree<'a> {
    /// How many more parts are read.
    left: usize,
    budget: &'a mut ByteBudget,
}

impl FunctionTree<'_> {
    fn read(&mut self, object: &Object<'_>, depth: usize) -> Option<Function> {
        let depth = depth.checked_sub(1)?;
        self.left = self.left.checked_sub(1)?;
        self.budget.take(PART).ok()?;
        let dict = match object {
            Object::Array(all) => {
                let sides: Vec<Object<'_>> = all.iter::<Object<'_>>().take(PARTS).collect();
                return Some(Function::Side(
                    sides.iter().map(|side| self.read(side, depth)).collect::<Option<Vec<_>>>()?,
                ));
            }
            Object::Dict(dict) => dict.clone(),
            Object::Stream(stream) => stream.dict().clone(),
            _ => return None,
        };
        // Another domain than the usual one is nobody's.
        if numbers(&dict, "Domain").is_some_and(|domain| domain != [0.0, 1.0]) {
            return None;
        }
        match (dict.get::<u32>("FunctionType")?, object) {
            (2, _) => {
                let straight = dict.get::<f64>("N").is_none_or(|power| (power - 1.0).abs() < 1e-9);
                let from = numbers(&dict, "C0").unwrap_or_else(|| vec![0.0]);
                let to = numbers(&dict, "C1").unwrap_or_else(|| vec![1.0]);
                (straight && from.len() == to.len()).then_some(Function::Straight { from, to })
            }
            (3, _) => self.stitched(&dict, depth),
            (0, Object::Stream(stream)) => self.sampled(&dict, stream),
            _ => None,
        }
    }

    fn stitched(&mut self, dict: &Dict<'_>, depth: usize) -> Option<Function> {
        let inner: Vec<Object<'_>> = dict.get::<Array<'_>>("Functions")?.iter::<Object<'_>>().take(PARTS).collect();
        let parts = inner.iter().map(|part| self.read(part, depth)).collect::<Option<Vec<_>>>()?;
        let bounds = numbers(dict, "Bounds")?;
        let encode = numbers(dict, "Encode")?;
        let sound = !parts.is_empty() && bounds.len() + 1 == parts.len() && encode.len() == 2 * parts.len();
        let rising =
            bounds.windows(2).all(|pair| pair[0] <= pair[1]) && bounds.iter().all(|at| (0.0..=1.0).contains(at));
        let encode = encode.as_chunks().0.to_vec();
        (sound && rising).then_some(Function::Stitched { parts, bounds, encode })
    }

    fn sampled(&mut self, dict: &Dict<'_>, stream: &Stream<'_>) -> Option<Function> {
        let sizes = numbers(dict, "Size")?;
        let range = numbers(dict, "Range")?;
        let channels = range.len() / 2;
        let ([size], Some(8), 1..=32) = (&sizes[..], dict.get::<u32>("BitsPerSample"), channels) else { return None };
        let count = *size as usize;
        if !(2..=SAMPLES).contains(&count)
            || dict.contains_key("Encode") && numbers(dict, "Encode")? != [0.0, size - 1.0]
        {
            return None;
        }
        let decode = numbers(dict, "Decode").unwrap_or_else(|| range.clone());
        let data = self.budget.decoded(stream).ok()?;
        self.budget.take(NUMBER * (count * channels) as u64).ok()?;
        if decode.len() != range.len() || data.len() < count * channels {
            return None;
        }
        let value = |sample: usize, channel: usize| {
            let (least, most) = (decode[2 * channel], decode[2 * channel + 1]);
            least + (most - least) * f64::from(data[sample * channels + channel]) / 255.0
        };
        Some(Function::Sampled((0..count).map(|sample| (0..channels).map(|at| value(sample, at)).collect()).collect()))
    }
}

/// The numbers of an array.
pub fn numbers(dict: &Dict<'_>, key: &str) -> Option<Vec<f64>> {
    Some(dict.get::<Array<'_>>(key)?.iter::<f64>().take(NUMBERS).collect())
}

/// A name as text.
pub fn word(dict: &Dict<'_>, key: &str) -> Option<String> {
    dict.get::<hayro_syntax::object::Name<'_>>(key).map(|name| name_text(&name))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn run(from: f64, to: f64) -> Function {
        Function::Straight { from: vec![from], to: vec![to] }
    }

    fn stitched(parts: Vec<Function>, bounds: Vec<f64>, encode: Vec<[f64; 2]>) -> Vec<(f64, f64)> {
        let stops = Function::Stitched { parts, bounds, encode }.stops(9).expect("few");
        stops.into_iter().map(|(at, values)| ((at * 1e6).round() / 1e6, values[0])).collect()
    }

    /// ISO 32000-1, 7.10.4: at a bound the next function begins, and the one before it was followed up to there.
    #[test]
    fn a_hard_step_has_a_colour_before_and_one_behind() {
        let usual = [0.0, 1.0];
        let step = stitched(vec![run(0.0, 0.0), run(1.0, 1.0)], vec![0.3], vec![usual; 2]);
        assert_eq!(step, [(0.0, 0.0), (0.3, 0.0), (0.3, 1.0), (1.0, 1.0)]);
        let even = stitched(vec![run(0.0, 0.5), run(0.5, 1.0)], vec![0.3], vec![usual; 2]);
        assert_eq!(even, [(0.0, 0.0), (0.3, 0.5), (1.0, 1.0)]);
    }

    /// `Encode [1 0]` runs a function backwards: its own step at a quarter stands at three quarters.
    #[test]
    fn a_function_that_runs_backwards_steps_where_it_is_read() {
        let step = |bound| Function::Stitched {
            parts: vec![run(0.0, 0.0), run(1.0, 1.0)],
            bounds: vec![bound],
            encode: vec![[0.0, 1.0]; 2],
        };
        let back = stitched(vec![step(0.25)], Vec::new(), vec![[1.0, 0.0]]);
        assert_eq!(back, [(0.0, 1.0), (0.75, 1.0), (0.75, 0.0), (1.0, 0.0)]);
    }
}
