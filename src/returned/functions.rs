//! Functions: what a shading's colours are along its run (ISO 32000-1, 7.10): exponential, stitched and sampled ones.

use crate::printed::name_text;
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

/// Functions within functions, and samples of one.
const DEPTH: usize = 4;
const SAMPLES: usize = 4096;
const PARTS: usize = 256;

impl Function {
    pub fn read(object: &Object<'_>) -> Option<Function> {
        read(object, DEPTH)
    }

    /// Where its colours bend, from 0 to 1, ends included.
    pub fn bends(&self) -> Vec<f64> {
        let mut all = vec![0.0, 1.0];
        match self {
            Function::Straight { .. } => {}
            Function::Stitched { parts, bounds, .. } => {
                for (at, part) in parts.iter().enumerate() {
                    let start = if at == 0 { 0.0 } else { bounds[at - 1] };
                    let end = bounds.get(at).copied().unwrap_or(1.0);
                    all.extend(part.bends().into_iter().map(|bend| start + (end - start) * bend));
                }
            }
            Function::Sampled(samples) => {
                let last = (samples.len() - 1).max(1);
                all.extend((0..=last).map(|at| at as f64 / last as f64));
            }
            Function::Side(all_sides) => all.extend(all_sides.iter().flat_map(Function::bends)),
        }
        all.sort_by(f64::total_cmp);
        all.dedup_by(|a, b| (*a - *b).abs() < 1e-6);
        all
    }

    pub fn at(&self, share: f64) -> Vec<f64> {
        match self {
            Function::Straight { from, to } => between(from, to, share),
            Function::Stitched { parts, bounds, encode } => {
                let at = bounds.iter().position(|bound| share < *bound).unwrap_or(parts.len() - 1);
                let start = if at == 0 { 0.0 } else { bounds[at - 1] };
                let end = bounds.get(at).copied().unwrap_or(1.0);
                let inside = if end > start { (share - start) / (end - start) } else { 0.0 };
                let [from, to] = encode[at];
                parts[at].at(from + (to - from) * inside)
            }
            Function::Sampled(samples) => {
                let place = share.clamp(0.0, 1.0) * (samples.len() - 1) as f64;
                let at = place.floor() as usize;
                let next = (at + 1).min(samples.len() - 1);
                between(&samples[at], &samples[next], place - at as f64)
            }
            Function::Side(all) => all.iter().flat_map(|one| one.at(share)).collect(),
        }
    }
}

fn between(from: &[f64], to: &[f64], share: f64) -> Vec<f64> {
    from.iter().zip(to).map(|(from, to)| from + (to - from) * share).collect()
}

fn read(object: &Object<'_>, depth: usize) -> Option<Function> {
    let depth = depth.checked_sub(1)?;
    let dict = match object {
        Object::Array(all) => {
            let sides: Vec<Object<'_>> = all.iter::<Object<'_>>().take(PARTS).collect();
            return Some(Function::Side(sides.iter().map(|side| read(side, depth)).collect::<Option<Vec<_>>>()?));
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
        (3, _) => stitched(&dict, depth),
        (0, Object::Stream(stream)) => sampled(&dict, stream),
        _ => None,
    }
}

fn stitched(dict: &Dict<'_>, depth: usize) -> Option<Function> {
    let inner: Vec<Object<'_>> = dict.get::<Array<'_>>("Functions")?.iter::<Object<'_>>().take(PARTS).collect();
    let parts = inner.iter().map(|part| read(part, depth)).collect::<Option<Vec<_>>>()?;
    let bounds = numbers(dict, "Bounds")?;
    let encode = numbers(dict, "Encode")?;
    let sound = !parts.is_empty() && bounds.len() + 1 == parts.len() && encode.len() == 2 * parts.len();
    let rising = bounds.windows(2).all(|pair| pair[0] <= pair[1]) && bounds.iter().all(|at| (0.0..=1.0).contains(at));
    let encode = encode.as_chunks().0.to_vec();
    (sound && rising).then_some(Function::Stitched { parts, bounds, encode })
}

fn sampled(dict: &Dict<'_>, stream: &Stream<'_>) -> Option<Function> {
    let sizes = numbers(dict, "Size")?;
    let range = numbers(dict, "Range")?;
    let channels = range.len() / 2;
    let ([size], Some(8), 1..=32) = (&sizes[..], dict.get::<u32>("BitsPerSample"), channels) else { return None };
    let count = *size as usize;
    if !(2..=SAMPLES).contains(&count) || dict.contains_key("Encode") && numbers(dict, "Encode")? != [0.0, size - 1.0] {
        return None;
    }
    let decode = numbers(dict, "Decode").unwrap_or_else(|| range.clone());
    let data = stream.decoded_data().ok()?;
    if decode.len() != range.len() || data.len() < count * channels {
        return None;
    }
    let value = |sample: usize, channel: usize| {
        let (least, most) = (decode[2 * channel], decode[2 * channel + 1]);
        least + (most - least) * f64::from(data[sample * channels + channel]) / 255.0
    };
    Some(Function::Sampled((0..count).map(|sample| (0..channels).map(|at| value(sample, at)).collect()).collect()))
}

/// The numbers of an array.
pub fn numbers(dict: &Dict<'_>, key: &str) -> Option<Vec<f64>> {
    Some(dict.get::<Array<'_>>(key)?.iter::<f64>().collect())
}

/// A name as text.
pub fn word(dict: &Dict<'_>, key: &str) -> Option<String> {
    dict.get::<hayro_syntax::object::Name<'_>>(key).map(|name| name_text(&name))
}
